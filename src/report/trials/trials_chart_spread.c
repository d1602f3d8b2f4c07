/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_chart_spread.c - how often each position came, beside the normal distribution.
 */
#include "report/trials/trials_chart.h"

#include "report/figure.h"

#include <math.h>
#include <stdio.h>

enum { BINS_MAX = 60, CURVE = 81 };

typedef struct bins {
    double low, wide; /* in the unit of the chart */
    size_t count[BINS_MAX], used, most;
} bins;

/*
 * Positions that come again: a bin is a step, or false gaps would show. Else 3.49 s
 * n^(-1/3), s without outliers, which would have all others in a bar or two (D. W. Scott,
 * Biometrika 66 (1979) 605-610).
 */
static bins make_bins(const tu_trials_story *story, const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    bins b = {.most = 1};
    double scale = tu_unit_from_mm(story->unit, 1);
    double wide_mm = 3.49 * f->sd_without / cbrt((double)f->n), step_mm = f->step_seen_mm;
    if ((f->quantised || f->distinct <= f->n / 2) && step_mm > wide_mm / 8)
        wide_mm = step_mm;
    if (!(wide_mm > 0))
        wide_mm = isnan(f->step_mm) ? 0.001 : f->step_mm;
    while (f->range / wide_mm > BINS_MAX - 2)
        wide_mm *= 2;
    b.wide = wide_mm * scale;
    b.low = (f->minimum - wide_mm / 2) * scale;
    for (size_t i = 0; i < entry->series.count; i++) {
        double at = floor((entry->series.value_mm[i] * scale - b.low) / b.wide);
        size_t k = at < 0 ? 0 : at > BINS_MAX - 1 ? BINS_MAX - 1 : (size_t)at;
        b.most = ++b.count[k] > b.most ? b.count[k] : b.most;
        b.used = k + 1 > b.used ? k + 1 : b.used;
    }
    return b;
}

static void draw_bars(const tu_chart *chart, const bins *b)
{
    for (size_t k = 0; k < b->used; k++) {
        double x1 = tu_chart_x(chart, b->low + (double)k * b->wide);
        double x2 = tu_chart_x(chart, b->low + (double)(k + 1) * b->wide);
        double y = tu_chart_y(chart, (double)b->count[k]);
        x1 = fmax(x1, chart->box.left);
        x2 = fmin(x2, chart->box.right);
        const tu_svg_point corner[] = {
            {x1, chart->box.bottom}, {x1, y}, {x2, y}, {x2, chart->box.bottom}};
        if (b->count[k])
            tu_svg_polygon(chart->svg, NULL, "bar", corner, 4);
    }
}

static double normal_count(const bins *b, const tu_trial_figures *f, double scale, double x)
{
    double z = (x - f->mean * scale) / (f->sd * scale);
    return (double)f->n * b->wide / (f->sd * scale * sqrt(2 * M_PI)) * exp(-z * z / 2);
}

static void draw_normal(const tu_chart *chart, const bins *b, const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    double scale = tu_unit_from_mm(chart->story->unit, 1);
    tu_svg_point curve[CURVE];
    if (!(f->sd > 0))
        return;
    for (int i = 0; i < CURVE; i++) {
        double x = chart->x.low + (chart->x.high - chart->x.low) * i / (CURVE - 1);
        curve[i] =
            (tu_svg_point){tu_chart_x(chart, x), tu_chart_y(chart, normal_count(b, f, scale, x))};
    }
    tu_svg_polyline(chart->svg, NULL, "normal", curve, CURVE);
}

/* The step as a length between two strokes, above the paper; in words where it can't be drawn. */
static void draw_step(const tu_chart *chart, const tu_trial_figures *f)
{
    char text[96];
    double step_mm = isnan(f->step_mm) && !f->quantised ? NAN : f->resolution_mm;
    if (isnan(step_mm))
        return;
    double scale = (chart->box.right - chart->box.left) / (chart->x.high - chart->x.low);
    double wide = tu_unit_from_mm(chart->story->unit, step_mm) * scale;
    double right = chart->box.right, y = chart->box.top - 3;
    bool drawn = wide >= 0.5 && wide <= (right - chart->box.left) * 0.6;
    snprintf(text, sizeof text, "step %s", tu_figure_fine(chart->story->unit, step_mm).text);
    if (drawn) {
        tu_chart_line(chart, "measure", right - wide, y, right, y);
        tu_chart_line(chart, "measure", right - wide, y - 1, right - wide, y + 1);
        tu_chart_line(chart, "measure", right, y - 1, right, y + 1);
    }
    tu_chart_text(chart, right - (drawn ? wide + 1.5 : 0), y + 1, TU_SVG_END, NULL, text);
}

void tu_chart_spread(tu_svg *svg, const tu_trials_story *story, const tu_trials_entry *entry,
                     tu_svg_box box, tu_chart_scale x)
{
    const tu_trial_figures *f = &entry->figures;
    bins b = make_bins(story, entry);
    double scale = tu_unit_from_mm(story->unit, 1), highest = (double)b.most;
    tu_chart chart = {.svg = svg, .story = story, .box = box, .x = x};
    if (!story->has_comparison) { /* two beside each other keep one scale */
        chart.x.low = fmin(x.low, b.low);
        chart.x.high = fmax(x.high, b.low + (double)b.used * b.wide);
    }
    if (f->sd > 0)
        highest = fmax(highest, normal_count(&b, f, scale, f->mean * scale));
    chart.y = tu_chart_scale_of(0, highest);
    chart.y.low = 0;
    if (chart.y.mark < 1) {
        chart.y.mark = 1;
        chart.y.decimals = 0;
    }
    /* numbers under the paper need room: as many as there are marks, each as wide as the widest */
    double wide = box.right - box.left, span = chart.x.high - chart.x.low;
    double number =
        fmax(tu_svg_text_width(tu_figure_number(chart.x.low, x.decimals).text, TU_CHART_NOTE_MM),
             tu_svg_text_width(tu_figure_number(chart.x.high, x.decimals).text, TU_CHART_NOTE_MM));
    while (number * span / chart.x.mark > wide * 0.85)
        chart.x.mark *= 2;
    tu_chart_paper(&chart, true, tu_unit_name(story->unit), "touches");
    draw_bars(&chart, &b);
    draw_normal(&chart, &b, entry);
    draw_step(&chart, f);
}
