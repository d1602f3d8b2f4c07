/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_letters.c - a series drawn in letters.
 */
#include "report/trials/trials_letters.h"

#include "report/figure.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* LEGEND: what is written below in one line; LEAD: numbers and the axis in front of a row; TAIL:
 * the count behind a bar. */
enum {
    ROWS = 11,
    COLUMNS_MIN = 12,
    COLUMNS_MAX = 240,
    USUAL = 60,
    LEAD = 14,
    TAIL = 16,
    LEGEND = 63
};

typedef struct grid {
    double low, high;
    char cell[ROWS][COLUMNS_MAX + 1];
    size_t columns;
} grid;

static int row_of(const grid *g, double value)
{
    double part = (value - g->low) / (g->high - g->low);
    int row = (int)floor((1 - part) * ROWS);
    return row < 0 ? 0 : row >= ROWS ? ROWS - 1 : row;
}

static bool is_outlier(const tu_trial_figures *f, size_t index)
{
    for (size_t i = 0; i < f->outlier_count; i++)
        if (f->outlier[i].index == index)
            return true;
    return false;
}

/* Room for every touch and, where they are near, the limits. All equal: a step either way. */
static void scale(grid *g, const tu_trial_figures *f)
{
    g->low = f->minimum;
    g->high = f->maximum;
    if (f->chart_upper < f->maximum + f->range)
        g->high = fmax(g->high, f->chart_upper);
    if (f->chart_lower > f->minimum - f->range)
        g->low = fmin(g->low, f->chart_lower);
    if (!(g->high > g->low)) {
        double room = isnan(f->step_mm) ? 0.001 : f->step_mm;
        g->low -= room;
        g->high += room;
    }
}

static void draw_level(grid *g, double value, char letter)
{
    if (isnan(value) || value < g->low || value > g->high)
        return;
    memset(g->cell[row_of(g, value)], letter, g->columns);
}

/* Several touches share a column where there are many: each row that one of them met is marked. */
static void plot(grid *g, const tu_trials_entry *entry)
{
    size_t n = entry->series.count;
    for (size_t i = 0; i < n; i++) {
        size_t column = n <= g->columns ? i : (size_t)((double)i / (double)n * (double)g->columns);
        char *cell = &g->cell[row_of(g, entry->series.value_mm[i])][column];
        if (is_outlier(&entry->figures, i))
            *cell = '#';
        else if (*cell != '#')
            *cell = 'o';
    }
}

/* Columns for touches or bars, of a terminal as wide as that. */
static size_t room(int columns, int taken)
{
    int left = columns - taken;
    return (size_t)(left < COLUMNS_MIN ? COLUMNS_MIN : left > COLUMNS_MAX ? COLUMNS_MAX : left);
}

static void write_legend(FILE *out, const grid *g, const tu_trial_figures *f, int columns)
{
    const char *between = columns < LEGEND ? "\n             " : ", ";
    bool shared = f->n > g->columns;
    fprintf(out, "\n%13stouch 1 to %zu%s%s\n", "", f->n, shared ? between : "",
            shared ? "several to a column" : "");
    fprintf(out, "%13so touch, . mean%s- limits of chance%s%s\n", "", between,
            f->outlier_count ? between : "", f->outlier_count ? "# outlier" : "");
}

static void write_run(FILE *out, const tu_trials_entry *entry, tu_unit unit, int columns)
{
    const tu_trial_figures *f = &entry->figures;
    size_t most = room(columns ? columns : USUAL, LEAD);
    grid g = {.columns = entry->series.count < most ? entry->series.count : most};
    scale(&g, f);
    memset(g.cell, ' ', sizeof g.cell);
    draw_level(&g, f->chart_lower, '-');
    draw_level(&g, f->chart_upper, '-');
    draw_level(&g, f->mean, '.');
    plot(&g, entry);
    for (int row = 0; row < ROWS; row++) {
        double value = g.high - (row + 0.5) / ROWS * (g.high - g.low);
        g.cell[row][g.columns] = '\0';
        if (row % 5 == 0)
            fprintf(out, "%11s |%s\n", tu_figure_fine(unit, value).text, g.cell[row]);
        else
            fprintf(out, "%11s |%s\n", "", g.cell[row]);
    }
    fprintf(out, "%11s +", tu_unit_name(unit));
    for (size_t i = 0; i < g.columns; i++)
        fputc('-', out);
    write_legend(out, &g, f, columns ? columns : LEGEND);
}

/* Columns of the step where it is known, so that no false gaps show; at most ROWS. */
static void write_distribution(FILE *out, const tu_trials_entry *entry, tu_unit unit, int columns)
{
    double longest = (double)room(columns ? columns : USUAL, LEAD + TAIL);
    const tu_trial_figures *f = &entry->figures;
    size_t count[ROWS] = {0}, most = 1;
    double step = f->distinct <= f->n / 2 && f->step_seen_mm > 0 ? f->step_seen_mm : NAN;
    double wide = f->range / (ROWS - 2);
    if (step > 0)
        wide = step * fmax(1, ceil(f->range / step / (ROWS - 2)));
    if (!(wide > 0))
        return;
    double low = f->minimum - wide / 2;
    for (size_t i = 0; i < entry->series.count; i++) {
        int bin = (int)floor((entry->series.value_mm[i] - low) / wide);
        size_t to = (size_t)(bin < 0 ? 0 : bin >= ROWS ? ROWS - 1 : bin);
        most = ++count[to] > most ? count[to] : most;
    }
    fputc('\n', out);
    for (int bin = ROWS - 1; bin >= 0; bin--) {
        double middle = low + (bin + 0.5) * wide;
        if (middle > f->maximum + wide / 2)
            continue;
        int length = (int)lround((double)count[bin] / (double)most * longest);
        fprintf(out, "%11s |", tu_figure_fine(unit, middle).text);
        for (int i = 0; i < length || (i == 0 && count[bin]); i++)
            fputc('=', out);
        fprintf(out, " %zu\n", count[bin]);
    }
}

void tu_trials_letters(FILE *out, const tu_trials_entry *entry, tu_unit unit, int columns)
{
    if (entry->figures.n < 2)
        return;
    fputc('\n', out);
    write_run(out, entry, unit, columns);
    write_distribution(out, entry, unit, columns);
}
