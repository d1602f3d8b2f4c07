/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate_figures.c - which figures the touches bear on, their values and their budgets.
 */
#include "touch/calibrate_parts.h"

#include <math.h>
#include <string.h>

void tu_calibrated_combination(const tu_plate *plate, const tu_calibrated *figure,
                               double combination[TU_CALIBRATION_UNKNOWNS])
{
    memset(combination, 0, sizeof(double) * TU_CALIBRATION_UNKNOWNS);
    switch (figure->kind) {
    case TU_CALIBRATED_THICKNESS:
        combination[TU_COLUMN_THICKNESS] = 1.0;
        break;
    case TU_CALIBRATED_WALL:
        combination[TU_COLUMN_OFFSET + figure->index] = 1.0;
        break;
    case TU_CALIBRATED_BORE_CENTRE:
        combination[TU_COLUMN_CENTRE + figure->index] = 1.0;
        break;
    case TU_CALIBRATED_BORE_DIAMETER:
        combination[TU_COLUMN_BORE] = 1.0;
        break;
    case TU_CALIBRATED_CUTTER:
        combination[TU_COLUMN_RADIUS + figure->index] = 2.0;
        break;
    case TU_CALIBRATED_SUM:
        combination[TU_COLUMN_OFFSET + figure->index] = 1.0;
        combination[TU_COLUMN_RADIUS + figure->cutter] = (int)plate->wall[figure->index].facing;
        break;
    case TU_CALIBRATED_CLEARANCE:
        combination[TU_COLUMN_BORE] = 1.0;
        combination[TU_COLUMN_RADIUS + figure->cutter] = -2.0;
        break;
    }
}

/* Root of the sum of squares of one source over the rows that the filter lets through. */
static double part_of(const tu_calibration_design *design, const double *sensitivity,
                      tu_row_source source, tu_row_kind kind, int index)
{
    double sum = 0.0;
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        int row_index = kind == TU_ROW_TOUCHES ? (int)row->touch.axis : row->index;
        if (row->kind == kind && (index < 0 || row_index == index)) {
            double part = sensitivity[i] * row->source_mm[source];
            sum += part * part;
        }
    }
    return sqrt(sum);
}

static bool draws_on(const tu_calibration_design *design, const double *sensitivity, int axis)
{
    for (size_t i = 0; i < design->count; i++)
        if (design->row[i].kind == TU_ROW_TOUCHES && (int)design->row[i].touch.axis == axis &&
            fabs(sensitivity[i]) > 1e-9)
            return true;
    return false;
}

static bool spread_is_known(const tu_calibration_design *design, const double *sensitivity)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (draws_on(design, sensitivity, axis) && isnan(design->spread[axis].sd_mm))
            return false;
    return true;
}

static void add_if_any(tu_uncertainty *budget, const char *source, double standard_mm)
{
    if (standard_mm > 1e-8) /* below: the weight of an exact length, not a source */
        tu_budget_add(budget, source, standard_mm, INFINITY);
}

static void fill_budget(const tu_calibration_design *design, const double *sensitivity,
                        tu_uncertainty *budget)
{
    static const char *const touches[] = {"touches along X", "touches along Y", "touches along Z"};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (draws_on(design, sensitivity, axis) && !isnan(design->spread[axis].sd_mm)) {
            double part = part_of(design, sensitivity, TU_SOURCE_REPEAT, TU_ROW_TOUCHES, axis);
            tu_budget_add(budget, touches[axis], part, design->spread[axis].dof);
        }
    }
    static const struct {
        const char *name;
        tu_row_source source;
        tu_row_kind kind;
        int index;
    } others[] = {{"machine step", TU_SOURCE_STEP, TU_ROW_TOUCHES, -1},
                  {"flute alignment", TU_SOURCE_FLUTES, TU_ROW_TOUCHES, -1},
                  {"run-out", TU_SOURCE_RUN_OUT, TU_ROW_TOUCHES, -1},
                  {"block width along X", TU_SOURCE_STATED, TU_ROW_BLOCK, 0},
                  {"block width along Y", TU_SOURCE_STATED, TU_ROW_BLOCK, 1},
                  {"slot width along X", TU_SOURCE_STATED, TU_ROW_SLOT, 0},
                  {"slot width along Y", TU_SOURCE_STATED, TU_ROW_SLOT, 1},
                  {"cutter diameter", TU_SOURCE_STATED, TU_ROW_CUTTER, -1}};
    for (size_t k = 0; k < sizeof others / sizeof others[0]; k++)
        add_if_any(budget, others[k].name,
                   part_of(design, sensitivity, others[k].source, others[k].kind, others[k].index));
    tu_budget_close(budget, 0.95);
}

/* What the shop file says of a figure. */
static tu_quantity old_of(const tu_calibration_request *request, const tu_calibrated *figure)
{
    const tu_plate *plate = request->plate;
    int cutter = figure->kind == TU_CALIBRATED_CUTTER ? figure->index : figure->cutter;
    double radius =
        cutter >= 0 ? tu_calibration_reach_of(request, (size_t)cutter).radius_mm : (double)NAN;
    switch (figure->kind) {
    case TU_CALIBRATED_THICKNESS:
        return plate->thickness;
    case TU_CALIBRATED_WALL:
        return plate->wall[figure->index].offset;
    case TU_CALIBRATED_BORE_CENTRE:
        return plate->bore.centre[figure->index];
    case TU_CALIBRATED_BORE_DIAMETER:
        return plate->bore.diameter;
    case TU_CALIBRATED_CUTTER:
        return tu_quantity_mm(2.0 * radius, request->cutters[cutter]->diameter.tolerance_mm);
    case TU_CALIBRATED_SUM: {
        const tu_wall *wall = &plate->wall[figure->index];
        return tu_quantity_mm(wall->offset.value_mm + (int)wall->facing * radius, NAN);
    }
    case TU_CALIBRATED_CLEARANCE:
        return tu_quantity_mm(plate->bore.diameter.value_mm - 2.0 * radius, NAN);
    }
    return tu_quantity_none();
}

static void set_old(const tu_calibration_request *request, tu_calibrated *figure)
{
    tu_quantity old = old_of(request, figure);
    double factor = figure->kind == TU_CALIBRATED_CUTTER
                        ? tu_calibration_reach_of(request, (size_t)figure->index).factor
                        : 1.0;
    figure->old_mm = old.value_mm;
    figure->old_tolerance_mm = old.tolerance_mm;
    figure->shop_mm = figure->value_mm / factor;
    /* The file knows no degrees of freedom, so the interval is kept rather than u: where touches
     * are few, the file's figure must carry the larger t. */
    figure->shop_standard_mm =
        figure->uncertainty.expanded_mm / tu_student_factor(0.95, INFINITY) / factor;
}

static bool evaluate(const tu_calibration_request *request, const tu_calibration_design *design,
                     const tu_calibration_fit *fit, tu_calibrated *figure)
{
    double combination[TU_CALIBRATION_UNKNOWNS];
    double sensitivity[TU_CALIBRATION_ROWS];
    tu_calibrated_combination(request->plate, figure, combination);
    figure->determined = tu_calibration_sensitivities(design, fit, combination, sensitivity);
    figure->value_mm = NAN;
    if (figure->determined) {
        figure->value_mm = 0.0;
        for (size_t i = 0; i < design->count; i++)
            figure->value_mm += sensitivity[i] * design->row[i].y_mm;
        fill_budget(design, sensitivity, &figure->uncertainty);
        figure->spread_known = spread_is_known(design, sensitivity);
    } else {
        figure->uncertainty.standard_mm = NAN;
        figure->uncertainty.expanded_mm = NAN;
        figure->uncertainty.dof = NAN;
        figure->uncertainty.coverage_factor = NAN;
        figure->uncertainty.coverage = 0.95;
    }
    set_old(request, figure);
    return figure->determined;
}

/* What the listing goes through; the result's array is long enough for every figure there is. */
typedef struct listing {
    const tu_calibration_request *request;
    const tu_calibration_design *design;
    const tu_calibration_fit *fit;
    tu_calibration_result *result;
} listing;

static bool list(const listing *to, tu_calibrated_kind kind, int index, int cutter)
{
    if (to->result->count == TU_CALIBRATED_MAX)
        return false;
    tu_calibrated *figure = &to->result->figure[to->result->count++];
    memset(figure, 0, sizeof *figure);
    figure->kind = kind;
    figure->index = index;
    figure->cutter = cutter;
    figure->needed = true;
    return evaluate(to->request, to->design, to->fit, figure);
}

/* Whether there are touches on this surface of the plate, with this cutter (-1: any). */
static bool touched(const tu_calibration_design *design, tu_contact contact, int wall, int cutter)
{
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_touch *touch = &design->row[i].touch;
        bool same = tu_contact_is_bore(contact) ? tu_contact_is_bore(touch->contact)
                                                : touch->contact == contact;
        if (design->row[i].kind == TU_ROW_TOUCHES && same && (wall < 0 || touch->wall == wall) &&
            (cutter < 0 || (int)touch->cutter == cutter))
            return true;
    }
    return false;
}

/* A cutter's diameter is a by-product where all that it touched of the plate is settled. */
static bool cutter_is_needed(const listing *to, int cutter)
{
    bool on_plate = false;
    for (size_t k = 0; k < to->result->count; k++) {
        const tu_calibrated *figure = &to->result->figure[k];
        bool wall = figure->kind == TU_CALIBRATED_WALL &&
                    touched(to->design, TU_CONTACT_WALL, figure->index, cutter);
        bool centre = figure->kind == TU_CALIBRATED_BORE_CENTRE &&
                      touched(to->design, TU_CONTACT_BORE_LOW, figure->index, cutter);
        bool bore = figure->kind == TU_CALIBRATED_BORE_DIAMETER &&
                    touched(to->design, TU_CONTACT_BORE_LOW, -1, cutter);
        if ((wall || centre || bore) && !figure->determined)
            return true;
        on_plate = on_plate || wall || centre || bore;
    }
    return !on_plate;
}

static void list_cutters(const listing *to)
{
    size_t plate_figures = to->result->count;
    for (int c = 0; c < (int)to->request->cutter_count; c++) {
        if (tu_calibration_uses_cutter(to->design, (size_t)c)) {
            bool needed = cutter_is_needed(to, c);
            list(to, TU_CALIBRATED_CUTTER, c, -1);
            to->result->figure[to->result->count - 1].needed = needed;
        }
    }
    for (size_t k = 0; k < plate_figures; k++) {
        const tu_calibrated *figure = &to->result->figure[k];
        bool wall = figure->kind == TU_CALIBRATED_WALL;
        if (figure->determined || (!wall && figure->kind != TU_CALIBRATED_BORE_DIAMETER))
            continue;
        for (int c = 0; c < (int)to->request->cutter_count; c++)
            if (wall && touched(to->design, TU_CONTACT_WALL, figure->index, c))
                list(to, TU_CALIBRATED_SUM, figure->index, c);
            else if (!wall && touched(to->design, TU_CONTACT_BORE_LOW, -1, c))
                list(to, TU_CALIBRATED_CLEARANCE, 0, c);
    }
}

void tu_calibration_list_figures(const tu_calibration_request *request,
                                 const tu_calibration_design *design, const tu_calibration_fit *fit,
                                 tu_calibration_result *result)
{
    listing to = {request, design, fit, result};
    if (touched(design, TU_CONTACT_FACE, -1, -1) || touched(design, TU_CONTACT_SEAT, -1, -1))
        list(&to, TU_CALIBRATED_THICKNESS, 0, -1);
    for (int wall = 0; wall < 2; wall++)
        if (touched(design, TU_CONTACT_WALL, wall, -1))
            list(&to, TU_CALIBRATED_WALL, wall, -1);
    for (int wall = 0; wall < 2; wall++)
        if (touched(design, TU_CONTACT_BORE_LOW, wall, -1))
            list(&to, TU_CALIBRATED_BORE_CENTRE, wall, -1);
    if (touched(design, TU_CONTACT_BORE_LOW, -1, -1))
        list(&to, TU_CALIBRATED_BORE_DIAMETER, 0, -1);
    list_cutters(&to);
    result->determined = true;
    for (size_t k = 0; k < result->count; k++) {
        const tu_calibrated *figure = &result->figure[k];
        result->determined = result->determined && (figure->determined || !figure->needed);
    }
}
