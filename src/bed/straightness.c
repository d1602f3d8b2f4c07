/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * straightness.c - minimum-zone straightness of points in a vertical section (ISO 12780-1).
 *
 * The narrowest strip that holds the points has one of its lines along an edge of their convex
 * hull. M. E. Houle, G. T. Toussaint, "Computing the width of a set", IEEE Trans. Pattern Analysis
 * and Machine Intelligence 10 (1988) 761-765, doi:10.1109/34.6790.
 */
#include "bed/bed_memory.h"
#include "bed/model_parts.h"
#include "trueup/bed.h"

#include <gsl/gsl_sort.h>
#include <math.h>

/* A point of a section, and which touched point it is. */
typedef struct section_point {
    double s_mm, z_mm;
    int32_t point;
} section_point;

static double turn(const section_point *a, const section_point *b, const section_point *c)
{
    return (b->s_mm - a->s_mm) * (c->z_mm - a->z_mm) - (b->z_mm - a->z_mm) * (c->s_mm - a->s_mm);
}

/* One side of the hull of points ascending in s: the lower (side 1) or the upper (side -1). */
static size_t half_hull(const section_point *points, size_t count, double side, section_point *hull)
{
    size_t size = 0;

    for (size_t i = 0; i < count; i++) {
        while (size >= 2 && side * turn(&hull[size - 2], &hull[size - 1], &points[i]) <= 0)
            size--;
        hull[size++] = points[i];
    }
    return size;
}

/* The strips along the edges of one half hull, each held open by a corner of the other half. */
static void try_edges(const section_point *edge, size_t edges, const section_point *other,
                      size_t others, bool other_is_high, tu_bed_straightness *best)
{
    size_t far = others - 1;

    /* along one half the slopes go one way, and the farthest corner of the other half goes back */
    for (size_t i = 0; i + 1 < edges; i++) {
        const section_point *a = &edge[i], *b = &edge[i + 1];
        while (far > 0 && fabs(turn(a, b, &other[far - 1])) >= fabs(turn(a, b, &other[far])))
            far--;
        const double width =
            fabs(turn(a, b, &other[far])) / hypot(b->s_mm - a->s_mm, b->z_mm - a->z_mm);
        if (width < best->STRt_mm) {
            best->STRt_mm = width;
            best->slope = (b->z_mm - a->z_mm) / (b->s_mm - a->s_mm);
            best->contact[0] = a->point;
            best->contact[1] = b->point;
            best->contact[2] = other[far].point;
            best->single_is_high = other_is_high;
        }
    }
}

/* points ascending in s; hull: room for 2 * count. */
static tu_bed_straightness straightness(const section_point *points, size_t count,
                                        section_point *hull)
{
    tu_bed_straightness best = {NAN, NAN, count, {TU_BED_NONE, TU_BED_NONE, TU_BED_NONE}, false};

    if (count < 3)
        return best;
    section_point *upper = hull + count;
    const size_t low = half_hull(points, count, 1, hull);
    const size_t high = half_hull(points, count, -1, upper);
    best.STRt_mm = INFINITY;
    try_edges(hull, low, upper, high, true, &best);
    try_edges(upper, high, hull, low, false, &best);
    return best;
}

size_t tu_bed_straightness_bytes(size_t count)
{
    return tu_bed_memory_size(3 * count, sizeof(section_point)) +
           tu_bed_memory_size(count, sizeof(size_t));
}

tu_status tu_bed_judge_section(const tu_bed_section *section, void *memory, size_t bytes,
                               tu_bed_straightness *straight, tu_error *error)
{
    const size_t count = section ? section->count : 0;
    tu_bed_memory block;

    if (!section || !straight || !section->along_mm || !section->z_mm)
        return tu_fail(error, TU_USAGE, NULL, "a section and room for its straightness are needed");
    tu_status status =
        tu_bed_memory_start(&block, memory, bytes, tu_bed_straightness_bytes(count), error);
    if (status)
        return status;
    section_point *work = tu_bed_memory_take(&block, 3 * count, sizeof *work);
    size_t *order = tu_bed_memory_take(&block, count, sizeof *order);
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(section->along_mm[i]) || !isfinite(section->z_mm[i]))
            return tu_fail(error, TU_DATA_RANGE, NULL, "point %zu of the section is not finite",
                           i + 1);
    }
    gsl_sort_index(order, section->along_mm, 1, count);
    for (size_t i = 0; i < count; i++)
        work[i] = (section_point){section->along_mm[order[i]], section->z_mm[order[i]],
                                  (int32_t)order[i]};
    if (count >= 3 && !(work[count - 1].s_mm > work[0].s_mm))
        return tu_fail(error, TU_UNDETERMINED, NULL, "all points of the section are at one place");
    *straight = straightness(work, count, work + count);
    return TU_OK;
}

static tu_bed_straightness of_line(const tu_bed_model *model, bool row, size_t line,
                                   section_point *work)
{
    const size_t crossings = row ? model->columns : model->rows;
    const size_t start = row ? line * model->columns : line;
    const size_t stride = row ? 1 : model->columns;
    size_t count = 0;

    for (size_t i = 0; i < crossings; i++) {
        const int32_t at = model->point_at[start + i * stride];
        if (at == TU_BED_NONE)
            continue;
        const tu_bed_point p = model->point[at];
        work[count++] = (section_point){row ? p.x_mm : p.y_mm, p.z_mm, at};
    }
    return straightness(work, count, work + count);
}

/* All rows, or all columns; returns the worst. */
static int32_t of_lines(const tu_bed_model *model, bool row, section_point *work,
                        tu_bed_straightness *out)
{
    const size_t lines = row ? model->rows : model->columns;
    double worst = -1;
    int32_t found = TU_BED_NONE;

    for (size_t i = 0; i < lines; i++) {
        const tu_bed_straightness one = of_line(model, row, i, work);
        if (out)
            out[i] = one;
        if (one.STRt_mm > worst) {
            worst = one.STRt_mm;
            found = (int32_t)i;
        }
    }
    return found;
}

tu_status tu_bed_find_straightness(const tu_bed_model *model, void *memory, size_t bytes,
                                   tu_bed_straightness *row, tu_bed_straightness *column,
                                   int32_t *worst_row, int32_t *worst_column, tu_error *error)
{
    tu_bed_memory block;

    if (!model || !worst_row || !worst_column)
        return tu_fail(error, TU_USAGE, NULL, "a model and room for the worst lines are needed");
    *worst_row = *worst_column = TU_BED_NONE;
    if (model->kind != TU_BED_GRID)
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "the points do not lie in rows and columns, so none can be judged");
    tu_status status =
        tu_bed_memory_start(&block, memory, bytes, tu_bed_straightness_bytes(model->points), error);
    if (status)
        return status;
    *worst_row = of_lines(model, true, memory, row);
    *worst_column = of_lines(model, false, memory, column);
    return TU_OK;
}
