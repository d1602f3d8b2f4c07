/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_budget.c - what the uncertainty of each axis is made of (GUM, JCGM 100:2008, 7.2.7).
 */
#include "report/figure.h"
#include "report/zero/zero_words.h"

#include <math.h>

/* Standard uncertainties are told finer than places: their squares are added. */
static tu_figure standard(tu_unit unit, double standard_mm)
{
    return tu_figure_number(tu_unit_from_mm(unit, standard_mm), unit == TU_UNIT_INCH ? 6 : 5);
}

static tu_figure degrees_of_freedom(double dof)
{
    if (isinf(dof))
        return (tu_figure){"inf"};
    return tu_figure_number(dof, dof >= 100 || dof == floor(dof) ? 0 : 1);
}

static void write_axis(FILE *out, tu_axis axis, const tu_uncertainty *budget,
                       const tu_zero_style *style)
{
    fprintf(out, "\nUncertainty of %c (%s):\n\n  %-32s %10s %8s %7s\n", tu_axis_letter(axis),
            tu_unit_name(style->unit), "source", "standard", "dof", "share");
    for (size_t i = 0; i < budget->count; i++)
        fprintf(out, "  %-32s %10s %8s %5s %%\n", budget->line[i].source,
                standard(style->unit, budget->line[i].standard_mm).text,
                degrees_of_freedom(budget->line[i].dof).text,
                tu_figure_number(100 * budget->line[i].share, 1).text);
    fprintf(out, "  %-32s %10s %8s\n", "combined", standard(style->unit, budget->standard_mm).text,
            degrees_of_freedom(budget->dof).text);
    char label[80];
    snprintf(label, sizeof label, "expanded, 95 %%, k = %s",
             tu_figure_number(budget->coverage_factor, 3).text);
    fprintf(out, "  %-32s %10s\n", label, standard(style->unit, budget->expanded_mm).text);
}

void tu_zero_write_budget(FILE *out, const tu_zero_result *result, const tu_zero_style *style)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (result->axis[axis].asked)
            write_axis(out, (tu_axis)axis, &result->axis[axis].uncertainty, style);
}
