/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * region.c - what of a height model lies in a rectangle and above a level.
 *
 * A triangle is cut off at the rectangle and at the level; what is left is a polygon with a height
 * that is linear. A bilinear cell cut off at the rectangle is a bilinear cell again. Along X its
 * height is linear, so that part above the level is elementary; along Y that is integrated by
 * Gauss's rule with 12 points, in pieces between the places where an edge crosses the level. Within
 * a piece the part above is a ratio of polynomials with a pole where the section is level; pieces
 * are shortened towards it, so that the pole stays a third of their length away and the rule is
 * good to 3^-24.
 */
#include "bed/model_parts.h"

#include <math.h>

#define ROUNDING 1e-12 /* of sums of areas */

enum { POLYGON_MAX = 8, GAUSS = 6, STRETCHES_MAX = 24 };

/* Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4, n = 12. */
static const double gauss_at[GAUSS] = {0.1252334085114689, 0.3678314989981802, 0.5873179542866175,
                                       0.7699026741943047, 0.9041172563704748, 0.9815606342467192};
static const double gauss_weight[GAUSS] = {0.2491470458134027,  0.23349253653835464,
                                           0.20316742672306565, 0.1600783285433461,
                                           0.10693932599531888, 0.04717533638651202};

typedef struct sums {
    const tu_bed_rectangle *within;
    double level_mm;
    tu_bed_region *region;
} sums;

typedef struct polygon {
    size_t count;
    tu_bed_point corner[POLYGON_MAX];
} polygon;

static void see_height(tu_bed_region *region, tu_bed_point point)
{
    if (!(point.z_mm <= region->highest.z_mm))
        region->highest = point;
    if (!(point.z_mm >= region->lowest.z_mm))
        region->lowest = point;
}

/* --- triangles --- */

/* What of the polygon has weight . (x, y, z) >= bound. */
static polygon cut_off(const polygon *whole, tu_bed_direction weight, double bound)
{
    polygon part = {0};

    for (size_t i = 0; i < whole->count; i++) {
        const tu_bed_point a = whole->corner[i];
        const tu_bed_point b = whole->corner[(i + 1) % whole->count];
        const double a_in = weight.x * a.x_mm + weight.y * a.y_mm + weight.z * a.z_mm - bound;
        const double b_in = weight.x * b.x_mm + weight.y * b.y_mm + weight.z * b.z_mm - bound;
        if (a_in >= 0 && part.count < POLYGON_MAX)
            part.corner[part.count++] = a;
        if ((a_in > 0 && b_in < 0) || (a_in < 0 && b_in > 0)) {
            const double t = a_in / (a_in - b_in);
            if (part.count < POLYGON_MAX)
                part.corner[part.count++] =
                    (tu_bed_point){a.x_mm + t * (b.x_mm - a.x_mm), a.y_mm + t * (b.y_mm - a.y_mm),
                                   a.z_mm + t * (b.z_mm - a.z_mm)};
        }
    }
    return part;
}

/* Area of a polygon seen from above, and the volume between it and the level. */
static double polygon_area(const polygon *p, double level_mm, double *volume)
{
    double area = 0;

    *volume = 0;
    for (size_t i = 1; i + 1 < p->count; i++) {
        const tu_bed_point a = p->corner[0], b = p->corner[i], c = p->corner[i + 1];
        const double piece =
            0.5 * ((b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm));
        area += piece;
        *volume += piece * ((a.z_mm + b.z_mm + c.z_mm) / 3 - level_mm);
    }
    return area;
}

static void add_triangle(const sums *s, tu_bed_point a, tu_bed_point b, tu_bed_point c)
{
    const tu_bed_rectangle *w = s->within;
    polygon all = {3, {a, b, c}};
    double volume;

    if (w) {
        all = cut_off(&all, (tu_bed_direction){1, 0, 0}, w->x_low_mm);
        all = cut_off(&all, (tu_bed_direction){-1, 0, 0}, -w->x_high_mm);
        all = cut_off(&all, (tu_bed_direction){0, 1, 0}, w->y_low_mm);
        all = cut_off(&all, (tu_bed_direction){0, -1, 0}, -w->y_high_mm);
    }
    const double area = polygon_area(&all, 0, &volume);
    if (!(area > 0))
        return;
    for (size_t i = 0; i < all.count; i++)
        see_height(s->region, all.corner[i]);
    s->region->area_mm2 += area;
    const polygon above = cut_off(&all, (tu_bed_direction){0, 0, 1}, s->level_mm);
    s->region->above_mm2 += polygon_area(&above, s->level_mm, &volume);
    s->region->above_mm3 += volume;
}

/* --- bilinear cells --- */

/* Of a section along X with heights over the level at its ends: length above (of 1) and area. */
static void section_above(double left, double right, double *length, double *area)
{
    if (left >= 0 && right >= 0) {
        *length = 1;
        *area = (left + right) / 2;
    } else if (left <= 0 && right <= 0) {
        *length = *area = 0;
    } else {
        const double top = fmax(left, right);
        *length = top / fabs(right - left);
        *area = *length * top / 2;
    }
}

static double left_at(const double h[4], double t)
{
    return h[0] + t * (h[3] - h[0]);
}

static double right_at(const double h[4], double t)
{
    return h[1] + t * (h[2] - h[1]);
}

/* h: heights of the corners over the level; from t0 to t1 of Y. */
static void stretch_above(const double h[4], double t0, double t1, double *area, double *volume)
{
    for (int k = 0; k < 2 * GAUSS; k++) {
        const double at = k < GAUSS ? gauss_at[k] : -gauss_at[k - GAUSS];
        const double t = (t0 + t1) / 2 + at * (t1 - t0) / 2;
        const double share = gauss_weight[k % GAUSS] * (t1 - t0) / 2;
        double length, section;
        section_above(left_at(h, t), right_at(h, t), &length, &section);
        *area += share * length;
        *volume += share * section;
    }
}

/* A piece in which no edge crosses the level, in stretches that shorten towards the pole. */
static void piece_above(const double h[4], double t0, double t1, double *area, double *volume)
{
    double far = t0, near = t1, far_rise = fabs(right_at(h, t0) - left_at(h, t0)),
           near_rise = fabs(right_at(h, t1) - left_at(h, t1));

    if (!(t1 > t0))
        return;
    if (near_rise > far_rise) {
        const double t = far, rise = far_rise;
        far = near;
        far_rise = near_rise;
        near = t;
        near_rise = rise;
    }
    for (int k = 0; k < STRETCHES_MAX && near_rise < far_rise / 4; k++) {
        const double next = far + (near - far) * 0.75 * far_rise / (far_rise - near_rise);
        stretch_above(h, fmin(far, next), fmax(far, next), area, volume);
        far = next;
        far_rise /= 4;
    }
    stretch_above(h, fmin(far, near), fmax(far, near), area, volume);
}

/* Where an edge crosses the level, 0 to 1; 0 where it does not. */
static double crossing(double front, double back)
{
    return (front < 0) != (back < 0) ? front / (front - back) : 0;
}

static void add_cell(const sums *s, const tu_bed_point corner[4])
{
    double h[4], area = 0, volume = 0, low = INFINITY, high = -INFINITY, mean = 0;
    const double whole = (corner[2].x_mm - corner[0].x_mm) * (corner[2].y_mm - corner[0].y_mm);

    for (int k = 0; k < 4; k++) {
        see_height(s->region, corner[k]);
        h[k] = corner[k].z_mm - s->level_mm;
        low = fmin(low, h[k]);
        high = fmax(high, h[k]);
        mean += h[k] / 4;
    }
    s->region->area_mm2 += whole;
    if (low >= 0) {
        area = 1;
        volume = mean;
    } else if (high > 0) {
        const double a = crossing(h[0], h[3]), b = crossing(h[1], h[2]);
        piece_above(h, 0, fmin(a, b), &area, &volume);
        piece_above(h, fmin(a, b), fmax(a, b), &area, &volume);
        piece_above(h, fmax(a, b), 1, &area, &volume);
    }
    s->region->above_mm2 += whole * area;
    s->region->above_mm3 += whole * volume;
}

/* The part of a cell in the rectangle; false: none. */
static bool narrow_cell(const tu_bed_rectangle *w, tu_bed_point corner[4])
{
    const tu_bed_point c[4] = {corner[0], corner[1], corner[2], corner[3]};
    const double x0 = fmax(c[0].x_mm, w->x_low_mm), x1 = fmin(c[2].x_mm, w->x_high_mm);
    const double y0 = fmax(c[0].y_mm, w->y_low_mm), y1 = fmin(c[2].y_mm, w->y_high_mm);
    const double x[4] = {x0, x1, x1, x0}, y[4] = {y0, y0, y1, y1};

    if (!(x1 > x0) || !(y1 > y0))
        return false;
    for (int k = 0; k < 4; k++) {
        const double s = (x[k] - c[0].x_mm) / (c[2].x_mm - c[0].x_mm);
        const double t = (y[k] - c[0].y_mm) / (c[2].y_mm - c[0].y_mm);
        corner[k] = (tu_bed_point){x[k], y[k],
                                   (1 - t) * ((1 - s) * c[0].z_mm + s * c[1].z_mm) +
                                       t * ((1 - s) * c[3].z_mm + s * c[2].z_mm)};
    }
    return true;
}

static void add_grid_cell(const sums *s, const tu_bed_model *model, size_t column, size_t row)
{
    tu_bed_point corner[4];
    bool known[4];
    const int found = tu_bed_grid_cell(model, column, row, corner, known);

    if (found == 4) {
        if (!s->within || narrow_cell(s->within, corner))
            add_cell(s, corner);
    } else if (found == 3) {
        tu_bed_point three[3];
        for (int k = 0, at = 0; k < 4; k++)
            if (known[k])
                three[at++] = corner[k];
        add_triangle(s, three[0], three[1], three[2]);
    }
}

/* The rectangle around all that was touched; a grid ends at its lines. */
static tu_bed_rectangle around(const tu_bed_model *model)
{
    if (model->kind == TU_BED_MESH)
        return model->extent;
    return (tu_bed_rectangle){model->column_x_mm[0], model->column_x_mm[model->columns - 1],
                              model->row_y_mm[0], model->row_y_mm[model->rows - 1]};
}

/* A touched place counts even where nothing around it is known: a high one in a hole is in the
 * cutter's way all the same. */
static void see_touched(const sums *s, const tu_bed_model *model)
{
    const tu_bed_rectangle *w = s->within;

    for (size_t i = 0; i < model->points; i++) {
        const tu_bed_point p = model->point[i];
        if (!w || (p.x_mm >= w->x_low_mm && p.x_mm <= w->x_high_mm && p.y_mm >= w->y_low_mm &&
                   p.y_mm <= w->y_high_mm))
            see_height(s->region, p);
    }
}

static tu_status fail_untouched(const tu_bed_model *model, const tu_bed_rectangle *rectangle,
                                tu_error *error)
{
    const tu_bed_rectangle *e = &model->extent;

    return tu_fail(
        error, TU_UNDETERMINED, NULL,
        "the rectangle X %.3f to %.3f, Y %.3f to %.3f was not touched, nor all around it "
        "near enough: the touches reach from X %.3f to %.3f and from Y %.3f "
        "to %.3f; touch the bed there",
        rectangle->x_low_mm, rectangle->x_high_mm, rectangle->y_low_mm, rectangle->y_high_mm,
        e->x_low_mm, e->x_high_mm, e->y_low_mm, e->y_high_mm);
}

tu_status tu_bed_measure_region(const tu_bed_model *model, const tu_bed_rectangle *rectangle,
                                double level_mm, tu_bed_region *region, tu_error *error)
{
    if (!model || !region)
        return tu_fail(error, TU_USAGE, NULL, "a model and room for the region are needed");
    *region = (tu_bed_region){.highest.z_mm = NAN, .lowest.z_mm = NAN};
    if (rectangle && (!(rectangle->x_high_mm > rectangle->x_low_mm) ||
                      !(rectangle->y_high_mm > rectangle->y_low_mm)))
        return tu_fail(error, TU_DATA_RANGE, NULL, "a rectangle has to have length and width");

    const sums s = {rectangle, level_mm, region};
    if (model->kind == TU_BED_MESH) {
        for (size_t i = 0; i < model->triangles; i++) {
            if (tu_bed_is_bridge(model, i))
                continue;
            const int32_t *c = model->triangle[i];
            add_triangle(&s, model->point[c[0]], model->point[c[1]], model->point[c[2]]);
        }
    } else {
        for (size_t row = 0; row + 1 < model->rows; row++)
            for (size_t column = 0; column + 1 < model->columns; column++)
                add_grid_cell(&s, model, column, row);
    }
    see_touched(&s, model);
    const tu_bed_rectangle whole = around(model);
    const tu_bed_rectangle *all = rectangle ? rectangle : &whole;
    if (!(region->area_mm2 > 0))
        return fail_untouched(model, all, error);
    region->unknown_mm2 = fmax(
        0, (all->x_high_mm - all->x_low_mm) * (all->y_high_mm - all->y_low_mm) - region->area_mm2);
    if (region->unknown_mm2 < ROUNDING * region->area_mm2)
        region->unknown_mm2 = 0;
    return TU_OK;
}
