/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_figures.c - a touch as a line, and the figures of those that count.
 */
#include "cli/log_figures.h"

#include "trueup/number.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

typedef struct length_text {
    char text[TU_NUMBER_TEXT_SIZE];
} length_text;

/* A length with that many more decimals than a position has. */
static length_text show_length(tu_unit unit, double length_mm, int more)
{
    length_text text;
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
static tu_log_group *find_group(tu_log_figures *figures, const tu_hit *hit)
{
    for (size_t i = 0; i < figures->count; i++) {
        tu_log_group *group = &figures->group[i];
        if (group->axis == hit->axis && group->direction == hit->direction &&
            strcmp(group->series, hit->series) == 0) {
            figures->current = i;
            return group;
        }
    }
    if (figures->count == TU_LOG_GROUPS) /* the oldest gives way */
        memmove(figures->group, figures->group + 1, --figures->count * sizeof figures->group[0]);
    figures->current = figures->count++;
    tu_log_group *group = &figures->group[figures->current];
    *group = (tu_log_group){.axis = hit->axis,
                            .direction = hit->direction,
                            .low_mm = (double)INFINITY,
                            .high_mm = -(double)INFINITY};
    memcpy(group->series, hit->series, sizeof group->series);
    return group;
}

/* Source: B. P. Welford, Technometrics 4 (1962) 419-420: mean and squares without cancellation. */
void tu_log_figures_add(tu_log_figures *figures, const tu_hit *hit)
{
    if (!hit->ok)
        return;
    figures->counted++;
    tu_log_group *group = find_group(figures, hit);
    double value = along(hit), off = value - group->mean_mm;
    figures->before = *group;
    group->n++;
    group->mean_mm += off / (double)group->n;
    group->squares += off * (value - group->mean_mm);
    group->low_mm = fmin(group->low_mm, value);
    group->high_mm = fmax(group->high_mm, value);
}

/* NaN below two touches. */
static double deviation_of(const tu_log_group *group)
{
    return group->n > 1 ? sqrt(group->squares / (double)(group->n - 1)) : (double)NAN;
}

void tu_log_figures_withdraw(tu_log_figures *figures, bool all)
{
    if (all) {
        figures->count = figures->current = 0;
        figures->counted = 0;
        return;
    }
    if (figures->count == 0)
        return;
    figures->group[figures->current] = figures->before;
    figures->counted--;
    if (figures->before.n == 0) { /* it was the first of its group, which stands last */
        figures->count--;
        figures->current = figures->count ? figures->count - 1 : 0;
    }
}

void tu_log_format_hit(char *text, size_t size, const tu_hit *hit, tu_unit unit)
{
    char moved[16] = "";
    if (hit->direction)
        snprintf(moved, sizeof moved, "%c%c", "xyz"[hit->axis], hit -> direction > 0 ? '+' : '-');
    else
        snprintf(moved, sizeof moved, "%c", "xyz"[hit->axis]);
    snprintf(text, size, "touch %" PRIu64 ": x %s y %s z %s %s, moved %s%s%s%s", hit->sequence,
             show_length(unit, hit->position.x, 0).text, show_length(unit, hit->position.y, 0).text,
             show_length(unit, hit->position.z, 0).text, tu_unit_name(unit), moved,
             *hit->series ? ", " : "", hit->series, hit->ok ? "" : ", does not count");
}

void tu_log_format_group(char *text, size_t size, const tu_log_group *group, tu_unit unit)
{
    double sd = deviation_of(group);
    int length =
        snprintf(text, size, "%s%s%c%s: %zu touch%s, mean %s", group->series,
                 *group->series ? " " : "", "xyz"[group->axis],
                 group -> direction > 0          ? "+"
                          : group->direction < 0 ? "-"
                                                 : "",
                 group->n, group->n == 1 ? "" : "es", show_length(unit, group->mean_mm, 1).text);
    if (!isnan(sd) && length > 0 && (size_t)length < size)
        length += snprintf(text + length, size - (size_t)length, ", s %s, range %s",
                           show_length(unit, sd, 1).text,
                           show_length(unit, group->high_mm - group->low_mm, 0).text);
    if (length > 0 && (size_t)length < size)
        snprintf(text + length, size - (size_t)length, " %s", tu_unit_name(unit));
}

void tu_log_figures_write(const tu_log_figures *figures, FILE *out)
{
    char text[300];
    for (size_t i = 0; i < figures->count; i++) {
        tu_log_format_group(text, sizeof text, &figures->group[i], figures->unit);
        fprintf(out, "%s\n", text);
    }
}
