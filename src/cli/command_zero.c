/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_zero.c - `trueup zero`: touches to a work offset.
 */
#include "cli/command.h"
#include "cli/output.h"
#include "cli/zero_options.h"
#include "trueup/report.h"

/* What a run holds until its end. */
typedef struct zero_run {
    tu_zero_options options;
    tu_task_zero_story story;
} zero_run;

static tu_zero_style style_of(const zero_run *run)
{
    const tu_zero_options *options = &run->options;
    return (tu_zero_style){.unit = options->task.unit,
                           .slot = run->story.slot,
                           .budget = options->budget,
                           .explain = options->explain};
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const zero_run *run = of;
    const tu_zero_style style = style_of(run);
    if (!run->options.json)
        tu_output_write_used(out, run->story.used, run->story.last);
    return run->options.json ? tu_report_zero_json(out, run->story.result, &style, error)
                             : tu_report_zero_text(out, run->story.result, &style, error);
}

static tu_status draw(FILE *out, const void *of, tu_error *error)
{
    const zero_run *run = of;
    const tu_zero_style style = style_of(run);
    return tu_report_zero_svg(out, run->story.result, &style, error);
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const zero_run *run = of;
    file[0] = (tu_output_file){run->options.svg_path, draw};
}

static void start(void *of)
{
    zero_run *run = of;
    tu_zero_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    zero_run *run = of;
    tu_task_zero_request *request = &run->options.task;
    request->typed = run->options.common.typed;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        request->setup.touches[axis] = tu_touch_list_view(&run->options.touches[axis]);
    return tu_task_zero(request, &run->story, error);
}

static tu_warnings *warnings_of(void *of)
{
    return &((zero_run *)of)->story.result->warnings;
}

static tu_status verdict(const void *of, tu_error *error)
{
    return tu_task_zero_keep(&((const zero_run *)of)->story, error);
}

static void end(void *of)
{
    zero_run *run = of;
    tu_task_zero_end(&run->story);
    tu_zero_options_destroy(&run->options);
}

const tu_command tu_command_zero = {
    .name = "zero",
    .summary = "touches -> work offset, uncertainty, drawing, the line to enter",
    .about =
        "Works out the work offset of TARGET from touches on a plate. TARGET is a corner of the "
        "stock, {front|back}-{left|right}-{top|bottom}, or a face alone: left, right, front, "
        "back, top, bottom. Seen from the front of the machine X+ is right, Y+ back, Z+ up.\n\n"
        "Touches are machine coordinates of the spindle's axis and the cutter's tip at contact. "
        "Lengths: 6.35, 6.35mm, 0.25in, 1-1/2in; with a tolerance 9.53mm+-0.02mm.",
    .example = "  trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter \\\n"
               "    --x 100.000 --y 80.000 --z -40.120 --svg setup.svg\n",
    .syntax = &tu_zero_syntax_table,
    .size = sizeof(zero_run),
    .start = start,
    .work = work,
    .files = name_files,
    .answer = write_answer,
    .warnings = warnings_of,
    .verdict = verdict,
    .end = end,
};
