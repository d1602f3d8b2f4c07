/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * moments.c - mean and standard deviation in one stable pass.
 */
#include "trueup/moments.h"

#include <math.h>

tu_moments tu_moments_start(void)
{
    return (tu_moments){.mean = NAN, .minimum = NAN, .maximum = NAN};
}

void tu_moments_add(tu_moments *moments, double value)
{
    moments->count++;
    if (moments->count == 1) {
        moments->mean = moments->minimum = moments->maximum = value;
        return;
    }
    double before = value - moments->mean;
    moments->mean += before / (double)moments->count;
    moments->sum_squares += before * (value - moments->mean);
    moments->minimum = fmin(moments->minimum, value);
    moments->maximum = fmax(moments->maximum, value);
}

tu_moments tu_moments_of(const double *values, size_t count)
{
    tu_moments moments = tu_moments_start();
    for (size_t i = 0; i < count; i++)
        tu_moments_add(&moments, values[i]);
    return moments;
}

double tu_moments_sd(const tu_moments *moments)
{
    if (moments->count < 2)
        return NAN;
    return sqrt(moments->sum_squares / (double)(moments->count - 1));
}
