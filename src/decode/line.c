/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * line.c - what the readers of the three forms of line share.
 */
#include "decode/line.h"

#include <math.h>

/* Beyond this no machine reaches, whatever its travel. */
#define FARTHEST_MM 100000.0

tu_line tu_line_start(void)
{
    return (tu_line){.decoded = {.kind = TU_DECODED_HIT,
                                 .position_mm = {NAN, NAN, NAN},
                                 .axis = TU_AXIS_COUNT,
                                 .reason = ""}};
}

tu_line_verdict tu_line_refuse(tu_line *line, const char *reason)
{
    line->decoded.reason = reason;
    return TU_LINE_REFUSED;
}

tu_line_verdict tu_line_spoilt(tu_line *line, const char *reason)
{
    line->decoded.has_sequence = false;
    line->decoded.reason = reason;
    return TU_LINE_DAMAGED;
}

bool tu_line_whole(const char *text, size_t length, uint64_t most, uint64_t *value)
{
    uint64_t number = 0;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            return false;
        unsigned digit = (unsigned)(text[i] - '0');
        if (digit > most || number > (most - digit) / 10)
            return false;
        number = number * 10 + digit;
    }
    if (length == 0)
        return false;
    *value = number;
    return true;
}

tu_line_verdict tu_line_settle(tu_line *line, const tu_decode_setup *setup)
{
    tu_decoded *decoded = &line->decoded;
    if (decoded->axis == TU_AXIS_COUNT)
        decoded->axis = setup->axis;
    if (decoded->direction == 0)
        decoded->direction = setup->direction;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double place = decoded->position_mm[axis];
        if (!isfinite(place))
            return tu_line_refuse(line, "a coordinate is missing");
        if (fabs(place) > FARTHEST_MM)
            return tu_line_refuse(line, "a coordinate is farther away than any machine reaches");
    }
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double place = decoded->position_mm[axis];
        /* the comparisons are false where the travel is not stated */
        if (place < setup->machine.travel_low_mm[axis] ||
            place > setup->machine.travel_high_mm[axis])
            return tu_line_refuse(line, "the position lies outside the machine's travel");
    }
    return TU_LINE_READ;
}
