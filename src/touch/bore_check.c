/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bore_check.c - the chord across a bore as a free check of cutter and plate.
 *
 * Bore less chord is the cutter's effective diameter, when the chord runs through the bore's
 * centre; beside the centre it is shorter, and the midpoint is right all the same
 * (docs/geometry.md).
 */
#include "touch/request.h"
#include "touch/shown.h"
#include "touch/sideways.h"

#include <math.h>

/* What a workshop's bore and a tip's roundness leave open anyway: less would raise false alarms
 * where the file states no tolerances. (Common practice, no source.) */
#define CHORD_FLOOR_MM 0.05

/* Three standard uncertainties of bore less chord less cutter. */
static double chord_allowance(const tu_zero_request *request, const tu_axis_zero *zero)
{
    tu_cutter cutter = tu_request_cutter(request);
    double sd = isnan(zero->touch_sd_mm) ? 0.0 : zero->touch_sd_mm;
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
    tu_unit unit = request->read_unit;
    const char *where = tu_touches_field(axis);
    if (fabs(zero->chord_mm * TU_MM_PER_INCH - expected_mm) < 0.1 * expected_mm)
        return tu_fail(error, TU_DATA_CONFLICT, where,
                       "the chord is %s where %s was expected: it looks like inches typed for "
                       "millimetres; use {unit} in",
                       tu_show_length(unit, zero->chord_mm).text,
                       tu_show_length(unit, expected_mm).text);
    return tu_fail(
        error, TU_DATA_CONFLICT, where,
        "the chord of %s across the %s bore means a cutter of %s, but %s has an effective "
        "diameter of %s: another cutter, another plate, or a side that touched early; the "
        "zero would then be wrong by up to %s",
        tu_show_length(unit, zero->chord_mm).text,
        tu_show_length(unit, request->plate->bore.diameter.value_mm).text,
        tu_show_length(unit, zero->implied_diameter_mm).text, request->cutter->name,
        tu_show_length(unit, 2.0 * zero->effective_radius_mm).text,
        tu_show_length(unit, fabs(zero->chord_mm - expected_mm) / 2.0).text);
}

/* What no cutter at all could do. */
static tu_status check_possible(const tu_zero_request *request, tu_axis axis,
                                const tu_axis_zero *zero, tu_error *error)
{
    double bore = request->plate->bore.diameter.value_mm;
    tu_unit unit = request->read_unit;
    const char *where = tu_touches_field(axis);
    if (zero->chord_mm > bore)
        return tu_fail(error, TU_DATA_CONFLICT, where,
                       "the contacts are %s apart, wider than the %s bore of plate %s: another "
                       "plate, or a wrong unit?",
                       tu_show_length(unit, zero->chord_mm).text, tu_show_length(unit, bore).text,
                       request->plate->name);
    if (!isnan(zero->effective_radius_mm) && request->cutter->diameter.value_mm >= bore)
        return tu_fail(error, TU_DATA_CONFLICT, "{cutter}",
                       "cutter %s, %s, does not go into the %s bore of plate %s",
                       request->cutter->name,
                       tu_show_length(unit, request->cutter->diameter.value_mm).text,
                       tu_show_length(unit, bore).text, request->plate->name);
    return TU_OK;
}

static void warn_short_chord(const tu_zero_request *request, tu_axis axis, const tu_axis_zero *zero,
                             double expected_mm, tu_warnings *warnings)
{
    tu_unit unit = request->read_unit;
    double half = zero->chord_mm / 2.0;
    double missing = 2.0 * expected_mm - zero->chord_mm;
    tu_warn(warnings,
            "%c: the chord of %s is %s shorter than the bore and cutter %s make it. Harmless if it "
            "ran %s beside the bore's centre; if not, another cutter was used or one side touched "
            "early, and the zero is wrong by up to %s. Move to the centre of the other axis and "
            "touch %c again.",
            tu_axis_letter(axis), tu_show_length(unit, zero->chord_mm).text,
            tu_show_length(unit, missing).text, request->cutter->name,
            tu_show_length(unit, sqrt(expected_mm * expected_mm - half * half)).text,
            tu_show_length(unit, missing / 2.0).text, tu_axis_letter(axis));
}

tu_status tu_bore_check(const tu_zero_request *request, tu_axis axis, double centre_mm,
                        tu_axis_zero *zero, tu_warnings *warnings, tu_error *error)
{
    tu_status status = check_possible(request, axis, zero, error);
    if (status || isnan(zero->effective_radius_mm))
        return status;
    /* The cutter's axis runs on a circle of half the bore less the cutter's radius. */
    double bore = request->plate->bore.diameter.value_mm;
    double beside = zero->across_mm - centre_mm;
    bool centred = !isnan(beside);
    double half = zero->chord_mm / 2.0;
    double circle = centred ? hypot(half, beside) : half;
    double expected = bore / 2.0 - zero->effective_radius_mm;
    double excess = 2.0 * (circle - expected);
    zero->implied_diameter_mm = bore - 2.0 * circle;
    if (fabs(excess) <= chord_allowance(request, zero))
        return TU_OK;
    if (excess > 0.0 || centred || half * TU_MM_PER_INCH < 1.1 * expected)
        return refuse_chord(request, axis, zero, 2.0 * expected, error);
    warn_short_chord(request, axis, zero, expected, warnings);
    return TU_OK;
}

tu_status tu_bore_compare(const tu_zero_request *request, const tu_axis_zero zero[2],
                          tu_error *error)
{
    double cutter = 2.0 * zero[0].effective_radius_mm;
    double x = zero[0].implied_diameter_mm;
    double y = zero[1].implied_diameter_mm;
    /* NaN compares false: without both chords there is nothing to compare. */
    if (x - cutter > chord_allowance(request, &zero[0]) &&
        y - cutter > chord_allowance(request, &zero[1]) && fabs(x - y) <= CHORD_FLOOR_MM)
        return refuse_chord(request, TU_AXIS_X, &zero[0],
                            request->plate->bore.diameter.value_mm - cutter, error);
    return TU_OK;
}
