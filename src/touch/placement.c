/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * placement.c - how the plate lies at a corner.
 */
#include "trueup/zero.h"

int tu_plate_wall_for(const tu_plate *plate, tu_target target, tu_axis axis)
{
    int other = axis == TU_AXIS_X ? 1 : 0;
    int own = 1 - other;
    /* A quarter turn about the vertical carries wall a from an X edge to a Y edge. The corners that
     * are a half turn apart have signs of the same product. */
    bool quarter = target.outward[TU_AXIS_X] * target.outward[TU_AXIS_Y] < 0;
    return plate->turned && quarter ? other : own;
}
