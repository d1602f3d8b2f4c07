/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * neighbours.c - the nearest points of a point, by squares gone through in growing rings.
 */
#include "bed/neighbours.h"

#include <math.h>
#include <string.h>

enum { BALANCE_SAMPLE = 200, BALANCE_STEPS = 14 };
#define BALANCED 1.5 /* so many times as far one way as the other is no matter */

typedef struct search {
    const tu_bed_squares *squares;
    size_t self, wanted, found;
    double distance2[TU_BED_NEIGHBOURS_MAX];
    size_t *nearest;
} search;

static size_t most_squares(size_t count)
{
    return count / 2 + 1;
}

size_t tu_bed_squares_bytes(size_t count)
{
    return tu_bed_memory_size(2 * most_squares(count) + 8, sizeof(uint32_t)) +
           tu_bed_memory_size(count, sizeof(uint32_t));
}

static size_t line_of(double from_low_mm, double side_mm, size_t lines)
{
    const double at = from_low_mm / side_mm;
    return at < (double)(lines - 1) ? (size_t)fmax(at, 0) : lines - 1;
}

static size_t square_of(const tu_bed_squares *s, size_t i)
{
    return line_of((s->point[i].y_mm - s->y_low_mm) * s->y_scale, s->side_mm, s->rows) *
               s->columns +
           line_of(s->point[i].x_mm - s->x_low_mm, s->side_mm, s->columns);
}

static void choose_squares(tu_bed_squares *s)
{
    double x_high = -INFINITY, y_high = -INFINITY;

    s->x_low_mm = s->y_low_mm = INFINITY;
    for (size_t i = 0; i < s->count; i++) {
        s->x_low_mm = fmin(s->x_low_mm, s->point[i].x_mm);
        s->y_low_mm = fmin(s->y_low_mm, s->point[i].y_mm);
        x_high = fmax(x_high, s->point[i].x_mm);
        y_high = fmax(y_high, s->point[i].y_mm);
    }
    const double width = x_high - s->x_low_mm, depth = (y_high - s->y_low_mm) * s->y_scale;
    const double most = (double)most_squares(s->count);
    s->side_mm = fmax(sqrt(width * depth / most), fmax(width, depth) / most);
    if (!(s->side_mm > 0))
        s->side_mm = 1;
    s->columns = (size_t)(width / s->side_mm) + 1;
    s->rows = (size_t)(depth / s->side_mm) + 1;
    while (s->columns * s->rows > 2 * most_squares(s->count) + 6) {
        s->side_mm *= 1.25;
        s->columns = (size_t)(width / s->side_mm) + 1;
        s->rows = (size_t)(depth / s->side_mm) + 1;
    }
}

static void sort_points(tu_bed_squares *squares)
{
    choose_squares(squares);
    memset(squares->start, 0, (2 * most_squares(squares->count) + 8) * sizeof *squares->start);
    for (size_t i = 0; i < squares->count; i++)
        squares->start[square_of(squares, i) + 1]++;
    for (size_t k = 0; k < squares->columns * squares->rows; k++)
        squares->start[k + 1] += squares->start[k];
    for (size_t i = squares->count; i-- > 0;)
        squares->item[--squares->start[square_of(squares, i) + 1]] = (uint32_t)i;
    /* each start has moved down to that of its own square, one place late */
    memmove(squares->start, squares->start + 1,
            squares->columns * squares->rows * sizeof *squares->start);
    squares->start[squares->columns * squares->rows] = (uint32_t)squares->count;
}

void tu_bed_squares_start(tu_bed_squares *squares, const tu_bed_point *points, size_t count,
                          tu_bed_memory *memory)
{
    squares->point = points;
    squares->count = count;
    squares->y_scale = 1;
    squares->start =
        tu_bed_memory_take(memory, 2 * most_squares(count) + 8, sizeof *squares->start);
    squares->item = tu_bed_memory_take(memory, count, sizeof *squares->item);
    sort_points(squares);
}

/* How far neighbours lie along Y beside how far along X, root mean square and scaled. */
static double find_reach(const tu_bed_squares *squares)
{
    const size_t step = squares->count / BALANCE_SAMPLE + 1;
    double xx = 0, yy = 0;

    for (size_t i = 0; i < squares->count; i += step) {
        size_t nearest[TU_BED_NEIGHBOURS_MAX];
        const size_t found = tu_bed_squares_nearest(squares, i, TU_BED_NEIGHBOURS_MAX, nearest);
        for (size_t k = 0; k < found; k++) {
            const tu_bed_point *a = &squares->point[i], *b = &squares->point[nearest[k]];
            const double x = b->x_mm - a->x_mm, y = (b->y_mm - a->y_mm) * squares->y_scale;
            xx += x * x;
            yy += y * y;
        }
    }
    return sqrt(yy / xx); /* infinite, or not a number where all are in one place */
}

void tu_bed_squares_balance(tu_bed_squares *squares)
{
    double reach = find_reach(squares), best = fabs(log(reach)), best_scale = 1;
    /* all in one column: the columns are too far apart, beside the rows in them */
    const bool grow = reach > 1;

    for (int step = 0; step < BALANCE_STEPS && (grow ? reach > BALANCED : reach < 1 / BALANCED);
         step++) {
        squares->y_scale *= grow ? 2 : 0.5;
        sort_points(squares);
        reach = find_reach(squares);
        if (fabs(log(reach)) < best) {
            best = fabs(log(reach));
            best_scale = squares->y_scale;
        }
    }
    if (squares->y_scale == best_scale)
        return;
    /* a few rows reach further along them whatever the scale */
    squares->y_scale = best_scale;
    sort_points(squares);
}

static void see_point(search *s, size_t i)
{
    const tu_bed_point *a = &s->squares->point[s->self], *b = &s->squares->point[i];
    const double dx = b->x_mm - a->x_mm, dy = (b->y_mm - a->y_mm) * s->squares->y_scale;
    const double d2 = dx * dx + dy * dy;
    size_t at = s->found;

    if (i == s->self || (at == s->wanted && d2 >= s->distance2[at - 1]))
        return;
    if (at == s->wanted)
        at--;
    else
        s->found++;
    for (; at > 0 && d2 < s->distance2[at - 1]; at--) {
        s->distance2[at] = s->distance2[at - 1];
        s->nearest[at] = s->nearest[at - 1];
    }
    s->distance2[at] = d2;
    s->nearest[at] = i;
}

/* Squares side by side: their points are side by side too. */
static void see_squares(search *s, size_t row, size_t first, size_t last)
{
    const tu_bed_squares *q = s->squares;
    const uint32_t end = q->start[row * q->columns + last + 1];

    for (uint32_t k = q->start[row * q->columns + first]; k < end; k++)
        see_point(s, q->item[k]);
}

/* The squares that are `ring` squares away; false when all of them are outside. */
static bool see_ring(search *s, ptrdiff_t column, ptrdiff_t row, ptrdiff_t ring)
{
    const ptrdiff_t columns = (ptrdiff_t)s->squares->columns, rows = (ptrdiff_t)s->squares->rows;
    const ptrdiff_t left = column - ring, right = column + ring;
    const ptrdiff_t front = row - ring, back = row + ring;
    const size_t first = (size_t)(left > 0 ? left : 0);
    const size_t last = (size_t)(right < columns ? right : columns - 1);

    for (ptrdiff_t j = front < 0 ? 0 : front; j <= back && j < rows; j++) {
        if (j == front || j == back) {
            see_squares(s, (size_t)j, first, last);
            continue;
        }
        if (left >= 0)
            see_squares(s, (size_t)j, first, first);
        if (right < columns)
            see_squares(s, (size_t)j, last, last);
    }
    return left > 0 || right < columns - 1 || front > 0 || back < rows - 1;
}

size_t tu_bed_squares_nearest(const tu_bed_squares *squares, size_t i, size_t wanted,
                              size_t nearest[TU_BED_NEIGHBOURS_MAX])
{
    search s = {.squares = squares, .self = i, .wanted = wanted, .nearest = nearest};
    const size_t square = square_of(squares, i);
    const ptrdiff_t column = (ptrdiff_t)(square % squares->columns);
    const ptrdiff_t row = (ptrdiff_t)(square / squares->columns);

    for (ptrdiff_t ring = 0; see_ring(&s, column, row, ring); ring++) {
        const double seen = (double)ring * squares->side_mm;
        if (s.found == wanted && s.distance2[wanted - 1] <= seen * seen)
            break;
    }
    return s.found;
}
