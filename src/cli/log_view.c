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

void tu_log_show_clear(tu_log_show *show)
{
    if (!show->drawn)
        return;
    fprintf(stderr, "\r\x1b[%dA\x1b[J", show->drawn);
    fflush(stderr);
    show->drawn = 0;
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
static void put_line(tu_log_show *show, const char *text)
{
    size_t columns = 0, end = 0;
    for (; text[end]; end++) {
        unsigned char byte = (unsigned char)text[end];
        columns += byte >= 0xE1 ? 2 : (byte & 0xC0) != 0x80;
        if (columns >= show->width)
            break;
    }
    fprintf(stderr, "%.*s\n", (int)end, text);
    show->drawn++;
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

static void draw_bar(tu_log_show *show, double done, double all, const char *what, double left_s)
{
    char bar[BAR_MAX + 1], text[VIEW_LINE], left[60] = "";
    size_t room = show->width > 60 ? BAR_MAX : 12;
    double share = all > 0.0 ? fmin(done / all, 1.0) : 0.0;
    size_t filled = (size_t)(share * (double)room);
    memset(bar, '.', room);
    memset(bar, '#', filled);
    bar[room] = '\0';
    if (!isnan(left_s))
        format_left(left, sizeof left, left_s);
    snprintf(text, sizeof text, "  [%s] %s%s%s", bar, what, *left ? ", " : "", left);
    put_line(show, text);
}

/* Left at the pace so far; NaN before two touches make one. */
static double left_at_pace(const tu_log_show *show, double done, double all, double now_s)
{
    double since = done - show->first_done;
    return since >= 1.0 ? (now_s - show->first_s) / since * (all - done) : (double)NAN;
}

static void draw_progress(tu_log_show *show, double now_s)
{
    char what[80];
    if (show->plan) {
        double done = (double)show->plan->course.next, all = (double)show->plan->count;
        snprintf(what, sizeof what, "%zu of %zu", show->plan->course.next, show->plan->count);
        draw_bar(show, done, all, what, left_at_pace(show, done, all, now_s));
    } else if (show->goal) {
        double done = (double)show->counted, all = (double)show->goal;
        snprintf(what, sizeof what, "%" PRIu64 " of %" PRIu64, show->counted, show->goal);
        draw_bar(show, done, all, what, left_at_pace(show, done, all, now_s));
    }
    if (!isnan(show->for_s)) {
        double gone = fmin(now_s - show->started_s, show->for_s);
        draw_bar(show, gone, show->for_s, "of the time", show->for_s - gone);
    }
}

void tu_log_show_draw(tu_log_show *show, double now_s)
{
    char text[VIEW_LINE];
    if (!show->live)
        return;
    tu_log_show_clear(show);
    show->width = terminal_width();
    if (show->shown) {
        tu_log_format_hit(text, sizeof text, &show->last, show->unit);
        put_line(show, text);
    }
    if (show->group_count) {
        char figures[VIEW_LINE - 2];
        tu_log_format_group(figures, sizeof figures, &show->group[show->current], show->unit);
        snprintf(text, sizeof text, "  %s", figures);
        put_line(show, text);
    }
    draw_progress(show, now_s);
    put_line(show, *show->state  ? show->state
                   : show->shown ? "  recording; Ctrl-C ends"
                                 : "  waiting for the first touch; Ctrl-C ends");
    fflush(stderr);
}
