/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_bed.h - what touches over a bed say, as text, JSON and a map, all from one answer.
 */
#ifndef TRUEUP_REPORT_BED_H
#define TRUEUP_REPORT_BED_H

#include "trueup/bed.h"
#include "trueup/face.h"
#include "trueup/flatness.h"
#include "trueup/plan.h"
#include "trueup/quantity.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stdio.h>

TU_BEGIN_DECLS

/* The same bed touched at another time: differences are this map minus the other.
 *   points     places of this map that were compared; matched: touched in both, the others of the
 *              other map are interpolated.
 *   mean_mm, sd_mm  of the differences; rise, fall: the largest and the smallest, where.
 *   range_now_mm     this map over the places that both maps cover.
 *   range_before_mm, zone_before_mm  the other map over the same places. */
typedef struct tu_bed_comparison {
    size_t points, matched;
    double mean_mm, sd_mm;
    tu_bed_point rise, fall; /* z: the difference */
    double range_now_mm, range_before_mm, zone_before_mm;
} tu_bed_comparison;

/*
 * Everything that was found out about a bed. What was not asked for or cannot be said is NaN,
 * NULL or has a count of 0.
 *   name        of the file, for titles.
 *   face        what sentences call the fields that they name; NULL: the fields' own names.
 *   touches     read; places: after merging touches of one place, all of them.
 *   judged      what the flatness figures rest on: the places, or with a job those inside it, and
 *               the surface at the job's border (border of them are such points).
 *   range_mm    highest minus lowest of judged.
 *   job         NULL: none.
 *   sd_mm, sd_dof   repeatability of one touch, and where from: sd_source.
 *   support, add_mm  heights to add so that the least-squares plane comes level.
 *   corners     the supports are the corners of what was touched: nobody stated any.
 *   limit_mm    asked for with --within; NaN: none.
 *   again_path  of the touch program for the suspects; NULL: not asked for. again: what to know of
 *               it; NULL: no suspects, so none was written.
 *   reference   of the through cut; reference_stated false: it is the middle.
 *   reserve_mm  what the needed overcut may be short of (95 %), by the scatter of touches and bed;
 *               NaN or 0: not known.
 *   tilt_hidden the slope is no more than the scatter of heights makes: shims would follow noise.
 *   suspect     the suspect place that these figures rest on; NULL: on none.
 *   reference_suspect  the one that the through cut's reference rests on.
 *   without     the same answer without its suspects: judged to shape, surfacing, supports and
 *               through cut hold (through_asked false: not known). NULL: they decide nothing, or
 *               too little is left.
 *   parted_mm, parted_low, parted_high  heights fall into two groups that far apart: how many
 *               places in each. 0: they do not.
 */
typedef struct tu_bed_answer tu_bed_answer;
struct tu_bed_answer {
    const char *name;
    const tu_face *face;
    size_t touches;
    tu_bed_places places;
    const tu_bed_point *judged;
    size_t judged_count, border;
    size_t highest, lowest;
    double range_mm;
    tu_plane_fit plane;
    tu_bed_zone zone;
    tu_bed_shape shape;
    tu_bed_model model;
    const tu_bed_rectangle *job;
    const tu_bed_straightness *row, *column;
    int32_t worst_row, worst_column;
    tu_bed_suspects suspects;
    tu_surfacing surfacing;
    double depth_of_cut_mm, allowance_mm;
    bool surfaced; /* surfacing holds */
    tu_through_cut through;
    bool through_asked, reference_stated;
    tu_machine_plane_point reference;
    double overcut_mm;
    tu_machine_plane_point support[TU_BED_SUPPORTS_MAX];
    double add_mm[TU_BED_SUPPORTS_MAX];
    size_t supports;
    bool corners;
    double sd_mm, sd_dof;
    const char *sd_source;
    tu_inflation inflation;
    bool inflated; /* inflation holds */
    const char *against;
    tu_bed_comparison comparison;
    double limit_mm;
    const char *again_path;
    const tu_plan_summary *again;
    double reserve_mm;
    bool tilt_hidden;
    const tu_bed_point *suspect, *reference_suspect;
    const tu_bed_answer *without;
    double seam_mm;
    double parted_mm;
    size_t parted_low, parted_high;
    tu_warnings warnings;
};

/*
 *   unit   of the text and the map.
 *   map    also a small map in characters.
 *   without_tilt  the map shows deviations from the least-squares plane, not heights.
 */
typedef struct tu_bed_style {
    tu_unit unit;
    bool map;
    bool without_tilt;
} tu_bed_style;

/* Each returns TU_OK, TU_SYSTEM_IO when a write failed, TU_SYSTEM_MEMORY. */
tu_status tu_report_bed_text(FILE *out, const tu_bed_answer *answer, const tu_bed_style *style,
                             tu_error *error);
tu_status tu_report_bed_json(FILE *out, const tu_bed_answer *answer, tu_error *error);
/* The map on A4 (docs/bed.md): front at the bottom, contour lines at round heights, the touched
 * points, section lines. Its size does not grow with the number of points beyond a few thousand. */
tu_status tu_report_bed_svg(FILE *out, const tu_bed_answer *answer, const tu_bed_style *style,
                            tu_error *error);

TU_END_DECLS

#endif
