/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_story.h - from gathered touches to everything that a report says of them.
 */
#ifndef TU_CLI_TRIALS_STORY_H
#define TU_CLI_TRIALS_STORY_H

#include "cli/trials_gather.h"

/* Judges what was gathered; story borrows from data. Statuses of trials.h and trial_models.h;
 * story->is_judged: there is a verdict, though a fit that was asked for failed (TU_UNDETERMINED,
 * TU_NUMERIC). TU_USAGE when the options ask for one series and several were gathered. */
tu_status tu_trials_tell(tu_trials_data *data, const tu_trials_options *options,
                         tu_trials_story *story, tu_error *error);

#endif
