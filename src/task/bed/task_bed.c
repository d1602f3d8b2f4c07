/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_bed.c - the use case "bed": from a request to the answer and a touch program for suspects.
 */
#include "trueup/task_bed.h"

#include "task/bed/bed_judge.h"

#include <math.h>
#include <stdlib.h>

static const double allowance_mm = 0.05;  /* common practice, no source */
static const double overcut_most_mm = 10; /* most spoilboards are thinner than twice that; common
                                             practice, no source */
/* A verdict on a job takes touches all over it; by this share they may miss its edges. */
static const double untouched_most = 0.01;

tu_task_bed_request tu_task_bed_request_start(void)
{
    return (tu_task_bed_request){.active_mm = {NAN, NAN, NAN},
                                 .slot = 1,
                                 .job = {NAN, NAN, NAN, NAN},
                                 .zeroed_at = {NAN, NAN},
                                 .depth_of_cut_mm = NAN,
                                 .allowance_mm = allowance_mm,
                                 .surfacer_mm = NAN,
                                 .step_over_mm = NAN,
                                 .feed_mm_per_min = NAN,
                                 .overcut_mm = NAN,
                                 .stock_tolerance_mm = NAN,
                                 .within_mm = NAN};
}

static tu_status check(const tu_task_bed_request *request, tu_error *error)
{
    if (request->re_touch && isnan(request->active_mm[TU_AXIS_X]))
        return tu_fail(error, TU_USAGE, "{active}",
                       "missing: the map is in machine coordinates and the program runs in work "
                       "coordinates; state the machine coordinates of the slot's zero");
    if (request->supports == 1 || request->supports == 2)
        return tu_fail(error, TU_USAGE, "{support}",
                       "given %zu times; a bed is levelled on three supports or more",
                       request->supports);
    if (request->overcut_mm > overcut_most_mm)
        return tu_fail(error, TU_DATA_RANGE, "{overcut}",
                       "%.3f mm is deep into the bed, at most %.0f mm make sense: it is how far "
                       "below the stock's underside the cut ends, not the depth from its top",
                       request->overcut_mm, overcut_most_mm);
    return TU_OK;
}

tu_status tu_task_bed(const tu_task_bed_request *request, tu_task_bed_story *story, tu_error *error)
{
    *story = (tu_task_bed_story){0};
    tu_status status = check(request, error);
    if (status)
        return status;
    tu_bed_run *run = story->run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    run->request = *request;
    story->answer = &run->answer;
    status = tu_bed_judge(run, error);
    if (run->answer.again) {
        story->program = run->again_program.text;
        story->program_length = run->again_program.length;
    }
    return status;
}

tu_status tu_task_bed_verdict(const tu_task_bed_story *story, tu_error *error)
{
    const tu_bed_answer *answer = story->answer;
    const double unknown = answer->surfacing.unknown_mm2;
    const double share = unknown / (unknown + answer->surfacing.area_mm2);
    if (answer->range_mm <= answer->limit_mm && answer->job && share > untouched_most)
        return tu_fail(error, TU_UNDETERMINED, "{within}",
                       "%.0f %% of the job was not touched, so nobody can say that all of it is "
                       "within %.3f mm: touch the bed there, or make {job} smaller",
                       fmin(99, 100 * share), answer->limit_mm);
    if (!(answer->range_mm > answer->limit_mm))
        return TU_OK;
    return tu_fail(error, TU_LIMIT_EXCEEDED, "{within}",
                   "the highest and the lowest place differ by %.3f mm, more than %.3f mm",
                   answer->range_mm, answer->limit_mm);
}

void tu_task_bed_end(tu_task_bed_story *story)
{
    tu_bed_run_destroy(story->run);
    free(story->run);
    *story = (tu_task_bed_story){0};
}
