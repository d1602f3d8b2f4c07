/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_view.c - the live view on a terminal: the last touch, the figures of its axis, how far the
 * job has come.
 *
 * Control sequences of ECMA-48: CUU (cursor up), ED (erase to the end of the page).
 */
#include "cli/log_view.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

enum { VIEW_LINE = 400, BAR_MAX = 40 };

void tu_log_view_clear(tu_log_view *view)
{
    if (!view->drawn)
        return;
    fprintf(stderr, "\r\x1b[%dA\x1b[J", view->drawn);
    fflush(stderr);
    view->drawn = 0;
}

/* Asked anew for each view, since a window may be made smaller. */
static size_t terminal_width(void)
{
    struct winsize size;
    return ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 ? size.ws_col : 80;
}

/*
 * Cuts text to the terminal's columns: a line that wraps would spoil the redrawing. Characters
 * from U+1000 on may be two columns wide; taking all for such cuts a little early at worst.
 */
static void put_line(tu_log_view *view, const char *text)
{
    size_t columns = 0, end = 0;
    for (; text[end]; end++) {
        unsigned char byte = (unsigned char)text[end];
        columns += byte >= 0xE1 ? 2 : (byte & 0xC0) != 0x80;
        if (columns >= view->width)
            break;
    }
    fprintf(stderr, "%.*s\n", (int)end, text);
    view->drawn++;
}

/* "about 4 min left". Seconds are rounded up, since a promise is better kept. */
static void format_left(char *text, size_t size, double seconds)
{
    if (!(seconds < 100.0 * 3600.0))
        *text = '\0';
    else if (seconds < 99.5)
        snprintf(text, size, "about %.0f s left", ceil(seconds));
    else if (seconds < 5400.0)
        snprintf(text, size, "about %.0f min left", ceil(seconds / 60.0));
    else
        snprintf(text, size, "about %.1f h left", seconds / 3600.0);
}

static void draw_bar(tu_log_view *view, double done, double all, const char *what, double left_s)
{
    char bar[BAR_MAX + 1], text[VIEW_LINE], left[60] = "";
    size_t room = view->width > 60 ? BAR_MAX : 12;
    double share = all > 0.0 ? fmin(done / all, 1.0) : 0.0;
    size_t filled = (size_t)(share * (double)room);
    memset(bar, '.', room);
    memset(bar, '#', filled);
    bar[room] = '\0';
    if (!isnan(left_s))
        format_left(left, sizeof left, left_s);
    snprintf(text, sizeof text, "  [%s] %s%s%s", bar, what, *left ? ", " : "", left);
    put_line(view, text);
}

/* Left at the pace so far; NaN before two touches make one. */
static double left_at_pace(const tu_log_view *view, double done, double all, double now_s)
{
    double since = done - view->first_done;
    return since >= 1.0 ? (now_s - view->first_s) / since * (all - done) : (double)NAN;
}

static void draw_progress(tu_log_view *view, uint64_t counted, const tu_log_event *event)
{
    char what[80];
    if (event->all || view->goal) {
        uint64_t done = event->all ? event->done : counted;
        uint64_t all = event->all ? event->all : view->goal;
        snprintf(what, sizeof what, "%" PRIu64 " of %" PRIu64, done, all);
        draw_bar(view, (double)done, (double)all, what,
                 left_at_pace(view, (double)done, (double)all, event->seconds));
    }
    if (!isnan(view->for_s)) {
        double gone = fmin(event->seconds, view->for_s);
        draw_bar(view, gone, view->for_s, "of the time", view->for_s - gone);
    }
}

void tu_log_view_draw(tu_log_view *view, const tu_log_figures *figures, const tu_log_event *event)
{
    char text[VIEW_LINE];
    if (!view->live)
        return;
    tu_log_view_clear(view);
    view->width = terminal_width();
    if (view->shown) {
        tu_log_format_hit(text, sizeof text, &view->last, figures->unit);
        put_line(view, text);
    }
    if (figures->count) {
        char line[VIEW_LINE - 2];
        tu_log_format_group(line, sizeof line, &figures->group[figures->current], figures->unit);
        snprintf(text, sizeof text, "  %s", line);
        put_line(view, text);
    }
    draw_progress(view, figures->counted, event);
    put_line(view, *view->state  ? view->state
                   : view->shown ? "  recording; Ctrl-C ends"
                                 : "  waiting for the first touch; Ctrl-C ends");
    fflush(stderr);
}
