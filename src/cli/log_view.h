/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_view.h - the live view of `trueup log` on a terminal, a few lines on stderr.
 */
#ifndef TU_CLI_LOG_VIEW_H
#define TU_CLI_LOG_VIEW_H

#include "cli/log_figures.h"
#include "trueup/task_log.h"

/*
 *   live     there is a view.
 *   goal     touches that are asked for; 0: no number.
 *   for_s    how long it records; NaN: no time was asked for.
 *   drawn    lines of the view that stand on the terminal.
 *   last     the touch that was shown last.
 *   first_s  when the first touch came, and first_done how far the program was then; NaN: none yet.
 *   state    what is being waited for; "": nothing in particular.
 */
typedef struct tu_log_view {
    bool live;
    uint64_t goal;
    double for_s;
    int drawn;
    size_t width;
    tu_hit last;
    uint64_t shown;
    double first_s, first_done;
    const char *state;
} tu_log_view;

/* Draws the view anew; nothing where there is none. */
void tu_log_view_draw(tu_log_view *view, const tu_log_figures *figures, const tu_log_event *event);
/* Takes it away. */
void tu_log_view_clear(tu_log_view *view);

#endif
