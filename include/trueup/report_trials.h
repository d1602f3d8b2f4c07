/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_trials.h - judged series of repeated touches as text, JSON and a picture.
 *
 * All three are written from one tu_trials_story, so that they cannot disagree. JSON is millimetres
 * and seconds; text and picture are in the unit asked for.
 */
#ifndef TRUEUP_REPORT_TRIALS_H
#define TRUEUP_REPORT_TRIALS_H

#include "trueup/face.h"
#include "trueup/trial_models.h"
#include "trueup/trials.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

TU_BEGIN_DECLS

/* What was fitted and taken out before a series was judged. */
typedef enum tu_trials_effect {
    TU_TRIALS_AS_THEY_CAME,
    TU_TRIALS_WARM_UP, /* judged beside the warm-up: once it has settled */
    TU_TRIALS_FEED     /* judged beside the line over the feeds: at one feed */
} tu_trials_effect;

/*
 * A series as judged: the touches of one name in one file along one axis, from one side.
 *   name       as shown; "" where no series is named.
 *   direction  -1, +1; 0: not stated.
 *   source     for each touch, its line in the file; count of them.
 *   effect     not TU_TRIALS_AS_THEY_CAME: sd_mm, dof and within_mm are of the residuals of the
 *              fit.
 *   within_mm  the half width of the interval that the next touch lies in with 95 %
 *              (tu_trials_next_within); the verdict names it first, and a limit is held against it.
 *              NaN: unknown.
 *   within_all_mm  the same of all touches as they came, the effect in it.
 *   needed     touches whose mean is known to the uncertainty asked for; 0: none, or not asked.
 */
typedef struct tu_trials_entry {
    char name[2 * TU_NAME_SIZE];
    int direction;
    tu_trial_series series;
    const uint32_t *line;
    tu_trial_figures figures;
    tu_trials_effect effect;
    double sd_mm, dof;
    double within_mm, within_all_mm;
    size_t needed;
} tu_trials_entry;

/* What went into the shop file. */
typedef struct tu_trials_kept {
    tu_axis axis;
    double sd_mm, dof;
} tu_trials_kept;

/*
 * Everything that a run found. Parts that were not asked for or cannot be are absent: their has_...
 * is false.
 *   face           what sentences call the fields that they name; NULL: the fields' own names.
 *   one_pass       no touches were kept: what needs them is absent from the entries' figures
 *                  (tu_trials_pass_figures), and from their series.
 *   after, before  entries of the comparison.
 *   comparison_without  the same without the outliers of either side, where one has some.
 *   is_judged      the series have their figures, whatever became of what was asked beside.
 *   has_faces      moving + and moving - lie too far apart for any reversal: two faces; b is how
 *                  far apart, and has_reversal is false.
 *   warm_up_asked  for a warm-up; without has_warm_up none could be fitted.
 *   forward, back  entries of the reversal: moving +, moving -.
 *   group_name     of each of groups.groups, and group their means.
 *   pooled         the touches of the gauge study, with their groups.
 *   limit_mm       the repeatability allowed (NaN: none); wanted_mm the uncertainty of a mean asked
 *                  for (NaN: none); settled_mm what may be left of a warm-up.
 */
typedef struct tu_trials_story {
    tu_unit unit;
    const tu_face *face;
    bool chart;  /* also drawn in letters */
    int columns; /* of the terminal that they are for; 0: not known */
    bool one_pass;
    size_t count;
    tu_trials_entry *entry;
    bool is_judged, has_faces, warm_up_asked;
    bool has_reversal, has_comparison, has_comparison_without, has_groups, has_warm_up, has_feed;
    tu_trial_reversal reversal;
    size_t forward, back;
    tu_trial_comparison comparison, comparison_without;
    size_t after, before;
    tu_trial_groups groups;
    const tu_trial_group *group;
    const char (*group_name)[TU_NAME_SIZE];
    const char *by;
    tu_trial_series pooled;
    tu_warm_up warm_up;
    double settled_mm;
    tu_feed_fit feed;
    double limit_mm, wanted_mm;
    tu_trials_kept kept[TU_AXIS_COUNT];
    size_t kept_count;
    const char *kept_path;
    tu_warnings warnings;
} tu_trials_story;

/* Whether the warm-up that was fitted is more than chance (p < 0.05), and the delay (its interval
 * excludes 0). */
bool tu_trials_shows_warm_up(const tu_trials_story *story);
bool tu_trials_shows_feed(const tu_trials_story *story);

/* Whether the repeatability of some entry is beyond the limit. */
bool tu_trials_limit_exceeded(const tu_trials_story *story);

/* Each returns TU_OK, TU_SYSTEM_IO when a write failed, TU_SYSTEM_MEMORY. */
tu_status tu_report_trials_text(FILE *out, const tu_trials_story *story, tu_error *error);
tu_status tu_report_trials_json(FILE *out, const tu_trials_story *story, tu_error *error);
tu_status tu_report_trials_svg(FILE *out, const tu_trials_story *story, tu_error *error);

TU_END_DECLS

#endif
