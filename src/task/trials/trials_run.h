/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_run.h - from touches in files to everything that a report says of them, step by step.
 */
#ifndef TU_TASK_TRIALS_RUN_H
#define TU_TASK_TRIALS_RUN_H

#include "task/trials/trials_gather.h"
#include "trueup/shop.h"

/* What a run holds until its end; starts as {0}. */
typedef struct tu_trials_run {
    tu_task_trials_request request;
    tu_shop *shop;
    tu_trials_data data;
    tu_trials_story story;
} tu_trials_run;

/* In place of tu_trials_gather: the entries come with their figures and without touches. The same
 * statuses, and those of tu_trials_pass_add. */
tu_status tu_trials_pass(tu_trials_data *data, const tu_task_trials_request *request,
                         double step_mm, tu_error *error);

/* Judges what was gathered; story borrows from data. Statuses of trials.h and trial_models.h;
 * story->is_judged: there is a verdict, though a fit that was asked for failed (TU_UNDETERMINED,
 * TU_NUMERIC). TU_USAGE when the request asks for one series and several were gathered. */
tu_status tu_trials_tell(tu_trials_data *data, const tu_task_trials_request *request,
                         tu_trials_story *story, tu_error *error);

#endif
