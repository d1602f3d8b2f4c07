/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_grid.c - a grid over the bed: its points there and back, round what is in the way.
 */
#include "program/plan_route.h"
#include "program/plan_tour.h"
#include "program/plan_write.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double spacing_least_mm = 1.0, area_most_mm = 10000.0;
static const double variation_least_mm = 0.01, variation_most_mm = TU_PLAN_VARIATION_MAX_MM;

enum { PARTS_MAX = 64 };

/* Orders of going through the points: always from the left; there and back along X; along Y. */
typedef enum grid_order { FROM_THE_LEFT, ALONG_X, ALONG_Y } grid_order;

/* The grid at work. part: the component of the free area that a point lies in, -1 none. */
typedef struct grid {
    const tu_plan_grid *plan;
    tu_plan_routes routes;
    tu_plan_tour tour;
    int part[TU_TOUR_MAX];
    int chosen;
    double naive_mm;
    double window_mm;
} grid;

/* --- Points --- */

static tu_plan_spot spot_at(const tu_plan_grid *plan, size_t column, size_t row)
{
    const tu_rectangle *area = &plan->area;
    double x = (double)column / (double)(plan->columns - 1);
    double y = (double)row / (double)(plan->rows - 1);
    return (tu_plan_spot){area->x0_mm + x * (area->x1_mm - area->x0_mm),
                          area->y0_mm + y * (area->y1_mm - area->y0_mm)};
}

static size_t count_of(const tu_plan_grid *plan)
{
    return plan->place ? plan->place_count : plan->columns * plan->rows;
}

/* The point at a place in an order; a list has the one order it is in. */
static size_t index_at(const tu_plan_grid *plan, size_t place, grid_order order)
{
    if (plan->place)
        return place;
    size_t across = order == ALONG_Y ? plan->rows : plan->columns;
    size_t line = place / across, along = place % across;
    if (order != FROM_THE_LEFT && line % 2 == 1)
        along = across - 1 - along;
    return order == ALONG_Y ? along * plan->columns + line : line * plan->columns + along;
}

static tu_plan_spot spot_of(const tu_plan_grid *plan, size_t index)
{
    if (plan->place)
        return (tu_plan_spot){plan->place[index][TU_AXIS_X], plan->place[index][TU_AXIS_Y]};
    return spot_at(plan, index % plan->columns, index / plan->columns);
}

/* The part that a spot lies in, by a way to the last point found of each; a new one if none. */
static int find_part(grid *g, tu_plan_spot spot, tu_plan_spot last[PARTS_MAX], int *count)
{
    for (int part = *count - 1; part >= 0; part--) {
        if (tu_plan_routes_find(&g->routes, last[part], spot, &g->tour.way)) {
            last[part] = spot;
            return part;
        }
    }
    if (*count == PARTS_MAX)
        return -1;
    last[*count] = spot;
    return (*count)++;
}

/* Sorts the points into parts that no way joins, and takes the largest. */
static size_t choose_points(grid *g)
{
    tu_plan_spot last[PARTS_MAX];
    size_t size[PARTS_MAX] = {0};
    int count = 0;
    g->chosen = -1;
    for (size_t i = 0; i < count_of(g->plan); i++) {
        size_t index = index_at(g->plan, i, ALONG_X);
        tu_plan_spot spot = spot_of(g->plan, index);
        g->part[index] = -1;
        if (!tu_plan_routes_allow(&g->routes, spot))
            continue;
        int part = find_part(g, spot, last, &count);
        g->part[index] = part;
        if (part >= 0)
            size[part]++;
    }
    for (int part = 0; part < count; part++)
        if (g->chosen < 0 || size[part] > size[g->chosen])
            g->chosen = part;
    return g->chosen < 0 ? 0 : size[g->chosen];
}

/* Takes the chosen points in an order; the length of that. */
static double take_order(grid *g, grid_order order)
{
    g->tour.routes = &g->routes;
    g->tour.count = 0;
    for (size_t i = 0; i < count_of(g->plan); i++) {
        size_t index = index_at(g->plan, i, order);
        if (g->part[index] == g->chosen)
            g->tour.spot[g->tour.count++] = spot_of(g->plan, index);
    }
    return tu_plan_tour_measure(&g->tour);
}

/* The shortest of the orders, made shorter. */
static double choose_order(grid *g)
{
    g->naive_mm = take_order(g, FROM_THE_LEFT);
    double along_y = take_order(g, ALONG_Y), along_x = take_order(g, ALONG_X);
    if (g->naive_mm < along_x && g->naive_mm < along_y)
        take_order(g, FROM_THE_LEFT);
    else if (along_y < along_x)
        take_order(g, ALONG_Y);
    return tu_plan_tour_shorten(&g->tour);
}

/* --- The program --- */

static void touch_bed(tu_plan_writer *writer, tu_range place)
{
    const tu_plan_contact contact = {.axis = TU_AXIS_Z,
                                     .direction = -1,
                                     .place = place,
                                     .repeats = writer->style->repeats,
                                     .counts = true,
                                     .feed_mm_per_min = NAN};
    tu_plan_touch(writer, &contact);
    /* From here on Z counts from this point. */
    writer->at[TU_AXIS_Z] = tu_range_about(0.0, TU_PLAN_ALLOWANCE_MM);
}

static void write_grid(tu_plan_writer *writer, const void *context)
{
    /* The way is scratch space; nothing else changes. */
    grid *g = *(grid *const *)context;
    double variation = g->plan->variation_mm;
    double lift = variation + writer->style->clearance_mm;
    const tu_plan_tour *tour = &g->tour;
    for (size_t i = 0; i < tour->count; i++) {
        if (i == 0)
            tu_plan_go(writer, tour->spot[0].x, tour->spot[0].y);
        else
            tu_plan_routes_find(&g->routes, tour->spot[i - 1], tour->spot[i], &g->tour.way);
        for (size_t k = 0; i > 0 && k < tour->way.count; k++)
            tu_plan_go(writer, tour->way.spot[k].x, tour->way.spot[k].y);
        touch_bed(writer, i == 0 ? tu_range_about(0.0, 0.0) : tu_range_about(0.0, variation));
        tu_plan_move_to(writer, TU_AXIS_Z, lift);
    }
    /* Heights count from the last point: seen from the first, all that is a variation lower or
     * higher. */
    double low = 2.0 * variation + writer->style->press_mm + 2.0 * TU_PLAN_ALLOWANCE_MM;
    tu_plan_reach(writer, TU_AXIS_Z,
                  (tu_range){-low, lift + variation + 2.0 * TU_PLAN_ALLOWANCE_MM});
}

/* --- Checks --- */

static bool is_length(double value)
{
    return fabs(value) <= area_most_mm;
}

static tu_status check_places(const tu_plan_grid *plan, tu_error *error)
{
    const tu_rectangle *area = &plan->area;
    if (plan->place_count == 0 || plan->place_count > TU_GRID_PLACES_MAX)
        return tu_fail(error, TU_DATA_RANGE, NULL, "%zu places to touch; 1 to %d can be",
                       plan->place_count, TU_GRID_PLACES_MAX);
    for (size_t i = 0; i < plan->place_count; i++) {
        const double x = plan->place[i][TU_AXIS_X], y = plan->place[i][TU_AXIS_Y];
        if (!(x >= area->x0_mm && x <= area->x1_mm && y >= area->y0_mm && y <= area->y1_mm))
            return tu_fail(error, TU_DATA_RANGE, NULL,
                           "place %zu, X %.3f Y %.3f, lies outside the area", i + 1, x, y);
    }
    return TU_OK;
}

static tu_status check_spacing(const tu_plan_grid *plan, int axis, double size, tu_error *error)
{
    const char *where = axis == TU_AXIS_X ? "{columns}" : "{rows}";
    const size_t count = axis == TU_AXIS_X ? plan->columns : plan->rows;
    if (count < 2 || count > TU_GRID_MAX)
        return tu_fail(error, TU_DATA_RANGE, where, "must be 2 to %d", TU_GRID_MAX);
    double spacing = size / (double)(count - 1);
    if (spacing < spacing_least_mm)
        return tu_fail(error, TU_DATA_RANGE, where,
                       "the points would stand %.3f mm apart, below %g mm: fewer of them, or a "
                       "larger {area}",
                       spacing, spacing_least_mm);
    return TU_OK;
}

static tu_status check_area(const tu_plan_grid *plan, tu_error *error)
{
    const tu_rectangle *area = &plan->area;
    if (!is_length(area->x0_mm) || !is_length(area->x1_mm) || !is_length(area->y0_mm) ||
        !is_length(area->y1_mm))
        return tu_fail(error, TU_DATA_RANGE, "{area}", "must lie within %g m of the work's zero",
                       area_most_mm / 1000.0);
    if (!(area->x0_mm < area->x1_mm && area->y0_mm < area->y1_mm))
        return tu_fail(error, TU_DATA_RANGE, "{area}",
                       "X0,Y0 is the front left corner and X1,Y1 the back right one");
    const double size[] = {area->x1_mm - area->x0_mm, area->y1_mm - area->y0_mm};
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        tu_status status = plan->place ? TU_OK : check_spacing(plan, axis, size[axis], error);
        if (status)
            return status;
        double travel = plan->machine->travel_high_mm[axis] - plan->machine->travel_low_mm[axis];
        if (size[axis] > travel)
            return tu_fail(error, TU_DATA_RANGE, "{area}",
                           "is %.1f mm along %c, and the machine's travel is %.1f mm: another "
                           "unit?",
                           size[axis], tu_axis_letter((tu_axis)axis), travel);
    }
    return plan->place ? check_places(plan, error) : TU_OK;
}

static tu_status check_keep_outs(const tu_plan_grid *plan, tu_error *error)
{
    if (plan->keep_out_count > TU_KEEP_OUT_MAX)
        return tu_fail(error, TU_DATA_RANGE, "{keep_out}", "more than %d", TU_KEEP_OUT_MAX);
    for (size_t i = 0; i < plan->keep_out_count; i++) {
        const tu_rectangle *r = &plan->keep_out[i];
        if (!is_length(r->x0_mm) || !is_length(r->x1_mm) || !is_length(r->y0_mm) ||
            !is_length(r->y1_mm) || !(r->x0_mm < r->x1_mm && r->y0_mm < r->y1_mm))
            return tu_fail(error, TU_DATA_RANGE, "{keep_out}",
                           "number %zu: X0,Y0 is the front left corner and X1,Y1 the back right "
                           "one",
                           i + 1);
    }
    return TU_OK;
}

static tu_status check_grid(const tu_plan_grid *plan, const tu_plan_style *style, tu_error *error)
{
    tu_status status = tu_plan_check_style(style, error);
    if (!status && style->set)
        status = tu_fail(error, TU_USAGE, "{set}",
                         "a grid says how flat the bed is and sets nothing: leave {set} out");
    if (!status && plan->cutter == NULL)
        status =
            tu_fail(error, TU_DATA_MISSING, "{cutter}",
                    "a grid needs the cutter that touches: its radius keeps off the keep-outs");
    if (!status &&
        !(plan->cutter->diameter.value_mm > 0.0 && isfinite(plan->cutter->diameter.value_mm)))
        status = tu_fail(error, TU_DATA_RANGE, "{cutter}", "its diameter must be above zero");
    if (!status &&
        !(plan->variation_mm >= variation_least_mm && plan->variation_mm <= variation_most_mm))
        status = tu_fail(error, TU_DATA_RANGE, "{variation}", "must lie from %g to %g mm, found %g",
                         variation_least_mm, variation_most_mm, plan->variation_mm);
    if (!status)
        status = check_area(plan, error);
    return !status ? check_keep_outs(plan, error) : status;
}

/* --- The whole --- */

static void tell_grid(const grid *g, tu_plan_writer *writer, size_t points, double path_mm)
{
    tu_plan_summary *summary = writer->summary;
    const tu_plan_style *style = writer->style;
    tu_plan_spot first = g->tour.spot[0];
    summary->points = points;
    summary->skipped = count_of(g->plan) - points;
    summary->path_mm = path_mm;
    summary->naive_mm = g->naive_mm;
    size_t cut_off = 0;
    for (size_t i = 0; i < count_of(g->plan); i++)
        cut_off += g->part[i] != g->chosen && tu_plan_routes_allow(&g->routes, spot_of(g->plan, i));
    if (cut_off > 0)
        tu_warn(&summary->warnings,
                "%zu points are left out because no way inside the area leads to them past the "
                "keep-outs; plan a second grid for them.",
                cut_off);
    if (g->plan->place)
        tu_plan_format(summary->title, sizeof summary->title,
                       "trueup: touches of %zu place%s on the bed again, cutter %s", points,
                       points == 1 ? "" : "s", tu_plan_name(g->plan->cutter->name).text);
    else
        tu_plan_format(summary->title, sizeof summary->title,
                       "trueup: touches for a grid of %zu by %zu points on the bed, cutter %s",
                       g->plan->columns, g->plan->rows, tu_plan_name(g->plan->cutter->name).text);
    tu_plan_format(
        summary->start, sizeof summary->start,
        "the tip at X %s, Y %s in work coordinates of %s, each within %s; %s to %s above "
        "the bed. That offset's X and Y must be right, the keep-outs are counted in it.",
        tu_plan_length(style, first.x).text, tu_plan_length(style, first.y).text,
        tu_plan_slot(style).text, tu_plan_words(style, g->window_mm).text,
        tu_plan_words(style, style->height_mm[0]).text,
        tu_plan_words(style, style->height_mm[1]).text);
    const double start[] = {first.x, first.y};
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        summary->start_mm[axis] = start[axis];
        writer->start[axis] = writer->at[axis] = tu_range_about(start[axis], g->window_mm);
    }
    writer->start[TU_AXIS_Z] = writer->at[TU_AXIS_Z] =
        (tu_range){style->height_mm[0], style->height_mm[1]};
}

/* What the cutter, turning or not, reaches sideways at most. */
static double largest_radius(const tu_cutter *cutter)
{
    double diameter = cutter->diameter.value_mm;
    if (cutter->diameter.tolerance_mm > 0.0)
        diameter += cutter->diameter.tolerance_mm;
    if (cutter->run_out.value_mm > 0.0)
        diameter += cutter->run_out.value_mm;
    return diameter / 2.0;
}

static tu_status run_grid(FILE *out, grid *g, tu_plan_writer *writer)
{
    const tu_plan_grid *plan = g->plan;
    const tu_plan_style *style = writer->style;
    double keep = largest_radius(plan->cutter) + style->clearance_mm;
    /* From anywhere in the window the first move must not meet a keep-out. */
    g->window_mm = plan->keep_out_count > 0 ? fmin(style->window_mm, 0.7 * style->clearance_mm)
                                            : style->window_mm;
    tu_plan_routes_start(&g->routes, plan->area, plan->keep_out, plan->keep_out_count, keep);
    size_t points = choose_points(g);
    if (points == 0)
        return tu_fail(writer->error, TU_DATA_CONFLICT, "{keep_out}",
                       "the keep-outs leave no point of the grid: each is kept off by %.1f mm, the "
                       "cutter's radius and {clearance}",
                       keep);
    tell_grid(g, writer, points, choose_order(g));
    return tu_plan_run(out, writer, plan->machine, write_grid, &g);
}

tu_status tu_plan_write_grid(FILE *out, const tu_plan_grid *plan, const tu_plan_style *style,
                             tu_plan_summary *summary, tu_error *error)
{
    *summary = (tu_plan_summary){.path_mm = NAN, .naive_mm = NAN};
    tu_plan_writer writer = {.style = style, .summary = summary, .error = error};
    tu_status status = check_grid(plan, style, error);
    if (!status)
        status = tu_plan_take_series(writer.series, plan->series, "bed", error);
    if (status)
        return status;
    grid *g = malloc(sizeof *g);
    if (g == NULL)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    g->plan = plan;
    status = run_grid(out, g, &writer);
    free(g);
    return status;
}
