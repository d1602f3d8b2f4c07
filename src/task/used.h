/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * used.h - what a use case took from where: stated, from the table of the shop file, the only one
 * there is, or as usual.
 */
#ifndef TU_TASK_USED_H
#define TU_TASK_USED_H

#include "trueup/setup.h"
#include "trueup/shop.h"
#include "trueup/task.h"

/* Text of at most TU_USED_SIZE, for the head of an answer. */
typedef char tu_used[TU_USED_SIZE];

/* Takes what was not stated from the table; each says in `used` what was taken and from where.
 *   stated   NULL: not stated. The name is NULL where neither says one: then the file's only one.
 *   kind     TU_SHOP_PLATE or TU_SHOP_CUTTER. */
const char *tu_used_name(tu_used used, const tu_shop *shop, tu_shop_kind kind, const char *stated);
/* 1 for G54, which is usual. stated 0: not stated. */
int tu_used_slot(tu_used used, const tu_shop *shop, int stated);
/* The stock is usual. stated below 0: not stated. */
tu_seat tu_used_seat(tu_used used, const tu_shop *shop, int stated);
/* No axis asked: not stated, by neither. */
tu_target tu_used_target(tu_used used, const tu_shop *shop, tu_target stated);
/* The unit of bare numbers, and the shop file: these come last. */
void tu_used_unit(tu_used used, tu_unit unit, const tu_typed_unit *typed);
void tu_used_place(tu_used used, tu_shop_place place);

#endif
