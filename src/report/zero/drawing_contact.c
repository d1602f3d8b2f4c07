/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_contact.c - in the plan: the cutter at each contact, the way it travelled, and the
 * dimensions between the stock's edge, the touched face and the cutter's axis.
 */
#include "report/zero/drawing_plan.h"

#include <math.h>
#include <stdio.h>

#define TRAVEL_MM      10.0
#define INSIDE_ROOM_MM 21.0 /* for a travel arrow with its label inside a bore */

/* The direction on paper in which the machine moves for a positive or a negative word. */
static tu_svg_point machine_direction(int axis, int sense)
{
    return axis == TU_AXIS_X ? (tu_svg_point){sense, 0} : (tu_svg_point){0, -sense};
}

static void travel_label(int axis, int sense, char text[4])
{
    text[0] = "XY"[axis];
    snprintf(text + 1, 3, "%s", sense > 0 ? "+" : "-");
}

static void draw_cutter(tu_drawing *drawing, const tu_plan *plan, int axis, const char *id, int k)
{
    const tu_plan_axis *own = &plan->axis[axis];
    tu_svg_point centre = tu_plan_spot(plan, axis, own->contact[k].u, own->contact[k].v);
    tu_svg_circle(&drawing->svg, id, "cutter", centre, own->radius);
    double half = isfinite(own->radius) ? own->radius : 2;
    tu_drawing_take_room(drawing, (tu_drawing_room){centre, {1, 0}, half, half});
    tu_drawing_centre_mark(drawing, centre, half, tu_plan_outward(plan, axis));
}

static void draw_wall_contact(tu_drawing *drawing, const tu_plan *plan, int axis)
{
    static const char *const ids[] = {"touch-x", "touch-y"};
    static const char *const dots[] = {"contact-x", "contact-y"};
    const tu_plan_axis *own = &plan->axis[axis];
    int normal = own->inward ? -1 : 1;
    int sense = -own->sign * normal;
    char label[4];
    draw_cutter(drawing, plan, axis, ids[axis], 0);
    tu_drawing_touch(
        drawing, dots[axis],
        tu_plan_spot(plan, axis, own->contact[0].u - normal * own->radius, own->contact[0].v),
        own->radius);
    travel_label(axis, sense, label);
    tu_svg_point way = machine_direction(axis, sense);
    tu_svg_point centre = tu_plan_spot(plan, axis, own->contact[0].u, own->contact[0].v);
    tu_drawing_travel(drawing, tu_drawing_add(centre, way, -(own->radius + 1.5)), way, label);
}

/* An arrow beside the bore, its label at the tip: there is no room behind the cutter. */
static void draw_travel_outside(tu_drawing *drawing, tu_svg_point centre, double from,
                                tu_svg_point way, const char *label)
{
    tu_svg_point tail = tu_drawing_add(centre, way, from + 1.5);
    tu_svg_point tip = tu_drawing_add(tail, way, TRAVEL_MM);
    tu_svg_line(&drawing->svg, NULL, "travel", tail, tu_drawing_add(tip, way, -2.5));
    tu_drawing_broad_head(drawing, "touch", tip, way);
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_MIDDLE, 0, NULL};
    tu_drawing_label(drawing, tu_drawing_add(tip, way, 3), style, label);
}

static void draw_bore_contact(tu_drawing *drawing, const tu_plan *plan, int axis, int k)
{
    static const char *const ids[2][2] = {{"touch-x-low", "touch-x-high"},
                                          {"touch-y-low", "touch-y-high"}};
    const tu_plan_axis *own = &plan->axis[axis];
    int sense = k == 0 ? -1 : 1;
    char label[4];
    tu_svg_point middle = tu_plan_spot(plan, TU_AXIS_X, plan->axis[0].centre, plan->axis[1].centre);
    tu_svg_point centre = tu_plan_spot(plan, axis, own->contact[k].u, own->contact[k].v);
    tu_svg_point way = machine_direction(axis, sense);
    draw_cutter(drawing, plan, axis, ids[axis][k], k);
    travel_label(axis, sense, label);
    double half = tu_drawing_distance(middle, centre);
    if (!isfinite(own->radius)) {
        draw_travel_outside(drawing, centre, 2, way, label);
        return;
    }
    tu_svg_point contact = tu_drawing_add(
        centre, tu_drawing_direction(middle, centre, machine_direction(axis, sense)), own->radius);
    tu_drawing_touch(drawing, NULL, contact, own->radius);
    if (half - own->radius >= INSIDE_ROOM_MM)
        tu_drawing_travel(drawing, tu_drawing_add(centre, way, -(own->radius + 1.5)), way, label);
    else
        draw_travel_outside(drawing, centre, own->radius, way, label);
}

void tu_plan_draw_contacts(tu_drawing *drawing, const tu_plan *plan)
{
    for (int axis = 0; axis < 2; axis++) {
        if (!plan->axis[axis].drawn)
            continue;
        if (plan->axis[axis].bore) {
            draw_bore_contact(drawing, plan, axis, 0);
            draw_bore_contact(drawing, plan, axis, 1);
        } else {
            draw_wall_contact(drawing, plan, axis);
        }
    }
}

/* A dimension along u of an axis; from: where its extension lines start, along v. */
typedef struct row {
    double u1, u2, from1, from2;
    const char *word;
    double real_mm;
} row;

enum { ROWS_MAX = 3 };

static size_t list_wall_rows(const tu_drawing *drawing, const tu_plan *plan, int axis,
                             row rows[ROWS_MAX])
{
    const tu_axis_zero *zero = &drawing->result->axis[axis];
    const tu_plan_axis *own = &plan->axis[axis];
    const tu_plan_axis *other = &plan->axis[1 - axis];
    bool covered = own->slab_out > 0 && own->slab_in < 0 && !plan->bed;
    double face = other->slab_out + 1;
    double edge = fmax(other->stock_out, covered ? other->slab_out : other->stock_out) + 1;
    double u = own->contact[0].u, v = own->contact[0].v;
    rows[0] = (row){own->offset, u, face, v, "radius", zero->effective_radius_mm};
    rows[1] = (row){0, own->offset, edge, face, "offset", fabs(zero->offset_mm)};
    rows[2] = (row){0, u, edge, v, "edge to axis", fabs(u) / plan->scale};
    return fabs(own->offset) > 0.02 ? 3 : 1;
}

static size_t list_bore_rows(const tu_drawing *drawing, const tu_plan *plan, int axis,
                             row rows[ROWS_MAX])
{
    const tu_axis_zero *zero = &drawing->result->axis[axis];
    const tu_plan_axis *own = &plan->axis[axis];
    const tu_plan_axis *other = &plan->axis[1 - axis];
    double edge = fmax(other->slab_out, other->stock_out) + 1;
    rows[0] = (row){own->contact[0].u, own->contact[1].u, own->contact[0].v,
                    own->contact[1].v, "travel",          zero->chord_mm};
    rows[1] = (row){0, own->centre, edge, other->centre, "edge to centre", fabs(zero->offset_mm)};
    return 2;
}

static void draw_row(tu_drawing *drawing, const tu_plan *plan, int axis, const row *r, size_t place,
                     bool lines)
{
    char text[TU_DRAWING_TEXT_SIZE];
    snprintf(text, sizeof text, "%s %s", r->word, tu_drawing_length(drawing, r->real_mm).text);
    double v = plan->axis[1 - axis].out + TU_PLAN_ROWS_MM + (double)place * TU_PLAN_ROW_MM;
    bool swap = r->u1 > r->u2;
    double low = swap ? r->u2 : r->u1, high = swap ? r->u1 : r->u2;
    tu_drawing_dimension d = {.a = tu_plan_spot(plan, axis, low, v),
                              .b = tu_plan_spot(plan, axis, high, v),
                              .from_a = tu_plan_spot(plan, axis, low, swap ? r->from2 : r->from1),
                              .from_b = tu_plan_spot(plan, axis, high, swap ? r->from1 : r->from2),
                              .aside = TU_ASIDE_A, /* over the stock: see text_in */
                              .text = text};
    if (lines)
        tu_drawing_dimension_lines(drawing, &d);
    else
        tu_drawing_dimension_text(drawing, &d);
}

void tu_plan_draw_dimensions(tu_drawing *drawing, const tu_plan *plan)
{
    for (int axis = 0; axis < 2; axis++) {
        row rows[ROWS_MAX];
        if (!plan->axis[axis].drawn)
            continue;
        size_t count = plan->axis[axis].bore ? list_bore_rows(drawing, plan, axis, rows)
                                             : list_wall_rows(drawing, plan, axis, rows);
        for (int lines = 1; lines >= 0; lines--)
            for (size_t i = 0; i < count; i++)
                draw_row(drawing, plan, axis, &rows[i], i, lines != 0);
    }
}

void tu_plan_draw_angle(tu_drawing *drawing, const tu_plan *plan)
{
    enum { ARC_POINTS = 13 };
    if (!plan->skewed)
        return;
    double radius = -plan->axis[0].stock_in + 4;
    double sign = -plan->axis[0].sign;
    tu_svg_point zero = tu_plan_spot(plan, TU_AXIS_X, 0, 0);
    tu_svg_line(&drawing->svg, NULL, "axis", zero,
                (tu_svg_point){zero.x_mm + sign * (radius + 2), zero.y_mm});
    tu_svg_line(&drawing->svg, NULL, "thin", tu_plan_spot(plan, TU_AXIS_X, 4 - radius, 0),
                tu_plan_spot(plan, TU_AXIS_X, -radius - 2, 0));
    tu_svg_point arc[ARC_POINTS];
    for (int i = 0; i < ARC_POINTS; i++) {
        double angle = plan->turn_rad * i / (ARC_POINTS - 1);
        arc[i] = (tu_svg_point){zero.x_mm + sign * radius * cos(angle),
                                zero.y_mm - sign * radius * sin(angle)};
    }
    tu_svg_polyline(&drawing->svg, "angle", "thin", arc, ARC_POINTS);
    if (tu_drawing_distance(arc[0], arc[ARC_POINTS - 1]) > 4)
        tu_drawing_head(
            drawing, arc[ARC_POINTS - 1],
            tu_drawing_direction(arc[ARC_POINTS - 2], arc[ARC_POINTS - 1], (tu_svg_point){1, 0}));
    char text[TU_DRAWING_TEXT_SIZE];
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, sign < 0 ? TU_SVG_END : TU_SVG_START, 0, NULL};
    tu_svg_point at = {zero.x_mm + sign * (radius + 3.5),
                       (arc[0].y_mm + arc[ARC_POINTS - 1].y_mm) / 2 - 2.3};
    tu_drawing_label(drawing, at, style, tu_drawing_degrees(drawing->result->skew.angle_rad).text);
    if (plan->turn_factor > 1) {
        snprintf(text, sizeof text, "drawn ×%d", (int)plan->turn_factor);
        at.y_mm += 4.6;
        tu_drawing_label(drawing, at, style, text);
    }
}
