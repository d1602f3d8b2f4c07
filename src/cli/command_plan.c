/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_plan.c - `trueup plan`: writes a touch program.
 */
#include "base/sheet.h"
#include "cli/command.h"
#include "cli/output.h"
#include "cli/plan_options.h"
#include "trueup/report.h"

#include <stdio.h>

/* What a run holds until its end. */
typedef struct plan_run {
    tu_plan_options options;
    tu_task_plan_story story;
    tu_sheet answer;
} plan_run;

static tu_status make_answer(plan_run *run, tu_error *error)
{
    const tu_plan_options *options = &run->options;
    tu_status status = tu_sheet_open(&run->answer, error);
    if (!status && options->json)
        status = tu_report_plan_json(run->answer.stream, run->story.summary,
                                     options->out_path ? NULL : run->story.program, error);
    else if (!status) {
        tu_output_write_used(run->answer.stream, run->story.used, "");
        status = tu_report_plan_text(run->answer.stream, run->story.summary,
                                     options->task.style.unit, error);
    }
    return status ? status : tu_sheet_finish(&run->answer, error);
}

static void start(void *of)
{
    plan_run *run = of;
    tu_plan_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    plan_run *run = of;
    run->options.task.typed = run->options.common.typed;
    tu_status status = tu_plan_options_check(&run->options, error);
    if (!status)
        status = tu_task_plan(&run->options.task, &run->story, error);
    return status ? status : make_answer(run, error);
}

static bool answers_out(const plan_run *run)
{
    return run->options.out_path || run->options.json;
}

/* Whoever owns the stream sees what was lost. */
static tu_status write_text(FILE *out, const char *text, size_t length)
{
    fwrite(text, 1, length, out);
    return TU_OK;
}

static tu_status write_program(FILE *out, const void *of, tu_error *error)
{
    const tu_task_plan_story *story = &((const plan_run *)of)->story;
    (void)error;
    return write_text(out, story->program, story->program_length);
}

/* What to know of the program to stdout, or, where the program stands there, to stderr. */
static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const plan_run *run = of;
    return answers_out(run) ? write_text(out, run->answer.text, run->answer.length)
                            : write_program(out, run, error);
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const plan_run *run = of;
    file[0] = (tu_output_file){run->options.out_path, write_program};
}

static tu_warnings *warnings_of(void *of)
{
    plan_run *run = of;
    return &run->story.summary->warnings;
}

static tu_status verdict(const void *of, tu_error *error)
{
    const plan_run *run = of;
    (void)error;
    return answers_out(run) ? TU_OK : write_text(stderr, run->answer.text, run->answer.length);
}

static void end(void *of)
{
    plan_run *run = of;
    tu_sheet_destroy(&run->answer);
    tu_task_plan_end(&run->story);
}

const tu_command tu_command_plan = {
    .name = "plan",
    .summary = "writes a touch program: a corner, a surface, a grid, a trial series",
    .about =
        "Writes a touch program in RS274/NGC. WHAT is one of:\n\n"
        "corner TARGET: the touches that zero needs, at a corner of the stock or a face, by the "
        "plate's walls or its bore;\n\n"
        "surface: touches straight down at one place;\n\n"
        "grid: the heights of the bed over an area, round clamps and screws;\n\n"
        "trials [TARGET]: many touches of one place, to know how well they repeat.\n\n"
        "The program's head says where the tip must be at its start, how much space it needs, and "
        "how far a dead circuit would press. Read it before you start, and rehearse the program: "
        "trueup rehearse. Feeds are in mm/min, with --unit in in in/min.",
    .example = "  trueup plan corner front-left-top --shop shop.json --plate offcut \\\n"
               "    --cutter quarter --out front-left.ngc\n"
               "  trueup plan grid --shop shop.json --cutter pin --area 0,0,400,300 \\\n"
               "    --columns 9 --rows 7 --keep-out 180,-20,220,40 --out bed.ngc\n"
               "  trueup plan trials --shop shop.json --plate slab --axis z --feeds 20,60,120\n",
    .syntax = &tu_plan_syntax_table,
    .size = sizeof(plan_run),
    .start = start,
    .work = work,
    .files = name_files,
    .answer = write_answer,
    .warnings = warnings_of,
    .verdict = verdict,
    .end = end,
};
