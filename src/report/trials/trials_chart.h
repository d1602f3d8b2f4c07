/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_chart.h - charts of repeated touches on graph paper (docs/trials.md tells what each line
 * is). Page coordinates in millimetres; values in the unit of the story.
 */
#ifndef TU_REPORT_TRIALS_CHART_H
#define TU_REPORT_TRIALS_CHART_H

#include "report/drawing/svg.h"
#include "report/trials/trials_words.h"

#define TU_CHART_NOTE_MM 2.8

/* A range of values with round marks. */
typedef struct tu_chart_scale {
    double low, high, mark;
    int decimals;
} tu_chart_scale;

/* A label in the margin; they are moved apart. */
enum { TU_CHART_LABELS = 8 };
typedef struct tu_chart_labels {
    size_t count;
    double y_mm[TU_CHART_LABELS], wanted_mm[TU_CHART_LABELS];
    char text[TU_CHART_LABELS][96];
} tu_chart_labels;

typedef struct tu_chart {
    tu_svg *svg;
    const tu_trials_story *story;
    tu_svg_box box; /* of the paper itself, without its labels */
    tu_chart_scale x, y;
} tu_chart;

/* Covers low to high with a margin and marks at 1, 2 or 5 times a power of ten. */
tu_chart_scale tu_chart_scale_of(double low, double high);
/* The scale that holds the touches of an entry and, where near, its limits. */
tu_chart_scale tu_chart_scale_values(const tu_trials_story *story,
                                     const tu_trials_entry *const *list, size_t count);

double tu_chart_x(const tu_chart *chart, double value);
double tu_chart_y(const tu_chart *chart, double value);
/* Graph paper with numbers; x_name and y_name stand at the ends of the axes. */
void tu_chart_paper(const tu_chart *chart, bool x_numbers, const char *x_name, const char *y_name);
void tu_chart_text(const tu_chart *chart, double x, double y, tu_svg_anchor anchor, const char *css,
                   const char *text);
void tu_chart_line(const tu_chart *chart, const char *css, double x1, double y1, double x2,
                   double y2);
void tu_chart_label(tu_chart_labels *labels, double y_mm, const char *text);
/* Draws them right of the box, apart from each other. */
void tu_chart_labels_draw(const tu_chart *chart, tu_chart_labels *labels);

/* Touches in their order (or over time, where the touches have one) with limits, drift, outliers.
 */
void tu_chart_run(tu_svg *svg, const tu_trials_story *story, const tu_trials_entry *entry,
                  tu_svg_box box, tu_chart_scale y);
/* How often each position came, the normal with the same mean and s, the step. */
void tu_chart_spread(tu_svg *svg, const tu_trials_story *story, const tu_trials_entry *entry,
                     tu_svg_box box, tu_chart_scale x);
/* The touches of each group in a column, with their means. */
void tu_chart_groups(tu_svg *svg, const tu_trials_story *story, tu_svg_box box);

#endif
