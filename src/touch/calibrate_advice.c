/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate_advice.c - which further touches would settle what is not.
 *
 * Every contact that a person could add is a row. A figure becomes settled when the part of it that
 * lies outside the row space falls into the span of the added rows' parts outside. One row is
 * tried before two, and among equals the least work wins. Two are always enough: beside a wall, a
 * bare edge (and the width, where it faces inward); beside a side of a bore, the same side with the
 * plate across (and the width); beside one side of block or slot, the other and the width.
 */
#include "touch/calibrate_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
    COLUMNS = TU_CALIBRATION_UNKNOWNS,
    /* 2 of Z, 4 widths, and 4 edges of bare, slot, 2 walls, 2 distances by 2 sides of a bore */
    CANDIDATES = 6 + 4 * 8 * TU_CALIBRATION_CUTTERS,
    ROWS = TU_ADVICE_TOUCHES
};

/*
 * A touch to add, or a width to state. cost is the work in tenths of a plain bare touch; outside
 * is its part outside the row space, of unit length.
 */
typedef struct candidate {
    tu_calibration_touch touch;
    int width_axis; /* -1: a touch */
    bool width_of_slot;
    int cost;
    double outside[COLUMNS];
} candidate;

typedef struct search {
    const tu_calibration_request *request;
    const tu_calibration_design *design;
    tu_row_space space;
    size_t count;
    candidate list[CANDIDATES];
    double wanted[COLUMNS]; /* part of the figure outside the space, of unit length */
    size_t best[ROWS];
    size_t best_count;
    int best_cost;
} search;

/* More work where the edge or the axis was not touched so far, or not with this cutter. */
static int cost_of_place(const tu_calibration_design *design, const tu_calibration_touch *touch)
{
    int cost = 8;
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_touch *made = &design->row[i].touch;
        if (design->row[i].kind == TU_ROW_TOUCHES && made->axis == touch->axis) {
            bool same_edge = made->outward == touch->outward;
            int here = !same_edge ? 2 : made->cutter != touch->cutter ? 1 : 0;
            cost = here < cost ? here : cost;
        }
    }
    return cost;
}

static void offer(search *find, const double row[COLUMNS], candidate entry)
{
    if (find->count == CANDIDATES)
        return;
    memcpy(entry.outside, row, sizeof entry.outside);
    double before = 0.0;
    for (size_t k = 0; k < COLUMNS; k++)
        before += row[k] * row[k];
    double length = tu_row_space_reject(&find->space, entry.outside);
    if (length <= 1e-9 * sqrt(before))
        return; /* says nothing new */
    for (size_t k = 0; k < COLUMNS; k++)
        entry.outside[k] /= length;
    find->list[find->count++] = entry;
}

static void offer_touch(search *find, tu_contact contact, tu_axis axis, int outward, int wall,
                        size_t cutter, int cost)
{
    candidate entry = {.width_axis = -1};
    entry.touch = (tu_calibration_touch){contact, axis, outward, wall, cutter, NAN};
    entry.cost = cost;
    if (axis != TU_AXIS_Z) {
        entry.cost += cost_of_place(find->design, &entry.touch);
        entry.cost += tu_calibration_uses_cutter(find->design, cutter) ? 0 : 6;
    }
    double row[COLUMNS];
    tu_calibration_touch_row(find->request->plate, &entry.touch, row);
    offer(find, row, entry);
}

static void offer_plate(search *find, tu_axis axis, int outward, size_t cutter)
{
    const tu_plate *plate = find->request->plate;
    for (int wall = 0; wall < 2; wall++) {
        bool home = wall == (axis == TU_AXIS_X ? 0 : 1);
        if (!home && !plate->turned)
            continue;
        int turn = home ? 0 : 3;
        if (plate->wall[wall].present)
            offer_touch(find, TU_CONTACT_WALL, axis, outward, wall, cutter, 12 + turn);
        if (plate->bore.present) {
            offer_touch(find, TU_CONTACT_BORE_LOW, axis, outward, wall, cutter, 12 + turn);
            offer_touch(find, TU_CONTACT_BORE_HIGH, axis, outward, wall, cutter, 12 + turn);
        }
    }
}

static void offer_all(search *find)
{
    find->count = 0;
    offer_touch(find, TU_CONTACT_FACE, TU_AXIS_Z, 0, 0, 0, 10);
    offer_touch(find, TU_CONTACT_SEAT, TU_AXIS_Z, 0, 0, 0, 10);
    for (int k = 0; k < 4; k++) {
        candidate entry = {.width_axis = k % 2, .width_of_slot = k >= 2, .cost = 9};
        double row[COLUMNS];
        tu_calibration_width_row(entry.width_axis, entry.width_of_slot, row);
        offer(find, row, entry);
    }
    for (size_t cutter = 0; cutter < find->request->cutter_count; cutter++) {
        for (int edge = 0; edge < 4; edge++) {
            tu_axis axis = edge < 2 ? TU_AXIS_X : TU_AXIS_Y;
            int outward = edge % 2 == 0 ? -1 : 1;
            offer_touch(find, TU_CONTACT_BARE, axis, outward, 0, cutter, 10);
            offer_touch(find, TU_CONTACT_SLOT, axis, outward, 0, cutter, 15);
            offer_plate(find, axis, outward, cutter);
        }
    }
}

/* Takes the part along each unit vector of the list away; both are orthogonalised on the way. */
static double reject(const double (*units)[COLUMNS], size_t count, double vector[COLUMNS])
{
    double square = 0.0;
    for (size_t j = 0; j < count; j++) {
        double along = 0.0;
        for (size_t k = 0; k < COLUMNS; k++)
            along += units[j][k] * vector[k];
        for (size_t k = 0; k < COLUMNS; k++)
            vector[k] -= along * units[j][k];
    }
    for (size_t k = 0; k < COLUMNS; k++)
        square += vector[k] * vector[k];
    return sqrt(square);
}

/* One width at most is advised, for the advice has room for one. */
static bool second_width(const search *find, size_t i, const size_t *picked, size_t count)
{
    bool before = false;
    for (size_t k = 0; k < count; k++)
        before = before || find->list[picked[k]].width_axis >= 0;
    return before && find->list[i].width_axis >= 0;
}

/* Tries to add a candidate from `first` on to those picked; units are the picked parts outside,
 * orthonormal. Depth is at most ROWS. */
static void try_from(search *find, size_t first, size_t wanted_count, size_t picked[ROWS],
                     double units[ROWS][COLUMNS], size_t count, int cost)
{
    for (size_t i = first; i < find->count; i++) {
        int sum = cost + find->list[i].cost;
        if (sum >= find->best_cost || second_width(find, i, picked, count))
            continue;
        memcpy(units[count], find->list[i].outside, sizeof units[count]);
        double length = reject((const double(*)[COLUMNS])units, count, units[count]);
        if (length <= 1e-9)
            continue;
        for (size_t k = 0; k < COLUMNS; k++)
            units[count][k] /= length;
        picked[count] = i;
        if (count + 1 < wanted_count) {
            try_from(find, i + 1, wanted_count, picked, units, count + 1, sum);
            continue;
        }
        double rest[COLUMNS];
        memcpy(rest, find->wanted, sizeof rest);
        if (reject((const double(*)[COLUMNS])units, count + 1, rest) <= 1e-9) {
            find->best_count = wanted_count;
            find->best_cost = sum;
            memcpy(find->best, picked, wanted_count * sizeof picked[0]);
        }
    }
}

static void find_best(search *find, const double combination[COLUMNS])
{
    memcpy(find->wanted, combination, sizeof find->wanted);
    double length = tu_row_space_reject(&find->space, find->wanted);
    for (size_t k = 0; k < COLUMNS; k++)
        find->wanted[k] /= length;
    find->best_count = 0;
    find->best_cost = 1000000;
    offer_all(find);
    size_t picked[ROWS];
    double units[ROWS][COLUMNS];
    for (size_t rows = 1; rows <= ROWS && find->best_count == 0; rows++)
        try_from(find, 0, rows, picked, units, 0, 0);
}

/* Whether the stored diameters alone would settle it; only flat cutters can be trusted. */
static bool trust_settles(const tu_calibration_request *request, const tu_row_space *space,
                          const tu_calibration_design *design, const double combination[COLUMNS])
{
    tu_row_space trusted = *space;
    for (size_t c = 0; c < request->cutter_count; c++) {
        if (tu_calibration_uses_cutter(design, c)) {
            if (request->cutters[c]->shape != TU_CUTTER_FLAT)
                return false;
            double row[COLUMNS] = {0};
            row[TU_COLUMN_RADIUS + c] = 1.0;
            tu_row_space_add(&trusted, row);
        }
    }
    return tu_row_space_holds(&trusted, combination);
}

static size_t put(char *text, size_t used, const char *more)
{
    size_t room = TU_ADVICE_SIZE - used;
    int length = snprintf(text + used, room, "%s", more);
    return length < 0 ? used : used + ((size_t)length < room ? (size_t)length : room - 1);
}

static void describe_touch(char *text, size_t size, const tu_calibration_request *request,
                           const tu_calibration_touch *touch)
{
    const char *edge = tu_calibration_edge_name(touch->axis, touch->outward);
    const char *cutter = touch->axis == TU_AXIS_Z ? "" : request->cutters[touch->cutter]->name;
    char letter = touch->wall == 0 ? 'a' : 'b';
    switch (touch->contact) {
    case TU_CONTACT_WALL:
        snprintf(text, size,
                 "put the plate on the %s edge and touch its wall %c with %s (%s/%c/%s)", edge,
                 letter, cutter, edge, letter, cutter);
        break;
    case TU_CONTACT_BORE_LOW:
    case TU_CONTACT_BORE_HIGH:
        snprintf(text, size,
                 "put the plate on the %s edge, its distance %c along %c, and touch both sides of "
                 "the bore with %s (%s/bore.%c/%s)",
                 edge, letter, tu_axis_letter(touch->axis), cutter, edge, letter, cutter);
        break;
    case TU_CONTACT_BARE:
        snprintf(text, size, "touch the %s edge of the bare block with %s (%s/bare/%s)", edge,
                 cutter, edge, cutter);
        break;
    case TU_CONTACT_SLOT:
        snprintf(text, size, "touch the %s side of a slot from inside with %s (%s/slot/%s)", edge,
                 cutter, edge, cutter);
        break;
    case TU_CONTACT_FACE:
        snprintf(text, size, "touch the plate's face (face)");
        break;
    case TU_CONTACT_SEAT:
        snprintf(text, size, "touch what the plate rests on, without it (seat)");
        break;
    }
}

static void describe(const search *find, tu_advice *advice, const tu_calibrated *figure)
{
    char name[TU_FIGURE_NAME_SIZE], step[TU_ADVICE_SIZE];
    tu_calibrated_name(name, find->request, figure);
    size_t used = put(advice->text, 0, name);
    used = put(advice->text, used, ": ");
    if (find->best_count == 0) {
        put(advice->text, used,
            "no touch that was tried settles it; start with the plate on both "
            "edges of a block of known width, and the bare block");
        return;
    }
    for (size_t k = 0; k < advice->touch_count; k++) {
        describe_touch(step, sizeof step, find->request, &advice->touch[k]);
        if (strstr(advice->text, step) != NULL)
            continue; /* the other side of a bore, which stands there already */
        used = put(advice->text, used, k > 0 ? ", and " : "");
        used = put(advice->text, used, step);
    }
    if (advice->width_axis >= 0) {
        snprintf(step, sizeof step, "%sstate the width of the %s ({%s_%c})",
                 advice->touch_count > 0 ? ", and " : "", advice->width_of_slot ? "slot" : "block",
                 advice->width_of_slot ? "slot" : "block", advice->width_axis == 0 ? 'x' : 'y');
        used = put(advice->text, used, step);
    }
    if (advice->trust)
        put(advice->text, used,
            "; or, where the stored diameter is sure, take it as known ({trust_cutters})");
}

/* Takes the advised rows into the space, so that the next advice builds on this one. */
static void take_in(search *find, tu_advice *advice)
{
    for (size_t k = 0; k < find->best_count; k++) {
        const candidate *chosen = &find->list[find->best[k]];
        double row[COLUMNS];
        if (chosen->width_axis >= 0) {
            advice->width_axis = chosen->width_axis;
            advice->width_of_slot = chosen->width_of_slot;
            tu_calibration_width_row(chosen->width_axis, chosen->width_of_slot, row);
        } else {
            advice->touch[advice->touch_count++] = chosen->touch;
            tu_calibration_touch_row(find->request->plate, &chosen->touch, row);
        }
        tu_row_space_add(&find->space, row);
    }
}

static void advise_figure(search *find, tu_calibration_result *result, size_t index)
{
    const tu_calibrated *figure = &result->figure[index];
    double combination[COLUMNS];
    tu_calibrated_combination(find->request->plate, figure, combination);
    tu_advice *advice = &result->advice[result->advice_count++];
    memset(advice, 0, sizeof *advice);
    advice->figure = index;
    advice->width_axis = -1;
    /* To trust a diameter is no way to measure it. */
    advice->trust = figure->kind != TU_CALIBRATED_CUTTER &&
                    trust_settles(find->request, &find->space, find->design, combination);
    find_best(find, combination);
    take_in(find, advice);
    describe(find, advice, figure);
    for (size_t k = 0; k < result->count; k++) {
        tu_calibrated_combination(find->request->plate, &result->figure[k], combination);
        if (!result->figure[k].determined && tu_row_space_holds(&find->space, combination))
            advice->settles |= 1u << k;
    }
}

/* Once all of the plate is settled, a cutter that touched it is a by-product, and a sum or a
 * clearance is only what was left of figures that stand before it. */
static bool follows_from_others(const tu_calibration_design *design, const tu_calibrated *figure)
{
    bool on_plate = false;
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        on_plate =
            on_plate || (row->kind == TU_ROW_TOUCHES && tu_contact_is_plate(row->touch.contact) &&
                         (int)row->touch.cutter == figure->index);
    }
    return figure->kind == TU_CALIBRATED_SUM || figure->kind == TU_CALIBRATED_CLEARANCE ||
           (figure->kind == TU_CALIBRATED_CUTTER && on_plate);
}

void tu_calibration_advise(const tu_calibration_request *request,
                           const tu_calibration_design *design, tu_calibration_result *result)
{
    search find;
    memset(&find, 0, sizeof find);
    find.request = request;
    find.design = design;
    for (size_t i = 0; i < design->count; i++)
        tu_row_space_add(&find.space, design->row[i].coefficient);
    for (size_t k = 0; k < result->count; k++) {
        const tu_calibrated *figure = &result->figure[k];
        double combination[COLUMNS];
        tu_calibrated_combination(request->plate, figure, combination);
        bool waiting = !figure->determined && figure->needed &&
                       !follows_from_others(design, figure) &&
                       !tu_row_space_holds(&find.space, combination);
        if (waiting && result->advice_count < TU_ADVICE_MAX)
            advise_figure(&find, result, k);
    }
}
