/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_route.c - see plan_route.h.
 */
#include "program/plan_route.h"

#include <math.h>
#include <string.h>

/* Corners of ways stand a little further off, lines may come a little nearer: rounding of
 * coordinates to what a program writes must not close a way. */
static const double corner_slack_mm = 0.003, line_slack_mm = 0.005;

/* --- Distances --- */

double tu_rectangle_distance(const tu_rectangle *r, tu_plan_spot p)
{
    double x = fmax(fmax(r->x0_mm - p.x, p.x - r->x1_mm), 0.0);
    double y = fmax(fmax(r->y0_mm - p.y, p.y - r->y1_mm), 0.0);
    return hypot(x, y);
}

static double distance_to_line(tu_plan_spot p, tu_plan_spot from, tu_plan_spot to)
{
    double x = to.x - from.x, y = to.y - from.y;
    double square = x * x + y * y;
    double along = square > 0.0 ? ((p.x - from.x) * x + (p.y - from.y) * y) / square : 0.0;
    along = fmin(fmax(along, 0.0), 1.0);
    return hypot(p.x - from.x - along * x, p.y - from.y - along * y);
}

/* Cuts the range of the line's parameter down to where it is within low..high along an axis. */
static bool clip(double from, double to, double low, double high, double range[2])
{
    double step = to - from;
    if (step == 0.0)
        return from >= low && from <= high;
    double a = (low - from) / step, b = (high - from) / step;
    range[0] = fmax(range[0], fmin(a, b));
    range[1] = fmin(range[1], fmax(a, b));
    return range[0] <= range[1];
}

static bool crosses(const tu_rectangle *r, tu_plan_spot from, tu_plan_spot to)
{
    double range[2] = {0.0, 1.0};
    return clip(from.x, to.x, r->x0_mm, r->x1_mm, range) &&
           clip(from.y, to.y, r->y0_mm, r->y1_mm, range);
}

double tu_rectangle_distance_of_line(const tu_rectangle *r, tu_plan_spot from, tu_plan_spot to)
{
    if (crosses(r, from, to))
        return 0.0;
    double least = fmin(tu_rectangle_distance(r, from), tu_rectangle_distance(r, to));
    const tu_plan_spot corner[] = {
        {r->x0_mm, r->y0_mm}, {r->x1_mm, r->y0_mm}, {r->x1_mm, r->y1_mm}, {r->x0_mm, r->y1_mm}};
    for (int i = 0; i < 4; i++)
        least = fmin(least, distance_to_line(corner[i], from, to));
    return least;
}

/* --- The graph --- */

bool tu_plan_routes_allow(const tu_plan_routes *routes, tu_plan_spot spot)
{
    for (size_t i = 0; i < routes->keep_out_count; i++)
        if (tu_rectangle_distance(&routes->keep_out[i], spot) < routes->keep_mm)
            return false;
    return true;
}

static bool is_straight_way(const tu_plan_routes *routes, tu_plan_spot from, tu_plan_spot to)
{
    for (size_t i = 0; i < routes->keep_out_count; i++)
        if (tu_rectangle_distance_of_line(&routes->keep_out[i], from, to) <
            routes->keep_mm - line_slack_mm)
            return false;
    return true;
}

static double straight_length(const tu_plan_routes *routes, tu_plan_spot from, tu_plan_spot to)
{
    return is_straight_way(routes, from, to) ? hypot(to.x - from.x, to.y - from.y)
                                             : (double)INFINITY;
}

static void add_node(tu_plan_routes *routes, double x, double y)
{
    const tu_rectangle *area = &routes->area;
    tu_plan_spot spot = {x, y};
    if (x >= area->x0_mm && x <= area->x1_mm && y >= area->y0_mm && y <= area->y1_mm &&
        tu_plan_routes_allow(routes, spot))
        routes->node[routes->node_count++] = spot;
}

static void add_corners(tu_plan_routes *routes, const tu_rectangle *r)
{
    double far = routes->keep_mm + corner_slack_mm;
    double near = far * tan(M_PI / 8.0);
    for (int corner = 0; corner < 4; corner++) {
        bool right = corner == 1 || corner == 2, back = corner >= 2;
        double x = right ? r->x1_mm : r->x0_mm, y = back ? r->y1_mm : r->y0_mm;
        int to_x = right ? 1 : -1, to_y = back ? 1 : -1;
        add_node(routes, x + to_x * far, y + to_y * near);
        add_node(routes, x + to_x * near, y + to_y * far);
    }
}

void tu_plan_routes_start(tu_plan_routes *routes, tu_rectangle area, const tu_rectangle *keep_out,
                          size_t count, double keep_mm)
{
    routes->area = area;
    routes->keep_out = keep_out;
    routes->keep_out_count = count;
    routes->keep_mm = keep_mm;
    routes->node_count = 0;
    for (size_t i = 0; i < count; i++)
        add_corners(routes, &keep_out[i]);
    for (size_t i = 0; i < routes->node_count; i++) {
        for (size_t j = 0; j < i; j++)
            routes->length[i][j] = routes->length[j][i] =
                straight_length(routes, routes->node[i], routes->node[j]);
        routes->length[i][i] = 0.0;
    }
}

/* --- The shortest way --- */

typedef struct search {
    double length[TU_ROUTE_NODES]; /* from the start */
    double rest[TU_ROUTE_NODES];   /* straight to the end */
    int before[TU_ROUTE_NODES];    /* -1: the start */
    bool done[TU_ROUTE_NODES];
} search;

static int nearest_open(const search *s, size_t count)
{
    int best = -1;
    for (size_t i = 0; i < count; i++)
        if (!s->done[i] && isfinite(s->length[i]) && (best < 0 || s->length[i] < s->length[best]))
            best = (int)i;
    return best;
}

/* The last node before the end, or -1. */
static int search_nodes(const tu_plan_routes *routes, search *s)
{
    int last = -1;
    double best = (double)INFINITY;
    for (int at; (at = nearest_open(s, routes->node_count)) >= 0;) {
        s->done[at] = true;
        if (s->length[at] >= best)
            break;
        if (s->length[at] + s->rest[at] < best) {
            best = s->length[at] + s->rest[at];
            last = at;
        }
        for (size_t i = 0; i < routes->node_count; i++) {
            double length = s->length[at] + routes->length[at][i];
            if (length < s->length[i]) {
                s->length[i] = length;
                s->before[i] = at;
            }
        }
    }
    return last;
}

static void collect(const tu_plan_routes *routes, const search *s, int last, tu_plan_spot to,
                    tu_plan_way *way)
{
    size_t count = 0;
    for (int at = last; at >= 0; at = s->before[at])
        count++;
    way->count = count + 1;
    way->spot[count] = to;
    for (int at = last; at >= 0; at = s->before[at])
        way->spot[--count] = routes->node[at];
    way->length_mm = s->length[last] + s->rest[last];
}

bool tu_plan_routes_find(const tu_plan_routes *routes, tu_plan_spot from, tu_plan_spot to,
                         tu_plan_way *way)
{
    way->length_mm = straight_length(routes, from, to);
    way->count = 1;
    way->spot[0] = to;
    if (isfinite(way->length_mm))
        return true;
    search s;
    for (size_t i = 0; i < routes->node_count; i++) {
        s.length[i] = straight_length(routes, from, routes->node[i]);
        s.rest[i] = straight_length(routes, routes->node[i], to);
        s.before[i] = -1;
        s.done[i] = false;
    }
    int last = search_nodes(routes, &s);
    if (last < 0)
        return false;
    collect(routes, &s, last, to, way);
    return true;
}
