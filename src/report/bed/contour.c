/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * contour.c - traces contour lines through the triangles of a mesh.
 *
 * Each triangle that a level crosses adds one piece of line, from the edge where its border, walked
 * counter-clockwise, leaves the higher ground to the edge where it comes back. For a region the
 * parts of the mesh's own border that are high enough are added. The pieces meet in nodes: a
 * crossing is known by its edge, so that no distance has to be compared to link them.
 */
#include "report/bed/contour.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

tu_status tu_contour_no_memory(tu_error *error)
{
    return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left to draw the map");
}

#define NOWHERE SIZE_MAX

/* An edge between vertices low < high. border: of one triangle only, which walks it from `from`. */
typedef struct edge {
    uint32_t low, high, from;
    uint32_t triangles;
    size_t half; /* which triangle's which side it came from, while they are sorted */
} edge;

/*
 * Nodes 0 .. edge_count are crossings, those behind are vertices. Two pieces may leave a vertex
 * where two parts of the border touch, hence two ways on.
 */
struct tu_contour_tracer {
    const tu_contour_mesh *mesh;
    edge *edges;
    size_t edge_count;
    size_t (*sides)[3]; /* of each triangle: its edges, [k] from vertex k to the next */
    size_t node_count;
    size_t (*next)[2];
    unsigned char *entered;
};

static int compare_edges(const void *a, const void *b)
{
    const edge *p = a, *q = b;
    if (p->low != q->low)
        return p->low < q->low ? -1 : 1;
    if (p->high != q->high)
        return p->high < q->high ? -1 : 1;
    return p->half < q->half ? -1 : p->half > q->half;
}

static void list_sides(tu_contour_tracer *tracer)
{
    for (size_t i = 0; i < tracer->mesh->triangle_count; i++) {
        for (size_t k = 0; k < 3; k++) {
            uint32_t from = tracer->mesh->triangle[i][k],
                     to = tracer->mesh->triangle[i][(k + 1) % 3];
            tracer->edges[3 * i + k] = (edge){.low = from < to ? from : to,
                                              .high = from < to ? to : from,
                                              .from = from,
                                              .triangles = 1,
                                              .half = 3 * i + k};
        }
    }
}

/* Sides that two triangles share become one edge. */
static tu_status join_sides(tu_contour_tracer *tracer, tu_error *error)
{
    size_t count = 0;
    edge *edges = tracer->edges;
    for (size_t i = 0; i < 3 * tracer->mesh->triangle_count; i++) {
        edge *last = count > 0 ? &edges[count - 1] : NULL;
        if (last && last->low == edges[i].low && last->high == edges[i].high) {
            last->triangles++;
            if (last->triangles > 2 || last->from == edges[i].from)
                return tu_fail(error, TU_DATA_CONFLICT, NULL,
                               "the triangles between the points overlap");
        } else {
            edges[count++] = edges[i];
        }
        size_t half = edges[i].half;
        tracer->sides[half / 3][half % 3] = count - 1;
    }
    tracer->edge_count = count;
    return TU_OK;
}

tu_status tu_contour_tracer_create(const tu_contour_mesh *mesh, tu_contour_tracer **tracer,
                                   tu_error *error)
{
    size_t sides = 3 * mesh->triangle_count + 1; /* one more: never nothing */
    tu_status status = TU_OK;
    *tracer = NULL;
    tu_contour_tracer *made = calloc(1, sizeof *made);
    if (made) {
        made->mesh = mesh;
        made->edges = malloc(sides * sizeof *made->edges);
        made->sides = malloc(sides * sizeof *made->sides);
    }
    if (!made || !made->edges || !made->sides)
        status = tu_contour_no_memory(error);
    if (!status) {
        list_sides(made);
        qsort(made->edges, sides - 1, sizeof *made->edges, compare_edges);
        status = join_sides(made, error);
    }
    if (!status) {
        made->node_count = made->edge_count + mesh->vertex_count;
        made->next = malloc((made->node_count + 1) * sizeof *made->next);
        made->entered = malloc(made->node_count + 1);
        if (!made->next || !made->entered)
            status = tu_contour_no_memory(error);
    }
    if (status)
        tu_contour_tracer_destroy(made);
    else
        *tracer = made;
    return status;
}

void tu_contour_tracer_destroy(tu_contour_tracer *tracer)
{
    if (!tracer)
        return;
    free(tracer->edges);
    free(tracer->sides);
    free(tracer->next);
    free(tracer->entered);
    free(tracer);
}

static bool is_above(const tu_contour_tracer *tracer, size_t vertex, double level)
{
    return tracer->mesh->vertex[vertex].height_mm >= level;
}

static void link_nodes(tu_contour_tracer *tracer, size_t from, size_t to)
{
    tracer->next[from][tracer->next[from][0] == NOWHERE ? 0 : 1] = to;
    tracer->entered[to] = 1;
}

static void link_triangles(tu_contour_tracer *tracer, double level)
{
    for (size_t i = 0; i < tracer->mesh->triangle_count; i++) {
        const uint32_t *corner = tracer->mesh->triangle[i];
        bool above[3];
        for (size_t k = 0; k < 3; k++)
            above[k] = is_above(tracer, corner[k], level);
        size_t leaves = NOWHERE, returns = NOWHERE;
        for (size_t k = 0; k < 3; k++) {
            if (above[k] && !above[(k + 1) % 3])
                leaves = tracer->sides[i][k];
            if (!above[k] && above[(k + 1) % 3])
                returns = tracer->sides[i][k];
        }
        if (leaves != NOWHERE)
            link_nodes(tracer, leaves, returns);
    }
}

static void link_border(tu_contour_tracer *tracer, double level)
{
    for (size_t i = 0; i < tracer->edge_count; i++) {
        const edge *side = &tracer->edges[i];
        if (side->triangles != 1)
            continue;
        size_t from = side->from, to = from == side->low ? side->high : side->low;
        bool above_from = is_above(tracer, from, level), above_to = is_above(tracer, to, level);
        if (above_from || above_to)
            link_nodes(tracer, above_from ? tracer->edge_count + from : i,
                       above_to ? tracer->edge_count + to : i);
    }
}

static tu_contour_point place_of(const tu_contour_tracer *tracer, size_t node, double level)
{
    const tu_contour_vertex *vertex = tracer->mesh->vertex;
    if (node >= tracer->edge_count) {
        vertex += node - tracer->edge_count;
        return (tu_contour_point){vertex->x_mm, vertex->y_mm};
    }
    const tu_contour_vertex *a = &vertex[tracer->edges[node].low];
    const tu_contour_vertex *b = &vertex[tracer->edges[node].high];
    double part = (level - a->height_mm) / (b->height_mm - a->height_mm);
    return (tu_contour_point){a->x_mm + part * (b->x_mm - a->x_mm),
                              a->y_mm + part * (b->y_mm - a->y_mm)};
}

/* Room for one more in a list that doubles. */
static bool make_room(void **list, size_t *room, size_t count, size_t size)
{
    if (count < *room)
        return true;
    size_t wanted = *room ? 2 * *room : 64;
    void *grown = realloc(*list, wanted * size);
    if (!grown)
        return false;
    *list = grown;
    *room = wanted;
    return true;
}

static bool add_point(tu_contours *contours, tu_contour_point point)
{
    if (!make_room((void **)&contours->point, &contours->point_room, contours->point_count,
                   sizeof point))
        return false;
    contours->point[contours->point_count++] = point;
    return true;
}

/* Takes the pieces from a node on, up to the end or back to the start. */
static bool follow(tu_contour_tracer *tracer, size_t start, double level, tu_contours *contours)
{
    if (!make_room((void **)&contours->chain, &contours->chain_room, contours->chain_count,
                   sizeof *contours->chain))
        return false;
    tu_contour_chain chain = {contours->point_count, 0, false};
    size_t node = start;
    while (node != NOWHERE && !chain.closed) {
        if (!add_point(contours, place_of(tracer, node, level)))
            return false;
        size_t *ways = tracer->next[node], on = ways[0];
        ways[0] = ways[1];
        ways[1] = NOWHERE;
        chain.closed = on == start;
        node = on;
    }
    chain.count = contours->point_count - chain.first;
    contours->chain[contours->chain_count++] = chain;
    return true;
}

static tu_status trace(tu_contour_tracer *tracer, double level, bool border, tu_contours *contours,
                       tu_error *error)
{
    contours->point_count = contours->chain_count = 0;
    memset(tracer->entered, 0, tracer->node_count);
    for (size_t i = 0; i < tracer->node_count; i++)
        tracer->next[i][0] = tracer->next[i][1] = NOWHERE;
    link_triangles(tracer, level);
    if (border)
        link_border(tracer, level);
    bool ok = true;
    for (int pass = 0; ok && pass < 2; pass++) { /* open lines first, then what is left: rings */
        for (size_t i = 0; ok && i < tracer->node_count; i++)
            while (ok && tracer->next[i][0] != NOWHERE && (pass == 1 || !tracer->entered[i]))
                ok = follow(tracer, i, level, contours);
    }
    return ok ? TU_OK : tu_contour_no_memory(error);
}

tu_status tu_contour_trace_lines(tu_contour_tracer *tracer, double level_mm, tu_contours *contours,
                                 tu_error *error)
{
    return trace(tracer, level_mm, false, contours, error);
}

tu_status tu_contour_trace_region(tu_contour_tracer *tracer, double level_mm, tu_contours *contours,
                                  tu_error *error)
{
    return trace(tracer, level_mm, true, contours, error);
}

void tu_contours_destroy(tu_contours *contours)
{
    if (!contours)
        return;
    free(contours->point);
    free(contours->chain);
    *contours = (tu_contours){0};
}
