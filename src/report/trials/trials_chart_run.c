/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_chart_run.c - touches in their order, with limits, drift and outliers; groups in columns.
 */
#include "report/trials/trials_chart.h"

#include "report/figure.h"

#include <math.h>
#include <stdio.h>

/* More touches than dots can show apart are drawn as strokes from the smallest to the largest. */
enum { JOINED_MAX = 80, DOTS_MAX = 1500, STROKES = 400 };

/* What the labels have on the right of a chart, and its title may take, its unit besides. */
static const double margin_mm = 30;

static double value_at(const tu_chart *chart, const tu_trials_entry *entry, size_t i)
{
    return tu_unit_from_mm(chart->story->unit, entry->series.value_mm[i]);
}

/* Minutes from the first touch, or the number of the touch. */
static double place_of(const tu_trials_entry *entry, size_t i)
{
    const double *time = entry->series.time_s;
    return time ? (time[i] - time[0]) / 60 : (double)i + 1;
}

static bool has_times(const tu_trials_entry *entry)
{
    size_t n = entry->series.count;
    return entry->series.time_s && entry->series.time_s[n - 1] > entry->series.time_s[0];
}

static double x_at(const tu_chart *chart, const tu_trials_entry *entry, size_t i)
{
    return tu_chart_x(chart, has_times(entry) ? place_of(entry, i) : (double)i + 1);
}

static double dot_size(size_t n)
{
    return n <= JOINED_MAX ? 0.75 : n <= 400 ? 0.5 : 0.3;
}

static void draw_strokes(const tu_chart *chart, const tu_trials_entry *entry)
{
    size_t n = entry->series.count;
    for (size_t k = 0; k < STROKES; k++) {
        size_t from = n * k / STROKES, to = n * (k + 1) / STROKES;
        double low = INFINITY, high = -INFINITY;
        for (size_t i = from; i < to; i++) {
            low = fmin(low, value_at(chart, entry, i));
            high = fmax(high, value_at(chart, entry, i));
        }
        double x = x_at(chart, entry, (from + to) / 2 < n ? (from + to) / 2 : n - 1);
        tu_chart_line(chart, "stroke", x, tu_chart_y(chart, low), x, tu_chart_y(chart, high));
    }
}

static void draw_touches(const tu_chart *chart, const tu_trials_entry *entry)
{
    size_t n = entry->series.count;
    if (n > DOTS_MAX) {
        draw_strokes(chart, entry);
        return;
    }
    tu_svg_point last = {0};
    for (size_t i = 0; i < n; i++) {
        tu_svg_point at = {x_at(chart, entry, i), tu_chart_y(chart, value_at(chart, entry, i))};
        if (i > 0 && n <= JOINED_MAX)
            tu_svg_line(chart->svg, NULL, "joined", last, at);
        last = at;
    }
    for (size_t i = 0; i < n; i++) {
        tu_svg_point at = {x_at(chart, entry, i), tu_chart_y(chart, value_at(chart, entry, i))};
        tu_svg_circle(chart->svg, NULL, "touch", at, dot_size(n));
    }
}

static void draw_outliers(const tu_chart *chart, const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    for (size_t i = 0; i < f->outlier_count; i++) {
        char text[40];
        size_t index = f->outlier[i].index;
        double x = x_at(chart, entry, index);
        double y = tu_chart_y(chart, value_at(chart, entry, index));
        bool right = x > (chart->box.left + chart->box.right) / 2;
        tu_svg_circle(chart->svg, NULL, "odd", (tu_svg_point){x, y}, 1.7);
        snprintf(text, sizeof text, "touch %zu", index + 1);
        if (f->outlier_count <= 4)
            tu_chart_text(chart, x + (right ? -2.4 : 2.4), y + 1, right ? TU_SVG_END : TU_SVG_START,
                          "halo", text);
    }
}

static void draw_level(const tu_chart *chart, tu_chart_labels *labels, const char *css,
                       double value_mm, const char *name)
{
    char text[96];
    double value = tu_unit_from_mm(chart->story->unit, value_mm);
    if (isnan(value))
        return;
    snprintf(text, sizeof text, "%s %s", name, tu_figure_fine(chart->story->unit, value_mm).text);
    if (value < chart->y.low || value > chart->y.high)
        return;
    double y = tu_chart_y(chart, value);
    tu_chart_line(chart, css, chart->box.left, y, chart->box.right, y);
    tu_chart_label(labels, y, text);
}

/* Moves the end of a line that leaves the paper at its top or bottom to where it does so. */
static void keep_on_paper(const tu_chart *chart, tu_svg_point *end, const tu_svg_point *other)
{
    double y = fmin(fmax(end->y_mm, chart->box.top), chart->box.bottom);
    if (y != end->y_mm && end->y_mm != other->y_mm) {
        double part = (y - other->y_mm) / (end->y_mm - other->y_mm);
        end->x_mm = other->x_mm + part * (end->x_mm - other->x_mm);
        end->y_mm = y;
    }
}

/* The rise that was fitted, over the touches' own time. */
static void draw_warm_up(const tu_chart *chart, const tu_trials_entry *entry)
{
    enum { CURVE = 101 };
    const tu_warm_up *w = &chart->story->warm_up;
    const double *time = entry->series.time_s;
    tu_svg_point curve[CURVE];
    if (!tu_trials_shows_warm_up(chart->story) || !has_times(entry))
        return;
    double span_s = time[entry->series.count - 1] - time[0];
    for (int i = 0; i < CURVE; i++) {
        double t_s = span_s * i / (CURVE - 1);
        double z_mm = w->start + w->rise * (1 - exp(-t_s / w->tau_s));
        double y = tu_chart_y(chart, tu_unit_from_mm(chart->story->unit, z_mm));
        curve[i] = (tu_svg_point){tu_chart_x(chart, t_s / 60),
                                  fmin(fmax(y, chart->box.top), chart->box.bottom)};
    }
    tu_svg_polyline(chart->svg, "warm-up", "drift", curve, CURVE);
}

/* Through the middle of the touches with the Theil-Sen slope. */
static void draw_drift(const tu_chart *chart, tu_chart_labels *labels, const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char text[96];
    size_t n = entry->series.count;
    if (!tu_trials_drifts(f) || f->slope == 0 || tu_trials_shows_warm_up(chart->story))
        return;
    bool timed = has_times(entry) && !f->slope_per_touch;
    double per = tu_unit_from_mm(chart->story->unit, f->slope) * (timed ? 60 : 1);
    double first = timed ? 0 : 1, last = timed ? place_of(entry, n - 1) : (double)n;
    double middle =
        timed ? (place_of(entry, (n - 1) / 2) + place_of(entry, n / 2)) / 2 : ((double)n + 1) / 2;
    double median = tu_unit_from_mm(chart->story->unit, f->median);
    double y1 = tu_chart_y(chart, median + per * (first - middle));
    double y2 = tu_chart_y(chart, median + per * (last - middle));
    tu_svg_point a = {tu_chart_x(chart, first), y1}, b = {tu_chart_x(chart, last), y2};
    keep_on_paper(chart, &a, &b);
    keep_on_paper(chart, &b, &a);
    tu_svg_line(chart->svg, NULL, "drift", a, b);
    tu_trials_slope(text, sizeof text, chart->story->unit, f, entry->series.axis);
    tu_chart_label(labels, fmin(fmax(y2, chart->box.top), chart->box.bottom), text);
}

void tu_chart_run(tu_svg *svg, const tu_trials_story *story, const tu_trials_entry *entry,
                  tu_svg_box box, tu_chart_scale y)
{
    char title[2 * TU_NAME_SIZE + 24], name[2 * TU_NAME_SIZE + 8];
    size_t n = entry->series.count;
    bool timed = has_times(entry);
    tu_chart chart = {.svg = svg, .story = story, .box = box, .y = y};
    chart.x = timed ? tu_chart_scale_of(0, place_of(entry, n - 1))
                    : tu_chart_scale_of(1, n > 1 ? (double)n : 2);
    if (!timed && chart.x.mark < 1) {
        chart.x.mark = 1;
        chart.x.decimals = 0;
    }
    tu_trials_title(name, sizeof name, entry);
    tu_svg_shorten(name, sizeof name, box.right - box.left + margin_mm, TU_CHART_NOTE_MM);
    snprintf(title, sizeof title, "%s (%s)", name, tu_unit_name(story->unit));
    snprintf(name, sizeof name, n > DOTS_MAX ? "%s; a stroke: %zu to %zu touches" : "%s",
             timed ? "minutes from the first touch" : "touch", n / STROKES, n / STROKES + 1);
    tu_chart_paper(&chart, true, name, title);
    tu_chart_labels labels = {0};
    const tu_trial_figures *f = &entry->figures;
    draw_level(&chart, &labels, "mean", f->mean, "mean");
    if (f->chart_upper > f->chart_lower) {
        draw_level(&chart, &labels, "limit", f->chart_upper, "limit");
        draw_level(&chart, &labels, "limit", f->chart_lower, "limit");
    }
    draw_touches(&chart, entry);
    draw_drift(&chart, &labels, entry);
    draw_warm_up(&chart, entry);
    draw_outliers(&chart, entry);
    tu_chart_labels_draw(&chart, &labels);
}

/* --- Groups --- */

/* Entries lie in the pool one behind another. */
static bool is_outlier(const tu_trials_story *story, size_t pooled)
{
    size_t first = 0;
    for (size_t k = 0; k < story->count; first += story->entry[k++].series.count) {
        const tu_trial_figures *f = &story->entry[k].figures;
        for (size_t i = 0; i < f->outlier_count; i++)
            if (first + f->outlier[i].index == pooled)
                return true;
    }
    return false;
}

static void draw_group(const tu_chart *chart, size_t k, double wide)
{
    const tu_trial_series *all = &chart->story->pooled;
    const tu_trial_group *group = &chart->story->group[k];
    size_t seen = 0, every = group->n / 300 + 1;
    double middle = tu_chart_x(chart, (double)k + 1);
    double mean = tu_chart_y(chart, tu_unit_from_mm(chart->story->unit, group->mean));
    tu_chart_line(chart, "groupmean", middle - wide / 2, mean, middle + wide / 2, mean);
    for (size_t i = 0; i < all->count; i++) {
        if (all->group[i] != k)
            continue;
        bool odd = is_outlier(chart->story, i);
        if (seen++ % every && !odd)
            continue;
        /* side by side in their order: no two dots hide each other */
        double aside = ((double)seen / (double)(group->n + 1) - 0.5) * wide;
        double y = tu_chart_y(chart, tu_unit_from_mm(chart->story->unit, all->value_mm[i]));
        tu_svg_point at = {middle + aside, y};
        tu_svg_circle(chart->svg, NULL, "touch", at, wide > 6 ? 0.7 : 0.4);
        if (odd)
            tu_svg_circle(chart->svg, NULL, "odd", at, 1.7);
    }
}

static void name_group(const tu_chart *chart, size_t k, double room)
{
    char text[TU_NAME_SIZE + 4];
    snprintf(text, sizeof text, "%s", chart->story->group_name[k]);
    const tu_svg_text_style turned = {TU_CHART_NOTE_MM, TU_SVG_START, 90, NULL};
    double x = tu_chart_x(chart, (double)k + 1), y = chart->box.bottom;
    if (tu_svg_text_width(text, TU_CHART_NOTE_MM) < room)
        tu_chart_text(chart, x, y + 4, TU_SVG_MIDDLE, NULL, text);
    else if (room > TU_CHART_NOTE_MM) {
        tu_svg_shorten(text, sizeof text, 28, TU_CHART_NOTE_MM);
        tu_svg_text(chart->svg, (tu_svg_point){x - 1, y + 2}, &turned, text);
    }
}

void tu_chart_groups(tu_svg *svg, const tu_trials_story *story, tu_svg_box box)
{
    const tu_trial_series *all = &story->pooled;
    double low = INFINITY, high = -INFINITY, sum = 0;
    char title[TU_NAME_SIZE + 64];
    for (size_t i = 0; i < all->count; i++) {
        low = fmin(low, all->value_mm[i]);
        high = fmax(high, all->value_mm[i]);
        sum += (all->value_mm[i] - all->value_mm[0]) / (double)all->count;
    }
    if (!(high > low))
        high = low + 0.001;
    tu_chart chart = {.svg = svg, .story = story, .box = box};
    chart.y =
        tu_chart_scale_of(tu_unit_from_mm(story->unit, low), tu_unit_from_mm(story->unit, high));
    size_t groups = story->groups.groups;
    chart.x = (tu_chart_scale){0.4, (double)groups + 0.6, 1000000, 0};
    double room = (box.right - box.left) / ((double)groups + 0.2);
    snprintf(title, sizeof title, "%c (%s) by %s, with the mean of each", tu_axis_letter(all->axis),
             tu_unit_name(story->unit), story->by);
    tu_chart_paper(&chart, false, "", title);
    tu_chart_labels labels = {0};
    draw_level(&chart, &labels, "mean", all->value_mm[0] + sum, "mean");
    for (size_t k = 0; k < groups; k++) {
        draw_group(&chart, k, room * 0.7);
        name_group(&chart, k, room);
    }
    tu_chart_labels_draw(&chart, &labels);
}
