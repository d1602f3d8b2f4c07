/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_rehearse.c - `trueup rehearse`: a touch program on the virtual machine.
 */
#include "cli/command.h"
#include "cli/face.h"
#include "cli/rehearse_options.h"

/* What a run holds until its end. */
typedef struct rehearse_run {
    tu_rehearse_options options;
    tu_task_rehearse_story story;
} rehearse_run;

static void start(void *of)
{
    rehearse_run *run = of;
    tu_rehearse_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    rehearse_run *run = of;
    tu_task_rehearse_request *request = &run->options.task;
    request->face = &tu_cli_face;
    request->moves = run->options.svg_path != NULL;
    return tu_task_rehearse(request, &run->story, error);
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const rehearse_run *run = of;
    const tu_rehearsal_story *rehearsal = run->story.rehearsal;
    return run->options.json ? tu_report_rehearsal_json(out, rehearsal, error)
                             : tu_report_rehearsal_text(out, rehearsal, run->options.unit, error);
}

static tu_status draw(FILE *out, const void *of, tu_error *error)
{
    const rehearse_run *run = of;
    return tu_report_rehearsal_svg(out, run->story.rehearsal, run->options.unit, error);
}

static tu_status write_log(FILE *out, const void *of, tu_error *error)
{
    const rehearse_run *run = of;
    (void)error; /* the file sees what was lost */
    fwrite(run->story.log, 1, run->story.log_length, out);
    return TU_OK;
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const rehearse_run *run = of;
    file[0] = (tu_output_file){run->options.svg_path, draw};
    file[1] = (tu_output_file){run->story.log ? run->options.task.log : NULL, write_log};
}

static tu_warnings *warnings_of(void *of)
{
    return &((rehearse_run *)of)->story.rehearsal->warnings;
}

/* The answer has told why. */
static tu_status verdict(const void *of, tu_error *error)
{
    (void)error;
    return tu_task_rehearse_verdict(&((const rehearse_run *)of)->story);
}

static void end(void *of)
{
    tu_task_rehearse_end(&((rehearse_run *)of)->story);
}

const tu_command tu_command_rehearse = {
    .name = "rehearse",
    .summary = "runs a touch program on the virtual machine; prints the touches",
    .about =
        "Runs a program in RS274/NGC on a virtual machine, among solids: bed, stock, plate, "
        "clamps, cutter, as a scene file says they truly are. Says whether it runs clean, else "
        "the first fault with its line and what a person beside the machine would see; then the "
        "touches, and the offset that the program set beside the truth.\n\n"
        "What it cannot see: what is not in the scene. A clean rehearsal is no leave to walk "
        "away: hand near the stop, as the program's cautions say.\n\n"
        "Exit status: 0 clean, 1 a fault, another plate, cutter or stock than the program's head "
        "says it is made for, or more than --within, 3 a program or a scene that cannot be read.",
    .example = "  trueup rehearse front-left.ngc --scene front-left.json --svg path.svg\n",
    .syntax = &tu_rehearse_syntax_table,
    .size = sizeof(rehearse_run),
    .start = start,
    .work = work,
    .files = name_files,
    .answer = write_answer,
    .warnings = warnings_of,
    .verdict = verdict,
    .end = end,
};
