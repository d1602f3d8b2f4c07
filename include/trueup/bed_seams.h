/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_seams.h - whether series of touches that were put together make one bed (src/bed/seams.c).
 * Frame, units, work space and purity are those of bed.h.
 */
#ifndef TRUEUP_BED_SEAMS_H
#define TRUEUP_BED_SEAMS_H

#include "trueup/bed.h"

TU_BEGIN_DECLS

#define TU_BED_NO_SERIES SIZE_MAX /* this place counts for none */

/*
 * Two series that adjoin or lie between one another at different heights: high lies step_mm above
 * low, by the median of `pairs` places along their seam, each good to scatter_mm (standard
 * deviation). pairs 0: no two series do.
 */
typedef struct tu_bed_seam {
    size_t low, high;
    double step_mm, scatter_mm;
    size_t pairs;
} tu_bed_seam;

size_t tu_bed_seam_bytes(size_t count);
/*
 * The largest step that is more than scatter: four standard deviations of the median, three of a
 * single step, three of a place about the plane of its own series, and more than floor_mm (0 or
 * more). series: of each place. A series whose places lie on one line shows none, and neither do
 * fewer than 4 pairs of neighbours.
 */
tu_status tu_bed_find_seam(const tu_bed_point *points, const size_t *series, size_t count,
                           double floor_mm, void *memory, size_t bytes, tu_bed_seam *seam,
                           tu_error *error);

TU_END_DECLS

#endif
