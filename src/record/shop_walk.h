/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_walk.h - everything that a shop file states, in its order, for those who show it (internal).
 */
#ifndef RECORD_SHOP_WALK_H
#define RECORD_SHOP_WALK_H

#include "trueup/shop.h"

typedef enum tu_shop_mark {
    TU_MARK_OBJECT,   /* one begins */
    TU_MARK_LIST,     /* one begins */
    TU_MARK_END,      /* of the last that began */
    TU_MARK_QUANTITY, /* a length that may have a tolerance */
    TU_MARK_LENGTH,
    TU_MARK_NUMBER,
    TU_MARK_TEXT,
    TU_MARK_FLAG
} tu_shop_mark;

/*
 * One step of the walk.
 *   key      NULL in a list, and at an end.
 *   length   of a length, mm (a rate: in a minute; an acceleration: in a second, each second).
 *   number   as in the file: an angle whose key ends in _deg is in degrees. A flag: 0 or 1.
 */
typedef struct tu_shop_step {
    tu_shop_mark mark;
    const char *key;
    tu_quantity length;
    double number;
    const char *text;
} tu_shop_step;

/* false ends the walk. */
typedef bool tu_shop_visit(void *context, const tu_shop_step *step);

/*
 * Walks over the file, below its outermost braces.
 * Returns TU_OK; TU_SYSTEM_MEMORY, also where visit ended it.
 */
tu_status tu_shop_walk(const tu_shop *shop, tu_shop_visit *visit, void *context, tu_error *error);

#endif
