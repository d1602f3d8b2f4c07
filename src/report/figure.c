/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * figure.c - numbers as the reports print them.
 */
#include "report/figure.h"

#include "trueup/number.h"

#include <math.h>

static int place_decimals(tu_unit unit)
{
    return unit == TU_UNIT_INCH ? 4 : 3;
}

tu_figure tu_figure_number(double value, int decimals)
{
    tu_figure figure;
    tu_number_format(figure.text, sizeof figure.text, value, decimals);
    return figure;
}

tu_figure tu_figure_place(tu_unit unit, double length_mm)
{
    return tu_figure_number(tu_unit_from_mm(unit, length_mm), place_decimals(unit));
}

tu_figure tu_figure_fine(tu_unit unit, double length_mm)
{
    return tu_figure_number(tu_unit_from_mm(unit, length_mm), place_decimals(unit) + 1);
}

tu_figure tu_figure_degrees(double angle_rad, int decimals)
{
    return tu_figure_number(angle_rad * 180.0 / M_PI, decimals);
}

tu_figure tu_figure_expanded(tu_unit unit, double expanded_mm)
{
    double value = tu_unit_from_mm(unit, expanded_mm);
    int finest = place_decimals(unit) + 1;
    if (!(value > 0) || isinf(value))
        return (tu_figure){""};
    int decimals = 1 - (int)floor(log10(value));
    decimals = decimals < 0 ? 0 : decimals > finest ? finest : decimals;
    /* What is 0.03 up to the noise of the last bits stays 0.03. */
    double digits = ceil(value * pow(10, decimals) * (1 - 1e-12));
    if (digits >= 100 && decimals > 0) {
        decimals--;
        digits = ceil(digits / 10);
    }
    return tu_figure_number(digits / pow(10, decimals), decimals);
}

double tu_figure_round_step(double range, int wanted)
{
    if (!(range > 0) || !isfinite(range) || wanted < 1)
        return NAN;
    double least = range / wanted;
    double power = pow(10, floor(log10(least)));
    static const double round[] = {1, 2, 5, 10};
    for (size_t i = 0; i < sizeof round / sizeof round[0]; i++)
        if (round[i] * power >= least * (1 - 1e-9))
            return round[i] * power;
    return 20 * power; /* where the logarithm was rounded down */
}
