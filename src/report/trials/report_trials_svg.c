/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_trials_svg.c - judged touches as one A4 page: the verdict, the touches in their order,
 * their distribution, the figures. docs/trials.md tells what each line is.
 */
#include "report/drawing/page.h"
#include "report/figure.h"
#include "report/trials/trials_chart.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Data in black, models in one blue and dashed, what is odd in orange with a ring of its own: each
 * differs in shape as well. */
static const char css[] =
    ".page{fill:#fff;stroke:none}\n"
    "text{font-family:sans-serif;fill:#000}\n"
    ".strong{font-weight:bold}\n"
    ".halo{paint-order:stroke;stroke:#fff;stroke-width:0.8}\n"
    ".frame{fill:#fff;stroke:#000;stroke-width:0.5}\n"
    ".paper{stroke:#cfcabb;stroke-width:0.18}\n"
    ".axis{stroke:#000;stroke-width:0.35}\n"
    ".touch{fill:#000;stroke:none}\n"
    ".joined{stroke:#8a8a8a;stroke-width:0.15}\n"
    ".stroke{stroke:#000;stroke-width:0.25}\n"
    ".mean{stroke:#000;stroke-width:0.25;stroke-dasharray:4 0.8 0.4 0.8}\n"
    ".limit{stroke:#000;stroke-width:0.25;stroke-dasharray:1.2 0.8}\n"
    ".drift{fill:none;stroke:#0072b2;stroke-width:0.6}\n"
    ".odd{fill:none;stroke:#d55e00;stroke-width:0.5}\n"
    ".groupmean{stroke:#0072b2;stroke-width:0.8}\n"
    ".bar{fill:#e3e0d8;stroke:#000;stroke-width:0.25}\n"
    ".normal{fill:none;stroke:#0072b2;stroke-width:0.5;stroke-dasharray:1.8 0.7}\n"
    ".measure{stroke:#000;stroke-width:0.25}\n"
    ".lead{stroke:#000;stroke-width:0.13}\n";

static const tu_svg_box frame = TU_PAGE_FRAME;
enum { ROWS_MAX = 4, VERDICT_LINES = 9 };
static const double row_mm = 4.2, left_mm = 24, right_mm = 196;

typedef struct sheet {
    tu_svg svg;
    tu_chart pen; /* for text and lines outside of the charts */
    const tu_trials_story *story;
    double y; /* where the next line of words goes */
} sheet;

/* --- Words --- */

static void put_row(sheet *s, double x, const char *style, const char *text)
{
    tu_chart_text(&s->pen, x, s->y, TU_SVG_START, style, text);
    s->y += row_mm;
}

/* Words in rows as wide as the page, up to the y given. */
static void put_wrapped(sheet *s, double x, double lowest, const char *style, const char *text)
{
    const tu_page_column column = {x, right_mm - x, lowest, TU_CHART_NOTE_MM, row_mm};
    s->y = tu_page_words(&s->svg, &column, s->y, style, text);
}

static void put_verdicts(sheet *s, tu_trials_words *words)
{
    char title[2 * TU_NAME_SIZE + 8], line[TU_TRIALS_SENTENCE + sizeof title];
    double lowest = s->y + VERDICT_LINES * row_mm;
    for (size_t i = 0; i < s->story->count && i < ROWS_MAX; i++) {
        *words = (tu_trials_words){0};
        tu_trials_verdict(words, s->story, &s->story->entry[i]);
        tu_trials_title(title, sizeof title, &s->story->entry[i]);
        for (size_t k = 0; k < words->count; k++) {
            snprintf(line, sizeof line, "%s: %s", title, words->text[k]);
            put_wrapped(s, k ? left_mm + 3 : left_mm, lowest, k ? NULL : "strong",
                        k ? words->text[k] : line);
        }
    }
    *words = (tu_trials_words){0};
    tu_trials_answers(words, s->story);
    for (size_t k = 0; k < words->count; k++)
        put_wrapped(s, left_mm, lowest + 2 * row_mm, NULL, words->text[k]);
}

static void put_cells(sheet *s, const char *name, const tu_trials_entry *const *list, size_t count,
                      size_t offset)
{
    tu_chart_text(&s->pen, left_mm, s->y, TU_SVG_START, NULL, name);
    for (size_t i = 0; i < count; i++) {
        double value;
        memcpy(&value, (const char *)&list[i]->figures + offset, sizeof value);
        tu_figure figure = isnan(value) ? (tu_figure){"-"} : tu_figure_fine(s->story->unit, value);
        tu_chart_text(&s->pen, 84 + 32 * (double)i, s->y, TU_SVG_END, NULL, figure.text);
    }
    s->y += row_mm;
}

static void put_table(sheet *s, const tu_trials_entry *const *list, size_t count)
{
    static const struct {
        const char *name;
        size_t offset;
    } rows[] = {{"mean", offsetof(tu_trial_figures, mean)},
                {"s", offsetof(tu_trial_figures, sd)},
                {"range", offsetof(tu_trial_figures, range)},
                {"repeatability limit", offsetof(tu_trial_figures, repeatability_limit)},
                {"R = 4 s", offsetof(tu_trial_figures, unidirectional)}};
    char text[2 * TU_NAME_SIZE + 24];
    snprintf(text, sizeof text, "figures, %s", tu_unit_name(s->story->unit));
    tu_chart_text(&s->pen, left_mm, s->y, TU_SVG_START, "strong", text);
    for (size_t i = 0; i < count; i++) {
        tu_trials_title(text, sizeof text, list[i]);
        tu_svg_shorten(text, sizeof text, 29, TU_CHART_NOTE_MM * TU_PAGE_BOLDER);
        tu_chart_text(&s->pen, 84 + 32 * (double)i, s->y, TU_SVG_END, "strong", text);
    }
    s->y += row_mm;
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++)
        put_cells(s, rows[k].name, list, count, rows[k].offset);
}

/* What a gauge study is about, beside the figures of all touches. */
static void put_study(sheet *s)
{
    const tu_trial_groups *g = &s->story->groups;
    const struct {
        const char *name;
        double value_mm;
    } rows[] = {{"s within groups", g->repeatability},
                {"s between groups", g->between},
                {"s of one touch anew", g->reproducibility}};
    s->y = 230 + row_mm;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        tu_chart_text(&s->pen, 110, s->y, TU_SVG_START, NULL, rows[i].name);
        tu_chart_text(
            &s->pen, 168, s->y, TU_SVG_END, NULL,
            isnan(rows[i].value_mm) ? "-" : tu_figure_fine(s->story->unit, rows[i].value_mm).text);
        s->y += row_mm;
    }
}

typedef struct key_row {
    const char *css, *text; /* css NULL: a ring */
} key_row;

static size_t fill_key(const sheet *s, const tu_trials_entry *const *list, size_t count,
                       key_row *row)
{
    bool limits = false, drift = false, outlier = false, normal = false;
    size_t n = 0;
    for (size_t i = 0; i < count; i++) {
        const tu_trial_figures *f = &list[i]->figures;
        limits = limits || f->chart_upper > f->chart_lower;
        drift =
            drift || (tu_trials_drifts(f) && f->slope != 0 && !tu_trials_shows_warm_up(s->story));
        outlier = outlier || f->outlier_count;
        normal = normal || f->sd > 0;
    }
    if (s->story->has_groups) {
        row[n++] = (key_row){"groupmean", "mean of a group"};
        if (outlier)
            row[n++] = (key_row){NULL, "outlier (Grubbs, 5 %) among all touches of its series"};
        return n;
    }
    if (limits)
        row[n++] = (key_row){
            "limit", "limits of chance: mean ± 2.66 times the mean step from touch to touch"};
    if (tu_trials_shows_warm_up(s->story))
        row[n++] = (key_row){"drift", "warm-up: the exponential rise that was fitted"};
    if (drift)
        row[n++] = (key_row){"drift", "drift: the median of all slopes between two touches"};
    if (normal)
        row[n++] = (key_row){"normal", "normal distribution with the same mean and s"};
    if (outlier)
        row[n++] = (key_row){NULL, "outlier (Grubbs, 5 %)"};
    return n;
}

/* Only what the picture holds, down to the frame. */
static void put_key(sheet *s, const tu_trials_entry *const *list, size_t count)
{
    key_row row[5];
    size_t rows = fill_key(s, list, count, row);
    s->y = frame.bottom - 3 - ((double)rows - 1) * row_mm;
    for (size_t i = 0; i < rows; i++) {
        if (row[i].css)
            tu_chart_line(&s->pen, row[i].css, left_mm, s->y - 1, left_mm + 8, s->y - 1);
        else
            tu_svg_circle(&s->svg, NULL, "odd", (tu_svg_point){left_mm + 4, s->y - 1}, 1.4);
        put_row(s, left_mm + 10, NULL, row[i].text);
    }
}

/* --- Layouts --- */

static void lay_out_rows(sheet *s, const tu_trials_entry *const *list, size_t count)
{
    double top = s->y + 6, high = (222 - top) / (double)count;
    for (size_t i = 0; i < count; i++) {
        double from = top + high * (double)i, to = from + high - 17;
        tu_chart_scale scale = tu_chart_scale_values(s->story, list + i, 1);
        tu_chart_run(&s->svg, s->story, list[i], (tu_svg_box){38, from, 104, to}, scale);
        tu_chart_spread(&s->svg, s->story, list[i], (tu_svg_box){144, from, 194, to}, scale);
    }
}

static void lay_out_one(sheet *s, const tu_trials_entry *const *list)
{
    double top = s->y + 6, middle = top + (222 - top) * 0.58;
    tu_chart_scale scale = tu_chart_scale_values(s->story, list, 1);
    tu_chart_run(&s->svg, s->story, list[0], (tu_svg_box){40, top, 160, middle - 10}, scale);
    tu_chart_spread(&s->svg, s->story, list[0], (tu_svg_box){40, middle + 8, 160, 212}, scale);
}

/* Before on the left, after on the right, on the same scales. */
static void lay_out_pair(sheet *s, const tu_trials_entry *const *list)
{
    double top = s->y + 6, middle = top + (222 - top) * 0.55;
    tu_chart_scale scale = tu_chart_scale_values(s->story, list, 2);
    for (int i = 0; i < 2; i++) {
        double left = i ? 126 : 38, right = left + 44;
        tu_chart_run(&s->svg, s->story, list[i], (tu_svg_box){left, top, right, middle - 10},
                     scale);
        tu_chart_spread(&s->svg, s->story, list[i], (tu_svg_box){left, middle + 8, right + 18, 212},
                        scale);
    }
}

static void draw(sheet *s, tu_trials_words *words)
{
    const tu_trials_story *story = s->story;
    const tu_trials_entry *list[ROWS_MAX];
    char text[64];
    size_t count = story->count < ROWS_MAX ? story->count : ROWS_MAX;
    for (size_t i = 0; i < count; i++)
        list[i] = &story->entry[i];
    if (story->has_comparison) {
        list[0] = &story->entry[story->before];
        list[1] = &story->entry[story->after];
        count = 2;
    }
    put_verdicts(s, words);
    if (story->has_groups)
        tu_chart_groups(&s->svg, story, (tu_svg_box){40, s->y + 6, 165, 185});
    else if (story->has_comparison)
        lay_out_pair(s, list);
    else if (count == 1)
        lay_out_one(s, list);
    else
        lay_out_rows(s, list, count);
    s->y = 230;
    if (story->count > count && !story->has_groups) {
        snprintf(text, sizeof text, "the first %zu of %zu series", count, story->count);
        tu_chart_text(&s->pen, right_mm, s->y - 2 * row_mm, TU_SVG_END, NULL, text);
    }
    put_table(s, list, count);
    if (story->has_groups)
        put_study(s);
    put_key(s, list, count);
}

/* "Repeated touches, warm, Z- against cold, Z-"; "..., warm, Z- and 2 more". */
static void name_picture(const tu_trials_story *story, char *title, size_t size)
{
    char first[2 * TU_NAME_SIZE + 8], second[2 * TU_NAME_SIZE + 8] = "";
    tu_trials_title(first, sizeof first, &story->entry[story->has_comparison ? story->after : 0]);
    if (story->has_comparison)
        tu_trials_title(second, sizeof second, &story->entry[story->before]);
    if (story->has_comparison)
        snprintf(title, size, "Repeated touches, %s against %s", first, second);
    else if (story->count > 1)
        snprintf(title, size, "Repeated touches, %s and %zu more", first, story->count - 1);
    else
        snprintf(title, size, "Repeated touches, %s", first);
}

tu_status tu_report_trials_svg(FILE *out, const tu_trials_story *story, tu_error *error)
{
    tu_trials_words words = {0};
    char title[4 * TU_NAME_SIZE + 64];
    sheet s = {.story = story, .y = frame.top + 15};
    name_picture(story, title, sizeof title);
    tu_trials_verdict(&words, story, &story->entry[0]);
    tu_svg_open(&s.svg, out, (tu_svg_point)TU_PAGE_A4, css, title,
                words.count ? words.text[0] : title);
    s.pen = (tu_chart){.svg = &s.svg, .story = story};
    tu_svg_rectangle(&s.svg, "frame", "frame", frame);
    const tu_page_column heading = {.x = left_mm, .width_mm = right_mm - left_mm, .size_mm = 4.2};
    tu_page_fitted(&s.svg, &heading, frame.top + 7.5, 4.2, "strong", title);
    draw(&s, &words);
    return tu_svg_close(&s.svg, error);
}
