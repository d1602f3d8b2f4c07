/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_hull.c - the narrowest direction of points that are nothing like a bed, by their hull.
 *
 * The narrowest zone is held by a facet of the hull against a corner, or by an edge against an edge
 * (M. E. Houle, G. T. Toussaint, IEEE Trans. Pattern Anal. Mach. Intell. 10 (1988) 761-765, from
 * memory). All of them are gone over: where a plane rolls from a facet over an edge to the next
 * facet, the plane opposite rolls from corner to corner, from one to the next across an edge, so
 * each of its steps is a pair of edges. It begins at the corner opposite the first facet and
 * arrives at the one opposite the second, whence it goes on. The width changes without a dip
 * between two steps: it is the distance of two points times a cosine.
 *
 * Rolling: n(t) = n1 + t (n2 - n1). The corner that is lowest along n(t) gives way to a neighbour
 * that lies lower from some t on; the one with the smallest t is the next. It lies lower along n2 -
 * n1 than the one before, so the way ends.
 *
 * Qhull takes memory while it works, and so does this; all is given back.
 */
#include "bed/qhull_call.h"
#include "bed/zone_parts.h"

#include <math.h>
#include <stdlib.h>

#define COMMAND "qhull Qs Pp" /* Qs: does not give up for a bad choice of its first four points */

typedef struct roller {
    qhT *qh;
    vertexT **opposite; /* of each facet, by its visitid */
    facetT **queue;
    double narrowest;
    tu_bed_direction normal;
    vertexT *contact[TU_ZONE_HULL_CONTACTS];
    size_t contacts;
} roller;

static double dot(const double *a, const double *b)
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* --- A direction that may be the narrowest --- */

static void keep_facet(roller *r, facetT *facet, vertexT *low)
{
    vertexT *vertex, **vertexp;
    const double *n = facet->normal;
    const vertexT *corner = SETfirstt_(facet->vertices, vertexT);
    const double width = dot(n, corner->point) - dot(n, low->point);

    if (!(width < r->narrowest))
        return;
    r->narrowest = width;
    r->normal = (tu_bed_direction){n[0], n[1], n[2]};
    r->contact[0] = low;
    r->contacts = 1;
    FOREACHvertex_(facet->vertices)
    {
        if (r->contacts < TU_ZONE_HULL_CONTACTS)
            r->contact[r->contacts++] = vertex;
    }
}

static void keep_edges(roller *r, vertexT *const high[2], vertexT *const low[2], const double n[3])
{
    const double length = sqrt(dot(n, n));
    const double width = (dot(n, high[0]->point) - dot(n, low[0]->point)) / length;

    if (!(length > 0.0 && width < r->narrowest))
        return;
    r->narrowest = width;
    r->normal = (tu_bed_direction){n[0] / length, n[1] / length, n[2] / length};
    r->contact[0] = high[0];
    r->contact[1] = high[1];
    r->contact[2] = low[0];
    r->contact[3] = low[1];
    r->contacts = 4;
}

/* --- Rolling --- */

/* The corner beside `low` that is the first to be lower along n1 + t step; NULL: none before 1. */
static vertexT *find_next(vertexT *low, const double *n1, const double *step, double *t)
{
    facetT *neighbor, **neighborp;
    vertexT *vertex, **vertexp;
    vertexT *next = NULL;
    const double low_height = dot(n1, low->point);
    const double low_rate = dot(step, low->point);
    double next_t = 1.0;
    double next_rate = low_rate;

    FOREACHneighbor_(low) FOREACHvertex_(neighbor->vertices)
    {
        const double rate = dot(step, vertex->point);
        if (!(rate < low_rate))
            continue;
        const double from = fmax((dot(n1, vertex->point) - low_height) / (low_rate - rate), *t);
        if (from < next_t || (from == next_t && next != NULL && rate < next_rate)) {
            next = vertex;
            next_t = from;
            next_rate = rate;
        }
    }
    *t = next_t;
    return next;
}

/* Mends what rounding left: the lowest corner along n, from one nearby. */
static vertexT *climb_down(vertexT *low, const double *n)
{
    facetT *neighbor, **neighborp;
    vertexT *vertex, **vertexp;
    vertexT *best = low;

    do {
        low = best;
        FOREACHneighbor_(low) FOREACHvertex_(neighbor->vertices)
        {
            if (dot(n, vertex->point) < dot(n, best->point))
                best = vertex;
        }
    } while (best != low);
    return low;
}

/* Two corners that both facets have; the one twice where rounding left them one. */
static bool find_edge(const facetT *a, const facetT *b, vertexT *edge[2])
{
    vertexT *vertex, **vertexp;
    size_t found = 0;

    FOREACHvertex_(a->vertices)
    {
        if (found < 2 && qh_setin(b->vertices, vertex))
            edge[found++] = vertex;
    }
    if (found == 1)
        edge[1] = edge[0];
    return found > 0;
}

/* From one facet over the edge to the next; returns the corner opposite that. */
static vertexT *roll(roller *r, const facetT *from, const facetT *to, vertexT *low)
{
    const double *n1 = from->normal;
    const double *n2 = to->normal;
    const double step[3] = {n2[0] - n1[0], n2[1] - n1[1], n2[2] - n1[2]};
    vertexT *edge[2];
    double t = 0.0;

    if (find_edge(from, to, edge)) {
        for (vertexT *next; (next = find_next(low, n1, step, &t)) != NULL; low = next) {
            const double n[3] = {n1[0] + t * step[0], n1[1] + t * step[1], n1[2] + t * step[2]};
            keep_edges(r, edge, (vertexT *const[2]){low, next}, n);
        }
    }
    return climb_down(low, n2);
}

static vertexT *lowest_of_all(qhT *qh, const double *n)
{
    vertexT *vertex;
    vertexT *low = qh->vertex_list;

    FORALLvertices
    {
        if (dot(n, vertex->point) < dot(n, low->point))
            low = vertex;
    }
    return low;
}

/* Facet by facet, each from a neighbour of it; each edge once. */
static void roll_over_all(roller *r)
{
    facetT *first = r->qh->facet_list;
    facetT *neighbor, **neighborp;
    size_t head = 0;
    size_t tail = 0;

    r->queue[tail++] = first;
    r->opposite[first->visitid] = lowest_of_all(r->qh, first->normal);
    while (head < tail) {
        facetT *facet = r->queue[head++];
        vertexT *low = r->opposite[facet->visitid];

        facet->seen = True;
        keep_facet(r, facet, low);
        FOREACHneighbor_(facet)
        {
            if (neighbor->seen)
                continue;
            vertexT *there = roll(r, facet, neighbor, low);
            if (r->opposite[neighbor->visitid] == NULL) {
                r->opposite[neighbor->visitid] = there;
                r->queue[tail++] = neighbor;
            }
        }
    }
}

/* --- The hull --- */

static size_t number_facets(qhT *qh)
{
    facetT *facet;
    unsigned int count = 0;

    FORALLfacets
    {
        facet->visitid = count++;
        facet->seen = False;
    }
    return count;
}

static tu_status go_over_hull(qhT *qh, tu_zone_hull *found, tu_error *error)
{
    const size_t facets = number_facets(qh);
    roller r = {.qh = qh, .narrowest = INFINITY};
    tu_status status = TU_OK;

    qh_vertexneighbors(qh);
    r.opposite = calloc(facets, sizeof(vertexT *));
    r.queue = calloc(facets, sizeof(facetT *));
    if (r.opposite == NULL || r.queue == NULL) {
        status = tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory for the hull of the points");
        goto cleanup;
    }
    roll_over_all(&r);
    found->normal = r.normal;
    found->contacts = r.contacts;
    for (size_t k = 0; k < r.contacts; k++)
        found->contact[k] = (size_t)qh_pointid(qh, r.contact[k]->point);

cleanup:
    free(r.opposite);
    free(r.queue);
    return status;
}

/* In a block of size one about the origin, so that offset and unit cost Qhull no digits. */
static void refer_points(const tu_bed_point *points, size_t count, const tu_bed_box *box,
                         double *coordinates)
{
    for (size_t i = 0; i < count; i++) {
        coordinates[3 * i] = (points[i].x_mm - box->middle.x_mm) / box->size_mm;
        coordinates[3 * i + 1] = (points[i].y_mm - box->middle.y_mm) / box->size_mm;
        coordinates[3 * i + 2] = (points[i].z_mm - box->middle.z_mm) / box->size_mm;
    }
}

tu_status tu_zone_search_hull(const tu_bed_point *points, size_t count, const tu_bed_box *box,
                              tu_zone_hull *found, tu_error *error)
{
    qhT qhull;
    double *coordinates = malloc(count * 3 * sizeof *coordinates);

    if (coordinates == NULL)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory for the hull of the points");
    refer_points(points, count, box, coordinates);
    tu_status status = tu_qhull_start(&qhull, 3, coordinates, count, COMMAND,
                                      "the points have no hull, and the narrowest zone was not "
                                      "found without it",
                                      error);
    if (!status)
        status = go_over_hull(&qhull, found, error);
    tu_qhull_finish(&qhull);
    free(coordinates);
    return status;
}
