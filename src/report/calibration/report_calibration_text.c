/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_calibration_text.c - a calibration as text: what is known first, then what is not and
 * which touch settles it, then how well the touches agree.
 */
#include "report/answer.h"
#include "report/figure.h"
#include "report/word_rows.h"
#include "trueup/report.h"

#include <math.h>
#include <string.h>

typedef struct page {
    FILE *out;
    const tu_calibration_request *request;
    const tu_calibration_result *result;
    const tu_calibration_style *style;
} page;

static bool is_remnant(const tu_calibrated *figure)
{
    return figure->kind == TU_CALIBRATED_SUM || figure->kind == TU_CALIBRATED_CLEARANCE;
}

static size_t count_open(const tu_calibration_result *result)
{
    size_t open = 0;
    for (size_t k = 0; k < result->count; k++) {
        const tu_calibrated *figure = &result->figure[k];
        open += figure->needed && !figure->determined && !is_remnant(figure) ? 1 : 0;
    }
    return open;
}

static void write_verdict(const page *to)
{
    size_t open = count_open(to->result), known = 0;
    for (size_t k = 0; k < to->result->count; k++)
        known += to->result->figure[k].determined && !is_remnant(&to->result->figure[k]) ? 1 : 0;
    fprintf(to->out, "Plate %s: ", to->request->plate->name);
    if (open == 0) {
        fprintf(to->out, "%s.\n",
                known == 1 ? "the figure is determined"
                           : "all that the touches bear on is determined");
    } else {
        fprintf(to->out, "%zu of %zu figures not determined; see below which touch settles %s.\n",
                open, open + known, open == 1 ? "it" : "them");
    }
}

static void write_old(const page *to, const tu_calibrated *figure, int padding)
{
    tu_unit unit = to->style->unit;
    double change = figure->value_mm - figure->old_mm;
    tu_figure difference = tu_figure_fine(unit, change);
    char signed_text[64];
    snprintf(signed_text, sizeof signed_text, "%s%s", *difference.text == '-' ? "" : "+",
             difference.text);
    fprintf(to->out, "%*s %10s %9s", padding, "", tu_figure_fine(unit, figure->old_mm).text,
            signed_text);
    if (is_remnant(figure))
        return;
    if (isnan(figure->old_tolerance_mm)) {
        fputs("  old had no tolerance", to->out);
        return;
    }
    bool within = fabs(change) <= figure->old_tolerance_mm * (1.0 + 1e-9);
    fprintf(to->out, "  %s old ±%s", within ? "within" : "outside",
            tu_figure_place(unit, figure->old_tolerance_mm).text);
}

static void write_figure(const page *to, const tu_calibrated *figure)
{
    char name[TU_FIGURE_NAME_SIZE];
    tu_unit unit = to->style->unit;
    tu_calibrated_name(name, to->request, figure);
    tu_figure expanded = tu_figure_expanded(unit, figure->uncertainty.expanded_mm);
    const char *bound = *expanded.text ? expanded.text : "unknown";
    fprintf(to->out, "  %-40s %9s ± %s", name, tu_figure_fine(unit, figure->value_mm).text, bound);
    if (!isnan(figure->old_mm))
        write_old(to, figure, 7 - (int)strlen(bound));
    fputc('\n', to->out);
}

/* What ± leaves out, and that there is more to read: warnings go to standard error, which a file or
 * a pipe does not show. */
static void write_reserve(const page *to)
{
    bool touched[TU_AXIS_COUNT] = {false};
    const char *join = "Not counted, because not known: how well touches repeat along ";
    for (size_t k = 0; k < to->request->touch_count; k++)
        touched[to->request->touches[k].axis] = true;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (touched[axis] && isnan(to->result->touch_sd_mm[axis])) {
            fprintf(to->out, "%s%c", join, tu_axis_letter((tu_axis)axis));
            join = ", ";
        }
    }
    fputs(*join == ',' ? ".\n" : "", to->out);
    size_t count = to->result->warnings.count;
    if (count > 0)
        fprintf(to->out, "There %s %zu warning%s: read %s first.\n", count == 1 ? "is" : "are",
                count, count == 1 ? "" : "s", count == 1 ? "it" : "them");
}

static void write_known(const page *to)
{
    bool any = false, bounded = false;
    for (size_t k = 0; k < to->result->count; k++) {
        const tu_calibrated *figure = &to->result->figure[k];
        if (!figure->determined)
            continue;
        if (!any)
            fprintf(to->out, "\n  %-40s %9s   %-7s %10s %9s\n", tu_unit_name(to->style->unit),
                    "new", "", "old", "change");
        any = true;
        bounded = bounded || figure->uncertainty.expanded_mm > 0.0;
        write_figure(to, figure);
    }
    if (bounded)
        fputs("\nIn 19 of 20 calibrations (95 %) the true value lies within ±.\n", to->out);
    else if (any)
        fputs("\n± unknown: no repeats and no tolerances to judge by.\n", to->out);
    else if (to->result->warnings.count > 0)
        fputc('\n', to->out);
    write_reserve(to);
}

/* A sum is all that a job with that one cutter needs; how to use it, with both signs. */
static void write_sum(const page *to, const tu_calibrated *figure)
{
    char name[TU_FIGURE_NAME_SIZE];
    tu_calibrated_name(name, to->request, figure);
    const char *cutter = to->request->cutters[figure->cutter]->name;
    tu_figure value = tu_figure_fine(to->style->unit, fabs(figure->value_mm));
    bool outside = figure->value_mm >= 0.0;
    char letter = figure->index == 0 ? 'a' : 'b';
    char text[3 * TU_FIGURE_NAME_SIZE];
    snprintf(text, sizeof text,
             "%s is known; apart they are not, so neither is saved. It is enough for this plate "
             "with %s alone:",
             name, cutter);
    fputc('\n', to->out);
    tu_word_rows_write(to->out, text, 0, 0);
    fprintf(to->out,
            "  left or front edge = touch on wall %c %c %s\n"
            "  right or back edge = touch on wall %c %c %s\n",
            letter, outside ? '+' : '-', value.text, letter, outside ? '-' : '+', value.text);
}

static void write_open(const page *to)
{
    bool first = true;
    for (size_t k = 0; k < to->result->count; k++) {
        const tu_calibrated *figure = &to->result->figure[k];
        if (figure->determined || is_remnant(figure))
            continue;
        char name[TU_FIGURE_NAME_SIZE];
        tu_calibrated_name(name, to->request, figure);
        fprintf(to->out, "%s  %s%s\n", first ? "\nNot determined by these touches:\n" : "", name,
                figure->needed ? "" : " (the plate does not need it)");
        first = false;
    }
    for (size_t k = 0; k < to->result->count; k++) {
        const tu_calibrated *figure = &to->result->figure[k];
        if (figure->kind == TU_CALIBRATED_SUM && figure->determined && !figure->suspect)
            write_sum(to, figure);
    }
    for (size_t k = 0; k < to->result->advice_count; k++) {
        fprintf(to->out, "%s  %zu. ", k == 0 ? "\nWhat settles it:\n" : "", k + 1);
        tu_word_rows_write(to->out, to->result->advice[k].text, 5, 5);
    }
}

static void write_agreement(const page *to)
{
    const tu_calibration_result *result = to->result;
    bool first = true;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (!isnan(result->touch_sd_mm[axis]) && result->touch_dof[axis] > 0.0) {
            fprintf(to->out, "%s %s along %c", first ? "\nOne touch scatters by" : ",",
                    tu_figure_number(tu_unit_from_mm(to->style->unit, result->touch_sd_mm[axis]),
                                     to->style->unit == TU_UNIT_INCH ? 5 : 4)
                        .text,
                    tu_axis_letter((tu_axis)axis));
            first = false;
        }
    }
    fputs(first ? "" : " (standard deviation).\n", to->out);
    if (!isnan(result->misfit)) {
        bool tiny = result->misfit_p < 0.0001;
        fprintf(to->out,
                "%sRedundant touches %s: chi-square %s, %s degree%s of freedom, p %s %s.\n",
                first ? "\n" : "", result->misfit_p < 0.01 ? "disagree" : "agree",
                tu_figure_number(result->misfit, 2).text,
                tu_figure_number(result->misfit_dof, 0).text, result->misfit_dof > 1.0 ? "s" : "",
                tiny ? "<" : "=", tu_figure_number(tiny ? 0.0001 : result->misfit_p, 4).text);
    }
}

static const char *why_not_saved(const page *to, const tu_calibrated *figure)
{
    if (to->request->trust_cutters)
        return "its stored diameter was taken as known";
    return to->request->cutters[figure->index]->shape != TU_CUTTER_FLAT
               ? "it is not flat: the figure holds at one depth only"
               : "it agrees with the stored one, which is known better";
}

static void write_saved(const page *to)
{
    const tu_calibration_style *style = to->style;
    char name[TU_FIGURE_NAME_SIZE], old[96], line[2 * TU_FIGURE_NAME_SIZE];
    for (size_t k = 0; k < style->saved_count; k++) {
        const tu_calibration_saved *saved = &style->saved[k];
        const tu_calibrated *figure = &to->result->figure[saved->figure];
        tu_calibrated_name(name, to->request, figure);
        /* A cutter's effective diameter is not what the file holds: the flutes' loss goes back. */
        const char *what = figure->kind == TU_CALIBRATED_CUTTER ? strstr(name, "diameter") : name;
        if (tu_quantity_format(old, sizeof old, saved->old) == 0)
            snprintf(old, sizeof old, "nothing");
        if (k == 0)
            fprintf(to->out, "\nSaved in %s:\n", style->shop_path);
        fprintf(to->out, "  %-40s %s -> %s\n", what, old, saved->text);
    }
    for (size_t k = 0; k < to->result->count; k++) {
        if ((style->not_saved >> k & 1u) != 0u) {
            tu_calibrated_name(name, to->request, &to->result->figure[k]);
            snprintf(line, sizeof line, "Not saved: %s, since %s.", name,
                     why_not_saved(to, &to->result->figure[k]));
            tu_word_rows_write(to->out, line, 0, 2);
        }
    }
}

static tu_figure degrees_of_freedom(double dof)
{
    return isinf(dof) ? (tu_figure){"inf"} : tu_figure_number(dof, dof == floor(dof) ? 0 : 1);
}

static void write_budget(const page *to, const tu_calibrated *figure)
{
    char name[TU_FIGURE_NAME_SIZE], label[80];
    tu_unit unit = to->style->unit;
    int decimals = unit == TU_UNIT_INCH ? 6 : 5;
    const tu_uncertainty *budget = &figure->uncertainty;
    tu_calibrated_name(name, to->request, figure);
    fprintf(to->out, "\nUncertainty of %s (%s):\n\n  %-32s %10s %8s %7s\n", name,
            tu_unit_name(unit), "source", "standard", "dof", "share");
    for (size_t i = 0; i < budget->count; i++) {
        const tu_budget_line *line = &budget->line[i];
        fprintf(to->out, "  %-32s %10s %8s %5s %%\n", line->source,
                tu_figure_number(tu_unit_from_mm(unit, line->standard_mm), decimals).text,
                degrees_of_freedom(line->dof).text, tu_figure_number(100 * line->share, 1).text);
    }
    fprintf(to->out, "  %-32s %10s %8s\n", "combined",
            tu_figure_number(tu_unit_from_mm(unit, budget->standard_mm), decimals).text,
            degrees_of_freedom(budget->dof).text);
    snprintf(label, sizeof label, "expanded, 95 %%, k = %s",
             tu_figure_number(budget->coverage_factor, 3).text);
    fprintf(to->out, "  %-32s %10s\n", label,
            tu_figure_number(tu_unit_from_mm(unit, budget->expanded_mm), decimals).text);
}

tu_status tu_report_calibration_text(FILE *out, const tu_calibration_request *request,
                                     const tu_calibration_result *result,
                                     const tu_calibration_style *style, tu_error *error)
{
    page to = {out, request, result, style};
    write_verdict(&to);
    write_known(&to);
    write_open(&to);
    write_agreement(&to);
    write_saved(&to);
    for (size_t k = 0; style->budget && k < result->count; k++)
        if (result->figure[k].determined)
            write_budget(&to, &result->figure[k]);
    return tu_answer_finish(out, error);
}
