/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * triangles.c - scattered points to triangles, by the Qhull library; heights over them.
 *
 * Not pure, as zone_hull.c: Qhull takes memory while it works, all of it given
 * back before tu_bed_model_take_triangles returns.
 *
 * Source: C. B. Barber, D. P. Dobkin, H. Huhdanpaa, "The Quickhull algorithm for convex hulls",
 * ACM Trans. Math. Software 22 (1996) 469-483, doi:10.1145/235815.235821.
 */
#include "bed/model_parts.h"
#include "bed/neighbours.h"
#include "bed/qhull_call.h"

#include <gsl/gsl_sort.h>
#include <math.h>
#include <string.h>

#define EDGE_TOLERANCE 1e-6 /* of the extent */
#define COMMAND        "qhull d Qt Qbb Qz Pp"

/* A triangle is a bridge, over what nobody touched, when an edge is longer than that many times the
 * usual distance of a place to its third nearest one. Not the nearest: places touched in pairs. Not
 * the triangles' own edges: where only the rim was touched, most of them are bridges. Below four,
 * places strewn at random would leave bridges all over; so they do at the rim only. */
#define BRIDGE_RATIO 4.0
enum { BRIDGE_NEIGHBOUR = 3 };

size_t tu_bed_mesh_bytes(size_t count)
{
    return tu_bed_squares_bytes(count) + 2 * tu_bed_memory_size(2 * count, 3 * sizeof(int32_t)) +
           tu_bed_memory_size(2 * count + 16, sizeof(int32_t)) +
           tu_bed_memory_size(count + 1, 2 * sizeof(double)) + (size_t)16 * TU_BED_ALIGNMENT;
}

static double turn(const tu_bed_point *a, const tu_bed_point *b, double x_mm, double y_mm)
{
    return (b->x_mm - a->x_mm) * (y_mm - a->y_mm) - (b->y_mm - a->y_mm) * (x_mm - a->x_mm);
}

/* The lower side of the lifted points is the triangulation; numbers its facets in visitid. */
static size_t number_facets(qhT *qh)
{
    facetT *facet;
    unsigned int count = 0;

    FORALLfacets facet->visitid = !facet->upperdelaunay && facet->simplicial ? ++count : 0;
    return count;
}

/* Which corner of a facet is not one of its neighbour's: the edge between them is opposite. */
static int corner_apart(const facetT *facet, const facetT *next)
{
    for (int k = 0; k < 3; k++)
        if (!qh_setin(next->vertices, SETelemt_(facet->vertices, k, vertexT)))
            return k;
    return 0;
}

/* False for a facet with a corner that is no point. */
static bool take_facet(qhT *qh, const facetT *facet, tu_bed_model *model)
{
    int32_t *corner = model->triangle[facet->visitid - 1];
    int32_t *across = model->neighbour[facet->visitid - 1];

    for (int k = 0; k < 3; k++) {
        corner[k] = (int32_t)qh_pointid(qh, SETelemt_(facet->vertices, k, vertexT)->point);
        across[k] = TU_BED_NONE;
        if (corner[k] < 0 || (size_t)corner[k] >= model->points)
            return false;
    }
    for (int k = 0; k < 3; k++) {
        const facetT *next = SETelemt_(facet->neighbors, k, facetT);
        if (next && next->visitid)
            across[corner_apart(facet, next)] = (int32_t)next->visitid - 1;
    }
    const tu_bed_point *c = &model->point[corner[2]];
    if (turn(&model->point[corner[0]], &model->point[corner[1]], c->x_mm, c->y_mm) < 0) {
        const int32_t swap[2] = {corner[1], across[1]};
        corner[1] = corner[2];
        across[1] = across[2];
        corner[2] = swap[0];
        across[2] = swap[1];
    }
    return true;
}

static tu_status take_facets(qhT *qh, tu_bed_model *model, tu_error *error)
{
    facetT *facet;

    model->triangles = number_facets(qh);
    if (model->triangles == 0 || model->triangles > 2 * model->points)
        return tu_fail(error, TU_NUMERIC, NULL,
                       "the points could not be triangulated: %zu triangles over %zu points",
                       model->triangles, model->points);
    FORALLfacets
    {
        if (facet->visitid && !take_facet(qh, facet, model))
            return tu_fail(error, TU_NUMERIC, NULL, "the points could not be triangulated");
    }
    return TU_OK;
}

static tu_status triangulate(tu_bed_model *model, double *coordinates, tu_error *error)
{
    qhT qhull;
    qhT *qh = &qhull;

    /* about the middle: Qhull lifts a point by its squared distance from the origin */
    const tu_bed_rectangle *e = &model->extent;
    for (size_t i = 0; i < model->points; i++) {
        coordinates[2 * i] = model->point[i].x_mm - (e->x_low_mm + e->x_high_mm) / 2;
        coordinates[2 * i + 1] = model->point[i].y_mm - (e->y_low_mm + e->y_high_mm) / 2;
    }
    tu_status status = tu_qhull_start(qh, 2, coordinates, model->points, COMMAND,
                                      "the points could not be triangulated", error);
    if (!status)
        status = take_facets(qh, model, error);
    tu_qhull_finish(qh);
    return status;
}

static size_t hint_at(const tu_bed_model *model, double x_mm, double y_mm)
{
    const tu_bed_rectangle *e = &model->extent;
    const double s = (x_mm - e->x_low_mm) / (e->x_high_mm - e->x_low_mm);
    const double t = (y_mm - e->y_low_mm) / (e->y_high_mm - e->y_low_mm);
    const double column = fmin(fmax(s, 0), 1) * (double)(model->hint_columns - 1);
    const double row = fmin(fmax(t, 0), 1) * (double)(model->hint_rows - 1);
    return (size_t)row * model->hint_columns + (size_t)column;
}

/* For each square of the extent a triangle nearby, where a search begins. */
static void place_hints(tu_bed_model *model)
{
    const size_t side = (size_t)sqrt((double)model->points) + 1;
    int32_t last = 0;

    model->hint_columns = model->hint_rows = side;
    for (size_t k = 0; k < side * side; k++)
        model->hint[k] = TU_BED_NONE;
    for (size_t i = 0; i < model->triangles; i++) {
        const tu_bed_point *p = &model->point[model->triangle[i][0]];
        model->hint[hint_at(model, p->x_mm, p->y_mm)] = (int32_t)i;
    }
    for (size_t k = 0; k < side * side; k++) {
        if (model->hint[k] == TU_BED_NONE)
            model->hint[k] = last;
        last = model->hint[k];
    }
}

/* The longest edge of a triangle that is no bridge; infinite with too few places to tell. distance:
 * room for each point. */
static double longest_known(const tu_bed_model *model, tu_bed_memory *memory, double *distance)
{
    tu_bed_squares squares;
    const size_t n = model->points;

    if (n <= BRIDGE_NEIGHBOUR)
        return INFINITY;
    tu_bed_squares_start(&squares, model->point, n, memory);
    for (size_t i = 0; i < n; i++) {
        size_t nearest[TU_BED_NEIGHBOURS_MAX];
        tu_bed_squares_nearest(&squares, i, BRIDGE_NEIGHBOUR, nearest);
        const tu_bed_point *a = &model->point[i], *b = &model->point[nearest[BRIDGE_NEIGHBOUR - 1]];
        distance[i] = hypot(b->x_mm - a->x_mm, b->y_mm - a->y_mm);
    }
    gsl_sort(distance, 1, n);
    return BRIDGE_RATIO * distance[n / 2];
}

bool tu_bed_is_bridge(const tu_bed_model *model, size_t triangle)
{
    const int32_t *corner = model->triangle[triangle];

    for (int k = 0; k < 3; k++) {
        const tu_bed_point *a = &model->point[corner[k]], *b = &model->point[corner[(k + 1) % 3]];
        if (hypot(b->x_mm - a->x_mm, b->y_mm - a->y_mm) > model->longest_edge_mm)
            return true;
    }
    return false;
}

static void find_bridges(tu_bed_model *model, tu_bed_memory *memory, double *distance)
{
    model->longest_edge_mm = longest_known(model, memory, distance);
    model->bridges = 0;
    for (size_t i = 0; i < model->triangles; i++)
        model->bridges += tu_bed_is_bridge(model, i);
}

tu_status tu_bed_model_take_triangles(tu_bed_model *model, tu_bed_memory memory, tu_error *error)
{
    const size_t n = model->points;
    double *coordinates;

    model->kind = TU_BED_MESH;
    model->triangle = tu_bed_memory_take(&memory, 2 * n, sizeof *model->triangle);
    model->neighbour = tu_bed_memory_take(&memory, 2 * n, sizeof *model->neighbour);
    model->hint = tu_bed_memory_take(&memory, 2 * n + 16, sizeof *model->hint);
    coordinates = tu_bed_memory_take(&memory, n + 1, 2 * sizeof *coordinates);
    tu_status status = triangulate(model, coordinates, error);
    if (status)
        return status;
    place_hints(model);
    find_bridges(model, &memory, coordinates);
    return TU_OK;
}

/* How far the place lies outside the edge opposite corner k, in mm; below 0: inside. */
static double outside_edge(const tu_bed_model *model, size_t triangle, int k, double x_mm,
                           double y_mm)
{
    const int32_t *corner = model->triangle[triangle];
    const tu_bed_point *a = &model->point[corner[(k + 1) % 3]];
    const tu_bed_point *b = &model->point[corner[(k + 2) % 3]];
    return -turn(a, b, x_mm, y_mm) / hypot(b->x_mm - a->x_mm, b->y_mm - a->y_mm);
}

/* z over a triangle; NaN for one without area. */
static double height_over(const tu_bed_model *model, size_t triangle, double x_mm, double y_mm)
{
    const int32_t *corner = model->triangle[triangle];
    const tu_bed_point *a = &model->point[corner[0]], *b = &model->point[corner[1]],
                       *c = &model->point[corner[2]];
    const double area = turn(a, b, c->x_mm, c->y_mm);
    const double s = turn(c, a, x_mm, y_mm) / area, t = turn(a, b, x_mm, y_mm) / area;

    if (!(area > 0))
        return NAN;
    return a->z_mm + s * (b->z_mm - a->z_mm) + t * (c->z_mm - a->z_mm);
}

/* The triangle with the place, all of them looked at: the one it is least outside of. */
static int32_t find_by_search(const tu_bed_model *model, double x_mm, double y_mm, double slack_mm)
{
    double least = slack_mm;
    int32_t found = TU_BED_NONE;

    for (size_t i = 0; i < model->triangles && !(least <= 0); i++) {
        double outside = -INFINITY;
        for (int k = 0; k < 3; k++)
            outside = fmax(outside, outside_edge(model, i, k, x_mm, y_mm));
        if (outside <= least && !isnan(height_over(model, i, x_mm, y_mm))) {
            least = outside;
            found = (int32_t)i;
        }
    }
    return found;
}

static double slack_of(const tu_bed_model *model)
{
    const tu_bed_rectangle *e = &model->extent;
    return EDGE_TOLERANCE * fmax(e->x_high_mm - e->x_low_mm, e->y_high_mm - e->y_low_mm);
}

/* From triangle to triangle, always across the edge that the place is furthest outside of. */
static int32_t find_triangle(const tu_bed_model *model, double x_mm, double y_mm)
{
    const tu_bed_rectangle *e = &model->extent;
    const double slack = slack_of(model);

    if (!(x_mm >= e->x_low_mm - slack && x_mm <= e->x_high_mm + slack &&
          y_mm >= e->y_low_mm - slack && y_mm <= e->y_high_mm + slack))
        return TU_BED_NONE;
    int32_t at = model->hint[hint_at(model, x_mm, y_mm)];
    for (size_t steps = 0; steps < 200 + model->points / 8; steps++) {
        double worst = 0;
        int edge = -1;
        for (int k = 0; k < 3; k++) {
            const double outside = outside_edge(model, (size_t)at, k, x_mm, y_mm);
            if (outside > worst) {
                worst = outside;
                edge = k;
            }
        }
        if (edge < 0) {
            if (!isnan(height_over(model, (size_t)at, x_mm, y_mm)))
                return at;
            break;
        }
        const int32_t next = model->neighbour[at][edge];
        if (next == TU_BED_NONE)
            return worst > slack ? TU_BED_NONE : at;
        at = next;
    }
    return find_by_search(model, x_mm, y_mm, slack);
}

/* On the edge of a bridge: the place itself where a corner was touched, else what the triangle
 * across the edge says. */
static double height_beside_bridge(const tu_bed_model *model, int32_t bridge, double x_mm,
                                   double y_mm)
{
    const double slack = slack_of(model);

    for (int k = 0; k < 3; k++) {
        const tu_bed_point *p = &model->point[model->triangle[bridge][k]];
        if (hypot(p->x_mm - x_mm, p->y_mm - y_mm) <= slack)
            return p->z_mm;
    }
    for (int k = 0; k < 3; k++) {
        const int32_t next = model->neighbour[bridge][k];
        if (next != TU_BED_NONE && !tu_bed_is_bridge(model, (size_t)next) &&
            fabs(outside_edge(model, (size_t)bridge, k, x_mm, y_mm)) <= slack)
            return height_over(model, (size_t)next, x_mm, y_mm);
    }
    return NAN;
}

double tu_bed_mesh_height(const tu_bed_model *model, double x_mm, double y_mm)
{
    const int32_t at = find_triangle(model, x_mm, y_mm);

    if (at == TU_BED_NONE)
        return NAN;
    return tu_bed_is_bridge(model, (size_t)at) ? height_beside_bridge(model, at, x_mm, y_mm)
                                               : height_over(model, (size_t)at, x_mm, y_mm);
}

size_t tu_bed_mesh_corners(const tu_bed_model *model, double x_mm, double y_mm,
                           tu_bed_corner corner[4])
{
    const int32_t at = find_triangle(model, x_mm, y_mm);

    if (at == TU_BED_NONE)
        return 0;
    const bool bridge = tu_bed_is_bridge(model, (size_t)at);
    for (int k = 0; k < 3; k++) {
        const int32_t index = model->triangle[at][k];
        corner[k] = (tu_bed_corner){bridge ? TU_BED_NONE : index, model->point[index]};
    }
    return 3;
}
