/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shown.h - lengths in messages, in the unit that the person typed.
 */
#ifndef TRUEUP_TOUCH_SHOWN_H
#define TRUEUP_TOUCH_SHOWN_H

#include "trueup/quantity.h"

enum { TU_SHOWN_LENGTH_SIZE = 48 };

typedef struct tu_shown_length {
    char text[TU_SHOWN_LENGTH_SIZE];
} tu_shown_length;

/* "104.775 mm" or "4.1250 in". */
tu_shown_length tu_show_length(tu_unit unit, double length_mm);
/* Without needless zeros: "1200 mm", "0.25 in". */
tu_shown_length tu_show_short(tu_unit unit, double length_mm);
/* As one would type it, with its unit: "104.775mm" or "4.125in". */
tu_shown_length tu_show_typed(tu_unit unit, double length_mm);

#endif
