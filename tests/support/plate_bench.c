/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_bench.c - solids moved against each other; see plate_bench.h.
 */
#include "plate_bench.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct point {
    double x, y;
} point;

/* A convex body of four corners, or the inside of a circle (count 0) that holds the cutter. */
typedef struct body {
    size_t count;
    point corner[4];
    point centre;
    double radius;
} body;

static double distance_to_segment(point p, point a, point b)
{
    double dx = b.x - a.x, dy = b.y - a.y;
    double t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy);
    t = fmin(1.0, fmax(0.0, t));
    return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static bool inside(const body *solid, point p)
{
    bool left = false, right = false;
    for (size_t i = 0; i < solid->count; i++) {
        point a = solid->corner[i], b = solid->corner[(i + 1) % solid->count];
        double cross = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
        left = left || cross > 0.0;
        right = right || cross < 0.0;
    }
    return !(left && right);
}

static bool overlaps(const body *solid, point disc, double radius)
{
    if (solid->count == 0)
        return hypot(disc.x - solid->centre.x, disc.y - solid->centre.y) + radius > solid->radius;
    if (inside(solid, disc))
        return true;
    for (size_t i = 0; i < solid->count; i++)
        if (distance_to_segment(disc, solid->corner[i], solid->corner[(i + 1) % solid->count]) <
            radius)
            return true;
    return false;
}

/* Moves the disc from a clear place to one that overlaps, and stops between the two. */
static point meet(const body *solid, double radius, point clear, point beyond)
{
    assert_false(overlaps(solid, clear, radius));
    assert_true(overlaps(solid, beyond, radius));
    for (int i = 0; i < 60; i++) {
        point middle = {(clear.x + beyond.x) / 2.0, (clear.y + beyond.y) / 2.0};
        if (overlaps(solid, middle, radius))
            beyond = middle;
        else
            clear = middle;
    }
    return clear;
}

/* A place of the plate as it stands on the left edge: `in` to the right of that edge, `up` to the
 * back of the block's middle; turned onto another edge by quarter turns about the vertical. */
static point turned(const bench *on, char edge, double in, double up)
{
    const bench_truth *truth = &on->truth;
    point middle = {truth->origin[0] + truth->width[0] / 2.0,
                    truth->origin[1] + truth->width[1] / 2.0};
    double reach = (edge == 'l' || edge == 'r' ? truth->width[0] : truth->width[1]) / 2.0;
    double x = in - reach, y = up; /* from the block's middle */
    int quarters = edge == 'l' ? 0 : edge == 'f' ? 1 : edge == 'r' ? 2 : 3;
    for (int i = 0; i < quarters; i++) { /* counter-clockwise: left goes to front */
        double old = x;
        x = -y;
        y = old;
    }
    return (point){middle.x + x, middle.y + y};
}

static body slab(const bench *on, char edge, double from, double to)
{
    body solid = {.count = 4};
    const double in[] = {from, to, to, from}, up[] = {-25, -25, 25, 25};
    for (size_t i = 0; i < 4; i++)
        solid.corner[i] = turned(on, edge, in[i], up[i]);
    return solid;
}

/* The wall is 8 mm of material, on that side of its touched face that the face looks away from. */
static point contact_on_wall(const bench *on, char edge, int wall, double radius)
{
    double face = -on->truth.offset[wall];
    if (on->truth.outward[wall]) {
        body solid = slab(on, edge, face, face + 8.0);
        return meet(&solid, radius, turned(on, edge, face - 60.0, 3.0),
                    turned(on, edge, face + 4.0, 3.0));
    }
    body solid = slab(on, edge, face - 8.0, face);
    return meet(&solid, radius, turned(on, edge, face + 60.0, 3.0),
                turned(on, edge, face - 4.0, 3.0));
}

static point contact_in_bore(const bench *on, char edge, int distance, bool low, double radius)
{
    bool along_x = edge == 'l' || edge == 'r';
    body hole = {.count = 0, .radius = on->truth.bore_diameter / 2.0};
    hole.centre = turned(on, edge, -on->truth.bore_out[distance], -4.0);
    double step = low ? -hole.radius : hole.radius;
    point beyond = hole.centre;
    *(along_x ? &beyond.x : &beyond.y) += step;
    return meet(&hole, radius, hole.centre, beyond);
}

static point contact_bare(const bench *on, char edge, double radius)
{
    double depth = edge == 'l' || edge == 'r' ? on->truth.width[0] : on->truth.width[1];
    body block = slab(on, edge, 0.0, depth);
    return meet(&block, radius, turned(on, edge, -60.0, 1.0), turned(on, edge, 5.0, 1.0));
}

static point contact_in_slot(const bench *on, char edge, double radius)
{
    int axis = edge == 'l' || edge == 'r' ? 0 : 1;
    double low = on->truth.slot_at[axis], high = low + on->truth.slot_width[axis];
    bool at_low = edge == 'l' || edge == 'f';
    double from = at_low ? low - 10.0 : high, to = at_low ? low : high + 10.0;
    body side = {.count = 4};
    const double across[] = {from, to, to, from}, along[] = {-30, -30, 30, 30};
    for (size_t i = 0; i < 4; i++)
        side.corner[i] = axis == 0 ? (point){across[i], along[i]} : (point){along[i], across[i]};
    double middle = (low + high) / 2.0, end = (from + to) / 2.0;
    point start = axis == 0 ? (point){middle, 2.0} : (point){2.0, middle};
    point stop = axis == 0 ? (point){end, 2.0} : (point){2.0, end};
    return meet(&side, radius, start, stop);
}

void bench_start(bench *on, uint64_t seed)
{
    memset(on, 0, sizeof *on);
    on->random = check_random_seed(seed);
    on->truth = (bench_truth){.origin = {200.0, 150.0},
                              .width = {60.0, 45.0},
                              .slot_at = {500.0, 400.0},
                              .slot_width = {20.0, 20.0},
                              .offset = {6.35, 6.40},
                              .outward = {true, true},
                              .bore_diameter = 25.0,
                              .bore_out = {-20.0, -20.0},
                              .seat_z = -50.0,
                              .thickness = 9.53,
                              .cutter_diameter = {6.35, 3.175, 6.0}};
    on->plate = tu_plate_start();
    snprintf(on->plate.name, sizeof on->plate.name, "offcut");
    on->plate.thickness = tu_quantity_mm(9.53, 0.02);
    for (size_t k = 0; k < 2; k++) {
        on->plate.wall[k].present = true;
        on->plate.wall[k].offset = tu_quantity_mm(on->truth.offset[k], 0.02);
    }
    static const char *const names[] = {"quarter", "eighth", "six"};
    on->request = tu_calibration_request_start();
    for (size_t k = 0; k < 3; k++) {
        tu_cutter *cutter = &on->cutter[k];
        *cutter = tu_cutter_start();
        snprintf(cutter->name, sizeof cutter->name, "%s", names[k]);
        cutter->diameter = tu_quantity_mm(on->truth.cutter_diameter[k], 0.01);
        on->request.cutters[k] = cutter;
    }
    on->request.cutter_count = 3;
    on->request.plate = &on->plate;
    on->request.touches = on->touch;
}

void bench_bore(bench *on)
{
    on->plate.bore.present = true;
    on->plate.bore.diameter = tu_quantity_mm(on->truth.bore_diameter, 0.02);
    on->plate.bore.touch_depth = tu_quantity_none();
    for (size_t k = 0; k < 2; k++)
        on->plate.bore.centre[k] = tu_quantity_mm(on->truth.bore_out[k], 0.03);
}

void bench_state_block(bench *on, double tolerance_mm)
{
    for (size_t k = 0; k < 2; k++)
        on->request.block[k] = tu_quantity_mm(on->truth.width[k], tolerance_mm);
}

static void add(bench *on, tu_calibration_touch touch, double contact_mm, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        assert_true(on->request.touch_count < BENCH_TOUCHES);
        double noise = on->noise_mm > 0.0 ? check_random_normal(&on->random, 0, on->noise_mm) : 0;
        touch.position_mm = contact_mm + noise;
        on->touch[on->request.touch_count++] = touch;
    }
}

void bench_touch(bench *on, char edge, char surface, size_t cutter, size_t n)
{
    bool along_x = edge == 'l' || edge == 'r';
    tu_calibration_touch touch = {.axis = along_x ? TU_AXIS_X : TU_AXIS_Y,
                                  .outward = edge == 'l' || edge == 'f' ? -1 : 1,
                                  .cutter = cutter};
    double radius = on->truth.cutter_diameter[cutter] / 2.0;
    point contact;
    if (surface == 'a' || surface == 'b') {
        touch.contact = TU_CONTACT_WALL;
        touch.wall = surface == 'a' ? 0 : 1;
        contact = contact_on_wall(on, edge, touch.wall, radius);
    } else if (strchr("<>()", surface) != NULL) {
        bool low = surface == '<' || surface == '(';
        int home = along_x ? 0 : 1;
        touch.contact = low ? TU_CONTACT_BORE_LOW : TU_CONTACT_BORE_HIGH;
        touch.wall = surface == '<' || surface == '>' ? home : 1 - home;
        contact = contact_in_bore(on, edge, touch.wall, low, radius);
    } else if (surface == '-') {
        touch.contact = TU_CONTACT_BARE;
        contact = contact_bare(on, edge, radius);
    } else {
        touch.contact = TU_CONTACT_SLOT;
        contact = contact_in_slot(on, edge, radius);
    }
    add(on, touch, along_x ? contact.x : contact.y, n);
}

void bench_touch_z(bench *on, char surface, size_t n)
{
    tu_calibration_touch touch = {.axis = TU_AXIS_Z,
                                  .contact = surface == 'f' ? TU_CONTACT_FACE : TU_CONTACT_SEAT};
    double top = on->truth.seat_z + (surface == 'f' ? on->truth.thickness : 0.0);
    add(on, touch, top, n);
}

void bench_follow(bench *on, const tu_advice *advice, size_t n)
{
    static const char surfaces[] = {'a', '<', '>', '-', '='};
    for (size_t k = 0; k < advice->touch_count; k++) {
        const tu_calibration_touch *touch = &advice->touch[k];
        if (touch->axis == TU_AXIS_Z) {
            bench_touch_z(on, touch->contact == TU_CONTACT_FACE ? 'f' : 's', n);
            continue;
        }
        const char *edge = tu_calibration_edge_name(touch->axis, touch->outward);
        char surface = surfaces[touch->contact];
        if (touch->contact == TU_CONTACT_WALL && touch->wall == 1)
            surface = 'b';
        else if ((surface == '<' || surface == '>') && touch->wall != (int)touch->axis)
            surface = surface == '<' ? '(' : ')';
        bench_touch(on, strcmp(edge, "back") == 0 ? 'k' : edge[0], surface, touch->cutter, n);
    }
    if (advice->width_axis >= 0) {
        tu_quantity *width = advice->width_of_slot ? on->request.slot : on->request.block;
        const double *truth = advice->width_of_slot ? on->truth.slot_width : on->truth.width;
        width[advice->width_axis] = tu_quantity_mm(truth[advice->width_axis], 0.005);
    }
}

tu_status bench_solve(bench *on)
{
    memset(&on->error, 0, sizeof on->error);
    return tu_calibrate_solve(&on->request, &on->result, &on->error);
}

const tu_calibrated *bench_figure(const bench *on, tu_calibrated_kind kind, int index, int cutter)
{
    for (size_t k = 0; k < on->result.count; k++) {
        const tu_calibrated *figure = &on->result.figure[k];
        if (figure->kind == kind && figure->index == index && figure->cutter == cutter)
            return figure;
    }
    fail_msg("no figure of kind %d, index %d, cutter %d", (int)kind, index, cutter);
    return NULL;
}

bool bench_warned(const bench *on, const char *part)
{
    for (size_t k = 0; k < on->result.warnings.count; k++)
        if (strstr(on->result.warnings.text[k], part) != NULL)
            return true;
    return false;
}

double bench_truth_of(const bench *on, const tu_calibrated *figure)
{
    const bench_truth *truth = &on->truth;
    switch (figure->kind) {
    case TU_CALIBRATED_THICKNESS:
        return truth->thickness;
    case TU_CALIBRATED_WALL:
        return truth->offset[figure->index];
    case TU_CALIBRATED_BORE_CENTRE:
        return truth->bore_out[figure->index];
    case TU_CALIBRATED_BORE_DIAMETER:
        return truth->bore_diameter;
    case TU_CALIBRATED_CUTTER:
        return truth->cutter_diameter[figure->index];
    case TU_CALIBRATED_SUM: {
        double radius = truth->cutter_diameter[figure->cutter] / 2.0;
        return truth->offset[figure->index] + (truth->outward[figure->index] ? radius : -radius);
    }
    case TU_CALIBRATED_CLEARANCE:
        return truth->bore_diameter - truth->cutter_diameter[figure->cutter];
    }
    return NAN;
}
