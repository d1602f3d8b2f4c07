/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_rehearse.c - the use case "rehearse": from a request to what happened on the machine.
 */
#include "trueup/task_rehearse.h"

#include "base/sheet.h"
#include "base/utf8.h"
#include "record/file_text.h"
#include "task/rehearse/rehearse_files.h"
#include "task/rehearse/rehearse_story.h"
#include "trueup/scene_file.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { PROGRAM_MAX = 1 << 28, SHOWN_NAME_SIZE = 256 };

typedef struct tu_rehearse_run tu_rehearse_run;

struct tu_rehearse_run {
    tu_scene scene;
    char *program;
    size_t length;
    char program_name[SHOWN_NAME_SIZE], scene_name[SHOWN_NAME_SIZE];
    tu_rehearsal_story story;
    tu_sheet log;
};

tu_task_rehearse_request tu_task_rehearse_request_start(void)
{
    return (tu_task_rehearse_request){.within_mm = NAN};
}

/* A log is what was measured: it is never replaced, and a second rehearsal is another log. */
static tu_status check_log(const char *path, tu_error *error)
{
    struct stat there;
    if (!path)
        return TU_OK;
    if (lstat(path, &there) == 0)
        return tu_fail(error, TU_USAGE, "{log}",
                       "%s is there already, and a log is not written over; name a new file", path);
    if (errno == ENOENT || errno == ENOTDIR)
        return TU_OK; /* what is wrong with the folder, writing will tell */
    return tu_fail(error, TU_SYSTEM_IO, "{log}", "%s: %s", path, strerror(errno));
}

static tu_status check(const tu_task_rehearse_request *request, tu_error *error)
{
    if (!request->program)
        return tu_fail(error, TU_USAGE, "program", "missing: the touch program to rehearse");
    if (!request->scene)
        return tu_fail(error, TU_USAGE, "{scene}",
                       "missing: the file that says what lies on the table");
    return check_log(request->log, error);
}

/* A path as answers show it: its end where it is long. */
static void show_name(const char *path, char name[SHOWN_NAME_SIZE])
{
    size_t length = strlen(path);
    if (length >= SHOWN_NAME_SIZE)
        path += length - SHOWN_NAME_SIZE + 1;
    snprintf(name, SHOWN_NAME_SIZE, "%s", strcmp(path, "-") ? path : "standard input");
    tu_utf8_tidy(name);
}

static tu_status read_files(tu_rehearse_run *run, const tu_task_rehearse_request *request,
                            tu_error *error)
{
    show_name(request->program, run->program_name);
    show_name(request->scene, run->scene_name);
    tu_status status = tu_scene_read(request->scene, &run->scene, error);
    return status ? status
                  : tu_file_text_read(request->program, PROGRAM_MAX, &run->program, &run->length,
                                      error);
}

/* What the virtual machine says of a scene comes without the scene's name. */
static void name_scene(const tu_rehearse_run *run, tu_error *error)
{
    char where[TU_ERROR_WHERE_SIZE];
    if (!error || tu_status_exit_code(error->status) != 3)
        return;
    snprintf(where, sizeof where, "%s", error->where);
    snprintf(error->where, sizeof error->where, "%.100s%s%.90s", run->scene_name,
             *where ? ": " : "", where);
}

static tu_status rehearse(tu_rehearse_run *run, const tu_task_rehearse_request *request,
                          tu_error *error)
{
    run->story = (tu_rehearsal_story){.program_name = run->program_name,
                                      .scene_name = run->scene_name,
                                      .face = request->face,
                                      .scene = &run->scene,
                                      .target = request->target,
                                      .within_mm = request->within_mm};
    tu_status status = tu_story_run(&run->story, run->program, run->length, request->moves, error);
    if (status)
        name_scene(run, error);
    return status;
}

static tu_status write_log(tu_task_rehearse_story *story, const char *series, tu_error *error)
{
    tu_rehearse_run *run = story->run;
    tu_status status = tu_sheet_open(&run->log, error);
    if (!status)
        status = tu_rehearse_write_log(run->log.stream, &run->story, series, error);
    if (!status)
        status = tu_sheet_finish(&run->log, error);
    story->log = run->log.text;
    story->log_length = run->log.length;
    return status;
}

static tu_status make_log(tu_task_rehearse_story *story, const char *series, tu_error *error)
{
    tu_rehearsal_story *rehearsal = story->rehearsal;
    if (rehearsal->result.fault != TU_FAULT_NONE)
        tu_warn(&rehearsal->warnings,
                "The log was not written: the program did not run to its end.");
    else if (tu_story_is_mismatched(rehearsal))
        tu_warn(&rehearsal->warnings, "The log was not written: a zero from these touches, with "
                                      "the sizes that the program is made for, would be wrong.");
    else
        return write_log(story, series, error);
    return TU_OK;
}

tu_status tu_task_rehearse(const tu_task_rehearse_request *request, tu_task_rehearse_story *story,
                           tu_error *error)
{
    *story = (tu_task_rehearse_story){0};
    tu_status status = check(request, error);
    if (status)
        return status;
    story->run = calloc(1, sizeof *story->run);
    if (!story->run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    story->rehearsal = &story->run->story;
    status = read_files(story->run, request, error);
    if (!status)
        status = rehearse(story->run, request, error);
    return status || !request->log ? status : make_log(story, request->series, error);
}

tu_status tu_task_rehearse_verdict(const tu_task_rehearse_story *story)
{
    const tu_rehearsal_story *rehearsal = story->rehearsal;
    if (tu_fault_is_of_text(rehearsal->result.fault))
        return TU_DATA_SYNTAX;
    return rehearsal->result.fault != TU_FAULT_NONE || tu_story_is_off(rehearsal) ||
                   tu_story_is_mismatched(rehearsal)
               ? TU_LIMIT_EXCEEDED
               : TU_OK;
}

void tu_task_rehearse_end(tu_task_rehearse_story *story)
{
    if (story->run) {
        tu_story_destroy(&story->run->story);
        tu_sheet_destroy(&story->run->log);
        free(story->run->program);
    }
    free(story->run);
    *story = (tu_task_rehearse_story){0};
}
