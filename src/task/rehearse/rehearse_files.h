/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_files.h - the hit log of a rehearsal.
 */
#ifndef TU_TASK_REHEARSE_FILES_H
#define TU_TASK_REHEARSE_FILES_H

#include "trueup/report_rehearsal.h"

/*
 * The touches as a hit log. Its header holds the time; where the environment has SOURCE_DATE_EPOCH,
 * that one, so that the same rehearsal gives the same bytes.
 *   series  of touches for which the program names none; NULL: they stay without.
 * TU_DATA_RANGE where a touch cannot stand in a log.
 */
tu_status tu_rehearse_write_log(FILE *out, const tu_rehearsal_story *story, const char *series,
                                tu_error *error);

#endif
