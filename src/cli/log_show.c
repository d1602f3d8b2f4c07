/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_show.c - touches as lines, warnings in their place among them.
 */
#include "cli/log_show.h"

#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { LINE_SIZE = 4096 };

tu_log_show tu_log_show_start(const tu_log_options *options)
{
    const char *terminal = getenv("TERM");
    bool dumb = !terminal || strcmp(terminal, "dumb") == 0 || !*terminal;
    bool live = !options->quiet && !dumb && isatty(STDERR_FILENO);
    return (tu_log_show){.lines = !options->quiet && !(live && isatty(STDOUT_FILENO)),
                         .json = options->json,
                         .out = options->task.out,
                         .view = {.live = live,
                                  .goal = options->task.count,
                                  .for_s = options->task.for_s,
                                  .first_s = (double)NAN,
                                  .state = ""}};
}

static void note_failure(tu_log_show *show, bool failed)
{
    if (failed && !show->output_failure)
        show->output_failure = errno ? errno : EIO;
}

static void show_hit(tu_log_show *show, const tu_log_event *event)
{
    char line[LINE_SIZE];
    tu_log_view *view = &show->view;
    view->last = *event->hit;
    view->shown++;
    if (isnan(view->first_s)) {
        view->first_s = event->seconds;
        view->first_done = event->all ? (double)event->done : 1.0;
    }
    tu_log_figures_add(&show->figures, event->hit);
    if (!show->lines)
        return;
    tu_log_view_clear(view);
    if (show->json) {
        tu_hits_format(line, sizeof line, event->hit);
    } else {
        tu_log_format_hit(line, sizeof line - 1, event->hit, event->unit);
        strcat(line, "\n");
    }
    errno = 0;
    note_failure(show, fputs(line, stdout) == EOF);
}

static tu_status flush(tu_log_show *show, tu_error *error)
{
    errno = 0;
    note_failure(show, fflush(stdout) != 0);
    if (!show->output_failure)
        return TU_OK;
    return tu_fail(error, TU_SYSTEM_IO, "standard output", "cannot be written: %s",
                   strerror(show->output_failure));
}

static void write_warning(tu_log_show *show, const char *text)
{
    tu_log_view_clear(&show->view);
    errno = 0;
    note_failure(show, fflush(stdout) != 0); /* in its place among the touches */
    fprintf(stderr, "warning: %s\n", text);
}

/* What becomes of the source, and what is waited for from now on. */
static void show_source(tu_log_show *show, const char *source, const char *fate, const char *state)
{
    char text[TU_ERROR_MESSAGE_SIZE];
    snprintf(text, sizeof text, "%s%s", source, fate);
    write_warning(show, text);
    show->view.state = state;
}

static void show_opened(tu_log_show *show, const tu_log_event *event)
{
    show->figures.unit = event->unit;
    if (show->view.live)
        fprintf(stderr, "recording from %s into %s%s\n", event->text, show->out,
                event->existed ? ", behind what it holds" : "");
}

static void show_unrecorded(tu_log_show *show, const tu_log_event *event)
{
    char text[300];
    tu_log_view_clear(&show->view);
    tu_log_format_hit(text, sizeof text, event->hit, event->unit);
    fprintf(stderr, "not recorded: %s\n", text);
}

tu_status tu_log_show_tell(void *context, const tu_log_event *event, tu_error *error)
{
    tu_log_show *show = context;
    switch (event->kind) {
    case TU_LOG_OPENED:
        show_opened(show, event);
        break;
    case TU_LOG_HIT:
        show_hit(show, event);
        break;
    case TU_LOG_WITHDREW_ALL:
    case TU_LOG_WITHDREW_LAST:
        tu_log_figures_withdraw(&show->figures, event->kind == TU_LOG_WITHDREW_ALL);
        break;
    case TU_LOG_WARNING:
        write_warning(show, event->text);
        break;
    case TU_LOG_UNPLUGGED:
        show_source(show, event->text, " is gone: unplugged? Waiting until it is back; Ctrl-C ends",
                    "  unplugged; waiting until it is back; Ctrl-C ends");
        break;
    case TU_LOG_BACK:
        show_source(show, event->text, " is back", "");
        break;
    case TU_LOG_STALLED:
        show->view.state = "  cannot write to the log; touches wait in memory; Ctrl-C gives up";
        break;
    case TU_LOG_GOES_ON:
        show->view.state = "";
        break;
    case TU_LOG_FLUSH:
        return flush(show, error);
    case TU_LOG_TICK:
        tu_log_view_draw(&show->view, &show->figures, event);
        break;
    case TU_LOG_UNRECORDED:
        show_unrecorded(show, event);
        break;
    case TU_LOG_OPENING:
    case TU_LOG_ENDING:
        break;
    }
    return TU_OK;
}

tu_status tu_log_show_summary(tu_log_show *show, const tu_task_log_story *story, tu_error *error)
{
    FILE *out = show->json ? stderr : stdout;
    fprintf(out, "%" PRIu64 " touch%s recorded in %s", story->hits, story->hits == 1 ? "" : "es",
            show->out);
    if (story->counted != story->hits)
        fprintf(out, ", of which %" PRIu64 " count%s", story->counted,
                story->counted == 1 ? "s" : "");
    if (story->lost)
        fprintf(out, ", %" PRIu64 " line%s lost", story->lost, story->lost == 1 ? "" : "s");
    if (story->unread)
        fprintf(out, ", %" PRIu64 " line%s not read", story->unread, story->unread == 1 ? "" : "s");
    fprintf(out, "; ended: %s\n", story->ended);
    tu_log_figures_write(&show->figures, out);
    return flush(show, error);
}
