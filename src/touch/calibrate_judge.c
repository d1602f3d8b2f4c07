/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate_judge.c - whether redundant touches agree, and whether the figures can be.
 */
#include "touch/calibrate_parts.h"

#include "trueup/number.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Contacts that contradict the others by more than this are a mistake, not scatter. */
static const double CONTRADICTION_MM = 0.5;
/* What a hobby machine repeats within; common practice, no source. */
static const double VISIBLE_MM = 0.02;
/* A plate does not change by this much; a wrong edge, facing or cutter looks like it. */
static const double CHANGE_MM = 1.0;
/* How near a change must come to the radius, the diameter to be put down to it. */
static const double LIKENESS_MM = 0.3;
/* Nobody redresses a cutter by this much unseen: it is another cutter. */
static const double CUTTER_CHANGE_MM = 0.25;
/* Below this leverage left, a row stands alone and nothing checks it. */
static const double SPARE_LEAST = 1e-9;

static void name_row(char text[TU_TOUCH_NAME_SIZE], const tu_calibration_request *request,
                     const tu_calibration_row *row)
{
    switch (row->kind) {
    case TU_ROW_TOUCHES:
        tu_calibration_touch_name(text, request, &row->touch);
        break;
    case TU_ROW_BLOCK:
    case TU_ROW_SLOT:
        snprintf(text, TU_TOUCH_NAME_SIZE, "the stated width of the %s along %c",
                 row->kind == TU_ROW_BLOCK ? "block" : "slot", row->index == 0 ? 'X' : 'Y');
        break;
    case TU_ROW_CUTTER:
        snprintf(text, TU_TOUCH_NAME_SIZE, "the stored diameter of %s",
                 request->cutters[row->index]->name);
        break;
    }
}

enum { TIES_NAMED = 3, NAMES_SIZE = 4 * TU_TOUCH_NAME_SIZE };

/* The rows that fit worst; several where they stand and fall together, as with one spare row. */
typedef struct worst_rows {
    size_t count;
    const tu_calibration_row *row[TIES_NAMED];
    double away_mm; /* the first's distance from where the others put it */
    double score;
} worst_rows;

/* By the standardised residual; count 0 where nothing is redundant. */
static worst_rows find_worst(const tu_calibration_design *design, const tu_calibration_fit *fit)
{
    worst_rows worst = {0};
    for (size_t i = 0; i < design->count; i++) {
        if (fit->spare[i] <= SPARE_LEAST)
            continue;
        double score =
            fabs(fit->residual_mm[i]) / (design->row[i].weight_sd_mm * sqrt(fit->spare[i]));
        if (worst.count == 0 || score > worst.score * 1.001) {
            double away_mm = fit->residual_mm[i] / fit->spare[i];
            worst = (worst_rows){1, {&design->row[i]}, away_mm, score};
        } else if (score > worst.score * 0.999) {
            if (worst.count < TIES_NAMED)
                worst.row[worst.count] = &design->row[i];
            worst.count++;
        }
    }
    return worst;
}

/* "left/a/quarter or right/a/quarter or others" */
static void name_worst(char text[NAMES_SIZE], const tu_calibration_request *request,
                       const worst_rows *worst)
{
    size_t used = 0;
    for (size_t k = 0; k < worst->count && k < TIES_NAMED; k++) {
        char name[TU_TOUCH_NAME_SIZE];
        name_row(name, request, worst->row[k]);
        used += (size_t)snprintf(text + used, NAMES_SIZE - used, "%s%s", k > 0 ? " or " : "", name);
    }
    if (worst->count > TIES_NAMED)
        snprintf(text + used, NAMES_SIZE - used, " or others");
}

/* The largest contradiction with the plate's facings as given, or with one wall's reversed. */
static double contradiction_if_reversed(const tu_calibration_request *request, int wall)
{
    tu_plate plate = *request->plate;
    plate.wall[wall].facing =
        plate.wall[wall].facing == TU_FACES_OUTWARD ? TU_FACES_INWARD : TU_FACES_OUTWARD;
    tu_calibration_request other = *request;
    other.plate = &plate;
    tu_warnings ignored = {0};
    tu_calibration_design design;
    tu_calibration_fit fit;
    if (tu_calibration_build(&other, &design, &ignored, NULL) ||
        tu_calibration_fit_solve(&design, &fit, NULL))
        return INFINITY;
    return fabs(find_worst(&design, &fit).away_mm);
}

static tu_status refuse_contradiction(const tu_calibration_request *request,
                                      const worst_rows *worst, tu_error *error)
{
    char name[NAMES_SIZE], away[TU_NUMBER_TEXT_SIZE], hint[200];
    name_worst(name, request, worst);
    tu_number_format(away, sizeof away, fabs(worst->away_mm), 3);
    snprintf(hint, sizeof hint, "a wrong edge, wall or cutter is named, or a number is mistyped");
    for (int wall = 0; wall < 2; wall++) {
        if (request->plate->wall[wall].present &&
            contradiction_if_reversed(request, wall) < CONTRADICTION_MM / 10.0)
            snprintf(hint, sizeof hint,
                     "they would agree if wall %c faced %s: look which side was touched",
                     wall == 0 ? 'a' : 'b',
                     request->plate->wall[wall].facing > 0 ? "inward" : "outward");
    }
    return tu_fail(error, TU_DATA_CONFLICT, name,
                   "lies %s mm from where the other touches put it: %s", away, hint);
}

/* The other degrees of freedom of the misfit: those of the touches' spread, by their part in the
 * variance of what is redundant (Welch-Satterthwaite, GUM G.4.1). */
static double spread_dof(const tu_calibration_design *design, const tu_calibration_fit *fit)
{
    double part[TU_AXIS_COUNT] = {0};
    double total = 0.0;
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        total += fit->spare[i];
        if (row->kind == TU_ROW_TOUCHES) {
            double ratio = row->source_mm[TU_SOURCE_REPEAT] / row->weight_sd_mm;
            part[row->touch.axis] += fit->spare[i] * ratio * ratio;
        }
    }
    double weighted = 0.0;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (part[axis] > 0.0) {
            double share = part[axis] / total;
            weighted += share * share / design->spread[axis].dof;
        }
    }
    return weighted > 0.0 ? 1.0 / weighted : (double)INFINITY;
}

static bool spread_is_known(const tu_calibration_design *design, const tu_calibration_fit *fit)
{
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        if (row->kind == TU_ROW_TOUCHES && fit->spare[i] > SPARE_LEAST &&
            isnan(design->spread[row->touch.axis].sd_mm))
            return false;
    }
    return true;
}

static void find_misfit(const tu_calibration_design *design, const tu_calibration_fit *fit,
                        tu_calibration_result *result)
{
    double sum = 0.0;
    for (size_t i = 0; i < design->count; i++) {
        double scaled = fit->residual_mm[i] / design->row[i].weight_sd_mm;
        sum += scaled * scaled;
    }
    double dof = (double)(design->count - fit->space.rank);
    double other = spread_dof(design, fit);
    result->misfit = sum;
    result->misfit_dof = dof;
    result->misfit_p =
        isinf(other) ? gsl_cdf_chisq_Q(sum, dof) : gsl_cdf_fdist_Q(sum / dof, dof, other);
}

/* Without a spread there is no test, but a difference that a person would see must not pass. */
static void warn_unjudged(const tu_calibration_request *request, const worst_rows *worst,
                          tu_warnings *warnings)
{
    if (fabs(worst->away_mm) <= VISIBLE_MM)
        return;
    char name[NAMES_SIZE], away[TU_NUMBER_TEXT_SIZE];
    name_worst(name, request, worst);
    tu_number_format(away, sizeof away, fabs(worst->away_mm), 3);
    tu_warn(warnings,
            "%s lies %s mm from where the other touches put it; without repeats nobody can tell "
            "whether that is scatter or a slip",
            name, away);
}

static tu_status judge_misfit(const tu_calibration_request *request,
                              const tu_calibration_design *design, const tu_calibration_fit *fit,
                              tu_calibration_result *result, tu_error *error)
{
    worst_rows worst = find_worst(design, fit);
    if (design->count == fit->space.rank || worst.count == 0)
        return TU_OK;
    if (fabs(worst.away_mm) > CONTRADICTION_MM)
        return refuse_contradiction(request, &worst, error);
    if (!spread_is_known(design, fit)) {
        warn_unjudged(request, &worst, &result->warnings);
        return TU_OK;
    }
    find_misfit(design, fit, result);
    if (result->misfit_p < 0.01) {
        char name[NAMES_SIZE], away[TU_NUMBER_TEXT_SIZE], p[TU_NUMBER_TEXT_SIZE];
        name_worst(name, request, &worst);
        tu_number_format(away, sizeof away, worst.away_mm, 4);
        tu_number_format(p, sizeof p, fmax(result->misfit_p, 0.0001), 4);
        tu_warn(&result->warnings,
                "the touches disagree by more than they scatter (p %s %s): %s fits worst, %s mm "
                "from where the others put it; clean the plate and the block, and touch that again",
                result->misfit_p < 0.0001 ? "below" : "=", p, name, away);
    }
    return TU_OK;
}

/* What cannot be, with the likely cause. */
static tu_status judge_possible(const tu_calibration_request *request, const tu_calibrated *figure,
                                tu_error *error)
{
    bool length = figure->kind == TU_CALIBRATED_THICKNESS || figure->kind == TU_CALIBRATED_CUTTER ||
                  figure->kind == TU_CALIBRATED_BORE_DIAMETER ||
                  figure->kind == TU_CALIBRATED_CLEARANCE;
    if (!figure->determined || !length || figure->value_mm > 0.0)
        return TU_OK;
    char name[TU_FIGURE_NAME_SIZE], value[TU_NUMBER_TEXT_SIZE];
    tu_calibrated_name(name, request, figure);
    tu_number_format(value, sizeof value, figure->value_mm, 3);
    return tu_fail(
        error, TU_DATA_CONFLICT, name, "comes out as %s mm, which cannot be: %s", value,
        figure->kind == TU_CALIBRATED_THICKNESS
            ? "face and seat look swapped, or a minus sign is missing"
            : "look for a wrong width of the block, a wrong edge, or a slot named as bare");
}

/* The first cutter that touched this wall; -1: none. */
static int cutter_on_wall(const tu_calibration_design *design, int wall)
{
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        if (row->kind == TU_ROW_TOUCHES && row->touch.contact == TU_CONTACT_WALL &&
            row->touch.wall == wall)
            return (int)row->touch.cutter;
    }
    return -1;
}

static const char *likely_cause(double change_mm, double radius_mm)
{
    double size = fabs(change_mm);
    if (fabs(size - 2.0 * radius_mm) < LIKENESS_MM)
        return "about the cutter's diameter, as when the wall faces the other way or its other "
               "side was touched";
    if (fabs(size - radius_mm) < LIKENESS_MM)
        return "about the cutter's radius, as when another cutter or a bare touch is meant";
    return "look for a wrong edge, a wrong block width, or inches read as millimetres";
}

static void judge_change(const tu_calibration_request *request, const tu_calibration_design *design,
                         tu_calibrated *figure, tu_warnings *warnings)
{
    double change = figure->value_mm - figure->old_mm;
    bool cutter = figure->kind == TU_CALIBRATED_CUTTER;
    if (!figure->determined || isnan(change) || figure->kind == TU_CALIBRATED_CLEARANCE ||
        fabs(change) <= (cutter ? CUTTER_CHANGE_MM : CHANGE_MM))
        return;
    figure->suspect = true;
    const char *cause = "look for a wrong edge, a wrong block width, or inches read as millimetres";
    if (figure->kind == TU_CALIBRATED_THICKNESS) {
        cause = "was the seat touched where the plate lies?";
    } else if (cutter) {
        cause = "is that cutter in the spindle, and is the block's width right?";
    } else if (figure->kind == TU_CALIBRATED_WALL || figure->kind == TU_CALIBRATED_SUM) {
        int index = figure->cutter >= 0 ? figure->cutter : cutter_on_wall(design, figure->index);
        cause = likely_cause(change, tu_calibration_reach_of(request, (size_t)index).radius_mm);
    }
    char name[TU_FIGURE_NAME_SIZE], text[TU_NUMBER_TEXT_SIZE];
    tu_calibrated_name(name, request, figure);
    tu_number_format(text, sizeof text, change, 3);
    tu_warn(warnings, "%s differs from the shop file by %s%s mm: %s", name, change > 0.0 ? "+" : "",
            text, cause);
}

/* Offset and radius from the same touches err together; zero adds them as if apart. */
static void judge_together(const tu_calibration_request *request,
                           const tu_calibration_design *design, const tu_calibration_fit *fit,
                           const tu_calibrated *wall, const tu_calibrated *cutter,
                           tu_warnings *warnings)
{
    tu_calibrated sum = {.kind = TU_CALIBRATED_SUM, .index = wall->index, .cutter = cutter->index};
    double combination[TU_CALIBRATION_UNKNOWNS], sensitivity[TU_CALIBRATION_ROWS];
    tu_calibrated_combination(request->plate, &sum, combination);
    if (!tu_calibration_sensitivities(design, fit, combination, sensitivity))
        return;
    double variance = 0.0;
    for (size_t i = 0; i < design->count; i++) {
        for (int k = 0; k < TU_SOURCE_COUNT; k++) {
            double part = sensitivity[i] * design->row[i].source_mm[k];
            variance += part * part;
        }
    }
    double apart = hypot(wall->uncertainty.standard_mm, cutter->uncertainty.standard_mm / 2.0);
    if (sqrt(variance) > 1.1 * apart)
        tu_warn(warnings,
                "offset of wall %c and diameter of %s err the same way here: a zero with that pair "
                "is less certain than both say; touch the bare block on both edges too",
                wall->index == 0 ? 'a' : 'b', request->cutters[cutter->index]->name);
}

static void judge_pairs(const tu_calibration_request *request, const tu_calibration_design *design,
                        const tu_calibration_fit *fit, tu_calibration_result *result)
{
    for (size_t i = 0; i < result->count; i++) {
        for (size_t j = 0; j < result->count; j++) {
            const tu_calibrated *wall = &result->figure[i];
            const tu_calibrated *cutter = &result->figure[j];
            if (wall->kind == TU_CALIBRATED_WALL && wall->determined &&
                cutter->kind == TU_CALIBRATED_CUTTER && cutter->determined)
                judge_together(request, design, fit, wall, cutter, &result->warnings);
        }
    }
}

static void judge_spread(const tu_calibration_design *design, tu_warnings *warnings)
{
    bool seen[TU_AXIS_COUNT] = {false};
    for (size_t i = 0; i < design->count; i++)
        if (design->row[i].kind == TU_ROW_TOUCHES)
            seen[design->row[i].touch.axis] = true;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        char letter = tu_axis_letter((tu_axis)axis);
        if (seen[axis] && isnan(design->spread[axis].sd_mm)) {
            tu_warn(warnings,
                    "no touch along %c was repeated and the shop file holds no repeatability for "
                    "it: the uncertainties leave repeatability out",
                    letter);
        } else if (seen[axis] && !(design->spread[axis].sd_mm > 0.0)) {
            tu_warn(warnings,
                    "all repeats along %c read the same to the last digit: the position's step "
                    "hides their scatter; state it as step of the machine in the shop file",
                    letter);
        }
    }
}

static void judge_cutters(const tu_calibration_request *request,
                          const tu_calibration_design *design, tu_warnings *warnings)
{
    for (size_t c = 0; c < request->cutter_count; c++) {
        if (!tu_calibration_uses_cutter(design, c))
            continue;
        const tu_cutter *cutter = request->cutters[c];
        if (cutter->shape != TU_CUTTER_FLAT)
            tu_warn(warnings,
                    "%s is not flat: its effective diameter depends on how deep the tip is at "
                    "contact; all touches must be at one depth, and the figure holds there only",
                    cutter->name);
        tu_calibration_reach reach = tu_calibration_reach_of(request, c);
        if (!reach.turned && reach.worst_loss_mm > 0.0005) {
            char text[TU_NUMBER_TEXT_SIZE];
            tu_number_format(text, sizeof text, reach.worst_loss_mm, 3);
            tu_warn(warnings,
                    "%s was not turned with a cutting edge to the wall: each contact may fall "
                    "short by up to %s mm; turn it by hand and state turned_within_deg",
                    cutter->name, text);
        }
    }
}

/* One touch has nothing to be compared with. */
static void judge_single(const tu_calibration_request *request, const tu_calibration_design *design,
                         tu_warnings *warnings)
{
    const tu_calibration_row *first = NULL;
    size_t single = 0;
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        if (row->kind == TU_ROW_TOUCHES && row->moments.count == 1) {
            first = first == NULL ? row : first;
            single++;
        }
    }
    if (single == 0)
        return;
    char name[TU_TOUCH_NAME_SIZE], others[40] = "";
    name_row(name, request, first);
    if (single > 1)
        snprintf(others, sizeof others, " and %zu other%s", single - 1, single > 2 ? "s" : "");
    tu_warn(warnings,
            "%s%s touched once only: a chip or a slip would not show; touch each place three times "
            "or more",
            name, others);
}

tu_status tu_calibration_judge(const tu_calibration_request *request,
                               const tu_calibration_design *design, const tu_calibration_fit *fit,
                               tu_calibration_result *result, tu_error *error)
{
    tu_status status = judge_misfit(request, design, fit, result, error);
    for (size_t k = 0; k < result->count && !status; k++)
        status = judge_possible(request, &result->figure[k], error);
    if (status)
        return status;
    for (size_t k = 0; k < result->count; k++)
        judge_change(request, design, &result->figure[k], &result->warnings);
    judge_pairs(request, design, fit, result);
    judge_spread(design, &result->warnings);
    judge_single(request, design, &result->warnings);
    judge_cutters(request, design, &result->warnings);
    return TU_OK;
}
