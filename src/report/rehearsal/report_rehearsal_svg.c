/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_rehearsal_svg.c - a rehearsed program drawn: one A4 page with the path in plan, from the
 * front and from the right, the verdict in words, the touches in a table. docs/rehearse.md tells
 * what each line and symbol means.
 */
#include "report/figure.h"
#include "report/rehearsal/drawing_path.h"
#include "report/word_rows.h"

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

/* A4 by ISO 216; frame by ISO 5457: 20 mm for filing on the left, 10 mm elsewhere. */
static const tu_svg_point page = {210, 297};
static const tu_drawing_box frame = {20, 10, 200, 287};
#define SIDE_TOP_MM  136.0
#define MIDDLE_MM    110.0
#define TITLE_TOP_MM 212.0
#define KEY_LEFT_MM  150.0
#define ROW_MM       4.4
#define PAD_MM       2.0
#define BOLD_WIDER   1.1 /* than the widths that svg.h tells */

enum { ROWS_MAX = 8, VERDICT_ROWS = 4 };

typedef struct sheet {
    tu_drawing drawing;
    const tu_rehearsal_story *story;
    tu_unit unit;
    tu_solids solids;
} sheet;

static void text_at(sheet *s, double x, double y, tu_svg_anchor anchor, const char *css,
                    const char *text)
{
    tu_svg_text_style style = {TU_DRAWING_NOTE_MM, anchor, 0, css};
    tu_svg_text(&s->drawing.svg, (tu_svg_point){x, y}, &style, text);
}

static void line(sheet *s, const char *css, double x1, double y1, double x2, double y2)
{
    tu_svg_line(&s->drawing.svg, NULL, css, (tu_svg_point){x1, y1}, (tu_svg_point){x2, y2});
}

/* --- Views --- */

static void draw_heading(sheet *s, const tu_path_view *view, tu_drawing_box box, const char *name)
{
    char scale[TU_DRAWING_NUMBER_SIZE], text[TU_DRAWING_TEXT_SIZE], more[48] = "";
    tu_drawing_format_scale(view->scale[0], scale, sizeof scale);
    if (view->scale[1] > view->scale[0] * 1.5)
        snprintf(more, sizeof more, ", heights ×%.0f", view->scale[1] / view->scale[0]);
    snprintf(text, sizeof text, "%s, scale %s%s", name, scale, more);
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_START, 0, "strong"};
    tu_svg_text(&s->drawing.svg, (tu_svg_point){box.left + PAD_MM, box.top + 4.5}, &style, text);
}

static void draw_view(sheet *s, const char *id, const char *name, tu_axis across, tu_axis up,
                      tu_drawing_box box)
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
    line(s, "thick", x, y - 9, x, y - 3);
    tu_drawing_broad_head(&s->drawing, "head", (tu_svg_point){x, y}, (tu_svg_point){0, 1});
    tu_svg_text_style style = {TU_DRAWING_NOTE_MM, TU_SVG_END, 0, NULL};
    tu_drawing_label(&s->drawing, (tu_svg_point){x - 3, y - 2.5}, style, "front of the machine");
}

static void draw_views(sheet *s)
{
    draw_view(s, "plan", "path from above", TU_AXIS_X, TU_AXIS_Y,
              (tu_drawing_box){frame.left, frame.top, frame.right, SIDE_TOP_MM});
    draw_front_arrow(s);
    draw_view(s, "front", "from the front", TU_AXIS_X, TU_AXIS_Z,
              (tu_drawing_box){frame.left, SIDE_TOP_MM, MIDDLE_MM, TITLE_TOP_MM});
    draw_view(s, "right", "from the right", TU_AXIS_Y, TU_AXIS_Z,
              (tu_drawing_box){MIDDLE_MM, SIDE_TOP_MM, frame.right, TITLE_TOP_MM});
}

static void draw_frame(sheet *s)
{
    tu_svg_point corners[4] = {{frame.left, frame.top},
                               {frame.right, frame.top},
                               {frame.right, frame.bottom},
                               {frame.left, frame.bottom}};
    tu_svg_polygon(&s->drawing.svg, "frame", "thick", corners, 4);
    line(s, "thin", frame.left, SIDE_TOP_MM, frame.right, SIDE_TOP_MM);
    line(s, "thin", MIDDLE_MM, SIDE_TOP_MM, MIDDLE_MM, TITLE_TOP_MM);
    line(s, "thick", frame.left, TITLE_TOP_MM, frame.right, TITLE_TOP_MM);
    line(s, "thin", KEY_LEFT_MM, TITLE_TOP_MM, KEY_LEFT_MM, frame.bottom);
}

/* --- The title block --- */

static const char more_dots[] = " …";

/* Words in rows of the width, at most `most`; the last ends in dots where it is cut. Returns y. */
static double wrapped(sheet *s, double x, double y, double width, int most, const char *css,
                      const char *text)
{
    char row[256];
    double font_mm = TU_DRAWING_NOTE_MM * (css != NULL ? BOLD_WIDER : 1);
    for (int rows = 1; *text && rows <= most; rows++) {
        text = tu_word_rows_take(text, width, font_mm, row, sizeof row - sizeof more_dots);
        if (rows == most && *text)
            strcat(row, more_dots);
        text_at(s, x, y, TU_SVG_START, css, row);
        y += ROW_MM;
    }
    return y;
}

static double draw_verdict(sheet *s, double y)
{
    const tu_rehearsal_story *story = s->story;
    char text[TU_FAULT_TEXT_SIZE + 16];
    double x = frame.left + PAD_MM, width = KEY_LEFT_MM - frame.left - 2 * PAD_MM;
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
    return wrapped(s, x, y, width, VERDICT_ROWS, "strong", text);
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
    double x = frame.left + PAD_MM, width = KEY_LEFT_MM - frame.left - 2 * PAD_MM;
    snprintf(text, sizeof text, "scene %s; cutter %s%s%s%s%s", last_part(story->scene_name),
             scene->cutter.name, scene->plate_present ? "; plate " : "",
             scene->plate_present ? scene->plate.name : "", scene->plate_present ? " on " : "",
             scene->plate_present ? tu_target_name(scene->plate_corner) : "");
    return wrapped(s, x, y, width, 2, NULL, text);
}

static const double column_ends[] = {14, 52, 76, 100, 124};

static void draw_row(sheet *s, double y, const tu_story_group *group)
{
    const tu_hit *hit = group->hit;
    const double at[] = {group->mean.x, group->mean.y, group->mean.z};
    char text[TU_NAME_SIZE];
    snprintf(text, sizeof text, group->first == group->last ? "%zu" : "%zu–%zu", group->first,
             group->last);
    text_at(s, frame.left + column_ends[0], y, TU_SVG_END, "strong", text);
    size_t length = strlen(hit->series);
    snprintf(text, sizeof text, "%s", hit->series);
    while (length > 0 && tu_svg_text_width(text, TU_DRAWING_NOTE_MM) > 28) {
        do
            length--;
        while (length > 0 && ((unsigned char)text[length] & 0xC0) == 0x80);
        text[length] = '\0';
    }
    text_at(s, frame.left + column_ends[0] + 3, y, TU_SVG_START, NULL, text);
    snprintf(text, sizeof text, "%c%c", tu_axis_letter(hit->axis), hit->direction < 0 ? '-' : '+');
    text_at(s, frame.left + column_ends[1], y, TU_SVG_END, NULL, text);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        text_at(s, frame.left + column_ends[2 + axis], y, TU_SVG_END,
                axis == (int)hit->axis ? "strong" : NULL, tu_figure_place(s->unit, at[axis]).text);
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
        text_at(s, frame.left + PAD_MM, y, TU_SVG_START, NULL, "No touch that counts was made.");
        return;
    }
    rows = rows > ROWS_MAX ? ROWS_MAX : rows;
    snprintf(text, sizeof text, "touches that count, means, %s",
             s->unit == TU_UNIT_INCH ? "inches" : "mm");
    text_at(s, frame.left + PAD_MM, y, TU_SVG_START, NULL, text);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        text_at(s, frame.left + column_ends[2 + axis], y, TU_SVG_END, NULL, names[axis]);
    line(s, "thin", frame.left, y + 1.3, KEY_LEFT_MM, y + 1.3);
    size_t shown = count <= rows ? count : rows - 1;
    for (size_t i = 0; i < shown; i++)
        draw_row(s, y += ROW_MM, &groups[i]);
    if (shown < count) {
        snprintf(text, sizeof text, "and %zu more places, in the text report", count - shown);
        text_at(s, frame.left + column_ends[0] + 3, y + ROW_MM, TU_SVG_START, NULL, text);
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
        text_at(s, frame.left + PAD_MM, y, TU_SVG_START, NULL, text);
        y += ROW_MM;
    }
    return y;
}

static void draw_title_block(sheet *s)
{
    char text[320];
    tu_svg_group_open(&s->drawing.svg, "title-block");
    snprintf(text, sizeof text, "touch program %s", last_part(s->story->program_name));
    tu_svg_text_style large = {4.2, TU_SVG_START, 0, "strong"};
    double room = KEY_LEFT_MM - frame.left - 2 * PAD_MM;
    large.size_mm = fmin(4.2, fmax(2.5, 4.2 * room / tu_svg_text_width(text, 4.2)));
    tu_svg_text(&s->drawing.svg, (tu_svg_point){frame.left + PAD_MM, TITLE_TOP_MM + 6}, &large,
                text);
    line(s, "thin", frame.left, TITLE_TOP_MM + 8.5, KEY_LEFT_MM, TITLE_TOP_MM + 8.5);
    double y = draw_verdict(s, TITLE_TOP_MM + 12.5);
    y = draw_names(s, y);
    y = draw_differences(s, y);
    draw_touches(s, y + 1);
    text_at(s, frame.left + PAD_MM, frame.bottom - 2.5, TU_SVG_START, NULL,
            "rehearsed, not run: hand near the stop; the machine's manual comes first");
    tu_svg_group_close(&s->drawing.svg);
}

/* --- The key --- */

typedef void draw_key(sheet *s, double x, double y);

static void key_rapid(sheet *s, double x, double y)
{
    line(s, "rapid", x, y, x + 10, y);
    tu_drawing_head(&s->drawing, (tu_svg_point){x + 6.5, y}, (tu_svg_point){1, 0});
}

static void key_feed(sheet *s, double x, double y)
{
    line(s, "feed", x, y, x + 10, y);
    tu_drawing_head(&s->drawing, (tu_svg_point){x + 6.5, y}, (tu_svg_point){1, 0});
}

static void key_probe(sheet *s, double x, double y)
{
    line(s, "travel", x, y, x + 8, y);
    tu_drawing_broad_head(&s->drawing, "touch", (tu_svg_point){x + 10, y}, (tu_svg_point){1, 0});
}

static void key_touch(sheet *s, double x, double y)
{
    tu_svg_circle(&s->drawing.svg, NULL, "touch", (tu_svg_point){x + 5, y}, 0.9);
}

static void key_search(sheet *s, double x, double y)
{
    tu_svg_circle(&s->drawing.svg, NULL, "search", (tu_svg_point){x + 5, y}, 0.9);
}

static void key_position(sheet *s, double x, double y)
{
    line(s, "position", x, y, x + 10, y);
}

static void key_start(sheet *s, double x, double y)
{
    tu_svg_point square[4] = {
        {x + 3.9, y - 1.1}, {x + 6.1, y - 1.1}, {x + 6.1, y + 1.1}, {x + 3.9, y + 1.1}};
    tu_svg_polygon(&s->drawing.svg, NULL, "start", square, 4);
}

static void key_fault(sheet *s, double x, double y)
{
    line(s, "fault", x + 3.2, y - 1.8, x + 6.8, y + 1.8);
    line(s, "fault", x + 3.2, y + 1.8, x + 6.8, y - 1.8);
}

static void key_zero(sheet *s, double x, double y)
{
    tu_svg_circle(&s->drawing.svg, NULL, "zeroring", (tu_svg_point){x + 5, y}, 1.4);
}

static void key_edge(sheet *s, double x, double y)
{
    line(s, "thick", x, y, x + 4.5, y);
    line(s, "hidden", x + 5, y, x + 10, y);
}

static void key_block(sheet *s, double x, double y)
{
    tu_svg_point corners[4] = {
        {x + 1.5, y - 1.6}, {x + 8.5, y - 1.6}, {x + 8.5, y + 1.6}, {x + 1.5, y + 1.6}};
    tu_svg_polygon(&s->drawing.svg, NULL, "block", corners, 4);
    line(s, "thin", corners[0].x_mm, corners[0].y_mm, corners[2].x_mm, corners[2].y_mm);
    line(s, "thin", corners[1].x_mm, corners[1].y_mm, corners[3].x_mm, corners[3].y_mm);
    tu_svg_polygon(&s->drawing.svg, NULL, "thick", corners, 4);
}

static void draw_legend(sheet *s)
{
    static const struct {
        draw_key *draw;
        const char *text;
    } keys[] = {{key_rapid, "traverse (G0)"},
                {key_feed, "move at feed (G1)"},
                {key_probe, "probe move (G38.2)"},
                {key_touch, "touch that counts, number"},
                {key_search, "touch that only searches"},
                {key_position, "the cutter at a touch"},
                {key_start, "start"},
                {key_fault, "fault: it stops here"},
                {key_zero, "zero that was set"},
                {key_edge, "stock's edge; hidden"},
                {key_block, "block in the way"}};
    enum { KEYS = sizeof keys / sizeof keys[0] };
    tu_svg_group_open(&s->drawing.svg, "key");
    text_at(s, KEY_LEFT_MM + PAD_MM, TITLE_TOP_MM + 6, TU_SVG_START, "strong", "the tip's path");
    for (int i = 0; i < KEYS; i++) {
        double y = TITLE_TOP_MM + 12.5 + 5.6 * i;
        keys[i].draw(s, KEY_LEFT_MM + PAD_MM, y);
        tu_svg_text_style style = {2.5, TU_SVG_START, 0, NULL};
        tu_svg_text(&s->drawing.svg, (tu_svg_point){KEY_LEFT_MM + PAD_MM + 12, y + 0.9}, &style,
                    keys[i].text);
    }
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
    tu_svg_open(&s.drawing.svg, out, page, css, title, desc);
    draw_views(&s);
    draw_frame(&s);
    draw_title_block(&s);
    draw_legend(&s);
    return tu_svg_close(&s.drawing.svg, error);
}
