/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * used.c - what a use case took from where.
 */
#include "task/used.h"

#include <stdio.h>
#include <string.h>

static void add(tu_used used, const char *what, const char *name, const char *from)
{
    size_t length = strlen(used);
    snprintf(used + length, TU_USED_SIZE - length, "%s%s%s%s (%s)", length ? ", " : "", what,
             *what ? " " : "", name, from);
}

const char *tu_used_name(tu_used used, const tu_shop *shop, tu_shop_kind kind, const char *stated)
{
    const tu_table *table = tu_shop_table(shop);
    const char *lies = kind == TU_SHOP_PLATE ? table->plate : table->cutter;
    const char *name = stated ? stated : lies;
    if (name)
        add(used, tu_shop_kind_name(kind), name, stated ? "stated" : "table");
    else if (tu_shop_count(shop, kind) == 1)
        add(used, tu_shop_kind_name(kind), tu_shop_name_at(shop, kind, 0), "the only one");
    return name;
}

int tu_used_slot(tu_used used, const tu_shop *shop, int stated)
{
    const int lies = tu_shop_table(shop)->slot;
    const int slot = stated ? stated : lies ? lies : 1;
    add(used, "", tu_slot_name(slot), stated ? "stated" : lies ? "table" : "usual");
    return slot;
}

tu_seat tu_used_seat(tu_used used, const tu_shop *shop, int stated)
{
    const tu_table *table = tu_shop_table(shop);
    const tu_seat seat = stated >= 0          ? (tu_seat)stated
                         : table->seat_stated ? table->seat
                                              : TU_SEAT_STOCK;
    if (stated >= 0 || table->seat_stated)
        add(used, "on the", seat == TU_SEAT_BED ? "bed" : "stock",
            stated >= 0 ? "stated" : "table");
    return seat;
}

tu_target tu_used_target(tu_used used, const tu_shop *shop, tu_target stated)
{
    const tu_target lies = tu_shop_table(shop)->target;
    const bool is_stated = *tu_target_name(stated);
    const tu_target target = is_stated ? stated : lies;
    if (*tu_target_name(target))
        add(used, "", tu_target_name(target), is_stated ? "stated" : "table");
    return target;
}

void tu_used_unit(tu_used used, tu_unit unit, const tu_typed_unit *typed)
{
    add(used, "numbers in", unit == TU_UNIT_INCH ? "inches" : "mm",
        typed->stated    ? "stated"
        : typed->of_shop ? "shop file"
                         : "usual");
}

void tu_used_place(tu_used used, tu_shop_place place)
{
    static const char *const from[] = {[TU_SHOP_NOWHERE] = "nowhere",
                                       [TU_SHOP_STATED] = "stated",
                                       [TU_SHOP_ENVIRONMENT] = "TRUEUP_SHOP",
                                       [TU_SHOP_FOLDER] = "here"};
    add(used, "", strcmp(place.path, "-") ? place.path : "standard input", from[place.origin]);
}
