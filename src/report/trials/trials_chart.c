/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_chart.c - graph paper: scales, marks, labels that keep apart.
 */
#include "report/trials/trials_chart.h"

#include "report/figure.h"

#include <math.h>
#include <stdio.h>

enum { MARKS = 7 };

tu_chart_scale tu_chart_scale_of(double low, double high)
{
    tu_chart_scale scale = {low, high, 1, 0};
    double room = 0.06 * (high - low), mark = tu_figure_round_step(high - low + 2 * room, MARKS);
    if (isnan(mark))
        return scale;
    scale.mark = mark;
    scale.decimals = -(int)floor(log10(scale.mark) + 1e-9);
    scale.decimals = scale.decimals < 0 ? 0 : scale.decimals > 9 ? 9 : scale.decimals;
    scale.low = low - room;
    scale.high = high + room;
    return scale;
}

tu_chart_scale tu_chart_scale_values(const tu_trials_story *story,
                                     const tu_trials_entry *const *list, size_t count)
{
    double low = INFINITY, high = -INFINITY, least = story->unit == TU_UNIT_MM ? 0.001 : 0.0254;
    for (size_t i = 0; i < count; i++) {
        const tu_trial_figures *f = &list[i]->figures;
        low = fmin(low, f->minimum);
        high = fmax(high, f->maximum);
        if (f->chart_lower > f->minimum - 1.5 * f->range)
            low = fmin(low, f->chart_lower);
        if (f->chart_upper < f->maximum + 1.5 * f->range)
            high = fmax(high, f->chart_upper);
        if (!isnan(f->step_mm))
            least = f->step_mm;
    }
    if (!(high > low)) {
        high = low + least;
        low -= least;
    }
    return tu_chart_scale_of(tu_unit_from_mm(story->unit, low), tu_unit_from_mm(story->unit, high));
}

double tu_chart_x(const tu_chart *chart, double value)
{
    double part = (value - chart->x.low) / (chart->x.high - chart->x.low);
    return chart->box.left + part * (chart->box.right - chart->box.left);
}

double tu_chart_y(const tu_chart *chart, double value)
{
    double part = (value - chart->y.low) / (chart->y.high - chart->y.low);
    return chart->box.bottom - part * (chart->box.bottom - chart->box.top);
}

void tu_chart_text(const tu_chart *chart, double x, double y, tu_svg_anchor anchor, const char *css,
                   const char *text)
{
    const tu_svg_text_style style = {TU_CHART_NOTE_MM, anchor, 0, css};
    tu_svg_text(chart->svg, (tu_svg_point){x, y}, &style, text);
}

void tu_chart_line(const tu_chart *chart, const char *css, double x1, double y1, double x2,
                   double y2)
{
    tu_svg_stroke(chart->svg, css, x1, y1, x2, y2);
}

static void draw_marks(const tu_chart *chart, const tu_chart_scale *scale, bool across,
                       bool numbers)
{
    const tu_svg_box *box = &chart->box;
    double first = ceil(scale->low / scale->mark - 1e-9);
    for (int i = 0; i < 3 * MARKS; i++) {
        double value = (first + i) * scale->mark;
        if (value > scale->high + 1e-9 * scale->mark)
            break;
        tu_figure number = tu_figure_number(value, scale->decimals);
        if (across) {
            double x = tu_chart_x(chart, value);
            tu_chart_line(chart, "paper", x, box->top, x, box->bottom);
            if (numbers)
                tu_chart_text(chart, x, box->bottom + 4, TU_SVG_MIDDLE, NULL, number.text);
        } else {
            double y = tu_chart_y(chart, value);
            tu_chart_line(chart, "paper", box->left, y, box->right, y);
            if (numbers)
                tu_chart_text(chart, box->left - 1.5, y + 1, TU_SVG_END, NULL, number.text);
        }
    }
}

void tu_chart_paper(const tu_chart *chart, bool x_numbers, const char *x_name, const char *y_name)
{
    const tu_svg_box *b = &chart->box;
    draw_marks(chart, &chart->x, true, x_numbers);
    draw_marks(chart, &chart->y, false, true);
    tu_chart_line(chart, "axis", b->left, b->top, b->left, b->bottom);
    tu_chart_line(chart, "axis", b->left, b->bottom, b->right, b->bottom);
    if (*x_name)
        tu_chart_text(chart, (b->left + b->right) / 2, b->bottom + 8, TU_SVG_MIDDLE, NULL, x_name);
    tu_chart_text(chart, b->left - 1.5, b->top - 2, TU_SVG_START, NULL, y_name);
}

void tu_chart_label(tu_chart_labels *labels, double y_mm, const char *text)
{
    if (labels->count == TU_CHART_LABELS || !isfinite(y_mm))
        return;
    size_t at = labels->count++;
    for (; at > 0 && labels->wanted_mm[at - 1] > y_mm; at--) {
        labels->wanted_mm[at] = labels->wanted_mm[at - 1];
        snprintf(labels->text[at], sizeof labels->text[at], "%s", labels->text[at - 1]);
    }
    labels->wanted_mm[at] = y_mm;
    snprintf(labels->text[at], sizeof labels->text[at], "%s", text);
}

void tu_chart_labels_draw(const tu_chart *chart, tu_chart_labels *labels)
{
    const double apart = TU_CHART_NOTE_MM * 1.25;
    double next = chart->box.top;
    for (size_t i = 0; i < labels->count; i++) {
        labels->y_mm[i] = fmax(labels->wanted_mm[i], next);
        next = labels->y_mm[i] + apart;
    }
    double most = chart->box.bottom;
    for (size_t i = labels->count; i-- > 0; most = labels->y_mm[i] - apart)
        labels->y_mm[i] = fmin(labels->y_mm[i], most);
    for (size_t i = 0; i < labels->count; i++) {
        double x = chart->box.right;
        tu_chart_line(chart, "lead", x, labels->wanted_mm[i], x + 2.5, labels->y_mm[i]);
        tu_chart_text(chart, x + 3.2, labels->y_mm[i] + 1, TU_SVG_START, NULL, labels->text[i]);
    }
}
