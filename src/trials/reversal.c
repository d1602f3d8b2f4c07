/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * reversal.c - one place touched from both directions (ISO 230-2).
 */
#include "trials/mean_difference.h"
#include "trials/trial_check.h"

#include "trueup/moments.h"

#include <math.h>

tu_status tu_trials_find_reversal(const tu_trial_series *series, tu_trial_reversal *reversal,
                                  tu_error *error)
{
    tu_moments plus = tu_moments_start(), minus = tu_moments_start();
    const char *name = series->name != NULL ? series->name : "";
    *reversal = (tu_trial_reversal){
        .b = NAN, .r_plus = NAN, .r_minus = NAN, .r = NAN, .b_interval = {NAN, NAN}};
    tu_status status = tu_trial_check(series, error);
    if (status)
        return status;
    if (series->direction == NULL)
        return tu_fail(error, TU_DATA_MISSING, name,
                       "the reversal needs the direction of approach of each touch (-1 or +1)");
    for (size_t i = 0; i < series->count; i++)
        if (series->direction[i] != 0)
            tu_moments_add(series->direction[i] > 0 ? &plus : &minus, series->value_mm[i]);
    if (plus.count < 2 || minus.count < 2)
        return tu_fail(error, TU_UNDETERMINED, name,
                       "the reversal needs two touches from each direction, found %zu towards + "
                       "and %zu towards -",
                       plus.count, minus.count);
    tu_mean_difference b = tu_mean_difference_of(&plus, &minus);
    double sd_plus = tu_moments_sd(&plus), sd_minus = tu_moments_sd(&minus);
    reversal->n_plus = plus.count;
    reversal->n_minus = minus.count;
    reversal->b = b.difference;
    reversal->b_interval = b.interval;
    reversal->r_plus = 4.0 * sd_plus;
    reversal->r_minus = 4.0 * sd_minus;
    reversal->r = fmax(2.0 * sd_plus + 2.0 * sd_minus + fabs(b.difference),
                       fmax(reversal->r_plus, reversal->r_minus));
    return TU_OK;
}
