/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_trials.c - `trueup trials`: how well touches repeat, and what limits them.
 */
#include "cli/command.h"
#include "cli/output.h"
#include "cli/trials_keep.h"
#include "cli/trials_one_pass.h"
#include "cli/trials_story.h"
#include "record/atomic_file.h"
#include "trueup/shop.h"

#include <math.h>
#include <stdlib.h>
#include <sys/ioctl.h>
#include <unistd.h>

/* What a run holds until its end. */
typedef struct trials_run {
    tu_trials_options options;
    tu_shop *shop;
    tu_trials_data data;
    tu_trials_story story;
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

static tu_status draw(const trials_run *run, tu_atomic_file **drawing, tu_error *error)
{
    tu_atomic_file *file;
    FILE *stream;
    tu_status status = tu_atomic_open(run->options.svg_path, &file, error);
    if (status)
        return status;
    status = tu_atomic_stream(file, &stream, error);
    if (!status)
        status = tu_report_trials_svg(stream, &run->story, error);
    if (status) {
        tu_atomic_abort(file);
        return status;
    }
    status = tu_atomic_commit_undoable(file, error);
    if (!status)
        *drawing = file;
    return status;
}

/* The drawing first: an answer must not stand there when the command fails, nor the drawing when
 * the answer does. */
static tu_status write_answer(const trials_run *run, tu_error *error)
{
    tu_atomic_file *drawing = NULL;
    tu_sheet sheet;
    tu_status status = tu_sheet_open(&sheet, error);
    if (status)
        return status;
    status = run->options.json ? tu_report_trials_json(sheet.stream, &run->story, error)
                               : tu_report_trials_text(sheet.stream, &run->story, error);
    if (!status)
        status = tu_sheet_finish(&sheet, error);
    if (!status && run->options.svg_path)
        status = draw(run, &drawing, error);
    if (!status)
        status = tu_output_write(sheet.text, sheet.length, error);
    if (status)
        tu_atomic_undo(drawing);
    else
        tu_atomic_keep(drawing);
    tu_sheet_destroy(&sheet);
    return status;
}

/* The answer is shown even when keeping fails, or a fit did (error says which): the touches took
 * their time. */
static tu_status answer(trials_run *run, tu_status asked, tu_error *error)
{
    tu_status keeping = asked;
    tu_error writing = {0};
    if (run->options.keep && !asked)
        keeping = tu_trials_keep(run->shop, &run->options, &run->data, &run->story, error);
    tu_status status = write_answer(run, &writing);
    tu_output_write_warnings(&run->story.warnings);
    if (keeping)
        return keeping;
    if (status)
        return tu_fail(error, status, writing.where, "%s%s", writing.message,
                       run->story.kept_count ? "; the figures were kept all the same" : "");
    return tu_trials_limit_exceeded(&run->story) ? TU_LIMIT_EXCEEDED : TU_OK;
}

/* 0: no terminal, or it does not say. */
static int terminal_columns(void)
{
    struct winsize size;
    return ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}

static tu_status run_trials(const tu_command *command, int argc, char **argv, tu_error *error)
{
    bool help = false;
    double step_mm;
    trials_run *run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    tu_trials_options_start(&run->options);
    tu_status status = tu_command_parse(command, argc, argv, &run->options, &help, error);
    if (status || help)
        goto cleanup;
    status = tu_trials_options_check(&run->options, error);
    bool drawn = !run->options.json && !run->options.one_pass && isatty(STDOUT_FILENO);
    run->options.chart = run->options.chart || drawn;
    run->story.columns = terminal_columns();
    if (!status)
        status = look_up(run, &step_mm, error);
    if (!status)
        status = run->options.one_pass
                     ? tu_trials_pass(&run->data, &run->options, step_mm, error)
                     : tu_trials_gather(&run->data, &run->options, step_mm, error);
    if (!status)
        status = tu_trials_tell(&run->data, &run->options, &run->story, error);
    if (run->story.is_judged)
        status = answer(run, status, error);
cleanup:
    tu_trials_data_destroy(&run->data);
    tu_shop_destroy(run->shop);
    free(run);
    return status;
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
    .run = run_trials,
};
