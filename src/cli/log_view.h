/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_view.h - texts that the lines and the live view of `trueup log` share (internal).
 */
#ifndef TU_CLI_LOG_VIEW_H
#define TU_CLI_LOG_VIEW_H

#include "cli/log_show.h"
#include "trueup/number.h"

typedef struct tu_log_text {
    char text[TU_NUMBER_TEXT_SIZE];
} tu_log_text;

/* A length in a unit, with that many more decimals than a position has. */
tu_log_text tu_log_length(tu_unit unit, double length_mm, int more);
/* "touch 12: x 100.0000 y 120.0000 z -42.5000 mm, moved z-, bed". */
void tu_log_format_hit(char *text, size_t size, const tu_hit *hit, tu_unit unit);
/* "bed z-: 12 touches, mean -42.50013, s 0.00210, range 0.0087 mm". */
void tu_log_format_group(char *text, size_t size, const tu_log_group *group, tu_unit unit);
/* NaN below two touches. */
double tu_log_group_sd(const tu_log_group *group);

#endif
