/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_path_moves.c - moves, touches, start, fault and zero in a view of a rehearsed path.
 */
#include "report/rehearsal/drawing_path.h"

#include <math.h>
#include <stdio.h>

enum {
    GROUPS_MAX = 30,    /* more would not be told apart */
    HEADS_MAX = 160,    /* moves with an arrow head */
    SEARCHES_MAX = 500, /* of which it is asked whether a mark stands there already */
    PROFILE_STEPS = 10
};

#define TOGETHER_MM 0.6 /* paper: touches that share a mark */
#define CROWD_MM    4.0 /* paper: touches along an axis that share a label */
#define SHANK_MM    9.0 /* paper: of the cutter from the side */

/* Groups of touches at one place of the paper: numbers first to last. */
typedef struct mark {
    tu_svg_point spot;
    tu_axis axis;
    size_t first, last;
} mark;

/* --- Moves --- */

static bool is_seen(const tu_svg_point *a, const tu_svg_point *b)
{
    return tu_drawing_distance(*a, *b) > 0.05;
}

static void draw_head(tu_path_view *view, const tu_rehearsal_move *move, tu_svg_point a,
                      tu_svg_point b)
{
    double length = tu_drawing_distance(a, b);
    tu_svg_point direction = tu_drawing_direction(a, b, (tu_svg_point){1, 0});
    if (move->kind == 2 && length > 2)
        tu_drawing_broad_head(view->drawing, "touch", b, direction);
    else if (move->kind != 2 && length > 5)
        tu_drawing_head(view->drawing, tu_drawing_add(a, direction, length / 2 + 1.2), direction);
}

/* Probe moves over the others, which often go back along them. */
static void draw_moves(tu_path_view *view, bool probes)
{
    static const char *const css[] = {"rapid", "feed", "travel"};
    const tu_rehearsal_story *story = view->story;
    size_t heads = 0;
    for (size_t i = 0; i < story->move_count; i++) {
        const tu_rehearsal_move *move = &story->moves[i];
        tu_svg_point a = tu_path_view_spot(view, move->from);
        tu_svg_point b = tu_path_view_spot(view, move->to);
        if ((move->kind == 2) != probes || !tu_path_view_clip(view, &a, &b) || !is_seen(&a, &b))
            continue;
        tu_svg_line(&view->drawing->svg, NULL, css[move->kind], a, b);
        bool long_enough = story->move_count <= HEADS_MAX || tu_drawing_distance(a, b) > 12;
        if (long_enough && heads++ < HEADS_MAX)
            draw_head(view, move, a, b);
    }
}

/* --- Touches --- */

/* Marks of touches: none where there are too many places. */
static size_t find_marks(const tu_path_view *view, mark marks[GROUPS_MAX])
{
    tu_story_group groups[GROUPS_MAX];
    size_t count = tu_story_groups(view->story, groups, GROUPS_MAX), used = 0;
    for (size_t i = 0; i < count && count <= GROUPS_MAX; i++) {
        tu_svg_point spot = tu_path_view_spot(view, groups[i].hit->position);
        mark *last = used ? &marks[used - 1] : NULL;
        if (last && last->axis == groups[i].hit->axis &&
            tu_drawing_distance(last->spot, spot) < TOGETHER_MM)
            last->last = groups[i].last;
        else
            marks[used++] = (mark){spot, groups[i].hit->axis, groups[i].first, groups[i].last};
    }
    return used;
}

/* The cutter from the side, its tip there, up to where it would hide too much. */
static void draw_profile(tu_path_view *view, const tu_cutter_solid *cutter, tu_svg_point tip)
{
    tu_svg_point left[PROFILE_STEPS + 2], right[PROFILE_STEPS + 2];
    double full = fmin(cutter->full_mm * view->scale[1], SHANK_MM);
    for (int i = 0; i <= PROFILE_STEPS + 1; i++) {
        double height = i > PROFILE_STEPS ? SHANK_MM : full * i / PROFILE_STEPS;
        double radius = tu_cutter_solid_radius(cutter, height / view->scale[1]) * view->scale[0];
        right[i] = (tu_svg_point){tip.x_mm + radius, tip.y_mm - height};
        left[i] = (tu_svg_point){tip.x_mm - radius, tip.y_mm - height};
    }
    tu_path_view_line(view, "position", left[0], right[0]);
    for (int i = 0; i <= PROFILE_STEPS; i++) {
        tu_path_view_line(view, "position", left[i], left[i + 1]);
        tu_path_view_line(view, "position", right[i], right[i + 1]);
    }
}

static void draw_cutter(tu_path_view *view, tu_svg_point spot, tu_axis axis)
{
    const tu_scene *scene = view->story->scene;
    double radius = scene->cutter.diameter.value_mm / 2 * view->scale[0];
    if (radius < 1.5 || !tu_path_view_shows(view, spot))
        return;
    if (view->up != TU_AXIS_Z) {
        tu_svg_circle(&view->drawing->svg, NULL, "position", spot, radius);
        return;
    }
    tu_cutter_solid cutter = tu_cutter_solid_start(&scene->cutter, 0);
    if (axis == view->across || axis == TU_AXIS_Z)
        draw_profile(view, &cutter, spot);
}

static void keep_room(tu_path_view *view, tu_svg_point spot, double half_mm)
{
    tu_drawing_take_room(view->drawing, (tu_drawing_room){spot, {1, 0}, half_mm, half_mm});
}

/* A text beside a spot, where there is room. */
static void label_beside(tu_path_view *view, tu_svg_point spot, double distance_mm, const char *css,
                         const char *text)
{
    enum { PLACES = 12 };
    static const double x[PLACES] = {1, 1, -1, -1, 0, 0, 1, -1, 1.8, -1.8, 1.8, -1.8};
    static const double y[PLACES] = {-1, 1, -1, 1, -1.5, 1.5, 0, 0, -2, -2, 2, 2};
    const double size = TU_DRAWING_NOTE_MM;
    const tu_svg_box *w = &view->window;
    tu_drawing_place places[PLACES];
    size_t count = 0;
    double width = tu_svg_text_width(text, size);
    for (int i = 0; i < PLACES; i++) {
        tu_svg_point at = {spot.x_mm + x[i] * distance_mm, spot.y_mm + y[i] * distance_mm};
        bool left = x[i]<0, middle = x[i]> - 0.01 && x[i] < 0.01;
        double from = middle ? at.x_mm - width / 2 : left ? at.x_mm - width : at.x_mm;
        if (from < w->left || from + width > w->right || at.y_mm < w->top + size ||
            at.y_mm > w->bottom - size)
            continue;
        places[count++] = (tu_drawing_place){at, middle ? TU_SVG_MIDDLE
                                                 : left ? TU_SVG_END
                                                        : TU_SVG_START};
    }
    tu_svg_text_style style = {size, TU_SVG_START, 0, css};
    if (count)
        tu_drawing_label_free(view->drawing, places, count, style, text);
}

/* Numbers of touches, those that follow one another as "3–5". */
typedef struct numbers {
    char text[48];
    size_t used, parts;
    size_t first, last; /* of the part at work */
} numbers;

enum { PARTS_MAX = 1 }; /* "1, …": more would crowd, and the view from above tells them */

static void end_part(numbers *n)
{
    const char *comma = n->parts > 0 ? ", " : "";
    size_t room = sizeof n->text - n->used;
    int length = 0;
    if (n->parts > PARTS_MAX)
        return;
    if (n->parts == PARTS_MAX)
        length = snprintf(n->text + n->used, room, ", …");
    else if (n->first == n->last)
        length = snprintf(n->text + n->used, room, "%s%zu", comma, n->first);
    else
        length = snprintf(n->text + n->used, room, "%s%zu–%zu", comma, n->first, n->last);
    n->used += (size_t)length;
    n->parts++;
}

static void add_numbers(numbers *n, const mark *m)
{
    if (m->first != n->last + 1) {
        end_part(n);
        n->first = m->first;
    }
    n->last = m->last;
}

/* One label for all marks that crowd about the first of them; seen from the side, a row of a grid
 * stands in one place. */
static void label_crowd(tu_path_view *view, const mark *marks, size_t count, size_t leader,
                        bool labelled[GROUPS_MAX])
{
    const mark *lead = &marks[leader];
    numbers n = {.first = lead->first, .last = lead->last};
    for (size_t i = leader + 1; i < count; i++) {
        if (labelled[i] || marks[i].axis != lead->axis ||
            !tu_path_view_shows(view, marks[i].spot) ||
            tu_drawing_distance(marks[i].spot, lead->spot) >= CROWD_MM)
            continue;
        labelled[i] = true;
        add_numbers(&n, &marks[i]);
    }
    end_part(&n);
    label_beside(view, lead->spot, 2.2, "strong", n.text);
}

static void draw_marks(tu_path_view *view, const mark *marks, size_t count)
{
    bool labelled[GROUPS_MAX] = {false};
    for (size_t i = 0; i < count; i++) {
        if (!tu_path_view_shows(view, marks[i].spot))
            continue;
        tu_drawing_touch(view->drawing, NULL, marks[i].spot, NAN);
        if (!labelled[i])
            label_crowd(view, marks, count, i, labelled);
    }
}

static bool has_mark(const mark *marks, size_t count, tu_svg_point spot)
{
    for (size_t i = 0; i < count; i++)
        if (tu_drawing_distance(marks[i].spot, spot) < 1.2)
            return true;
    return false;
}

/* A search is marked where no touch that counts came after it. */
static void draw_searches(tu_path_view *view, const mark *marks, size_t count)
{
    const tu_rehearsal_story *story = view->story;
    for (size_t i = 0; i < story->touch_count && i < SEARCHES_MAX; i++) {
        tu_svg_point spot = tu_path_view_spot(view, story->touches[i].hit.position);
        if (!story->touches[i].hit.ok && tu_path_view_shows(view, spot) &&
            !has_mark(marks, count, spot))
            tu_svg_circle(&view->drawing->svg, NULL, "search", spot, 0.9);
    }
}

/* Too many for numbers: a small dot each; where none counts, a ring for each search. */
static void draw_dots(tu_path_view *view)
{
    const tu_rehearsal_story *story = view->story;
    for (size_t i = 0; i < story->touch_count; i++) {
        tu_svg_point spot = tu_path_view_spot(view, story->touches[i].hit.position);
        if (story->touches[i].hit.ok && tu_path_view_shows(view, spot))
            tu_drawing_touch(view->drawing, NULL, spot, 1.6);
    }
    if (tu_story_searches(story) == story->touch_count)
        draw_searches(view, NULL, 0);
}

/* --- Start, fault, zero --- */

static void draw_start(tu_path_view *view)
{
    tu_svg_point at = tu_path_view_spot(view, view->story->scene->start);
    if (!tu_path_view_shows(view, at))
        return;
    const double half = 1.1;
    tu_svg_rectangle(&view->drawing->svg, NULL, "start",
                     (tu_svg_box){at.x_mm - half, at.y_mm - half, at.x_mm + half, at.y_mm + half});
    label_beside(view, at, 2.6, NULL, "start");
}

static void draw_fault(tu_path_view *view)
{
    const tu_rehearsal *result = &view->story->result;
    char text[64];
    if (result->fault == TU_FAULT_NONE)
        return;
    tu_svg_point at = tu_path_view_spot(view, result->at);
    if (!tu_path_view_shows(view, at))
        return;
    draw_cutter(view, at, view->across);
    for (int pass = 0; pass < 2; pass++) /* white under black, to stand out of what lies there */
        for (int side = -1; side <= 1; side += 2)
            tu_svg_stroke(&view->drawing->svg, pass ? "fault" : "faultground", at.x_mm - 3,
                          at.y_mm - 3 * side, at.x_mm + 3, at.y_mm + 3 * side);
    snprintf(text, sizeof text, "fault, line %zu", result->line);
    label_beside(view, at, 4.6, "strong", text);
}

/* The zero that the program set, as the set-up drawing marks one; axes not set lie at the truth, or
 * nowhere. */
static void draw_zero(tu_path_view *view)
{
    const tu_rehearsal_story *story = view->story;
    for (int slot = 0; slot < 9; slot++) {
        double at[] = {story->truth.x, story->truth.y, story->truth.z};
        if (!tu_story_sets_slot(story, slot))
            continue;
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
            if (story->result.slot_set[slot][axis])
                at[axis] = story->result.slot_mm[slot][axis];
        tu_svg_point spot = tu_path_view_spot(view, (tu_machine_point){at[0], at[1], at[2]});
        if (!isfinite(spot.x_mm + spot.y_mm) || !tu_path_view_shows(view, spot))
            continue;
        tu_drawing_zero(view->drawing, NULL, spot);
        keep_room(view, spot, 2);
        label_beside(view, spot, 2.8, "zero", "zero");
    }
}

/* Marks keep their room from every name. */
static void keep_marks(tu_path_view *view, const mark *marks, size_t count)
{
    keep_room(view, tu_path_view_spot(view, view->story->scene->start), 1.4);
    if (view->story->result.fault != TU_FAULT_NONE)
        keep_room(view, tu_path_view_spot(view, view->story->result.at), 3.2);
    for (size_t i = 0; i < count; i++)
        keep_room(view, marks[i].spot, 1);
}

void tu_path_view_moves(tu_path_view *view)
{
    mark marks[GROUPS_MAX];
    size_t count = find_marks(view, marks);
    for (size_t i = 0; i < count; i++)
        draw_cutter(view, marks[i].spot, marks[i].axis);
    draw_moves(view, false);
    draw_moves(view, true);
    if (count)
        draw_searches(view, marks, count);
    else
        draw_dots(view);
    keep_marks(view, marks, count);
    draw_start(view);
    draw_fault(view);
    draw_zero(view);
    draw_marks(view, marks, count);
}
