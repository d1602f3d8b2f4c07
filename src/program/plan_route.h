/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_route.h - ways over an area that go round keep-outs at a distance (internal).
 *
 * A visibility graph: keep-outs grown by the distance have rounded corners, each of which is
 * rounded by an octagon's two vertices; the shortest way by Dijkstra's method (Numerische
 * Mathematik 1 (1959) 269-271). Whether a straight line is allowed is decided by its true distance
 * from the rectangles, not by the graph.
 */
#ifndef TRUEUP_PROGRAM_PLAN_ROUTE_H
#define TRUEUP_PROGRAM_PLAN_ROUTE_H

#include "trueup/plan.h"

/* A place in the area's coordinates. */
typedef struct tu_plan_spot {
    double x, y;
} tu_plan_spot;

enum { TU_ROUTE_NODES = 8 * TU_KEEP_OUT_MAX };

typedef struct tu_plan_routes {
    tu_rectangle area;
    const tu_rectangle *keep_out;
    size_t keep_out_count;
    double keep_mm;
    size_t node_count;
    tu_plan_spot node[TU_ROUTE_NODES];
    double length[TU_ROUTE_NODES][TU_ROUTE_NODES]; /* INFINITY: no straight way */
} tu_plan_routes;

/* A way from one spot to another: its corners, the last of them the other spot. */
typedef struct tu_plan_way {
    size_t count;
    tu_plan_spot spot[TU_ROUTE_NODES + 1];
    double length_mm;
} tu_plan_way;

/* Distance from a rectangle; 0 on it and within. */
double tu_rectangle_distance(const tu_rectangle *rectangle, tu_plan_spot spot);
/* Least distance of a straight line between two spots. */
double tu_rectangle_distance_of_line(const tu_rectangle *rectangle, tu_plan_spot from,
                                     tu_plan_spot to);

/* routes: caller-owned; the keep-outs must outlive it. */
void tu_plan_routes_start(tu_plan_routes *routes, tu_rectangle area, const tu_rectangle *keep_out,
                          size_t count, double keep_mm);
/* Whether the tip may stand there. */
bool tu_plan_routes_allow(const tu_plan_routes *routes, tu_plan_spot spot);
/* False where no way inside the area leads there. */
bool tu_plan_routes_find(const tu_plan_routes *routes, tu_plan_spot from, tu_plan_spot to,
                         tu_plan_way *way);

#endif
