/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_lacks.h - what a sound shop file leaves open, and who will miss it.
 */
#ifndef TRUEUP_SHOP_LACKS_H
#define TRUEUP_SHOP_LACKS_H

#include "trueup/shop.h"

TU_BEGIN_DECLS

enum { TU_SHOP_LACKS_MAX = 64 };

/* What a thing that is not stated would be for. */
typedef enum tu_shop_purpose {
    TU_PURPOSE_ZERO,
    TU_PURPOSE_PLAN,
    TU_PURPOSE_JOB,
    TU_PURPOSE_COUNT
} tu_shop_purpose;

/*
 * One thing that is not stated.
 *   needed  without it that is refused, or cannot be told; false: it is done, and worse.
 *   kind, name, key  where it belongs, as in "plate bracket walls.a.touch_depth"; name "" where the
 *           kind has none, key "" where all of it is missing.
 *   why     what it is for, a clause: "the tip is wider further up". Lives for ever.
 */
typedef struct tu_shop_lack {
    tu_shop_purpose purpose;
    bool needed;
    tu_shop_kind kind;
    char name[TU_NAME_SIZE];
    const char *key;
    const char *why;
} tu_shop_lack;

/* more: how many found no room. */
typedef struct tu_shop_lacks {
    size_t count, more;
    tu_shop_lack lack[TU_SHOP_LACKS_MAX];
} tu_shop_lacks;

/* "zero", "plan", "job". */
const char *tu_shop_purpose_name(tu_shop_purpose purpose);

/* What the shop leaves open, by purpose, what is needed first. */
void tu_shop_judge(const tu_shop *shop, tu_shop_lacks *lacks);

TU_END_DECLS

#endif
