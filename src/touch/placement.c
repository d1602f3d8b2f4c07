/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * placement.c - how the plate lies at a corner, and which work offset the corner is for.
 */
#include "trueup/text.h"
#include "trueup/zero.h"

#include <string.h>
#include <strings.h>

int tu_plate_wall_for(const tu_plate *plate, tu_target target, tu_axis axis)
{
    int other = axis == TU_AXIS_X ? 1 : 0;
    int own = 1 - other;
    /* A quarter turn about the vertical carries wall a from an X edge to a Y edge. The corners that
     * are a half turn apart have signs of the same product. */
    bool quarter = target.outward[TU_AXIS_X] * target.outward[TU_AXIS_Y] < 0;
    return plate->turned && quarter ? other : own;
}

tu_status tu_slot_parse(const char *name, int *p, tu_error *error)
{
    static const char *const names[] = {"G54", "G55",   "G56",   "G57",  "G58",
                                        "G59", "G59.1", "G59.2", "G59.3"};
    enum { COUNT = sizeof names / sizeof names[0] };
    *p = 0;
    for (int i = 0; i < COUNT; i++) {
        if (strcasecmp(name, names[i]) == 0) {
            *p = i + 1;
            return TU_OK;
        }
    }
    const char *nearest = tu_text_nearest(name, names, COUNT);
    return tu_fail(error, TU_USAGE, "{slot}",
                   "no work offset is called \"%.32s\"%s%s%s; there are "
                   "G54 to G59, G59.1, G59.2 and G59.3",
                   name, nearest ? ", did you mean " : "", nearest ? nearest : "",
                   nearest ? "?" : "");
}
