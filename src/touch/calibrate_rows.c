/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate_rows.c - from touches to observations: groups with their means and spread, known
 * widths, trusted radii, each with the coefficients of docs/plate.md.
 */
#include "touch/calibrate_parts.h"

#include "base/started.h"
#include "touch/request.h"
#include "trueup/cutter.h"
#include "trueup/number.h"

#include <math.h>
#include <string.h>

/* Repeats of one contact further apart than this are not scatter: a bounced or missed touch. */
static const double RANGE_LIMIT_MM = 0.5;
/* Weight of a touch whose spread nobody knows; only ratios count then. */
static const double ASSUMED_SD_MM = 0.01;
/* Least standard deviations in the weights: repeats that agree to the last digit, exact lengths. */
static const double LEAST_TOUCH_SD_MM = 1e-4;
static const double LEAST_STATED_SD_MM = 1e-6;

bool tu_contact_is_bore(tu_contact contact)
{
    return contact == TU_CONTACT_BORE_LOW || contact == TU_CONTACT_BORE_HIGH;
}

bool tu_contact_is_plate(tu_contact contact)
{
    return contact == TU_CONTACT_WALL || tu_contact_is_bore(contact);
}

void tu_calibration_touch_row(const tu_plate *plate, const tu_calibration_touch *touch,
                              double coefficient[TU_CALIBRATION_UNKNOWNS])
{
    memset(coefficient, 0, sizeof(double) * TU_CALIBRATION_UNKNOWNS);
    int s = touch->outward;
    size_t wall = touch->wall == 0 ? 0 : 1;
    size_t side = 2 * (size_t)touch->axis + (s > 0 ? 1 : 0);
    double *radius = &coefficient[TU_COLUMN_RADIUS + touch->cutter];
    switch (touch->contact) {
    case TU_CONTACT_WALL:
        coefficient[TU_COLUMN_EDGE + side] = 1.0;
        coefficient[TU_COLUMN_OFFSET + wall] = s;
        *radius = s * (int)plate->wall[wall].facing;
        break;
    case TU_CONTACT_BORE_LOW:
    case TU_CONTACT_BORE_HIGH: {
        double d = touch->contact == TU_CONTACT_BORE_LOW ? -1.0 : 1.0;
        coefficient[TU_COLUMN_EDGE + side] = 1.0;
        coefficient[TU_COLUMN_CENTRE + wall] = s;
        coefficient[TU_COLUMN_BORE] = d / 2.0;
        *radius = -d;
        break;
    }
    case TU_CONTACT_BARE:
        coefficient[TU_COLUMN_EDGE + side] = 1.0;
        *radius = s;
        break;
    case TU_CONTACT_SLOT:
        coefficient[TU_COLUMN_SLOT + side] = 1.0;
        *radius = -s;
        break;
    case TU_CONTACT_FACE:
        coefficient[TU_COLUMN_THICKNESS] = 1.0;
        coefficient[TU_COLUMN_SEAT] = 1.0;
        break;
    case TU_CONTACT_SEAT:
        coefficient[TU_COLUMN_SEAT] = 1.0;
        break;
    }
}

void tu_calibration_width_row(int axis, bool slot, double coefficient[TU_CALIBRATION_UNKNOWNS])
{
    memset(coefficient, 0, sizeof(double) * TU_CALIBRATION_UNKNOWNS);
    size_t first = (slot ? TU_COLUMN_SLOT : TU_COLUMN_EDGE) + 2 * (size_t)axis;
    coefficient[first] = -1.0;
    coefficient[first + 1] = 1.0;
}

bool tu_calibration_uses_cutter(const tu_calibration_design *design, size_t cutter)
{
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        if (row->kind == TU_ROW_TOUCHES && row->touch.axis != TU_AXIS_Z &&
            row->touch.cutter == cutter)
            return true;
    }
    return false;
}

/* The depth at which the plate's side contacts happen, as far as the shop file tells. */
static double contact_depth(const tu_plate *plate)
{
    const tu_quantity depths[] = {plate->wall[0].touch_depth, plate->wall[1].touch_depth,
                                  plate->bore.touch_depth};
    const bool present[] = {plate->wall[0].present, plate->wall[1].present, plate->bore.present};
    for (size_t k = 0; k < 3; k++)
        if (present[k] && !isnan(depths[k].value_mm))
            return depths[k].value_mm;
    return NAN;
}

tu_calibration_reach tu_calibration_reach_of(const tu_calibration_request *request, size_t cutter)
{
    tu_calibration_reach reach = {NAN, 1.0, 0.0, 0.0, true};
    const tu_cutter *tool = request->cutters[cutter];
    double depth = contact_depth(request->plate);
    double profile = NAN;
    if (tu_cutter_profile_radius(tool, depth, &profile, NULL, NULL))
        return reach;
    tu_flute_loss loss = tu_cutter_flute_loss(tool, profile, depth);
    reach.radius_mm = loss.mean_reach_mm;
    reach.factor = loss.mean_reach_mm / profile;
    reach.standard_mm = loss.standard_mm;
    reach.worst_loss_mm = loss.worst_loss_mm;
    reach.turned = loss.turned;
    return reach;
}

static tu_status check_surface(const tu_calibration_request *request,
                               const tu_calibration_touch *touch, const char *name,
                               tu_warnings *warnings, tu_error *error)
{
    const tu_plate *plate = request->plate;
    bool wall = touch->contact == TU_CONTACT_WALL;
    if (wall && !plate->wall[touch->wall].present)
        return tu_fail(error, TU_DATA_MISSING, name,
                       "plate %s has no wall %c; name one that it has, or add the wall to the "
                       "shop file with the way it faces",
                       plate->name, touch->wall == 0 ? 'a' : 'b');
    if (tu_contact_is_bore(touch->contact) && !plate->bore.present)
        return tu_fail(error, TU_DATA_MISSING, name,
                       "plate %s has no bore; touch its walls, or add the bore to the shop file",
                       plate->name);
    if (tu_contact_is_plate(touch->contact) && !plate->turned &&
        touch->wall != (touch->axis == TU_AXIS_X ? 0 : 1))
        tu_warn(warnings,
                "plate %s is not turned by the shop file, so its %c serves %c only, yet %s touches "
                "it along %c: is the right one named?",
                plate->name, touch->wall == 0 ? 'a' : 'b', touch->wall == 0 ? 'X' : 'Y', name,
                tu_axis_letter(touch->axis));
    return TU_OK;
}

static bool touch_is_well_formed(const tu_calibration_request *request,
                                 const tu_calibration_touch *touch)
{
    bool vertical = touch->contact == TU_CONTACT_FACE || touch->contact == TU_CONTACT_SEAT;
    if (vertical || touch->axis == TU_AXIS_Z)
        return vertical && touch->axis == TU_AXIS_Z;
    return (touch->axis == TU_AXIS_X || touch->axis == TU_AXIS_Y) &&
           (touch->outward == -1 || touch->outward == 1) &&
           (!tu_contact_is_plate(touch->contact) || touch->wall == 0 || touch->wall == 1) &&
           touch->cutter < request->cutter_count && touch->cutter < TU_CALIBRATION_CUTTERS &&
           request->cutters[touch->cutter] != NULL;
}

static tu_status check_travel(const tu_machine *machine, const tu_calibration_touch *touch,
                              const char *name, tu_error *error)
{
    double low = machine->travel_low_mm[touch->axis];
    double high = machine->travel_high_mm[touch->axis];
    double at = touch->position_mm;
    if (!(at < low) && !(at > high))
        return TU_OK;
    char text[3][TU_NUMBER_TEXT_SIZE];
    tu_number_format(text[0], sizeof text[0], at, 3);
    tu_number_format(text[1], sizeof text[1], low, 3);
    tu_number_format(text[2], sizeof text[2], high, 3);
    double inch_as_mm = at / TU_MM_PER_INCH;
    bool slip = inch_as_mm >= low && inch_as_mm <= high;
    return tu_fail(error, TU_DATA_RANGE, name,
                   "%s mm lies outside the machine's travel in %c, %s to %s mm%s", text[0],
                   tu_axis_letter(touch->axis), text[1], text[2],
                   slip ? "; if it was read in millimetres, is {unit} in right?"
                        : "; are these machine coordinates?");
}

static tu_status check_touch(const tu_calibration_request *request,
                             const tu_calibration_touch *touch, tu_warnings *warnings,
                             tu_error *error)
{
    if (!touch_is_well_formed(request, touch))
        return tu_fail(error, TU_USAGE, "touches",
                       "a touch names an edge, a wall or a cutter that does not exist");
    char name[TU_TOUCH_NAME_SIZE];
    tu_calibration_touch_name(name, request, touch);
    if (!isfinite(touch->position_mm) || fabs(touch->position_mm) > 1e6)
        return tu_fail(error, TU_DATA_RANGE, name,
                       "a position must be a number of some metres "
                       "at most; look for a slip of the keys");
    tu_status status = check_surface(request, touch, name, warnings, error);
    return status ? status : check_travel(&request->machine, touch, name, error);
}

static bool same_group(const tu_calibration_touch *p, const tu_calibration_touch *q)
{
    if (p->contact != q->contact || p->axis != q->axis)
        return false;
    bool vertical = p->axis == TU_AXIS_Z;
    return vertical || (p->outward == q->outward && p->cutter == q->cutter &&
                        (!tu_contact_is_plate(p->contact) || p->wall == q->wall));
}

static tu_status add_touch(const tu_calibration_request *request, const tu_calibration_touch *touch,
                           tu_calibration_design *design, tu_error *error)
{
    size_t i = 0;
    while (i < design->count && !same_group(&design->row[i].touch, touch))
        i++;
    if (i == TU_CALIBRATION_GROUPS)
        return tu_fail(error, TU_USAGE, "touches",
                       "more than %d different contacts; calibrate in two runs",
                       (int)TU_CALIBRATION_GROUPS);
    tu_calibration_row *row = &design->row[i];
    if (i == design->count) {
        design->count++;
        memset(row, 0, sizeof *row);
        row->kind = TU_ROW_TOUCHES;
        row->touch = *touch;
        row->moments = tu_moments_start();
        tu_calibration_touch_row(request->plate, touch, row->coefficient);
    }
    tu_moments_add(&row->moments, touch->position_mm);
    row->y_mm = row->moments.mean;
    return TU_OK;
}

static tu_status check_range(const tu_calibration_request *request,
                             const tu_calibration_design *design, tu_error *error)
{
    for (size_t i = 0; i < design->count; i++) {
        const tu_moments *moments = &design->row[i].moments;
        double range = moments->maximum - moments->minimum;
        if (range > RANGE_LIMIT_MM) {
            char name[TU_TOUCH_NAME_SIZE], text[TU_NUMBER_TEXT_SIZE];
            tu_calibration_touch_name(name, request, &design->row[i].touch);
            tu_number_format(text, sizeof text, range, 3);
            return tu_fail(error, TU_DATA_CONFLICT, name,
                           "the repeats lie %s mm apart: one is a bad touch, a decimal comma or "
                           "another slip of the keys; "
                           "leave it out or touch again",
                           text);
        }
    }
    return TU_OK;
}

/* High must lie above low for the same surface on opposite edges or sides. */
static tu_status check_sides(const tu_calibration_request *request, const tu_calibration_row *low,
                             const tu_calibration_row *high, tu_error *error)
{
    if (high->y_mm > low->y_mm)
        return TU_OK;
    char at[TU_TOUCH_NAME_SIZE], other[TU_TOUCH_NAME_SIZE];
    char text[2][TU_NUMBER_TEXT_SIZE];
    tu_calibration_touch_name(at, request, &high->touch);
    tu_calibration_touch_name(other, request, &low->touch);
    tu_number_format(text[0], sizeof text[0], high->y_mm, 3);
    tu_number_format(text[1], sizeof text[1], low->y_mm, 3);
    return tu_fail(error, TU_DATA_CONFLICT, at,
                   "%s mm is not above %s at %s mm: the two are swapped, or a sign is missing "
                   "(%c+ points %s)",
                   text[0], other, text[1], tu_axis_letter(high->touch.axis),
                   high->touch.axis == TU_AXIS_X ? "to the right" : "to the back");
}

static tu_status check_order(const tu_calibration_request *request,
                             const tu_calibration_design *design, tu_error *error)
{
    for (size_t i = 0; i < design->count; i++) {
        for (size_t j = 0; j < design->count; j++) {
            tu_calibration_touch low = design->row[i].touch;
            const tu_calibration_touch *high = &design->row[j].touch;
            if (low.axis == TU_AXIS_Z)
                continue;
            if (low.contact == TU_CONTACT_BORE_LOW)
                low.contact = TU_CONTACT_BORE_HIGH;
            else if (low.outward < 0 && !tu_contact_is_bore(low.contact))
                low.outward = 1;
            else
                continue;
            if (same_group(&low, high)) {
                tu_status status = check_sides(request, &design->row[i], &design->row[j], error);
                if (status)
                    return status;
            }
        }
    }
    return TU_OK;
}

/* GUM 4.2.4: one spread for all groups of an axis, from the sum of their squares. */
static void find_spread(const tu_calibration_request *request, tu_calibration_design *design)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double squares = 0.0;
        size_t dof = 0;
        bool seen = false;
        for (size_t i = 0; i < design->count; i++) {
            if ((int)design->row[i].touch.axis == axis) {
                seen = true;
                squares += design->row[i].moments.sum_squares;
                dof += design->row[i].moments.count - 1;
            }
        }
        if (!seen) {
            design->spread[axis] = (tu_repeatability){NAN, 0.0};
            continue;
        }
        double sd = dof > 0 ? sqrt(squares / (double)dof) : (double)NAN;
        design->spread[axis] =
            tu_repeatability_pool(dof + 1, sd, request->machine.repeatability[axis]);
    }
}

static void weigh_touches(const tu_calibration_request *request, tu_calibration_row *row,
                          double sd_mm)
{
    double root_n = sqrt((double)row->moments.count);
    row->source_mm[TU_SOURCE_REPEAT] = isnan(sd_mm) ? 0.0 : sd_mm / root_n;
    row->source_mm[TU_SOURCE_STEP] = tu_standard_of_step(request->machine.step_mm);
    if (row->touch.axis != TU_AXIS_Z) {
        /* Each group is one setting of the cutter to the wall, so both act once a group. */
        tu_quantity run_out = request->cutters[row->touch.cutter]->run_out;
        row->source_mm[TU_SOURCE_FLUTES] =
            tu_calibration_reach_of(request, row->touch.cutter).standard_mm;
        if (!isnan(run_out.value_mm))
            row->source_mm[TU_SOURCE_RUN_OUT] = run_out.value_mm / 2.0 / sqrt(2.0);
    }
    double variance = isnan(sd_mm) ? ASSUMED_SD_MM * ASSUMED_SD_MM / (root_n * root_n) : 0.0;
    for (int k = 0; k < TU_SOURCE_COUNT; k++)
        variance += row->source_mm[k] * row->source_mm[k];
    row->weight_sd_mm = fmax(sqrt(variance), LEAST_TOUCH_SD_MM);
}

static tu_calibration_row *add_stated(tu_calibration_design *design, tu_row_kind kind, int index,
                                      double value_mm, double standard_mm)
{
    tu_calibration_row *row = &design->row[design->count++];
    memset(row, 0, sizeof *row);
    row->kind = kind;
    row->index = index;
    row->touch.axis = TU_AXIS_COUNT;
    row->y_mm = value_mm;
    row->source_mm[TU_SOURCE_STATED] = standard_mm;
    row->weight_sd_mm = fmax(standard_mm, LEAST_STATED_SD_MM);
    return row;
}

static bool touches_sides(const tu_calibration_design *design, int axis, bool slot)
{
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        if (row->kind == TU_ROW_TOUCHES && (int)row->touch.axis == axis &&
            (row->touch.contact == TU_CONTACT_SLOT) == slot)
            return true;
    }
    return false;
}

static tu_status add_widths(const tu_calibration_request *request, tu_calibration_design *design,
                            tu_warnings *warnings, tu_error *error)
{
    for (int k = 0; k < 4; k++) {
        int axis = k % 2;
        bool slot = k >= 2;
        tu_quantity width = slot ? request->slot[axis] : request->block[axis];
        const char *what = slot ? "slot" : "block";
        if (isnan(width.value_mm))
            continue;
        if (!isfinite(width.value_mm) || !(width.value_mm > 0.0) || width.tolerance_mm < 0.0) {
            static const char *const fields[] = {"{block_x}", "{block_y}", "{slot_x}", "{slot_y}"};
            return tu_fail(error, TU_DATA_RANGE, fields[k],
                           "the width of the %s must be above zero", what);
        }
        if (!touches_sides(design, axis, slot))
            continue;
        if (isnan(width.tolerance_mm))
            tu_warn(warnings,
                    "the width of the %s along %c has no tolerance and counts as exact; state it "
                    "as in 60.00mm+-0.01mm",
                    what, axis == 0 ? 'X' : 'Y');
        tu_calibration_row *row =
            add_stated(design, slot ? TU_ROW_SLOT : TU_ROW_BLOCK, axis, width.value_mm,
                       tu_standard_of_tolerance(width.tolerance_mm));
        tu_calibration_width_row(axis, slot, row->coefficient);
    }
    return TU_OK;
}

static tu_status add_trusted(const tu_calibration_request *request, tu_calibration_design *design,
                             tu_warnings *warnings, tu_error *error)
{
    for (size_t c = 0; request->trust_cutters && c < request->cutter_count; c++) {
        const tu_cutter *cutter = request->cutters[c];
        if (!tu_calibration_uses_cutter(design, c))
            continue;
        tu_calibration_reach reach = tu_calibration_reach_of(request, c);
        if (cutter->shape != TU_CUTTER_FLAT || isnan(reach.radius_mm))
            return tu_fail(error, TU_USAGE, "{trust_cutters}",
                           "the reach of %s depends on the depth of the touch, so its diameter "
                           "says little; use a flat cutter, or touch the bare block as well",
                           cutter->name);
        if (isnan(cutter->diameter.tolerance_mm))
            tu_warn(warnings, "the diameter of %s has no tolerance and counts as exact",
                    cutter->name);
        double standard =
            reach.factor * tu_standard_of_tolerance(cutter->diameter.tolerance_mm) / 2.0;
        add_stated(design, TU_ROW_CUTTER, (int)c, reach.radius_mm, standard)
            ->coefficient[TU_COLUMN_RADIUS + c] = 1.0;
    }
    return TU_OK;
}

tu_status tu_calibration_build(const tu_calibration_request *request, tu_calibration_design *design,
                               tu_warnings *warnings, tu_error *error)
{
    memset(design, 0, sizeof *design);
    if (request->plate == NULL || request->touch_count == 0)
        return tu_fail(error, TU_USAGE, "touches", "a calibration needs a plate and touches");
    if (!request->plate->started)
        return tu_fail_not_started(error, "{plate}", "tu_plate_start");
    tu_status status = tu_machine_check(&request->machine, error);
    if (status)
        return status;
    for (size_t i = 0; i < request->touch_count; i++) {
        status = check_touch(request, &request->touches[i], warnings, error);
        if (!status)
            status = add_touch(request, &request->touches[i], design, error);
        if (status)
            return status;
    }
    status = check_range(request, design, error);
    if (!status)
        status = check_order(request, design, error);
    if (status)
        return status;
    find_spread(request, design);
    for (size_t i = 0; i < design->count; i++) {
        tu_calibration_row *row = &design->row[i];
        weigh_touches(request, row, design->spread[row->touch.axis].sd_mm);
    }
    status = add_widths(request, design, warnings, error);
    return status ? status : add_trusted(request, design, warnings, error);
}
