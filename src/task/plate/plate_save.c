/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_save.c - determined figures of a calibration into the shop file.
 */
#include "task/plate/plate_save.h"

#include "trueup/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct saving {
    const tu_shop *shop;
    const tu_task_plate_request *how;
    const tu_calibration_request *request;
    const tu_calibration_result *result;
    tu_plate_saved *saved;
} saving;

/*
 * "9.5314mm+-0.0072mm". The tolerance has three digits, rounded up; the value has as many decimals,
 * so that what rounding adds is far below the uncertainty. standard_mm is above 0.
 */
static void format_quantity(char *text, size_t size, double value_mm, double standard_mm)
{
    char value[TU_NUMBER_TEXT_SIZE], tolerance[TU_NUMBER_TEXT_SIZE];
    double half_width = sqrt(3.0) * standard_mm;
    int decimals = 2 - (int)floor(log10(half_width));
    decimals = decimals < 4 ? 4 : decimals > 7 ? 7 : decimals;
    double unit = pow(10.0, -decimals);
    tu_number_format(value, sizeof value, value_mm, decimals);
    tu_number_format(tolerance, sizeof tolerance, ceil(half_width / unit * (1.0 - 1e-9)) * unit,
                     decimals);
    snprintf(text, size, "%smm+-%smm", value, tolerance);
}

static size_t plate_index(const saving *with)
{
    size_t index = 0;
    while (index < tu_shop_plate_count(with->shop) &&
           tu_shop_plate_at(with->shop, index) != with->request->plate)
        index++;
    return index;
}

static size_t cutter_index(const saving *with, int cutter)
{
    size_t index = 0;
    while (tu_shop_cutter_at(with->shop, index) != with->request->cutters[cutter])
        index++;
    return index;
}

static bool is_saved(const saving *with, const tu_calibrated *figure)
{
    if (!figure->determined || figure->kind == TU_CALIBRATED_SUM ||
        figure->kind == TU_CALIBRATED_CLEARANCE)
        return false;
    if (figure->kind != TU_CALIBRATED_CUTTER)
        return true;
    /* A cutter is a by-product here: what agrees with a better figure is no news. */
    bool agrees = fabs(figure->value_mm - figure->old_mm) <= figure->uncertainty.expanded_mm &&
                  figure->old_tolerance_mm < sqrt(3.0) * figure->uncertainty.standard_mm;
    return !agrees && !with->request->trust_cutters &&
           with->request->cutters[figure->index]->shape == TU_CUTTER_FLAT;
}

/* The path of a figure in the file, and what stands there. */
static tu_quantity locate(const saving *with, const tu_calibrated *figure, char *path, size_t size)
{
    size_t plate = plate_index(with);
    const tu_plate *old = with->request->plate;
    char letter = figure->index == 0 ? 'a' : 'b';
    switch (figure->kind) {
    case TU_CALIBRATED_WALL:
        snprintf(path, size, "plates[%zu].walls.%c.offset", plate, letter);
        return old->wall[figure->index].offset;
    case TU_CALIBRATED_BORE_CENTRE:
        snprintf(path, size, "plates[%zu].bore.%c", plate, letter);
        return old->bore.centre[figure->index];
    case TU_CALIBRATED_BORE_DIAMETER:
        snprintf(path, size, "plates[%zu].bore.diameter", plate);
        return old->bore.diameter;
    case TU_CALIBRATED_CUTTER:
        snprintf(path, size, "cutters[%zu].diameter", cutter_index(with, figure->index));
        return with->request->cutters[figure->index]->diameter;
    case TU_CALIBRATED_THICKNESS:
    case TU_CALIBRATED_SUM:
    case TU_CALIBRATED_CLEARANCE:
        break;
    }
    snprintf(path, size, "plates[%zu].thickness", plate);
    return old->thickness;
}

static void list_figures(const saving *with)
{
    for (size_t k = 0; k < with->result->count; k++) {
        const tu_calibrated *figure = &with->result->figure[k];
        if (is_saved(with, figure)) {
            tu_calibration_saved *entry = &with->saved->list[with->saved->count++];
            entry->figure = k;
            entry->old = locate(with, figure, entry->path, sizeof entry->path);
            format_quantity(entry->text, sizeof entry->text, figure->shop_mm,
                            figure->shop_standard_mm);
        } else if (figure->determined && figure->kind == TU_CALIBRATED_CUTTER) {
            with->saved->not_saved |= 1u << k;
        }
    }
}

static tu_status check_trust(const saving *with, tu_error *error)
{
    if (with->result->misfit_p < 0.01)
        return tu_fail(error, TU_DATA_CONFLICT, "{save}",
                       "nothing was saved: the touches disagree by more than they scatter; touch "
                       "what fits worst again");
    for (size_t k = 0; k < with->result->count; k++) {
        const tu_calibrated *figure = &with->result->figure[k];
        char name[TU_FIGURE_NAME_SIZE];
        tu_calibrated_name(name, with->request, figure);
        if (is_saved(with, figure) && !figure->spread_known)
            return tu_fail(error, TU_DATA_MISSING, "{save}",
                           "nothing was saved: how well touches repeat is not known for the %s, so "
                           "its tolerance would claim too much; touch each place three times or "
                           "more",
                           name);
        if (is_saved(with, figure) && !(figure->shop_standard_mm > 0.0))
            return tu_fail(error, TU_DATA_MISSING, "{save}",
                           "nothing was saved: the repeats of the %s agree to the last digit, so "
                           "its tolerance is not known; state the machine's step in the shop file",
                           name);
        if (is_saved(with, figure) && figure->suspect)
            return tu_fail(error, TU_DATA_CONFLICT, "{save}",
                           "nothing was saved: %s differs from the shop file like a slip does; if "
                           "the new one is right, correct the old one by hand first",
                           name);
    }
    return TU_OK;
}

/* What is saved names its unit, and a named unit is never doubted again: so it is doubted here. */
static tu_status check_units(const saving *with, tu_error *error)
{
    static const tu_length_use uses[] = {
        [TU_CALIBRATED_THICKNESS] = TU_USE_PLATE_THICKNESS,
        [TU_CALIBRATED_WALL] = TU_USE_WALL_OFFSET,
        [TU_CALIBRATED_BORE_CENTRE] = TU_USE_BORE_CENTRE,
        [TU_CALIBRATED_BORE_DIAMETER] = TU_USE_BORE_DIAMETER,
        [TU_CALIBRATED_CUTTER] = TU_USE_CUTTER_DIAMETER,
    };
    char doubt[TU_DOUBT_SIZE];
    for (size_t k = 0; with->how->typed.bare && k < with->result->count; k++) {
        const tu_calibrated *figure = &with->result->figure[k];
        if (is_saved(with, figure) &&
            tu_shop_doubt_unit(uses[figure->kind], with->how->unit, figure->shop_mm, doubt))
            return tu_fail(error, TU_DATA_RANGE, "{save}",
                           "nothing was saved: %s; write the unit at each number that was typed",
                           doubt);
    }
    return TU_OK;
}

/* The saved text of a figure; "" when it is not among the saved. */
static const char *text_of(const saving *with, tu_calibrated_kind kind, int index)
{
    for (size_t k = 0; k < with->saved->count; k++) {
        const tu_calibration_saved *entry = &with->saved->list[k];
        const tu_calibrated *figure = &with->result->figure[entry->figure];
        if (figure->kind == kind && figure->index == index)
            return entry->text;
    }
    return "";
}

static tu_status fail_missing(const char *what, tu_error *error)
{
    return tu_fail(error, TU_UNDETERMINED, "{save}",
                   "nothing was saved: a new plate needs all of its figures, and the %s is not "
                   "determined",
                   what);
}

/* ",\"touch_depth\":\"5mm\"" or nothing. */
static void format_depth(char *text, size_t size, tu_quantity depth)
{
    char quantity[2 * TU_NUMBER_TEXT_SIZE];
    bool stated =
        tu_quantity_is_stated(depth) && tu_quantity_format(quantity, sizeof quantity, depth) > 0;
    snprintf(text, size, stated ? ", \"touch_depth\": \"%s\"" : "%.0s", stated ? quantity : "");
}

/* The members "walls" or "bore" of a new plate. */
static tu_status format_sides(const saving *with, char *text, size_t size, tu_error *error)
{
    const tu_plate *plate = with->request->plate;
    char depth[120];
    size_t used = 0;
    text[0] = '\0';
    for (int k = 0; k < 2; k++) {
        const tu_wall *wall = &plate->wall[k];
        const char *offset = text_of(with, TU_CALIBRATED_WALL, k);
        if (!wall->present)
            continue;
        if (*offset == '\0')
            return fail_missing(k == 0 ? "offset of wall a" : "offset of wall b", error);
        format_depth(depth, sizeof depth, wall->touch_depth);
        int length = snprintf(text + used, size - used,
                              "%s\"%c\": {\"offset\": \"%s\", \"faces\": \"%s\"%s}",
                              used == 0 ? ", \"walls\": {" : ", ", k == 0 ? 'a' : 'b', offset,
                              wall->facing > 0 ? "outward" : "inward", depth);
        used += (size_t)length;
    }
    if (used > 0)
        snprintf(text + used, size - used, "}");
    if (!plate->bore.present)
        return TU_OK;
    const char *diameter = text_of(with, TU_CALIBRATED_BORE_DIAMETER, 0);
    const char *a = text_of(with, TU_CALIBRATED_BORE_CENTRE, 0);
    const char *b = text_of(with, TU_CALIBRATED_BORE_CENTRE, 1);
    if (*diameter == '\0' || *a == '\0' || *b == '\0')
        return fail_missing(*diameter == '\0' ? "bore's diameter" : "bore's centre", error);
    format_depth(depth, sizeof depth, plate->bore.touch_depth);
    snprintf(text, size, ", \"bore\": {\"diameter\": \"%s\", \"a\": \"%s\", \"b\": \"%s\"%s}",
             diameter, a, b, depth);
    return TU_OK;
}

/* Gathers the figures of a new plate in one value, leaving the cutters' edits as they are. */
static tu_status format_plate(const saving *with, tu_shop_edit *edit, tu_error *error)
{
    const char *thickness = text_of(with, TU_CALIBRATED_THICKNESS, 0);
    char sides[420];
    if (*thickness == '\0')
        return fail_missing("thickness (touch face and seat)", error);
    tu_status status = format_sides(with, sides, sizeof sides, error);
    snprintf(edit->path, sizeof edit->path, "plates[%zu]", tu_shop_plate_count(with->shop));
    int length =
        snprintf(edit->new_json, sizeof edit->new_json,
                 "{\"name\": \"%s\", \"thickness\": \"%s\"%s%s}", with->request->plate->name,
                 thickness, with->request->plate->turned ? "" : ", \"turned\": false", sides);
    if (!status && (length < 0 || (size_t)length >= sizeof edit->new_json))
        return tu_fail(error, TU_USAGE, "{new}", "the name is too long to be saved; shorten it");
    return status;
}

static tu_status write_all(const saving *with, tu_error *error)
{
    bool fresh = with->how->new_plate != NULL;
    tu_shop_edit edits[TU_CALIBRATED_MAX + 1];
    size_t count = 0;
    memset(edits, 0, sizeof edits);
    if (fresh) {
        tu_status status = format_plate(with, &edits[count++], error);
        if (status)
            return status;
    }
    for (size_t k = 0; k < with->saved->count; k++) {
        const tu_calibration_saved *entry = &with->saved->list[k];
        if (!fresh || with->result->figure[entry->figure].kind == TU_CALIBRATED_CUTTER) {
            snprintf(edits[count].path, sizeof edits[count].path, "%s", entry->path);
            snprintf(edits[count].new_json, sizeof edits[count].new_json, "\"%s\"", entry->text);
            count++;
        }
    }
    return tu_shop_write_edits(with->shop, with->how->shop, edits, count, error);
}

tu_status tu_plate_save(const tu_shop *shop, const tu_task_plate_request *how,
                        const tu_calibration_request *request, const tu_calibration_result *result,
                        tu_plate_saved *saved, tu_error *error)
{
    saving with = {shop, how, request, result, saved};
    *saved = (tu_plate_saved){0};
    tu_status status = check_trust(&with, error);
    if (!status)
        status = check_units(&with, error);
    if (!status) {
        list_figures(&with);
        if (saved->count == 0)
            status = tu_fail(error, TU_UNDETERMINED, "{save}",
                             "nothing was saved: no figure that the shop file holds is determined");
    }
    if (!status)
        status = write_all(&with, error);
    if (status)
        saved->count = 0;
    return status;
}
