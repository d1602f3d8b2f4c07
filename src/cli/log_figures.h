/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_figures.h - a touch as a line, and the figures of those that count.
 */
#ifndef TU_CLI_LOG_FIGURES_H
#define TU_CLI_LOG_FIGURES_H

#include "trueup/hits.h"
#include "trueup/quantity.h"

#include <stddef.h>
#include <stdio.h>

enum { TU_LOG_GROUPS = 24 };

/* The touches that count of one series, axis and direction. Running mean and sum of squares. */
typedef struct tu_log_group {
    char series[TU_NAME_SIZE];
    tu_axis axis;
    int direction;
    size_t n;
    double mean_mm, squares, low_mm, high_mm;
} tu_log_group;

/*
 * Starts as {0}.
 *   before  the current group without the touch that was added last and counts.
 */
typedef struct tu_log_figures {
    tu_unit unit;
    uint64_t counted;
    tu_log_group group[TU_LOG_GROUPS];
    size_t count, current;
    tu_log_group before;
} tu_log_figures;

/* A touch; one that does not count changes nothing. */
void tu_log_figures_add(tu_log_figures *figures, const tu_hit *hit);
/* Touches that were added count no more: all, or the last that counted. */
void tu_log_figures_withdraw(tu_log_figures *figures, bool all);

/* "touch 12: x 100.0000 y 120.0000 z -42.5000 mm, moved z-, bed". */
void tu_log_format_hit(char *text, size_t size, const tu_hit *hit, tu_unit unit);
/* "bed z-: 12 touches, mean -42.50013, s 0.00210, range 0.0087 mm". */
void tu_log_format_group(char *text, size_t size, const tu_log_group *group, tu_unit unit);
/* Each group in a line. */
void tu_log_figures_write(const tu_log_figures *figures, FILE *out);

#endif
