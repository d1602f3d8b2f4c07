/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * typed_length.c - lengths on a command line, and the unit of those that name none.
 */
#include "task/typed_length.h"

#include "base/scan.h"
#include "base/show.h"

#include <string.h>

void tu_typed_unit_note(tu_typed_unit *typed, const char *argument)
{
    for (const char *at = argument; !typed->bare; at++) {
        at += strspn(at, "xyzXYZ");
        size_t length = strcspn(at, ",:@");
        tu_quantity part; /* with the inch for bare numbers a fraction is none the worse */
        if (!tu_quantity_parse(at, length, TU_UNIT_INCH, &part, NULL) && !part.unit_stated)
            typed->bare = argument;
        at += length;
        if (!*at)
            return;
    }
}

tu_status tu_typed_unit_check(const tu_typed_unit *typed, tu_unit unit, const tu_shop *shop,
                              const char *path, tu_error *error)
{
    if (typed->stated || !typed->bare || tu_shop_unit(shop) == unit)
        return TU_OK;
    return tu_fail(error, TU_USAGE, "{unit}",
                   "a number in \"%s\" names no unit, and %s is in %s: say {unit} in or {unit} mm, "
                   "or write the "
                   "unit at each number",
                   tu_show(typed->bare, strlen(typed->bare)).text, path,
                   tu_shop_unit(shop) == TU_UNIT_INCH ? "inches" : "millimetres");
}

tu_status tu_typed_size_parse(const char *argument, tu_unit unit, tu_length_use use,
                              tu_quantity *quantity, tu_error *error)
{
    char doubt[TU_DOUBT_SIZE], other[60], same[60];
    size_t length = strlen(argument);
    tu_status status = tu_quantity_parse(argument, length, unit, quantity, error);
    if (status)
        return status;
    double value_mm = quantity->value_mm;
    if (value_mm > 0 && (quantity->unit_stated || !tu_shop_doubt_unit(use, unit, value_mm, doubt)))
        return TU_OK;
    *quantity = tu_quantity_none();
    if (!(value_mm > 0))
        return tu_fail(error, TU_DATA_RANGE, NULL, "must be above 0, found \"%s\"", argument);
    bool inch = unit == TU_UNIT_INCH;
    tu_quantity_write_with_unit(other, sizeof other, argument, length, inch ? "mm" : "in");
    tu_quantity_write_with_unit(same, sizeof same, argument, length, inch ? "in" : "mm");
    return tu_fail(error, TU_DATA_RANGE, NULL, "%s; write %s, or %s if it really is so", doubt,
                   other, same);
}
