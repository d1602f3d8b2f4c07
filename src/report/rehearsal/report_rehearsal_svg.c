/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_rehearsal_svg.c - a rehearsed program drawn: one A4 page with the path in plan, from the
 * front and from the right, the verdict in words, the touches in a table. docs/rehearse.md tells
 * what each line and symbol means.
 */
#include "report/drawing/page.h"
#include "report/figure.h"
#include "report/rehearsal/drawing_path.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Beside the set-up drawing's. The dash of "position" is ISO 128-2's line 05.1, of moved parts. */
static const char path_css[] =
    ".rapid,.feed,.position,.fault,.faultground,.search,.start{fill:none;stroke:#000}\n"
    ".rapid{stroke-width:0.25;stroke-dasharray:1 0.8}\n"
    ".feed{stroke-width:0.35}\n"
    ".position{stroke-width:0.2;stroke-dasharray:1.8 0.4 0.25 0.4 0.25 0.4}\n"
    ".search{stroke:#d55e00;stroke-width:0.35;fill:#fff}\n"
    ".start{stroke-width:0.5;fill:#fff}\n"
    ".fault{stroke-width:1.1}\n"
    ".faultground{stroke:#fff;stroke-width:2.4}\n"
    ".block{fill:#e6e6e6;stroke:none}\n"
    ".under{fill:#f1efe9;stroke:#000;stroke-width:0.5}\n";

static const tu_svg_box frame = TU_PAGE_FRAME;
#define SIDE_TOP_MM  136.0
#define MIDDLE_MM    110.0
#define TITLE_TOP_MM 212.0
#define KEY_LEFT_MM  150.0
#define ROW_MM       4.4
#define PAD_MM       2.0

enum { ROWS_MAX = 8, VERDICT_ROWS = 4 };

typedef struct sheet {
    tu_drawing drawing;
    const tu_rehearsal_story *story;
    tu_unit unit;
    tu_solids solids;
} sheet;

static void line(sheet *s, const char *css, double x1, double y1, double x2, double y2)
{
    tu_svg_stroke(&s->drawing.svg, css, x1, y1, x2, y2);
}

/* --- Views --- */

static void draw_heading(sheet *s, const tu_path_view *view, tu_svg_box box, const char *name)
{
    char text[TU_DRAWING_TEXT_SIZE], more[48] = "";
    if (view->scale[1] > view->scale[0] * 1.5)
        snprintf(more, sizeof more, ", heights ×%.0f", view->scale[1] / view->scale[0]);
    snprintf(text, sizeof text, "%s, scale %s%s", name, tu_drawing_scale(view->scale[0]).text,
             more);
    tu_drawing_heading(&s->drawing, box.left + PAD_MM, box.top + 4.5, text);
}

static void draw_view(sheet *s, const char *id, const char *name, tu_axis across, tu_axis up,
                      tu_svg_box box)
{
    tu_path_view view = {.drawing = &s->drawing,
                         .story = s->story,
                         .solids = &s->solids,
                         .across = across,
                         .up = up,
                         .window = {box.left, box.top + 6.5, box.right, box.bottom}};
    s->drawing.room_count = 0;
    tu_path_view_lay_out(&view);
    tu_svg_group_open(&s->drawing.svg, id);
    tu_path_view_things(&view);
    tu_path_view_moves(&view);
    draw_heading(s, &view, box, name);
    tu_svg_group_close(&s->drawing.svg);
}

static void draw_front_arrow(sheet *s)
{
    double x = frame.right - 4, y = SIDE_TOP_MM - 1;
    tu_drawing_front_arrow(&s->drawing, (tu_svg_point){x, y});
    tu_svg_text_style style = {TU_DRAWING_NOTE_MM, TU_SVG_END, 0, NULL};
    tu_drawing_label(&s->drawing, (tu_svg_point){x - 3, y - 2.5}, style, "front of the machine");
}

static void draw_views(sheet *s)
{
    draw_view(s, "plan", "path from above", TU_AXIS_X, TU_AXIS_Y,
              (tu_svg_box){frame.left, frame.top, frame.right, SIDE_TOP_MM});
    draw_front_arrow(s);
    draw_view(s, "front", "from the front", TU_AXIS_X, TU_AXIS_Z,
              (tu_svg_box){frame.left, SIDE_TOP_MM, MIDDLE_MM, TITLE_TOP_MM});
    draw_view(s, "right", "from the right", TU_AXIS_Y, TU_AXIS_Z,
              (tu_svg_box){MIDDLE_MM, SIDE_TOP_MM, frame.right, TITLE_TOP_MM});
}

static void draw_frame(sheet *s)
{
    tu_svg_rectangle(&s->drawing.svg, "frame", "thick", frame);
    line(s, "thin", frame.left, SIDE_TOP_MM, frame.right, SIDE_TOP_MM);
    line(s, "thin", MIDDLE_MM, SIDE_TOP_MM, MIDDLE_MM, TITLE_TOP_MM);
    line(s, "thick", frame.left, TITLE_TOP_MM, frame.right, TITLE_TOP_MM);
    line(s, "thin", KEY_LEFT_MM, TITLE_TOP_MM, KEY_LEFT_MM, frame.bottom);
}

/* --- The title block --- */

static const tu_page_column left_column = {.x = 20 + PAD_MM,
                                           .width_mm = KEY_LEFT_MM - 20 - 2 * PAD_MM,
                                           .size_mm = TU_DRAWING_NOTE_MM,
                                           .row_mm = ROW_MM};

/* Words in so many rows at most. Returns y. */
static double wrapped(sheet *s, double y, int most, const char *css, const char *text)
{
    tu_page_column column = left_column;
    column.lowest = y + (most - 0.5) * ROW_MM;
    return tu_page_words(&s->drawing.svg, &column, y, css, text);
}

static double draw_verdict(sheet *s, double y)
{
    const tu_rehearsal_story *story = s->story;
    char text[TU_FAULT_TEXT_SIZE + 16];
    size_t more = story->result.mismatch_count;
    if (tu_story_is_mismatched(story))
        snprintf(text, sizeof text, "Refused: %s%s.", story->result.mismatch[0].text,
                 more > 1 ? "; and more, in the text report" : "");
    else if (tu_story_is_off(story) && story->result.fault == TU_FAULT_NONE)
        snprintf(text, sizeof text, "Off: the offset was set more than %s %s from the truth.",
                 tu_figure_place(s->unit, story->within_mm).text, tu_unit_name(s->unit));
    else if (story->result.fault == TU_FAULT_NONE)
        snprintf(text, sizeof text, "Clean. %s of motion, %zu pause%s. Nothing was struck.",
                 tu_story_duration(story->result.seconds).text, story->pause_count,
                 story->pause_count == 1 ? "" : "s");
    else
        snprintf(text, sizeof text, "Fault, %s.", story->result.text);
    return wrapped(s, y, VERDICT_ROWS, "strong", text);
}

/* A path without its folders. */
static const char *last_part(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash != NULL && slash[1] != '\0' ? slash + 1 : path;
}

static double draw_names(sheet *s, double y)
{
    const tu_rehearsal_story *story = s->story;
    const tu_scene *scene = story->scene;
    char text[640];
    snprintf(text, sizeof text, "scene %s; cutter %s%s%s%s%s", last_part(story->scene_name),
             scene->cutter.name, scene->plate_present ? "; plate " : "",
             scene->plate_present ? scene->plate.name : "", scene->plate_present ? " on " : "",
             scene->plate_present ? tu_target_name(scene->plate_corner) : "");
    return wrapped(s, y, 2, NULL, text);
}

static const double column_ends[] = {14, 52, 76, 100, 124};

static void draw_row(sheet *s, double y, const tu_story_group *group)
{
    const tu_hit *hit = group->hit;
    const double at[] = {group->mean.x, group->mean.y, group->mean.z};
    char text[TU_NAME_SIZE];
    snprintf(text, sizeof text, group->first == group->last ? "%zu" : "%zu–%zu", group->first,
             group->last);
    tu_drawing_note(&s->drawing, frame.left + column_ends[0], y, TU_SVG_END, "strong", text);
    snprintf(text, sizeof text, "%s", hit->series);
    tu_svg_shorten(text, sizeof text, 28, TU_DRAWING_NOTE_MM);
    tu_drawing_note(&s->drawing, frame.left + column_ends[0] + 3, y, TU_SVG_START, NULL, text);
    snprintf(text, sizeof text, "%c%c", tu_axis_letter(hit->axis), hit->direction < 0 ? '-' : '+');
    tu_drawing_note(&s->drawing, frame.left + column_ends[1], y, TU_SVG_END, NULL, text);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        tu_drawing_note(&s->drawing, frame.left + column_ends[2 + axis], y, TU_SVG_END,
                        axis == (int)hit->axis ? "strong" : NULL,
                        tu_figure_place(s->unit, at[axis]).text);
}

/* A row for each place that was touched, with the mean of its repeats. */
static void draw_touches(sheet *s, double y)
{
    static const char *const names[] = {"X", "Y", "Z"};
    tu_story_group groups[ROWS_MAX];
    size_t count = tu_story_groups(s->story, groups, ROWS_MAX);
    size_t rows = (size_t)fmax(1, floor((frame.bottom - 7 - y) / ROW_MM));
    char text[128];
    if (!count) {
        tu_drawing_note(&s->drawing, frame.left + PAD_MM, y, TU_SVG_START, NULL,
                        "No touch that counts was made.");
        return;
    }
    rows = rows > ROWS_MAX ? ROWS_MAX : rows;
    snprintf(text, sizeof text, "touches that count, means, %s",
             s->unit == TU_UNIT_INCH ? "inches" : "mm");
    tu_drawing_note(&s->drawing, frame.left + PAD_MM, y, TU_SVG_START, NULL, text);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        tu_drawing_note(&s->drawing, frame.left + column_ends[2 + axis], y, TU_SVG_END, NULL,
                        names[axis]);
    line(s, "thin", frame.left, y + 1.3, KEY_LEFT_MM, y + 1.3);
    size_t shown = count <= rows ? count : rows - 1;
    for (size_t i = 0; i < shown; i++)
        draw_row(s, y += ROW_MM, &groups[i]);
    if (shown < count) {
        snprintf(text, sizeof text, "and %zu more places, in the text report", count - shown);
        tu_drawing_note(&s->drawing, frame.left + column_ends[0] + 3, y + ROW_MM, TU_SVG_START,
                        NULL, text);
    }
}

/* What the program set, less the truth. */
static double draw_differences(sheet *s, double y)
{
    const tu_rehearsal_story *story = s->story;
    for (int slot = 0; slot < 9; slot++) {
        char text[160];
        size_t used =
            (size_t)snprintf(text, sizeof text, "%s less the true %s:", tu_slot_name(slot + 1),
                             tu_target_name(story->target));
        bool any = false;
        for (int axis = 0; axis < TU_AXIS_COUNT && used < sizeof text; axis++) {
            double difference = tu_story_difference(story, slot, (tu_axis)axis);
            if (isnan(difference))
                continue;
            used += (size_t)snprintf(text + used, sizeof text - used, " %c %s",
                                     tu_axis_letter((tu_axis)axis),
                                     tu_figure_place(s->unit, difference).text);
            any = true;
        }
        if (!any || y > frame.bottom - 7)
            continue;
        tu_drawing_note(&s->drawing, frame.left + PAD_MM, y, TU_SVG_START, NULL, text);
        y += ROW_MM;
    }
    return y;
}

static void draw_title_block(sheet *s)
{
    char text[320];
    tu_svg_group_open(&s->drawing.svg, "title-block");
    snprintf(text, sizeof text, "touch program %s", last_part(s->story->program_name));
    tu_page_column title = left_column;
    title.size_mm = 4.2;
    tu_page_fitted(&s->drawing.svg, &title, TITLE_TOP_MM + 6, 2.5, "strong", text);
    line(s, "thin", frame.left, TITLE_TOP_MM + 8.5, KEY_LEFT_MM, TITLE_TOP_MM + 8.5);
    double y = draw_verdict(s, TITLE_TOP_MM + 12.5);
    y = draw_names(s, y);
    y = draw_differences(s, y);
    draw_touches(s, y + 1);
    tu_drawing_note(&s->drawing, frame.left + PAD_MM, frame.bottom - 2.5, TU_SVG_START, NULL,
                    "rehearsed, not run: hand near the stop; the machine's manual comes first");
    tu_svg_group_close(&s->drawing.svg);
}

/* --- The key --- */

static void key_way(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_stroke(&drawing->svg, css, x, y, x + 10, y);
    tu_drawing_head(drawing, (tu_svg_point){x + 6.5, y}, (tu_svg_point){1, 0});
}

static void key_start(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_rectangle(&drawing->svg, NULL, css, (tu_svg_box){x + 3.9, y - 1.1, x + 6.1, y + 1.1});
}

static void key_fault(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_stroke(&drawing->svg, css, x + 3.2, y - 1.8, x + 6.8, y + 1.8);
    tu_svg_stroke(&drawing->svg, css, x + 3.2, y + 1.8, x + 6.8, y - 1.8);
}

static void key_zero(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_circle(&drawing->svg, NULL, css, (tu_svg_point){x + 5, y}, 1.4);
}

static void key_block(tu_drawing *drawing, const char *css, double x, double y)
{
    (void)css;
    tu_drawing_block(drawing, (const tu_svg_point[4]){{x + 1.5, y - 1.6},
                                                      {x + 8.5, y - 1.6},
                                                      {x + 8.5, y + 1.6},
                                                      {x + 1.5, y + 1.6}});
}

static void draw_legend(sheet *s)
{
    static const tu_drawing_key keys[] = {
        {key_way, "rapid", "traverse (G0)"},
        {key_way, "feed", "move at feed (G1)"},
        {tu_drawing_key_travel, "travel", "probe move (G38.2)"},
        {tu_drawing_key_dot, "touch", "touch that counts, number"},
        {tu_drawing_key_dot, "search", "touch that only searches"},
        {tu_drawing_key_line, "position", "the cutter at a touch"},
        {key_start, "start", "start"},
        {key_fault, "fault", "fault: it stops here"},
        {key_zero, "zeroring", "zero that was set"},
        {tu_drawing_key_edge, "thick", "stock's edge; hidden"},
        {key_block, NULL, "block in the way"},
    };
    double x = KEY_LEFT_MM + PAD_MM;
    tu_svg_group_open(&s->drawing.svg, "key");
    tu_drawing_note(&s->drawing, x, TITLE_TOP_MM + 6, TU_SVG_START, "strong", "the tip's path");
    tu_drawing_keys(&s->drawing, (tu_drawing_key_rows){x, TITLE_TOP_MM + 12.5, 5.6, 2.5, 0.9}, keys,
                    sizeof keys / sizeof keys[0]);
    tu_svg_group_close(&s->drawing.svg);
}

/* --- The page --- */

static void describe(const tu_rehearsal_story *story, char *text, size_t size)
{
    size_t counting = story->touch_count - tu_story_searches(story);
    int used = snprintf(text, size,
                        "The path of the cutter's tip, as rehearsed on a virtual machine: a plan "
                        "from above with the front of the machine at the bottom, and views from "
                        "the front and from the right. %zu moves, %zu touches that count. ",
                        story->move_count + story->moves_left_out, counting);
    if (used < 0 || (size_t)used >= size)
        return;
    if (tu_story_is_mismatched(story))
        snprintf(text + used, size - (size_t)used, "Refused: %s.", story->result.mismatch[0].text);
    else if (story->result.fault == TU_FAULT_NONE)
        snprintf(text + used, size - (size_t)used, "The program ran clean.");
    else
        snprintf(text + used, size - (size_t)used, "Fault, %s.", story->result.text);
}

tu_status tu_report_rehearsal_svg(FILE *out, const tu_rehearsal_story *story, tu_unit unit,
                                  tu_error *error)
{
    const tu_zero_style style = {.unit = unit};
    sheet s = {.drawing = {.style = &style}, .story = story, .unit = unit};
    char css[8192], title[400], desc[1600];
    snprintf(css, sizeof css, "%s%s", tu_drawing_css, path_css);
    snprintf(title, sizeof title, "Touch program %s, rehearsed", last_part(story->program_name));
    describe(story, desc, sizeof desc);
    tu_scene_build_solids(story->scene, &s.solids);
    tu_svg_open(&s.drawing.svg, out, (tu_svg_point)TU_PAGE_A4, css, title, desc);
    draw_views(&s);
    draw_frame(&s);
    draw_title_block(&s);
    draw_legend(&s);
    return tu_svg_close(&s.drawing.svg, error);
}
