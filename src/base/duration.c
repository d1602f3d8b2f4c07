/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * duration.c - see duration.h.
 */
#include "base/duration.h"

#include <math.h>
#include <stdio.h>

/* Longer ones are said in minutes: nobody waits for a second of ten minutes. */
static const double seconds_most = 600.0;

tu_duration tu_duration_about(double seconds)
{
    tu_duration duration;
    char *text = duration.text;
    const size_t size = sizeof duration.text;
    double whole = ceil(seconds), minutes = ceil(seconds / 60.0);
    if (!(whole >= 0.0 && whole < 1e12))
        snprintf(text, size, "? s");
    else if (whole < seconds_most)
        snprintf(text, size, "%.0f s", whole);
    else if (minutes < 60.0)
        snprintf(text, size, "%.0f min", minutes);
    else
        snprintf(text, size, "%.0f h %.0f min", floor(minutes / 60.0), fmod(minutes, 60.0));
    return duration;
}
