/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_layout.c - the plan measured from the result, and laid out on paper.
 *
 * The cutter is placed by where it was at contact and the wall by the zero and the offset; neither
 * is worked out from the other, so that a wrong sign leaves them apart on the drawing.
 */
#include "report/zero/drawing_plan.h"

#include <math.h>

#define TRAVEL_ROOM_MM 18.0 /* the travel arrow with its label */
#define DATUM_ROOM_MM  16.0 /* of free edge past the plate, for the datum triangle */
#define STOCK_LEAST_MM 40.0 /* dimension texts stand over this much */
#define ANGLE_ROOM_MM  32.0
#define TIP_MOST_MM    15.0

static const double turn_least_rad = 4 * M_PI / 180;

bool tu_plan_is_z_only(const tu_plan *plan)
{
    return !plan->axis[0].drawn && !plan->axis[1].drawn;
}

/* --- Measuring, real millimetres --- */

/* A place in machine coordinates in the stock's frame: turned back about the zero. */
static tu_plan_contact to_stock(const tu_zero_result *result, int axis, double own, double other)
{
    const tu_axis_zero *zero = &result->axis[axis];
    const tu_axis_zero *across = &result->axis[1 - axis];
    double angle = result->skew.known ? result->skew.angle_rad : 0;
    double du = own - zero->zero_mm;
    bool known = across->asked && isfinite(other) && isfinite(across->zero_mm);
    double dv = known ? other - across->zero_mm : 0;
    /* The matrix of a turn by -angle, for X and, with the other sign of the sine, for Y. */
    double sine = axis == TU_AXIS_X ? sin(angle) : -sin(angle);
    double u = du * cos(angle) + dv * sine;
    double v = dv * cos(angle) - du * sine;
    return (tu_plan_contact){u, known ? v : NAN};
}

static void measure_bore(const tu_zero_result *result, int axis, tu_plan_axis *plan)
{
    const tu_axis_zero *zero = &result->axis[axis];
    double centre = result->axis[1 - axis].bore ? result->axis[1 - axis].touch_mm : NAN;
    double across = isfinite(zero->across_mm) ? zero->across_mm : centre;
    double beside = isfinite(across - centre) ? across - centre : 0;
    plan->contact[0] = to_stock(result, axis, zero->low_mm, across);
    plan->contact[1] = to_stock(result, axis, zero->high_mm, across);
    if (!isfinite(plan->radius) && isfinite(zero->implied_diameter_mm))
        plan->radius = zero->implied_diameter_mm / 2;
    if (!isfinite(plan->radius) && isfinite(result->cutter_diameter_mm))
        plan->radius = result->cutter_diameter_mm / 2;
    double implied =
        isfinite(zero->implied_diameter_mm) ? zero->implied_diameter_mm / 2 : plan->radius;
    plan->bore_radius = hypot(zero->chord_mm / 2, beside) + implied;
}

static tu_plan_axis measure_axis(const tu_zero_result *result, int axis)
{
    const tu_axis_zero *zero = &result->axis[axis];
    int outward = result->target.outward[axis];
    tu_plan_axis plan = {.edge = outward != 0,
                         .sign = outward != 0 ? outward : +1,
                         .wall = zero->wall,
                         .bore = zero->bore,
                         .inward = !zero->bore && zero->facing == TU_FACES_INWARD,
                         .offset = zero->offset_mm,
                         .centre = zero->offset_mm,
                         .radius = zero->effective_radius_mm,
                         .bore_radius = NAN};
    bool wall = !zero->bore && isfinite(zero->offset_mm) && isfinite(plan.radius);
    plan.drawn = zero->asked && isfinite(zero->zero_mm) && isfinite(zero->touch_mm) &&
                 (wall || (zero->bore && isfinite(zero->offset_mm) &&
                           isfinite(zero->low_mm + zero->high_mm)));
    if (!plan.drawn) {
        plan.bore = plan.inward = false;
        return plan;
    }
    if (zero->bore)
        measure_bore(result, axis, &plan);
    else
        plan.contact[0] = to_stock(result, axis, zero->touch_mm, zero->across_mm);
    return plan;
}

static tu_plan measure(const tu_zero_result *result)
{
    tu_plan plan = {.scale = 1, .turn_factor = 1, .bed = result->seat == TU_SEAT_BED};
    double angle =
        result->skew.known && isfinite(result->skew.angle_rad) ? result->skew.angle_rad : 0;
    static const double factors[] = {1, 2, 5, 10, 20, 50, 100};
    for (size_t i = 0; i < sizeof factors / sizeof factors[0]; i++) {
        plan.turn_factor = factors[i];
        if (fabs(angle) * factors[i] >= turn_least_rad)
            break;
    }
    plan.skewed = angle != 0; /* NOLINT: exactly square is the one case without an angle */
    plan.turn_rad = plan.skewed ? angle * plan.turn_factor : 0;
    plan.tip_radius = isfinite(result->cutter_diameter_mm) ? result->cutter_diameter_mm / 2 : NAN;
    for (int axis = 0; axis < 2; axis++) {
        plan.axis[axis] = measure_axis(result, axis);
        /* From machine directions to outward ones. */
        for (int i = 0; i < 2; i++)
            plan.axis[axis].contact[i].u *= plan.axis[axis].sign;
    }
    for (int axis = 0; axis < 2; axis++)
        for (int i = 0; i < 2; i++)
            plan.axis[axis].contact[i].v *= plan.axis[1 - axis].sign;
    /* A plate on the bed lies beside the stock, on whichever side: show one. */
    if (plan.bed && !plan.axis[0].edge && !plan.axis[1].edge)
        plan.axis[0].edge = true;
    return plan;
}

/* --- Laying out, millimetres of paper --- */

static void scale_axis(tu_plan_axis *axis, double scale)
{
    axis->offset *= scale;
    axis->centre *= scale;
    axis->radius *= scale;
    axis->bore_radius *= scale;
    for (int i = 0; i < 2; i++) {
        axis->contact[i].u *= scale;
        axis->contact[i].v *= scale;
    }
}

static double bore_reach(const tu_plan_axis *axis)
{
    return isfinite(axis->bore_radius) ? axis->bore_radius
                                       : fabs(axis->contact[1].u - axis->contact[0].u) / 2 + 2;
}

/*
 * How far along its edge a wall's contact is drawn. What was recorded counts where the sheet has
 * room for it; else the contact slides along the wall, which leaves its distance from the face.
 */
static void place_along(tu_plan *plan, int i)
{
    tu_plan_axis *own = &plan->axis[i];
    const tu_plan_axis *other = &plan->axis[1 - i];
    if (!own->drawn || own->bore)
        return;
    if (!other->edge) {
        own->contact[0].v = 0;
        plan->along_free = true;
        return;
    }
    double nearest = own->radius + 6;
    if (other->drawn)
        nearest +=
            fmax(0, -fmin(other->offset, other->contact[0].u - other->radius * other->inward));
    /* Both walls inward: keep Y's arrow beyond the end of X's. */
    if (i == TU_AXIS_Y && own->inward && other->inward)
        nearest = fmax(nearest, own->radius + other->radius - other->contact[0].u + 24);
    double recorded = isfinite(own->contact[0].v) ? -own->contact[0].v : nearest;
    double drawn = fmin(fmax(recorded, nearest), nearest + 12);
    if (!(fabs(own->contact[0].v + drawn) < 1e-6))
        plan->along_free = true;
    own->contact[0].v = -drawn;
}

static void place_bore(tu_plan *plan, int i)
{
    tu_plan_axis *own = &plan->axis[i];
    tu_plan_axis *other = &plan->axis[1 - i];
    if (!own->bore)
        return;
    if (!other->bore)
        other->centre = other->edge ? -(bore_reach(own) + 12) : 0;
    for (int k = 0; k < 2; k++) {
        double beside = own->contact[k].v - other->centre;
        if (!(fabs(beside) < bore_reach(own)))
            own->contact[k].v = other->centre;
    }
}

/* The plate and the stock along u of an axis that the target has a face across. */
static void lay_edge(tu_plan *plan, int i, bool bore)
{
    tu_plan_axis *own = &plan->axis[i];
    const tu_plan_axis *other = &plan->axis[1 - i];
    double in = -10;
    own->slab_out = 8;
    own->out = 20;
    if (bore) {
        double reach = bore_reach(own->bore ? own : other) + TRAVEL_ROOM_MM;
        in = fmin(in, own->centre - reach);
        own->slab_out = fmax(own->centre + reach, 4);
    } else if (own->drawn) {
        double cutter = own->contact[0].u;
        in = fmin(in, fmin(own->offset, cutter - own->radius) - 10);
        if (own->inward)
            in = fmin(in, cutter - own->radius - TRAVEL_ROOM_MM - 4);
        own->slab_out = own->offset + (own->inward ? TU_PLAN_WALL_MM : 0);
        own->out = fmax(own->out, cutter + own->radius + (own->inward ? 2 : TRAVEL_ROOM_MM));
    }
    if (!bore && other->drawn)
        in = fmin(in, other->contact[0].v - other->radius - 12);
    if (tu_plan_is_z_only(plan)) {
        double room = 2 * plan->tip_radius + 18;
        in = plan->bed ? -12 : -room;
        own->slab_out = plan->bed ? room : 4;
    }
    own->out = fmax(own->out, own->slab_out + (bore ? 2 : 14));
    own->slab_in = in;
    own->stock_out = 0;
    own->stock_in = fmin(in - DATUM_ROOM_MM, -STOCK_LEAST_MM);
}

/* The same along an axis that the target leaves alone: the stock goes on both ways. */
static void lay_along(tu_plan *plan, int i, bool bore)
{
    tu_plan_axis *own = &plan->axis[i];
    const tu_plan_axis *other = &plan->axis[1 - i];
    double half = (isfinite(other->radius) ? other->radius : 0) + 12;
    if (bore)
        half = bore_reach(other) + TRAVEL_ROOM_MM;
    if (tu_plan_is_z_only(plan))
        half = plan->tip_radius + 14;
    own->slab_in = -half;
    own->slab_out = half;
    own->stock_in = -half - DATUM_ROOM_MM - 2;
    own->stock_out = -own->stock_in;
    own->out = own->stock_out + 2;
}

/* How far a dimension's text reaches over the stock, where it does not fit its own line. */
static double text_reach(double end1, double end2, double text_mm)
{
    return fabs(end2 - end1) > text_mm ? 0 : fmin(end1, end2) - text_mm - 6;
}

/* The texts' widths are those of a number of eight digits. */
static double texts_in(const tu_plan_axis *own)
{
    const double word = 31, words = 45;
    double u = own->contact[0].u;
    if (!own->drawn)
        return 0;
    if (own->bore)
        return fmin(text_reach(u, own->contact[1].u, word), text_reach(0, own->centre, words));
    return fmin(text_reach(own->offset, u, word),
                fmin(text_reach(0, own->offset, word), text_reach(0, u, words)));
}

static tu_plan lay(const tu_plan *real, double scale)
{
    tu_plan plan = *real;
    plan.scale = scale;
    plan.tip_radius = isfinite(plan.tip_radius) ? plan.tip_radius * scale : 2;
    for (int i = 0; i < 2; i++)
        scale_axis(&plan.axis[i], scale);
    for (int i = 0; i < 2; i++) {
        place_along(&plan, i);
        place_bore(&plan, i);
    }
    bool bore = plan.axis[0].bore || plan.axis[1].bore;
    for (int i = 0; i < 2; i++)
        if (plan.axis[i].edge)
            lay_edge(&plan, i, bore);
        else
            lay_along(&plan, i, bore);
    double tip = plan.bed ? plan.tip_radius + 9 : -(plan.tip_radius + 8);
    plan.tip = (tu_plan_contact){plan.axis[0].edge ? tip : 0, plan.axis[1].edge ? tip : 0};
    double rows = TU_PLAN_ROWS_MM + 3 * TU_PLAN_ROW_MM;
    for (int i = 0; i < 2; i++) {
        tu_plan_axis *own = &plan.axis[i];
        own->rows_end = own->out + (plan.axis[1 - i].drawn ? rows : 0);
        own->text_in = texts_in(own);
    }
    return plan;
}

tu_svg_point tu_plan_spot(const tu_plan *plan, int axis, double u, double v)
{
    double x = plan->axis[0].sign * (axis == TU_AXIS_X ? u : v);
    double y = plan->axis[1].sign * (axis == TU_AXIS_X ? v : u);
    double c = cos(plan->turn_rad), s = sin(plan->turn_rad);
    return (tu_svg_point){plan->origin.x_mm + x * c - y * s, plan->origin.y_mm - x * s - y * c};
}

tu_svg_point tu_plan_outward(const tu_plan *plan, int axis)
{
    tu_svg_point from = tu_plan_spot(plan, axis, 0, 0);
    return tu_drawing_direction(from, tu_plan_spot(plan, axis, 1, 0), (tu_svg_point){1, 0});
}

double tu_plan_turn_deg(const tu_plan *plan)
{
    return -plan->turn_rad * 180 / M_PI;
}

static void include(tu_svg_box *box, tu_svg_point at, double x, double y)
{
    box->left = fmin(box->left, at.x_mm - x);
    box->right = fmax(box->right, at.x_mm + x);
    box->top = fmin(box->top, at.y_mm - y);
    box->bottom = fmax(box->bottom, at.y_mm + y);
}

/* Travel arrows follow the machine's axes, whichever way the stock is turned. */
static void include_contacts(tu_svg_box *box, const tu_plan *plan, int axis)
{
    const tu_plan_axis *own = &plan->axis[axis];
    double radius = isfinite(own->radius) ? own->radius : 2;
    for (int k = 0; k < (own->bore ? 2 : 1); k++) {
        tu_svg_point at = tu_plan_spot(plan, axis, own->contact[k].u, own->contact[k].v);
        double room = radius + TRAVEL_ROOM_MM;
        include(box, at, axis == TU_AXIS_X ? room : radius, axis == TU_AXIS_X ? radius : room);
    }
}

/* What the plan takes up, seen from the zero. */
static tu_svg_box bounds(const tu_plan *plan)
{
    tu_svg_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    const tu_plan_axis *x = &plan->axis[0], *y = &plan->axis[1];
    for (int corner = 0; corner < 4; corner++) {
        double u = corner % 2 ? x->rows_end : fmin(x->stock_in - 2, x->text_in);
        double v = corner / 2 ? y->rows_end : fmin(y->stock_in - 2, y->text_in);
        include(&box, tu_plan_spot(plan, TU_AXIS_X, u, v), 0, 0);
    }
    for (int axis = 0; axis < 2; axis++)
        if (plan->axis[axis].drawn)
            include_contacts(&box, plan, axis);
    if (plan->skewed) {
        tu_svg_point end = tu_plan_spot(plan, TU_AXIS_X, 0, 0);
        end.x_mm -= x->sign * (ANGLE_ROOM_MM - x->stock_in);
        end.y_mm -= x->sign * x->stock_in * sin(plan->turn_rad) / 2;
        include(&box, end, 0, 6);
    }
    return box;
}

tu_plan tu_plan_lay_out(const tu_zero_result *result, tu_svg_box window)
{
    tu_plan real = measure(result);
    double width = window.right - window.left;
    double height = window.bottom - window.top;
    tu_plan plan = real;
    for (size_t i = 0; i < tu_drawing_scale_count(); i++) {
        plan = lay(&real, tu_drawing_scale_at(i));
        plan.origin = (tu_svg_point){0, 0};
        tu_svg_box box = bounds(&plan);
        plan.origin = (tu_svg_point){(window.left + window.right - box.left - box.right) / 2,
                                     (window.top + window.bottom - box.top - box.bottom) / 2};
        bool small = !tu_plan_is_z_only(&plan) || plan.tip_radius <= TIP_MOST_MM;
        if (box.right - box.left <= width && box.bottom - box.top <= height && small)
            break;
    }
    return plan;
}
