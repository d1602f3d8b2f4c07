/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_trials.c - the use case "trials": from a request to how well touches repeat.
 */
#include "record/same_file.h"
#include "task/trials/trials_run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

tu_task_trials_request tu_task_trials_request_start(void)
{
    return (tu_task_trials_request){
        .axis = TU_AXIS_COUNT, .within_mm = NAN, .step_mm = NAN, .wanted_mm = NAN};
}

static tu_status check_against(const tu_task_trials_request *request, tu_error *error)
{
    for (size_t i = 0; request->against && i < request->path_count; i++)
        if (tu_is_same_file(request->against, request->path[i]))
            return tu_fail(error, TU_USAGE, "{against}",
                           "%s is the file that is judged (%s): a series does not differ from "
                           "itself; name another file, or a series",
                           request->against, request->path[i]);
    return TU_OK;
}

/* A file whose touches would count twice. */
static tu_status check_twice(const tu_task_trials_request *request, tu_error *error)
{
    for (size_t i = 0; i < request->path_count; i++)
        for (size_t k = 0; k < i; k++)
            if (strcmp(request->path[i], request->path[k]) == 0 ||
                tu_is_same_file(request->path[i], request->path[k]))
                return tu_fail(error, TU_USAGE, request->path[i],
                               "stands there twice: its touches would count twice");
    return TU_OK;
}

/* Words with a meaning count in capitals, too. */
static tu_status check_by(tu_task_trials_request *request, tu_error *error)
{
    static const char *const meaning[] = {"series", "file", "dir"};
    const char *by = request->by;
    if (!by)
        return TU_OK;
    if (strlen(by) == 1 && strchr("xyzXYZ", *by))
        return tu_fail(error, TU_USAGE, "{by}",
                       "%s is the position that is judged; name the column that says what was "
                       "changed between the groups",
                       by);
    for (size_t i = 0; i < sizeof meaning / sizeof *meaning; i++)
        if (strcasecmp(by, meaning[i]) == 0)
            request->by = meaning[i];
    return TU_OK;
}

static tu_status check(tu_task_trials_request *request, tu_error *error)
{
    if (request->keep && (!request->shop || strcmp(request->shop, "-") == 0))
        return tu_fail(error, TU_USAGE, "{keep}",
                       "cannot write to standard input; name the shop file with {shop}");
    tu_status status = check_by(request, error);
    if (!status)
        status = check_twice(request, error);
    return status ? status : check_against(request, error);
}

/* The step: as stated, else the machine's. */
static tu_status look_up(tu_trials_run *run, double *step_mm, tu_error *error)
{
    *step_mm = run->request.step_mm;
    if (!run->request.shop)
        return TU_OK;
    tu_status status = tu_shop_read(run->request.shop, &run->shop, error);
    if (!status && isnan(*step_mm))
        *step_mm = tu_shop_machine(run->shop).step_mm;
    return status;
}

tu_status tu_task_trials(const tu_task_trials_request *request, tu_task_trials_story *story,
                         tu_error *error)
{
    *story = (tu_task_trials_story){0};
    tu_trials_run *run = story->run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    run->request = *request;
    story->answer = &run->story;
    double step_mm = NAN;
    tu_status status = check(&run->request, error);
    if (!status)
        status = look_up(run, &step_mm, error);
    if (!status)
        status = (request->one_pass ? tu_trials_pass : tu_trials_gather)(&run->data, &run->request,
                                                                         step_mm, error);
    return status ? status : tu_trials_tell(&run->data, &run->request, &run->story, error);
}

tu_status tu_task_trials_verdict(const tu_task_trials_story *story)
{
    return tu_trials_limit_exceeded(story->answer) ? TU_LIMIT_EXCEEDED : TU_OK;
}

void tu_task_trials_end(tu_task_trials_story *story)
{
    if (story->run) {
        tu_trials_data_destroy(&story->run->data);
        tu_shop_destroy(story->run->shop);
    }
    free(story->run);
    *story = (tu_task_trials_story){0};
}
