/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_trials.c - `trueup trials`: how well touches repeat, and what limits them.
 */
#include "cli/command.h"
#include "cli/face.h"
#include "cli/trials_options.h"

#include <sys/ioctl.h>
#include <unistd.h>

/* What a run holds until its end. */
typedef struct trials_run {
    tu_trials_options options;
    tu_task_trials_story story;
    tu_error late; /* what failed beside the answer: a fit that was asked for, or keeping */
} trials_run;

/* 0: no terminal, or it does not say. */
static int terminal_columns(void)
{
    struct winsize size;
    return ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}

static void start(void *of)
{
    trials_run *run = of;
    tu_trials_options_start(&run->options);
}

/* The answer is shown even when keeping fails, or a fit did: the touches took their time. */
static tu_status work(void *of, tu_error *error)
{
    trials_run *run = of;
    const tu_trials_options *options = &run->options;
    tu_task_trials_request *request = &run->options.task;
    bool drawn = !options->json && !request->one_pass && isatty(STDOUT_FILENO);
    request->face = &tu_cli_face;
    request->warnings_unit = options->json ? TU_UNIT_MM : request->unit;
    tu_status status = tu_task_trials(request, &run->story, &run->late);
    tu_trials_story *answer = run->story.answer;
    if (!status && request->keep)
        status = tu_task_trials_keep(&run->story, &run->late);
    if (!status)
        run->late = (tu_error){0};
    if (status && !(answer && answer->is_judged)) {
        *error = run->late;
        return status;
    }
    answer->chart = options->chart || drawn;
    answer->columns = terminal_columns();
    return TU_OK;
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const trials_run *run = of;
    return run->options.json ? tu_report_trials_json(out, run->story.answer, error)
                             : tu_report_trials_text(out, run->story.answer, error);
}

static tu_status draw(FILE *out, const void *of, tu_error *error)
{
    const trials_run *run = of;
    return tu_report_trials_svg(out, run->story.answer, error);
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const trials_run *run = of;
    file[0] = (tu_output_file){run->options.svg_path, draw};
}

static tu_warnings *warnings_of(void *of)
{
    return &((trials_run *)of)->story.answer->warnings;
}

static const char *kept(const void *of)
{
    const trials_run *run = of;
    return run->story.answer->kept_count ? "; the figures were kept all the same" : "";
}

static tu_status verdict(const void *of, tu_error *error)
{
    const trials_run *run = of;
    *error = run->late;
    return run->late.status ? run->late.status : tu_task_trials_verdict(&run->story);
}

static void end(void *of)
{
    tu_task_trials_end(&((trials_run *)of)->story);
}

const tu_command tu_command_trials = {
    .name = "trials",
    .summary = "how well touches repeat, whether they drift, what limits them",
    .about = "Judges repeated touches of one place: how well they repeat, whether they drift, what "
             "limits them and what would help. Files are hit logs, or CSVs with a header row; a "
             "series is one name in one file, one axis, one direction of approach.\n\n"
             "\"Repeats within +-r\": 19 of 20 further touches lie within r of the mean (a "
             "prediction interval). Exit status 1: beyond --within.",
    .example = "  trueup trials seat.hits.jsonl --shop shop.json --within 0.02mm --svg seat.svg\n",
    .syntax = &tu_trials_syntax_table,
    .size = sizeof(trials_run),
    .start = start,
    .work = work,
    .files = name_files,
    .answer = write_answer,
    .warnings = warnings_of,
    .kept = kept,
    .verdict = verdict,
    .end = end,
};
