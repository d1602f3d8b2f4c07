/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_trials.c - `trueup trials`: how well touches repeat, and what limits them.
 */
#include "cli/command.h"
#include "cli/trials_keep.h"
#include "cli/trials_one_pass.h"
#include "cli/trials_story.h"
#include "trueup/shop.h"

#include <math.h>
#include <sys/ioctl.h>
#include <unistd.h>

/* What a run holds until its end. */
typedef struct trials_run {
    tu_trials_options options;
    tu_shop *shop;
    tu_trials_data data;
    tu_trials_story story;
    tu_error late; /* what failed beside the answer: a fit that was asked for, or keeping */
} trials_run;

/* The step: as typed, else the machine's. */
static tu_status look_up(trials_run *run, double *step_mm, tu_error *error)
{
    const tu_trials_options *options = &run->options;
    *step_mm = options->step_mm;
    if (!options->shop_path)
        return TU_OK;
    tu_status status = tu_shop_read(options->shop_path, &run->shop, error);
    if (!status && isnan(*step_mm))
        *step_mm = tu_shop_machine(run->shop).step_mm;
    return status;
}

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

static tu_status judge(trials_run *run, tu_error *error)
{
    double step_mm;
    tu_status status = look_up(run, &step_mm, error);
    if (!status)
        status = run->options.one_pass
                     ? tu_trials_pass(&run->data, &run->options, step_mm, error)
                     : tu_trials_gather(&run->data, &run->options, step_mm, error);
    return status ? status : tu_trials_tell(&run->data, &run->options, &run->story, error);
}

/* The answer is shown even when keeping fails, or a fit did: the touches took their time. */
static tu_status work(void *of, tu_error *error)
{
    trials_run *run = of;
    tu_status status = tu_trials_options_check(&run->options, error);
    if (status)
        return status;
    bool drawn = !run->options.json && !run->options.one_pass && isatty(STDOUT_FILENO);
    run->options.chart = run->options.chart || drawn;
    run->story.columns = terminal_columns();
    status = judge(run, &run->late);
    if (!status && run->options.keep)
        status = tu_trials_keep(run->shop, &run->options, &run->data, &run->story, &run->late);
    if (!status)
        run->late = (tu_error){0};
    if (!status || run->story.is_judged)
        return TU_OK;
    *error = run->late;
    return status;
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const trials_run *run = of;
    return run->options.json ? tu_report_trials_json(out, &run->story, error)
                             : tu_report_trials_text(out, &run->story, error);
}

static tu_status draw(FILE *out, const void *of, tu_error *error)
{
    const trials_run *run = of;
    return tu_report_trials_svg(out, &run->story, error);
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const trials_run *run = of;
    file[0] = (tu_output_file){run->options.svg_path, draw};
}

static tu_warnings *warnings_of(void *of)
{
    return &((trials_run *)of)->story.warnings;
}

static const char *kept(const void *of)
{
    const trials_run *run = of;
    return run->story.kept_count ? "; the figures were kept all the same" : "";
}

static tu_status verdict(const void *of, tu_error *error)
{
    const trials_run *run = of;
    *error = run->late;
    if (run->late.status)
        return run->late.status;
    return tu_trials_limit_exceeded(&run->story) ? TU_LIMIT_EXCEEDED : TU_OK;
}

static void end(void *of)
{
    trials_run *run = of;
    tu_trials_data_destroy(&run->data);
    tu_shop_destroy(run->shop);
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
