/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bore.c - a horizontal axis touched on both sides of a plate's bore.
 *
 * The bore's centre is the midpoint of the two contacts, whatever the cutter's radius and wherever
 * across the bore the chord lies. The chord's length is a free check: bore less chord is the
 * cutter's effective diameter (docs/geometry.md).
 */
#include "touch/sideways.h"

#include <math.h>

/* Below this a chord is as good as a workshop bore: less would raise false alarms where the file
 * states no tolerances. (Common practice, no source.) */
#define CHORD_FLOOR_MM 0.05

static tu_status collect_sides(const tu_zero_request *request, tu_axis axis, tu_series *low,
                               tu_series *high, tu_warnings *warnings, tu_error *error)
{
    const tu_axis_touches *touches = &request->touches[axis];
    char where[] = "x touches";
    where[0] = "xyz"[axis];
    if (touches->low_count == 0 || touches->high_count == 0) {
        return tu_fail(error, TU_DATA_MISSING, where,
                       "a bore needs a contact on either side: give LOW:HIGH, as in --%c "
                       "92.100:110.750",
                       "xyz"[axis]);
    }
    tu_status status = tu_series_collect(request, axis, touches->low, touches->low_count,
                                         ", low side", 0.0, low, warnings, error);
    if (status == TU_OK) {
        status = tu_series_collect(request, axis, touches->high, touches->high_count, ", high side",
                                   0.0, high, warnings, error);
    }
    if (status == TU_OK && !(low->mean_mm < high->mean_mm)) {
        status =
            tu_fail(error, TU_DATA_CONFLICT, where,
                    "the low contact, %.3f mm, must lie below the high one, %.3f mm: give them "
                    "as LOW:HIGH",
                    low->mean_mm, high->mean_mm);
    }
    return status;
}

/* Both sides scatter alike, so their repeats are pooled. */
static double pool_sides(const tu_series *low, const tu_series *high)
{
    double dof_low = (double)low->count - 1.0;
    double dof_high = (double)high->count - 1.0;
    double sum = (dof_low > 0.0 ? dof_low * low->sd_mm * low->sd_mm : 0.0) +
                 (dof_high > 0.0 ? dof_high * high->sd_mm * high->sd_mm : 0.0);
    return dof_low + dof_high > 0.0 ? sqrt(sum / (dof_low + dof_high)) : NAN;
}

static void add_parts(const tu_zero_request *request, tu_axis axis, const tu_series *low,
                      const tu_series *high, tu_axis_zero *zero, tu_sideways *side,
                      tu_warnings *warnings)
{
    size_t contacts = low->count + high->count;
    zero->touch_sd_mm = pool_sides(low, high);
    tu_repeatability pooled = tu_axis_repeatability(request, axis, zero);
    tu_warn_single_touch(axis, contacts / 2, pooled, warnings);
    double factor = sqrt(1.0 / (double)low->count + 1.0 / (double)high->count) / 2.0;
    tu_sideways_add_position(side, pooled, factor, request->machine.step_mm);
    tu_sideways_add(side, (tu_part){.source = "bore centre",
                                    .effect_mm = tu_standard_of_tolerance(
                                        request->plate->bore.centre[zero->wall].tolerance_mm),
                                    .dof = INFINITY});
    /* An even number of flutes stands alike at both sides, and its loss cancels. */
    if (request->cutter != NULL && request->cutter->flutes % 2 != 0) {
        tu_sideways_add(side, (tu_part){.source = "flute alignment",
                                        .effect_mm = zero->flutes.standard_mm / sqrt(2.0),
                                        .dof = INFINITY});
    }
}

/* The radius is wanted for the check only: a depth that is not known just leaves it out. */
static void measure_radius(const tu_zero_request *request, tu_axis axis, tu_axis_zero *zero,
                           tu_warnings *warnings)
{
    if (request->cutter == NULL) {
        tu_warn(warnings, "no cutter is named: the chord across the bore could not be checked.");
        return;
    }
    tu_cutter cutter = tu_request_cutter(request);
    tu_quantity depth =
        tu_quantity_is_stated(request->depth) ? request->depth : request->plate->bore.touch_depth;
    if (tu_cutter_profile_radius(&cutter, depth.value_mm, &zero->profile_radius_mm, NULL, NULL) !=
        TU_OK) {
        tu_warn(warnings,
                "the reach of cutter %s at an unknown depth is not known: the chord across the "
                "bore could not be checked. Give --depth.",
                cutter.name);
        return;
    }
    zero->depth_mm = depth.value_mm;
    zero->flutes = tu_cutter_flute_loss(&cutter, zero->profile_radius_mm, depth.value_mm);
    zero->effective_radius_mm = zero->flutes.mean_reach_mm;
    if (cutter.flutes % 2 != 0) {
        tu_warn_flutes(&cutter, &zero->flutes, axis, warnings);
    }
}

tu_status tu_bore_measure(const tu_zero_request *request, tu_axis axis, tu_axis_zero *zero,
                          tu_sideways *side, tu_untoleranced *untoleranced, tu_warnings *warnings,
                          tu_error *error)
{
    tu_series low;
    tu_series high;
    tu_status status = collect_sides(request, axis, &low, &high, warnings, error);
    if (status != TU_OK) {
        return status;
    }
    const tu_bore *bore = &request->plate->bore;
    zero->bore = true;
    zero->wall = request->wall >= 0
                     ? request->wall
                     : (tu_target_is_face(request->target)
                            ? 0
                            : tu_plate_wall_for(request->plate, request->target, axis));
    zero->offset_mm = bore->centre[zero->wall].value_mm;
    zero->touch_count = low.count + high.count;
    zero->low_mm = low.mean_mm;
    zero->high_mm = high.mean_mm;
    zero->touch_mm = (low.mean_mm + high.mean_mm) / 2.0;
    zero->chord_mm = high.mean_mm - low.mean_mm;
    zero->across_mm = (low.across_mm + high.across_mm) / 2.0;
    measure_radius(request, axis, zero, warnings);
    add_parts(request, axis, &low, &high, zero, side, warnings);
    tu_untoleranced_note(untoleranced, bore->centre[zero->wall],
                         zero->wall == 0 ? "the bore's distance a" : "the bore's distance b");
    side->stand_off_mm = zero->outward * zero->offset_mm;
    return TU_OK;
}

/* Three standard uncertainties of bore less chord less cutter. */
static double chord_allowance(const tu_zero_request *request, const tu_axis_zero *zero, double sd)
{
    tu_cutter cutter = tu_request_cutter(request);
    double bore = tu_standard_of_tolerance(request->plate->bore.diameter.tolerance_mm);
    double size = tu_standard_of_tolerance(cutter.diameter.tolerance_mm);
    double step = tu_standard_of_step(request->machine.step_mm);
    double flutes = 2.0 * zero->flutes.standard_mm;
    double variance = bore * bore + size * size + 2.0 * (sd * sd + step * step) + flutes * flutes;
    return fmax(3.0 * sqrt(variance), CHORD_FLOOR_MM);
}

static tu_status refuse_chord(const tu_zero_request *request, tu_axis axis,
                              const tu_axis_zero *zero, double expected_mm, tu_error *error)
{
    char where[] = "x touches";
    where[0] = "xyz"[axis];
    if (fabs(zero->chord_mm * TU_MM_PER_INCH - expected_mm) < 0.1 * expected_mm) {
        return tu_fail(
            error, TU_DATA_CONFLICT, where,
            "the chord is %.3f mm where %.3f mm was expected: it looks like inches typed "
            "for millimetres; use --unit in",
            zero->chord_mm, expected_mm);
    }
    return tu_fail(error, TU_DATA_CONFLICT, where,
                   "the chord of %.3f mm across the %.3f mm bore means a cutter of %.3f mm, but "
                   "%s has an effective diameter of %.3f mm: another cutter, another plate, or a "
                   "side that touched early; the zero would then be wrong by up to %.3f mm",
                   zero->chord_mm, request->plate->bore.diameter.value_mm,
                   zero->implied_diameter_mm, request->cutter->name,
                   2.0 * zero->effective_radius_mm, fabs(zero->chord_mm - expected_mm) / 2.0);
}

tu_status tu_bore_check(const tu_zero_request *request, tu_axis axis, double centre_mm,
                        tu_axis_zero *zero, tu_warnings *warnings, tu_error *error)
{
    double bore = request->plate->bore.diameter.value_mm;
    char where[] = "x touches";
    where[0] = "xyz"[axis];
    if (zero->chord_mm > bore) {
        return tu_fail(error, TU_DATA_CONFLICT, where,
                       "the contacts are %.3f mm apart, wider than the %.3f mm bore of plate %s: "
                       "another plate, or a wrong unit?",
                       zero->chord_mm, bore, request->plate->name);
    }
    if (isnan(zero->effective_radius_mm)) {
        return TU_OK;
    }
    if (request->cutter->diameter.value_mm >= bore) {
        return tu_fail(error, TU_DATA_CONFLICT, "--cutter",
                       "cutter %s, %.3f mm, does not go into the %.3f mm bore of plate %s",
                       request->cutter->name, request->cutter->diameter.value_mm, bore,
                       request->plate->name);
    }
    /* A chord beside the centre is shorter than the diameter; the cutter's axis runs on a circle
     * of half the bore less the cutter's radius. */
    double beside = zero->across_mm - centre_mm;
    bool centred = !isnan(beside);
    double half = zero->chord_mm / 2.0;
    double circle = centred ? hypot(half, beside) : half;
    zero->implied_diameter_mm = bore - 2.0 * circle;
    double expected = bore / 2.0 - zero->effective_radius_mm;
    double excess = 2.0 * (circle - expected);
    double sd = isnan(zero->touch_sd_mm) ? 0.0 : zero->touch_sd_mm;
    double allowance = chord_allowance(request, zero, sd);
    if (fabs(excess) <= allowance) {
        return TU_OK;
    }
    if (excess > 0.0 || centred || half * TU_MM_PER_INCH < 1.1 * expected) {
        return refuse_chord(request, axis, zero, 2.0 * expected, error);
    }
    tu_warn(warnings,
            "%c: the chord of %.3f mm is %.3f mm shorter than the bore and cutter %s make it. "
            "Harmless if it ran %.2f mm beside the bore's centre; if not, another cutter was used "
            "or one side touched early, and the zero is wrong by up to %.3f mm. Move to the "
            "centre of the other axis and touch %c again.",
            tu_axis_letter(axis), zero->chord_mm, -excess, request->cutter->name,
            sqrt(expected * expected - half * half), -excess / 2.0, tu_axis_letter(axis));
    return TU_OK;
}
