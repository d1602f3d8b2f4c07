/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_start.c - where the tip must be at the start, and whether the plate has room for that.
 */
#include "program/made_for.h"
#include "program/plan_place.h"

#include <math.h>
#include <string.h>

/* Where a plate has no wall on an axis: this far over the stock. Common practice, no source. */
static const double usual_inside_mm = 20.0;
/* What the tip is off its place along a wall, beside the window. */
static const double slack_mm = 1.0;
/* A point of the tip has to meet the face beside a bore, not its rim. */
static const double beside_bore_mm = 2.0;

/* Up to a distance that a rule shows: half a millimetre, or a fiftieth of an inch. */
static double up_to_grain(const tu_plan_table *table, double distance_mm)
{
    double grain = table->style->unit == TU_UNIT_INCH ? 0.02 * TU_MM_PER_INCH : 0.5;
    return ceil(distance_mm / grain - 1e-9) * grain;
}

/* How far the plate's turning moves what lies this far along the other axis. */
static double skew_spread(const tu_plan_table *table, double along_mm)
{
    return tan(table->style->skew_rad) * fabs(along_mm);
}

/* --- Room on the plate --- */

/* The range that the plate must cover on an axis, along the outward direction. */
static tu_range needed(const tu_plan_table *table, tu_axis axis, double start_mm)
{
    const tu_plan_side *side = &table->side[axis];
    double half = table->style->window_mm + TU_PLAN_RIM_MM + side->spread_mm;
    return tu_range_about(side->outward * start_mm, half);
}

static bool fits(const tu_plan_table *table, tu_axis axis, double start_mm)
{
    const tu_quantity *extent = table->plate->extent[table->side[axis].index];
    tu_range need = needed(table, axis, start_mm);
    return !(need.low < extent[0].value_mm) && !(need.high > extent[1].value_mm);
}

static const char *edge_name(tu_axis axis, int outward)
{
    if (axis == TU_AXIS_X)
        return outward < 0 ? "left" : "right";
    return outward < 0 ? "front" : "back";
}

static tu_status check_room(const tu_plan_table *table, tu_axis axis, tu_warnings *warnings,
                            tu_error *error)
{
    const tu_plan_side *side = &table->side[axis];
    const tu_quantity *extent = table->plate->extent[side->index];
    tu_range need = needed(table, axis, side->start_mm);
    const char *edge = edge_name(axis, side->outward);
    if (!fits(table, axis, side->start_mm))
        return tu_fail(error, TU_DATA_CONFLICT, "{window}",
                       "the start needs plate %s to reach from %.1f to %.1f mm outward of the %s "
                       "edge, and it reaches from %.1f to %.1f mm: use a smaller {window} or "
                       "{clearance}, or another plate",
                       table->plate->name, need.low, need.high, edge, extent[0].value_mm,
                       extent[1].value_mm);
    bool high_known = side->kind == TU_PLAN_SIDE || tu_quantity_is_stated(extent[1]);
    if (!tu_quantity_is_stated(extent[0]) || !high_known)
        tu_warn(warnings,
                "plate %s states no extent there: its face must reach at least from %.1f to %.1f "
                "mm outward of the %s edge (below 0: over the stock). Measure that.",
                table->plate->name, need.low, need.high, edge);
    return TU_OK;
}

/* --- Walls --- */

static double wall_start(const tu_plan_table *table, tu_axis axis)
{
    const tu_plan_side *side = &table->side[axis];
    const tu_plan_style *style = table->style;
    double window = style->window_mm + side->spread_mm;
    const tu_quantity *extent = table->plate->extent[side->index];
    switch (side->kind) {
    case TU_PLAN_RISING:
        return side->face_mm -
               side->direction *
                   up_to_grain(table, table->radius_mm + style->clearance_mm + window);
    case TU_PLAN_SIDE:
        return side->face_mm + side->direction * up_to_grain(table, TU_PLAN_INSIDE_MM + window);
    case TU_PLAN_NO_WALL:
        break;
    }
    if (tu_quantity_is_stated(extent[0]) && tu_quantity_is_stated(extent[1]))
        return side->outward * (extent[0].value_mm + extent[1].value_mm) / 2.0;
    return -side->outward * usual_inside_mm;
}

/* The start on one axis widens the spread on the other, so this settles in a few rounds. */
static void place_at_walls(tu_plan_table *table)
{
    const double own[] = {table->side[0].spread_mm + TU_PLAN_ALLOWANCE_MM,
                          table->side[1].spread_mm + TU_PLAN_ALLOWANCE_MM};
    for (int round = 0; round < 4; round++) {
        for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
            double along =
                fabs(table->side[1 - axis].start_mm) + table->style->window_mm + slack_mm;
            table->side[axis].spread_mm = own[axis] + skew_spread(table, along);
            table->side[axis].start_mm = wall_start(table, (tu_axis)axis);
        }
    }
}

/* --- Bores --- */

static bool clear_of_stock(const tu_plan_table *table, const double start_mm[2])
{
    if (table->plan->seat == TU_SEAT_STOCK)
        return true;
    double keep = table->radius_mm + table->style->clearance_mm + table->style->window_mm;
    return table->side[0].outward * start_mm[0] >= keep ||
           table->side[1].outward * start_mm[1] >= keep;
}

/*
 * How far from the bore's centre the start is; what the plate's turning moves goes into the spread.
 * Measured along the machine's axes from where the centre should be, a turned centre lies off by
 * what it is away from the corner; measured along the turned plate from the centre itself, the
 * start lies off by what it is away from that. The greater counts, either may be meant.
 */
static double spread_at_bore(tu_plan_table *table)
{
    tu_plan_side *side = table->side;
    const double own[] = {side[0].spread_mm, side[1].spread_mm};
    double window = table->style->window_mm, away = 0.0;
    for (int round = 0; round < 4; round++) {
        for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
            double along = fmax(fabs(side[1 - axis].face_mm), away + window);
            side[axis].spread_mm = own[axis] + skew_spread(table, along);
        }
        away = up_to_grain(table, table->plate->bore.diameter.value_mm / 2.0 + beside_bore_mm +
                                      window + fmax(side[0].spread_mm, side[1].spread_mm));
    }
    return away;
}

/* Beside the bore, over the stock first, and wherever else the plate has room. */
static tu_status place_at_bore(tu_plan_table *table, tu_error *error)
{
    tu_plan_side *side = table->side;
    double window = table->style->window_mm;
    double away = spread_at_bore(table);
    for (int way = 0; way < 4; way++) {
        int axis = way % 2;
        double start[] = {side[0].face_mm, side[1].face_mm};
        start[axis] += (way < 2 ? -1 : 1) * side[axis].outward * away;
        if (fits(table, TU_AXIS_X, start[0]) && fits(table, TU_AXIS_Y, start[1]) &&
            clear_of_stock(table, start)) {
            side[0].start_mm = start[0];
            side[1].start_mm = start[1];
            break;
        }
        if (way == 3)
            return tu_fail(error, TU_DATA_CONFLICT, "{window}",
                           "beside the bore of plate %s there is no room for the start: it needs "
                           "%.1f mm of face from the bore's centre, and clear of the stock; use a "
                           "smaller {window}",
                           table->plate->name, away + window + TU_PLAN_RIM_MM);
    }
    double off = (window + fmax(side[0].spread_mm, side[1].spread_mm)) * sqrt(2.0);
    double room = table->plate->bore.diameter.value_mm / 2.0 - table->radius_mm - TU_PLAN_GAP_MM;
    if (off > room)
        return tu_fail(error, TU_DATA_CONFLICT, "{window}",
                       "the start may be off by %.2f mm, and then cutter %s would not go into the "
                       "bore: it has %.2f mm of room; use a {window} below %.1f mm",
                       off, table->cutter->name, room,
                       fmax(room / sqrt(2.0) - (off / sqrt(2.0) - window), 0.0));
    return TU_OK;
}

/* --- The whole --- */

tu_status tu_plan_place_start(tu_plan_table *table, tu_warnings *warnings, tu_error *error)
{
    tu_plan_side *side = table->side;
    bool sideways = side[0].touched || side[1].touched;
    if (!sideways) {
        side[0].start_mm = side[1].start_mm = NAN;
        return TU_OK;
    }
    tu_status status = TU_OK;
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        const tu_quantity *extent = table->plate->extent[side[axis].index];
        bool stated = tu_quantity_is_stated(extent[0]) && tu_quantity_is_stated(extent[1]);
        if (table->plan->seat == TU_SEAT_BED && !stated)
            return tu_fail(error, TU_DATA_MISSING, "{plate}",
                           "the plate lies on the bed, so the stock stands beside it: state the "
                           "extent of plate %s in the shop file, along a and b",
                           table->plate->name);
    }
    if (table->bore)
        status = place_at_bore(table, error);
    else
        place_at_walls(table);
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y && !status; axis++)
        status = check_room(table, (tu_axis)axis, warnings, error);
    return status;
}

/* "X 7.5 mm right of the face of wall a": what can be seen and measured on the plate. */
static void tell_place(const tu_plan_table *table, tu_axis axis, char *text, size_t size)
{
    static const char *const ways[2][2] = {{"left of", "right of"}, {"before", "behind"}};
    const tu_plan_side *side = &table->side[axis];
    double from = side->face_mm;
    char what[48];
    if (table->bore)
        tu_plan_format(what, sizeof what, "the bore's centre");
    else if (side->kind != TU_PLAN_NO_WALL)
        tu_plan_format(what, sizeof what, "the touched face of wall %c", 'a' + side->index);
    else {
        from = 0.0;
        tu_plan_format(what, sizeof what, "the stock's %s edge", edge_name(axis, side->outward));
    }
    double away = side->start_mm - from;
    if (fabs(away) < 1e-9)
        tu_plan_format(text, size, "%c at %s", tu_axis_letter(axis), what);
    else
        tu_plan_format(text, size, "%c %s %s %s", tu_axis_letter(axis),
                       tu_plan_words(table->style, fabs(away)).text, ways[axis][away > 0.0], what);
}

static void tell_start(const tu_plan_table *table, tu_plan_summary *summary)
{
    const tu_plan_style *style = table->style;
    tu_plan_text low = tu_plan_words(style, style->height_mm[0]);
    tu_plan_text high = tu_plan_words(style, style->height_mm[1]);
    if (isnan(table->side[0].start_mm)) {
        tu_plan_format(summary->start, sizeof summary->start,
                       "the tip over %s, clear of every wall, bore and rim; %s to %s above it.",
                       table->plate != NULL ? "the plate's face" : "the surface", low.text,
                       high.text);
        return;
    }
    tu_target corner = table->corner;
    char x[100], y[100];
    tell_place(table, TU_AXIS_X, x, sizeof x);
    tell_place(table, TU_AXIS_Y, y, sizeof y);
    tu_plan_format(summary->start, sizeof summary->start,
                   "the plate lies on the %s-%s corner; the tip over its face, %s, %s, each within "
                   "%s; %s to %s above the face.",
                   edge_name(TU_AXIS_Y, corner.outward[TU_AXIS_Y]),
                   edge_name(TU_AXIS_X, corner.outward[TU_AXIS_X]), x, y,
                   tu_plan_words(style, style->window_mm).text, low.text, high.text);
}

static void tell_window(const tu_plan_table *table, tu_made_for *made)
{
    const tu_plan_style *style = table->style;
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        if (!isnan(table->side[axis].start_mm))
            made->size[axis == TU_AXIS_X ? TU_MADE_FOR_START_X : TU_MADE_FOR_START_Y] =
                tu_quantity_mm(table->side[axis].start_mm, style->window_mm);
    }
    const double *height = style->height_mm;
    if (table->plate != NULL)
        made->size[TU_MADE_FOR_START_Z] =
            tu_quantity_mm((height[0] + height[1]) / 2.0, (height[1] - height[0]) / 2.0);
}

/* What a wrong plate, cutter or stock in the machine would differ in. */
static void tell_sizes(const tu_plan_table *table, tu_plan_summary *summary)
{
    const tu_plate *plate = table->plate;
    const tu_cutter *cutter = table->cutter;
    tu_made_for made = tu_made_for_start(table->style->unit);
    made.corner = table->corner;
    made.seat = table->plan->seat;
    if (plate != NULL) {
        made.size[TU_MADE_FOR_PLATE] = plate->thickness;
        if (plate->wall[0].present)
            made.size[TU_MADE_FOR_WALL_A] = plate->wall[0].offset;
        if (plate->wall[1].present)
            made.size[TU_MADE_FOR_WALL_B] = plate->wall[1].offset;
        if (plate->bore.present) {
            made.size[TU_MADE_FOR_BORE_A] = plate->bore.centre[0];
            made.size[TU_MADE_FOR_BORE_B] = plate->bore.centre[1];
            made.size[TU_MADE_FOR_BORE] = plate->bore.diameter;
        }
    }
    if (cutter != NULL) {
        made.has_shape = true;
        made.shape = cutter->shape;
        made.size[TU_MADE_FOR_CUTTER] = cutter->diameter;
        if (cutter->shape == TU_CUTTER_BULL)
            made.size[TU_MADE_FOR_CUTTER_CORNER] = cutter->corner_radius;
        if (cutter->shape == TU_CUTTER_VEE) {
            made.size[TU_MADE_FOR_CUTTER_TIP] = cutter->tip;
            made.included_rad = cutter->included_rad;
        }
    }
    if (tu_target_asks(table->plan->target, TU_AXIS_Z))
        made.size[TU_MADE_FOR_STOCK] = table->plan->stock_thickness;
    tell_window(table, &made);
    tu_made_for_write(&made, summary->made_for, sizeof summary->made_for);
}

tu_status tu_plan_place_writer(const tu_plan_table *table, const char *what, const char *series,
                               tu_plan_writer *writer)
{
    const tu_plan_style *style = table->style;
    tu_plan_summary *summary = writer->summary;
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        double start = table->side[axis].start_mm;
        summary->start_mm[axis] = start;
        writer->start[axis] =
            isnan(start) ? tu_range_about(0.0, 0.0) : tu_range_about(start, style->window_mm);
        if (table->plan != NULL && table->plan->seat == TU_SEAT_BED && !isnan(start))
            writer->free_side[axis] = table->side[axis].outward;
        writer->at[axis] = writer->start[axis];
    }
    writer->start[TU_AXIS_Z] = writer->at[TU_AXIS_Z] =
        (tu_range){style->height_mm[0], style->height_mm[1]};
    writer->radius_mm = table->radius_mm + style->clearance_mm;
    char plate[TU_NAME_SIZE + 16] = "", cutter[TU_NAME_SIZE + 16] = "";
    if (table->plate != NULL)
        tu_plan_format(plate, sizeof plate, ", plate %s", tu_plan_name(table->plate->name).text);
    if (table->cutter != NULL)
        tu_plan_format(cutter, sizeof cutter, ", cutter %s",
                       tu_plan_name(table->cutter->name).text);
    tu_plan_format(summary->title, sizeof summary->title, TU_MADE_FOR_TITLE "%s%s%s%s", what, plate,
                   cutter,
                   table->plan != NULL && table->plan->seat == TU_SEAT_BED ? ", on the bed" : "");
    tell_start(table, summary);
    tell_sizes(table, summary);
    return tu_plan_take_series(writer->series, series, "", writer->error);
}
