/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_files.h - the drawing and the hit log of a rehearsal as files.
 */
#ifndef TU_CLI_REHEARSE_FILES_H
#define TU_CLI_REHEARSE_FILES_H

#include "trueup/report_rehearsal.h"

/* Each writes its file in one step: on failure it is as it was. TU_SYSTEM_IO, TU_SYSTEM_MEMORY. */
tu_status tu_rehearse_write_drawing(const char *path, const tu_rehearsal_story *story, tu_unit unit,
                                    tu_error *error);
/*
 * The log's header holds the time; where the environment has SOURCE_DATE_EPOCH, that one, so that
 * the same rehearsal gives the same bytes.
 *   series  of touches for which the program names none; NULL: they stay without.
 */
tu_status tu_rehearse_write_log(const char *path, const tu_rehearsal_story *story,
                                const char *series, tu_error *error);

#endif
