/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_sample.c - a zero as a result struct, made by hand.
 */
#include "zero_sample.h"

#include "check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double missing = (double)NAN;

static tu_axis_zero unasked(void)
{
    return (tu_axis_zero){.zero_mm = missing,
                          .touch_mm = missing,
                          .touch_sd_mm = missing,
                          .across_mm = missing,
                          .wall = -1,
                          .offset_mm = missing,
                          .depth_mm = missing,
                          .profile_radius_mm = missing,
                          .effective_radius_mm = missing,
                          .low_mm = missing,
                          .high_mm = missing,
                          .chord_mm = missing,
                          .implied_diameter_mm = missing,
                          .thickness_mm = missing,
                          .stock_mm = 0};
}

tu_zero_result zero_sample(void)
{
    tu_zero_result result = {.target = {.outward = {-1, -1, +1}},
                             .plate_name = "offcut",
                             .cutter_name = "quarter",
                             .cutter_diameter_mm = 6.35,
                             .skew = {.angle_rad = missing},
                             .fear = {.angle_rad = missing},
                             .active_mm = {missing, missing, missing},
                             .stock_size_mm = {300, 200, missing}};
    result.cutter.shape = TU_CUTTER_FLAT;
    result.cutter.diameter = tu_quantity_mm(6.35, 0.01);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        result.axis[axis] = unasked();
    tu_axis_zero *x = &result.axis[TU_AXIS_X], *z = &result.axis[TU_AXIS_Z];
    x->asked = z->asked = true;
    x->outward = -1;
    x->touch_count = 3;
    x->touch_mm = 100;
    x->touch_sd_mm = 0.005;
    x->wall = 0;
    x->facing = TU_FACES_OUTWARD;
    x->offset_mm = 6.35;
    x->profile_radius_mm = x->effective_radius_mm = 3.175;
    x->zero_mm = 109.525;
    tu_budget_add(&x->uncertainty, "touches", 0.003, 2);
    tu_budget_add(&x->uncertainty, "wall offset", 0.004, (double)INFINITY);
    tu_budget_close(&x->uncertainty, 0.95);
    z->outward = +1;
    z->touch_count = 1;
    z->touch_mm = -40.12;
    z->thickness_mm = 9.53;
    z->zero_mm = -49.65;
    tu_budget_close(&z->uncertainty, 0.95);
    return result;
}

tu_zero_style zero_sample_style(void)
{
    return (tu_zero_style){.unit = TU_UNIT_MM, .slot = 1};
}

char *zero_written(zero_writer *writer, const tu_zero_result *result, const tu_zero_style *style)
{
    char *text = NULL;
    size_t length = 0;
    tu_error error = {0};
    FILE *out = open_memstream(&text, &length);
    assert_non_null(out);
    check_status(writer(out, result, style, &error), TU_OK, &error);
    fclose(out);
    assert_int_equal(strlen(text), length);
    return text;
}
