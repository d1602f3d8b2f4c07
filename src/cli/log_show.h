/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_show.h - what `trueup log` shows: a live view on a terminal, a line a touch elsewhere.
 *
 * Only what is durable is given to it. Touches go to stdout, the live view and warnings to stderr.
 */
#ifndef TU_CLI_LOG_SHOW_H
#define TU_CLI_LOG_SHOW_H

#include "cli/log_options.h"
#include "program/log_plan.h"
#include "trueup/hits.h"

#include <stdbool.h>
#include <stddef.h>

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
 *   live        a view of a few lines is redrawn on stderr.
 *   lines       each touch is a line on stdout.
 *   drawn       lines of the view that stand on the terminal.
 *   last        the touch that was shown last.
 *   plan        NULL: none.
 *   started_s, first_s  when recording started, and when the first touch came (NaN: none yet).
 */
typedef struct tu_log_show {
    bool live, lines, json;
    tu_unit unit;
    const tu_log_plan *plan;
    uint64_t goal;
    double for_s;
    int drawn;
    size_t width;
    tu_hit last;
    uint64_t shown, counted;
    tu_log_group group[TU_LOG_GROUPS];
    size_t group_count, current;
    tu_log_group before; /* the current group without the touch that was shown last and counts */
    double started_s, first_s, first_done;
    char state[120];    /* what is being waited for; "" nothing in particular */
    int output_failure; /* errno of a write to stdout that failed; 0: none */
} tu_log_show;

tu_log_show tu_log_show_start(const tu_log_options *options, const tu_log_plan *plan, double now_s);

/* A touch that is durable. */
void tu_log_show_hit(tu_log_show *show, const tu_hit *hit, double now_s);
/* Touches that were shown count no more: all, or the last that counted. */
void tu_log_show_withdraw(tu_log_show *show, bool all);
/* TU_SYSTEM_IO when stdout could not be written, now or before. */
tu_status tu_log_show_flush(tu_log_show *show, tu_error *error);
/* A line on stderr, beside the view. */
void tu_log_show_warning(tu_log_show *show, const char *text);
/* Draws the view anew; nothing where there is none. */
void tu_log_show_draw(tu_log_show *show, double now_s);
/* Takes the view away, and writes the figures of each group to out. */
void tu_log_show_clear(tu_log_show *show);
void tu_log_show_groups(const tu_log_show *show, FILE *out);

#endif
