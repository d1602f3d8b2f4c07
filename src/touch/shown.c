/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shown.c - lengths in messages, in the unit that the person typed.
 */
#include "touch/shown.h"

#include "trueup/number.h"

#include <string.h>

static tu_shown_length show(tu_unit unit, double length_mm, bool tidy, const char *between)
{
    tu_shown_length shown;
    size_t room = sizeof shown.text - 4;
    size_t length = tu_number_format(shown.text, room, tu_unit_from_mm(unit, length_mm),
                                     unit == TU_UNIT_INCH ? 4 : 3);
    if (length == 0) { /* too long for the room: a number that nobody typed on purpose */
        strcpy(shown.text, "a huge number of");
        length = strlen(shown.text);
        between = " ";
    }
    while (tidy && length > 1 && shown.text[length - 1] == '0')
        length--;
    length -= tidy && shown.text[length - 1] == '.' ? 1 : 0;
    strcpy(shown.text + length, between);
    strcat(shown.text, tu_unit_name(unit));
    return shown;
}

tu_shown_length tu_show_length(tu_unit unit, double length_mm)
{
    return show(unit, length_mm, false, " ");
}

tu_shown_length tu_show_short(tu_unit unit, double length_mm)
{
    return show(unit, length_mm, true, " ");
}

tu_shown_length tu_show_typed(tu_unit unit, double length_mm)
{
    return show(unit, length_mm, true, "");
}
