/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_text.c - a zero as text: the answer first, then what to enter, then what to check.
 */
#include "report/answer.h"
#include "report/figure.h"
#include "report/zero/zero_words.h"

#include <math.h>
#include <string.h>

const char *tu_face_name(tu_axis axis, int outward)
{
    static const char *const names[TU_AXIS_COUNT][2] = {
        {"left", "right"}, {"front", "back"}, {"bottom", "top"}};
    return names[axis][outward > 0];
}

static bool known(const tu_uncertainty *uncertainty)
{
    return uncertainty->expanded_mm > 0;
}

/* A single touch with no stored repeatability leaves the touches out of the budget. */
static bool repeatability_known(const tu_uncertainty *uncertainty)
{
    for (size_t i = 0; i < uncertainty->count; i++)
        if (strcmp(uncertainty->line[i].source, "touches") == 0)
            return true;
    return false;
}

/* What the axes' uncertainties cover, and what they do not. */
static void write_coverage(FILE *out, const tu_zero_result *result)
{
    size_t unknown = 0, known_count = 0, letters = 0;
    char left_out[TU_AXIS_COUNT + 1] = "";
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const tu_axis_zero *zero = &result->axis[axis];
        if (!zero->asked)
            continue;
        known_count += known(&zero->uncertainty);
        unknown += !known(&zero->uncertainty);
        if (known(&zero->uncertainty) && !repeatability_known(&zero->uncertainty))
            left_out[letters++] = tu_axis_letter((tu_axis)axis);
    }
    fputc('\n', out);
    if (known_count)
        fputs("In 19 of 20 set-ups (95 %) the true zero lies within ±.\n", out);
    if (*left_out)
        fprintf(out, "Not counted, because not known: how well touches of %s repeat.\n", left_out);
    if (unknown)
        fputs("± unknown: no repeats and no tolerances to judge by.\n", out);
    /* The warnings themselves go to standard error, which a file or a pipe does not show. */
    if (result->warnings.count == 1)
        fputs("There is 1 warning: read it first.\n", out);
    else if (result->warnings.count > 1)
        fprintf(out, "There are %zu warnings: read them first.\n", result->warnings.count);
}

static void write_answer(FILE *out, const tu_zero_result *result, const tu_zero_style *style)
{
    fprintf(out, "Zero at %s, machine coordinates in %s:\n\n", tu_target_name(result->target),
            style->unit == TU_UNIT_INCH ? "inches" : "mm");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const tu_axis_zero *zero = &result->axis[axis];
        if (!zero->asked)
            continue;
        fprintf(out, "  %c  %10s ± ", tu_axis_letter((tu_axis)axis),
                tu_figure_place(style->unit, zero->zero_mm).text);
        if (known(&zero->uncertainty)) {
            fprintf(out, "%-7s (k = %s)\n",
                    tu_figure_expanded(style->unit, zero->uncertainty.expanded_mm).text,
                    tu_figure_number(zero->uncertainty.coverage_factor, 2).text);
        } else {
            fputs("unknown\n", out);
        }
    }
    write_coverage(out, result);
}

static void write_skew(FILE *out, const tu_zero_result *result, const tu_zero_style *style)
{
    if (!result->skew.known)
        return;
    double angle_rad = result->skew.angle_rad;
    fprintf(out, "\nThe stock is turned by %s degrees (%s, %s mm per metre).\n",
            tu_figure_degrees(fabs(angle_rad), 3).text,
            angle_rad < 0 ? "clockwise, seen from above" : "counter-clockwise, seen from above",
            tu_figure_number(1000 * tan(fabs(angle_rad)), 2).text);
    fprintf(out,
            "%s only moves the zero: the job still runs along the machine's axes.\n"
            "Straighten the stock, or turn the job by the same angle.\n",
            tu_slot_name(style->slot));
}

static const char *edge_name(const tu_zero_result *result, tu_axis axis)
{
    int outward = result->target.outward[axis];
    return outward ? tu_face_name(axis, outward) : axis == TU_AXIS_X ? "X" : "Y";
}

static void write_fear_job(FILE *out, const tu_zero_result *result, tu_unit unit)
{
    const tu_fear *fear = &result->fear;
    if (isnan(fear->border_mm[0]) || isnan(fear->border_mm[1]))
        return;
    fprintf(out,
            "  the job must begin %s from the %s edge and %s from the %s edge,\n"
            "  on stock of at least %s x %s\n",
            tu_figure_place(unit, fear->border_mm[0]).text, edge_name(result, TU_AXIS_X),
            tu_figure_place(unit, fear->border_mm[1]).text, edge_name(result, TU_AXIS_Y),
            tu_figure_place(unit, fear->stock_needed_mm[0]).text,
            tu_figure_place(unit, fear->stock_needed_mm[1]).text);
}

/* The error grows with the distance from the corner, so the corner must be known. */
static void write_unknown_fear(FILE *out, const tu_zero_result *result, int axis)
{
    const tu_axis_zero *zero = &result->axis[axis];
    bool across = zero->bore || !isnan(zero->across_mm);
    if (result->axis[1 - axis].asked && !zero->bore)
        fprintf(out, "  %c: not known how wrong; give %c at contact too: --%c VALUE@%c\n",
                "XY"[axis], "YX"[axis], "xy"[axis], "YX"[axis]);
    else
        fprintf(out, "  %c: not known how wrong; name a corner and touch both X and Y%s\n",
                "XY"[axis], across ? "" : ",\n     each with the other coordinate at contact");
}

static void write_fear(FILE *out, const tu_zero_result *result, const tu_zero_style *style)
{
    const tu_fear *fear = &result->fear;
    if (!fear->asked)
        return;
    fprintf(out, "\nIf the stock were turned by %s degrees (%s):\n",
            tu_figure_degrees(fear->angle_rad, 3).text, tu_unit_name(style->unit));
    for (int axis = 0; axis < 2; axis++) {
        if (!result->axis[axis].asked)
            continue;
        if (isnan(fear->error_mm[axis]))
            write_unknown_fear(out, result, axis);
        else
            fprintf(out, "  %c would be wrong by up to %s\n", "XY"[axis],
                    tu_figure_place(style->unit, fear->error_mm[axis]).text);
    }
    write_fear_job(out, result, style->unit);
}

tu_status tu_report_zero_text(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                              tu_error *error)
{
    char line[TU_PROGRAM_LINE_SIZE];
    write_answer(out, result, style);
    write_skew(out, result, style);
    write_fear(out, result, style);
    if (tu_report_program_line(line, sizeof line, result, style))
        fprintf(out, "\nTo enter (sets %s):\n\n  %s\n", tu_slot_name(style->slot), line);
    tu_zero_write_checks(out, result, style);
    if (style->budget)
        tu_zero_write_budget(out, result, style);
    if (style->explain)
        tu_zero_write_explanation(out, result, style);
    return tu_answer_finish(out, error);
}
