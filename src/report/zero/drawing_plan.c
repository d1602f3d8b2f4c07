/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_plan.c - the plan: the corner of the stock from above, and the plate as it lies there.
 */
#include "report/zero/drawing_plan.h"

#include <math.h>
#include <stdio.h>

static const char *const edge_ids[] = {"edge-x", "edge-y"};
static const char *const wall_ids[] = {"wall-x", "wall-y"};
static const char *const datum_ids[] = {"datum-x", "datum-y"};

static void fill(tu_drawing *drawing, const tu_plan *plan, const char *id, const char *css,
                 tu_svg_box uv)
{
    tu_svg_point corners[4] = {tu_plan_spot(plan, TU_AXIS_X, uv.left, uv.bottom),
                               tu_plan_spot(plan, TU_AXIS_X, uv.right, uv.bottom),
                               tu_plan_spot(plan, TU_AXIS_X, uv.right, uv.top),
                               tu_plan_spot(plan, TU_AXIS_X, uv.left, uv.top)};
    tu_svg_polygon(&drawing->svg, id, css, corners, 4);
}

/* A piece of an edge, from v to v; nothing where there is no piece. */
static void piece(tu_drawing *drawing, const tu_plan *plan, int axis, const char *id,
                  const char *css, double from, double to)
{
    if (to - from > 0.1)
        tu_svg_line(&drawing->svg, id, css, tu_plan_spot(plan, axis, 0, from),
                    tu_plan_spot(plan, axis, 0, to));
}

/* The stock's edge, dashed where the plate hides it. */
static void draw_edge(tu_drawing *drawing, const tu_plan *plan, int axis)
{
    const tu_plan_axis *own = &plan->axis[axis];
    const tu_plan_axis *other = &plan->axis[1 - axis];
    bool covered = !plan->bed && own->slab_in < 0 && own->slab_out > 0;
    double end = fmin(fmax(other->slab_out, other->slab_in), other->stock_out);
    piece(drawing, plan, axis, edge_ids[axis], "thick", other->stock_in, other->slab_in);
    piece(drawing, plan, axis, NULL, covered ? "hidden" : "thick", other->slab_in, end);
    piece(drawing, plan, axis, NULL, "thick", end, other->stock_out);
}

static void draw_stock_fill(tu_drawing *drawing, const tu_plan *plan)
{
    const tu_plan_axis *x = &plan->axis[0];
    const tu_plan_axis *y = &plan->axis[1];
    tu_svg_box stock = {x->stock_in, y->stock_out, x->stock_out, y->stock_in};
    fill(drawing, plan, "stock", "stock", stock);
}

static void draw_stock_lines(tu_drawing *drawing, const tu_plan *plan)
{
    for (int axis = 0; axis < 2; axis++) {
        const tu_plan_axis *own = &plan->axis[axis];
        const tu_plan_axis *other = &plan->axis[1 - axis];
        tu_drawing_break(drawing, tu_plan_spot(plan, axis, own->stock_in, other->stock_in),
                         tu_plan_spot(plan, axis, own->stock_in, other->stock_out));
        if (own->edge)
            draw_edge(drawing, plan, axis);
        else
            tu_drawing_break(drawing, tu_plan_spot(plan, axis, own->stock_out, other->stock_in),
                             tu_plan_spot(plan, axis, own->stock_out, other->stock_out));
    }
}

/* The wall's body stands behind the touched face: on the side that the face looks away from. */
static void draw_wall_body(tu_drawing *drawing, const tu_plan *plan, int axis)
{
    const tu_plan_axis *own = &plan->axis[axis];
    const tu_plan_axis *other = &plan->axis[1 - axis];
    double behind = own->offset + (own->inward ? TU_PLAN_WALL_MM : -TU_PLAN_WALL_MM);
    tu_svg_point corners[4] = {tu_plan_spot(plan, axis, own->offset, other->slab_in),
                               tu_plan_spot(plan, axis, own->offset, other->slab_out),
                               tu_plan_spot(plan, axis, behind, other->slab_out),
                               tu_plan_spot(plan, axis, behind, other->slab_in)};
    tu_svg_polygon(&drawing->svg, NULL, "wall", corners, 4);
    tu_svg_line(&drawing->svg, NULL, "thin", corners[3], corners[2]);
}

static void draw_wall_face(tu_drawing *drawing, const tu_plan *plan, int axis)
{
    const tu_plan_axis *own = &plan->axis[axis];
    const tu_plan_axis *other = &plan->axis[1 - axis];
    double end = other->drawn && other->inward ? other->offset : other->slab_out;
    tu_svg_line(&drawing->svg, wall_ids[axis], "face",
                tu_plan_spot(plan, axis, own->offset, other->slab_in),
                tu_plan_spot(plan, axis, own->offset, end));
}

/* At either end of the wall, on the side that the body looks to or over it. */
static void draw_wall_name(tu_drawing *drawing, const tu_plan *plan, int axis)
{
    const tu_plan_axis *own = &plan->axis[axis];
    const tu_plan_axis *other = &plan->axis[1 - axis];
    char name[] = "wall a";
    name[5] = own->wall == 1 ? 'b' : 'a';
    bool sideways = axis == TU_AXIS_X;
    bool start = sideways ? own->sign > 0 : other->sign > 0;
    double clear = (own->inward ? TU_PLAN_WALL_MM : 0) + (sideways ? 1.5 : 3);
    double behind = (own->inward ? 0 : -TU_PLAN_WALL_MM) - (sideways ? 1.5 : 3);
    tu_svg_anchor out = start ? TU_SVG_START : TU_SVG_END;
    tu_svg_anchor back = start == sideways ? TU_SVG_END : TU_SVG_START;
    double near = other->slab_in + (sideways ? 2 : 0);
    double far = other->slab_out - (sideways ? 2 : 12);
    tu_drawing_place places[] = {
        {tu_plan_spot(plan, axis, own->offset + clear, near), out},
        {tu_plan_spot(plan, axis, own->offset + behind, near),
         sideways ? (start ? TU_SVG_END : TU_SVG_START) : out},
        {tu_plan_spot(plan, axis, own->offset + clear, far), out},
        {tu_plan_spot(plan, axis, own->offset + clear, near - 5), sideways ? out : back},
    };
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, out, tu_plan_turn_deg(plan), NULL};
    tu_drawing_label_free(drawing, places, sizeof places / sizeof places[0], style, name);
}

/* The plate's outline is thin: the result tells nothing of how large the plate is. */
static void draw_slab(tu_drawing *drawing, const tu_plan *plan)
{
    const tu_plan_axis *x = &plan->axis[0];
    const tu_plan_axis *y = &plan->axis[1];
    tu_svg_box slab = {x->slab_in, y->slab_out, x->slab_out, y->slab_in};
    fill(drawing, plan, "plate", "plate", slab);
}

static void draw_plate(tu_drawing *drawing, const tu_plan *plan)
{
    for (int axis = 0; axis < 2; axis++)
        if (plan->axis[axis].drawn && !plan->axis[axis].bore)
            draw_wall_body(drawing, plan, axis);
    for (int axis = 0; axis < 2; axis++)
        if (plan->axis[axis].drawn && !plan->axis[axis].bore)
            draw_wall_face(drawing, plan, axis);
}

/* The bore's diameter on a leader from its rim, in one of the plate's corners. */
static void draw_bore_name(tu_drawing *drawing, const tu_plan *plan)
{
    const tu_plan_axis *own = &plan->axis[plan->axis[0].bore ? 0 : 1];
    char text[TU_DRAWING_TEXT_SIZE];
    static const int quarters[4][2] = {{-1, -1}, {1, -1}, {-1, 1}, {1, 1}};
    if (!own->bore)
        return;
    bool known = isfinite(own->bore_radius);
    double radius = known ? own->bore_radius : 4, rim = radius * sqrt(0.5);
    double u = plan->axis[0].centre, v = plan->axis[1].centre;
    snprintf(text, sizeof text, known ? "bore ⌀%s" : "bore, size not known",
             tu_drawing_length(drawing, radius * 2 / plan->scale).text);
    tu_drawing_place places[8];
    for (int i = 0; i < 8; i++) {
        const int *q = quarters[i / 2];
        bool far = i % 2 == 0; /* beyond the travel arrow's letter, or close to the rim */
        places[i] = (tu_drawing_place){tu_plan_spot(plan, TU_AXIS_X, u + q[0] * (far ? 4 : rim + 4),
                                                    v + q[1] * (far ? radius + 14 : rim + 6)),
                                       q[0] * plan->axis[0].sign > 0 ? TU_SVG_START : TU_SVG_END};
    }
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_START, 0, NULL};
    size_t chosen = tu_drawing_label_free(drawing, places, 8, style, text);
    const int *q = quarters[chosen / 2];
    double start = fmin(rim, 8); /* over the text, whatever the bore's size */
    tu_svg_point from = tu_plan_spot(plan, TU_AXIS_X, u + q[0] * start,
                                     v + q[1] * sqrt(radius * radius - start * start));
    tu_svg_point to = tu_plan_spot(plan, TU_AXIS_X, u + q[0] * (start + 2),
                                   v + q[1] * (chosen % 2 == 0 ? radius + 12 : rim + 4));
    if (known) {
        tu_svg_line(&drawing->svg, NULL, "thin", from, to);
        tu_drawing_head(drawing, from, tu_drawing_direction(to, from, (tu_svg_point){0, 1}));
    }
}

static void draw_bore(tu_drawing *drawing, const tu_plan *plan)
{
    const tu_plan_axis *own = &plan->axis[plan->axis[0].bore ? 0 : 1];
    if (!own->bore)
        return;
    tu_svg_point centre = tu_plan_spot(plan, TU_AXIS_X, plan->axis[0].centre, plan->axis[1].centre);
    tu_svg_circle(&drawing->svg, "bore", "face bore", centre, own->bore_radius);
    double reach = isfinite(own->bore_radius) ? own->bore_radius : 4;
    tu_drawing_centre_mark(drawing, centre, reach, tu_plan_outward(plan, TU_AXIS_X));
}

/* Where only Z was touched: the cutter on the plate. */
static void draw_tip(tu_drawing *drawing, const tu_plan *plan)
{
    if (!tu_plan_is_z_only(plan) || !drawing->result->axis[TU_AXIS_Z].asked)
        return;
    tu_svg_point at = tu_plan_spot(plan, TU_AXIS_X, plan->tip.u, plan->tip.v);
    tu_svg_circle(&drawing->svg, NULL, "cutter", at, plan->tip_radius);
    tu_drawing_centre_mark(drawing, at, plan->tip_radius, tu_plan_outward(plan, TU_AXIS_X));
    tu_drawing_touch(drawing, NULL, at, NAN);
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_MIDDLE, 0, NULL};
    at.y_mm += plan->tip_radius + 5;
    tu_drawing_label(drawing, at, style, "Z-");
}

/* Where the axis of the work frame starts, and its positive direction: that of the machine, however
 * the stock lies, since a work offset only moves the zero. */
static tu_svg_point work_axis(const tu_plan *plan, int axis, tu_svg_point *positive)
{
    const tu_plan_axis *other = &plan->axis[1 - axis];
    *positive = axis == TU_AXIS_X ? (tu_svg_point){1, 0} : (tu_svg_point){0, -1};
    return tu_plan_spot(plan, axis, 0, other->edge ? 0 : other->slab_out + 9);
}

static void draw_zero(tu_drawing *drawing, const tu_plan *plan)
{
    static const char *const texts[] = {"X0", "Y0"};
    static const char *const axis_ids[] = {"axis-x", "axis-y"};
    for (int axis = 0; axis < 2; axis++) {
        tu_svg_point positive;
        tu_svg_point from = work_axis(plan, axis, &positive);
        if (!plan->axis[axis].drawn)
            continue;
        tu_drawing_work_axis(drawing, axis_ids[axis], from, positive);
        tu_drawing_datum(drawing, datum_ids[axis],
                         tu_plan_spot(plan, axis, 0, plan->axis[1 - axis].slab_in - 7.5),
                         tu_plan_outward(plan, axis), texts[axis]);
    }
    if (plan->axis[0].drawn && plan->axis[1].drawn)
        tu_drawing_zero(drawing, "zero", tu_plan_spot(plan, TU_AXIS_X, 0, 0));
}

/* Names come last and look for room among all that is drawn by then. */
static void draw_names(tu_drawing *drawing, const tu_plan *plan)
{
    static const char *const letters[] = {"X", "Y"};
    draw_bore_name(drawing, plan);
    for (int axis = 0; axis < 2; axis++)
        if (plan->axis[axis].drawn && !plan->axis[axis].bore)
            draw_wall_name(drawing, plan, axis);
    for (int axis = 0; axis < 2; axis++) {
        tu_svg_point positive;
        tu_svg_point from = work_axis(plan, axis, &positive);
        if (plan->axis[axis].drawn)
            tu_drawing_work_letter(drawing, from, positive, letters[axis]);
    }
}

static void draw_front(tu_drawing *drawing, tu_svg_box window)
{
    tu_svg_point tip = {window.right - 4, window.bottom - 0.5};
    tu_drawing_front_arrow(drawing, tip);
    tu_drawing_note(drawing, window.right - 7, window.bottom - 1.5, TU_SVG_END, NULL,
                    "front of the machine");
}

static void draw_heading(tu_drawing *drawing, const tu_plan *plan, tu_svg_box window)
{
    char text[TU_DRAWING_TEXT_SIZE];
    bool sized = !tu_plan_is_z_only(plan) || isfinite(drawing->result->cutter_diameter_mm);
    snprintf(text, sizeof text, "plan, %s%s%s", sized ? "scale " : "not to scale",
             sized ? tu_drawing_scale(plan->scale).text : "",
             plan->along_free ? "; along the walls not to scale" : "");
    tu_drawing_heading(drawing, window.left, window.top + 3, text);
    tu_drawing_note(drawing, window.left, window.bottom - 1.5, TU_SVG_START, NULL,
                    "view from above; the front of the machine is at the bottom of the page");
}

static tu_svg_box plan_area(tu_svg_box window)
{
    window.top += 5;
    window.bottom -= 6;
    return window;
}

tu_plan tu_drawing_plan(tu_drawing *drawing, tu_svg_box window)
{
    tu_plan plan = tu_plan_lay_out(drawing->result, plan_area(window));
    tu_svg_group_open(&drawing->svg, "plan");
    draw_heading(drawing, &plan, window);
    draw_front(drawing, window);
    if (plan.bed) { /* the stock stands beside the plate: it goes on top */
        draw_slab(drawing, &plan);
        draw_stock_fill(drawing, &plan);
    } else {
        draw_stock_fill(drawing, &plan);
        draw_slab(drawing, &plan);
    }
    draw_stock_lines(drawing, &plan);
    tu_plan_draw_dimensions(drawing, &plan);
    tu_plan_draw_angle(drawing, &plan);
    draw_plate(drawing, &plan);
    draw_bore(drawing, &plan);
    draw_tip(drawing, &plan);
    draw_zero(drawing, &plan);
    tu_plan_draw_contacts(drawing, &plan);
    draw_names(drawing, &plan);
    tu_svg_group_close(&drawing->svg);
    return plan;
}
