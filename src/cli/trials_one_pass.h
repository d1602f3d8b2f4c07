/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_one_pass.h - touches judged as they are read, and none kept.
 */
#ifndef TU_CLI_TRIALS_ONE_PASS_H
#define TU_CLI_TRIALS_ONE_PASS_H

#include "cli/trials_gather.h"

/* In place of tu_trials_gather: the entries come with their figures and without touches. The same
 * statuses, and those of tu_trials_pass_add. */
tu_status tu_trials_pass(tu_trials_data *data, const tu_trials_options *options, double step_mm,
                         tu_error *error);

#endif
