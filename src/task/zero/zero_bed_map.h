/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_bed_map.h - how much higher the bed is at the zero than where the plate sat on it.
 */
#ifndef TU_TASK_ZERO_BED_MAP_H
#define TU_TASK_ZERO_BED_MAP_H

#include "trueup/task_zero.h"
#include "trueup/warning.h"

/*
 * Reads the map that the request names.
 *   machine  its travel tells a unit slip in the map.
 *   zero   where the zero is wanted on the bed: as stated, else the corner's X and Y as found.
 *   rise   out: b(zero) - b(plate), with its uncertainty.
 *   warnings  those of the map too.
 * Refused where the height is not settled by good touches all around either place.
 * Returns TU_OK; TU_DATA_MISSING (nobody says where the zero is); TU_USAGE (the map has several
 * series, and none is named); TU_UNDETERMINED (the map does not reach there, with what it reaches;
 * a hole; a suspect; too few places to say how well it foretells a height); as the readers of maps.
 */
tu_status tu_zero_bed_map_read(const tu_task_zero_request *request, const tu_machine *machine,
                               const tu_zero_result *zero, tu_bed_rise *rise, tu_warnings *warnings,
                               tu_error *error);

#endif
