/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_show.c - touches as lines, and their figures.
 */
#include "cli/log_show.h"

#include "cli/log_view.h"
#include "cli/output.h"
#include "trueup/number.h"

#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { LINE_SIZE = 4096 };

tu_log_show tu_log_show_start(const tu_log_options *options, const tu_log_plan *plan, double now_s)
{
    const char *terminal = getenv("TERM");
    bool dumb = !terminal || strcmp(terminal, "dumb") == 0 || !*terminal;
    bool live = !options->quiet && !dumb && isatty(STDERR_FILENO);
    return (tu_log_show){.live = live,
                         .lines = !options->quiet && !(live && isatty(STDOUT_FILENO)),
                         .json = options->json,
                         .unit = options->unit,
                         .plan = plan,
                         .goal = options->count,
                         .for_s = options->for_s,
                         .started_s = now_s,
                         .first_s = (double)NAN};
}

tu_log_text tu_log_length(tu_unit unit, double length_mm, int more)
{
    tu_log_text text;
    if (!tu_number_format(text.text, sizeof text.text, tu_unit_from_mm(unit, length_mm),
                          (unit == TU_UNIT_MM ? 4 : 5) + more))
        snprintf(text.text, sizeof text.text, "?");
    return text;
}

static double along(const tu_hit *hit)
{
    return hit->axis == TU_AXIS_X   ? hit->position.x
           : hit->axis == TU_AXIS_Y ? hit->position.y
                                    : hit->position.z;
}

/* The group of a hit; the last one is for all that find no room. */
static tu_log_group *find_group(tu_log_show *show, const tu_hit *hit)
{
    for (size_t i = 0; i < show->group_count; i++) {
        tu_log_group *group = &show->group[i];
        if (group->axis == hit->axis && group->direction == hit->direction &&
            strcmp(group->series, hit->series) == 0) {
            show->current = i;
            return group;
        }
    }
    if (show->group_count == TU_LOG_GROUPS) /* the oldest gives way */
        memmove(show->group, show->group + 1, --show->group_count * sizeof show->group[0]);
    show->current = show->group_count++;
    tu_log_group *group = &show->group[show->current];
    *group = (tu_log_group){.axis = hit->axis,
                            .direction = hit->direction,
                            .low_mm = (double)INFINITY,
                            .high_mm = -(double)INFINITY};
    memcpy(group->series, hit->series, sizeof group->series);
    return group;
}

/* Source: B. P. Welford, Technometrics 4 (1962) 419-420: mean and squares without cancellation. */
static void add_to_group(tu_log_show *show, const tu_hit *hit)
{
    tu_log_group *group = find_group(show, hit);
    double value = along(hit), off = value - group->mean_mm;
    show->before = *group;
    group->n++;
    group->mean_mm += off / (double)group->n;
    group->squares += off * (value - group->mean_mm);
    group->low_mm = fmin(group->low_mm, value);
    group->high_mm = fmax(group->high_mm, value);
}

double tu_log_group_sd(const tu_log_group *group)
{
    return group->n > 1 ? sqrt(group->squares / (double)(group->n - 1)) : (double)NAN;
}

void tu_log_format_hit(char *text, size_t size, const tu_hit *hit, tu_unit unit)
{
    char moved[16] = "";
    if (hit->direction)
        snprintf(moved, sizeof moved, "%c%c", "xyz"[hit->axis], hit -> direction > 0 ? '+' : '-');
    else
        snprintf(moved, sizeof moved, "%c", "xyz"[hit->axis]);
    snprintf(text, size, "touch %" PRIu64 ": x %s y %s z %s %s, moved %s%s%s%s", hit->sequence,
             tu_log_length(unit, hit->position.x, 0).text,
             tu_log_length(unit, hit->position.y, 0).text,
             tu_log_length(unit, hit->position.z, 0).text, tu_unit_name(unit), moved,
             *hit->series ? ", " : "", hit->series, hit->ok ? "" : ", does not count");
}

static void note_failure(tu_log_show *show, bool failed)
{
    if (failed && !show->output_failure)
        show->output_failure = errno ? errno : EIO;
}

void tu_log_show_hit(tu_log_show *show, const tu_hit *hit, double now_s)
{
    char line[LINE_SIZE];
    show->last = *hit;
    show->shown++;
    show->counted += hit->ok;
    if (isnan(show->first_s)) {
        show->first_s = now_s;
        show->first_done = show->plan ? (double)show->plan->course.next : 1.0;
    }
    if (hit->ok)
        add_to_group(show, hit);
    if (!show->lines)
        return;
    if (show->live)
        tu_log_show_clear(show);
    if (show->json) {
        tu_hits_format(line, sizeof line, hit);
    } else {
        tu_log_format_hit(line, sizeof line - 1, hit, show->unit);
        strcat(line, "\n");
    }
    errno = 0;
    note_failure(show, fputs(line, stdout) == EOF);
}

void tu_log_show_withdraw(tu_log_show *show, bool all)
{
    if (all) {
        show->group_count = show->current = 0;
        show->counted = 0;
        return;
    }
    if (show->group_count == 0)
        return;
    show->group[show->current] = show->before;
    show->counted--;
    if (show->before.n == 0) { /* it was the first of its group, which stands last */
        show->group_count--;
        show->current = show->group_count ? show->group_count - 1 : 0;
    }
}

tu_status tu_log_show_flush(tu_log_show *show, tu_error *error)
{
    errno = 0;
    note_failure(show, fflush(stdout) != 0);
    if (!show->output_failure)
        return TU_OK;
    return tu_fail(error, TU_SYSTEM_IO, "standard output", "cannot be written: %s",
                   strerror(show->output_failure));
}

void tu_log_show_warning(tu_log_show *show, const char *text)
{
    tu_log_show_clear(show);
    errno = 0;
    note_failure(show, fflush(stdout) != 0); /* in its place among the touches */
    fprintf(stderr, "warning: %s\n", text);
}

void tu_log_format_group(char *text, size_t size, const tu_log_group *group, tu_unit unit)
{
    double sd = tu_log_group_sd(group);
    int length =
        snprintf(text, size, "%s%s%c%s: %zu touch%s, mean %s", group->series,
                 *group->series ? " " : "", "xyz"[group->axis],
                 group -> direction > 0          ? "+"
                          : group->direction < 0 ? "-"
                                                 : "",
                 group->n, group->n == 1 ? "" : "es", tu_log_length(unit, group->mean_mm, 1).text);
    if (!isnan(sd) && length > 0 && (size_t)length < size)
        length += snprintf(text + length, size - (size_t)length, ", s %s, range %s",
                           tu_log_length(unit, sd, 1).text,
                           tu_log_length(unit, group->high_mm - group->low_mm, 0).text);
    if (length > 0 && (size_t)length < size)
        snprintf(text + length, size - (size_t)length, " %s", tu_unit_name(unit));
}

void tu_log_show_groups(const tu_log_show *show, FILE *out)
{
    char text[300];
    for (size_t i = 0; i < show->group_count; i++) {
        tu_log_format_group(text, sizeof text, &show->group[i], show->unit);
        fprintf(out, "%s\n", text);
    }
}
