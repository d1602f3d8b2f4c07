/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_show.h - what `trueup log` shows: a live view on a terminal, a line a touch elsewhere.
 *
 * Only what is durable is told to it. Touches go to stdout, the live view and warnings to stderr.
 */
#ifndef TU_CLI_LOG_SHOW_H
#define TU_CLI_LOG_SHOW_H

#include "cli/log_figures.h"
#include "cli/log_options.h"
#include "cli/log_view.h"

/*
 *   lines           each touch is a line on stdout.
 *   output_failure  errno of a write to stdout that failed; 0: none.
 */
typedef struct tu_log_show {
    bool lines, json;
    const char *out;
    tu_log_figures figures;
    tu_log_view view;
    int output_failure;
} tu_log_show;

tu_log_show tu_log_show_start(const tu_log_options *options);

/* The tell of a tu_log_sink; context is the show. TU_SYSTEM_IO of TU_LOG_FLUSH. */
tu_status tu_log_show_tell(void *context, const tu_log_event *event, tu_error *error);

/* Takes the view away, and writes how it ended and the figures: to stderr where touches are JSON.
 * TU_SYSTEM_IO when stdout could not be written, now or before. */
tu_status tu_log_show_summary(tu_log_show *show, const tu_task_log_story *story, tu_error *error);

#endif
