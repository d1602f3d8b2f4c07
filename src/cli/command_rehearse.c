/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_rehearse.c - `trueup rehearse`: a touch program on the virtual machine.
 */
#include "base/utf8.h"
#include "cli/command.h"
#include "cli/face.h"
#include "cli/rehearse_files.h"
#include "cli/rehearse_options.h"
#include "cli/rehearse_story.h"
#include "record/file_text.h"
#include "trueup/scene_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PROGRAM_MAX = 1 << 28, SHOWN_NAME_SIZE = 256 };

/* What a run holds until its end. */
typedef struct rehearse_run {
    tu_rehearse_options options;
    tu_scene scene;
    char *program;
    size_t length;
    char program_name[SHOWN_NAME_SIZE], scene_name[SHOWN_NAME_SIZE];
    tu_rehearsal_story story;
} rehearse_run;

/* A path as answers show it: its end where it is long. */
static void show_name(const char *path, char name[SHOWN_NAME_SIZE])
{
    size_t length = strlen(path);
    if (length >= SHOWN_NAME_SIZE)
        path += length - SHOWN_NAME_SIZE + 1;
    snprintf(name, SHOWN_NAME_SIZE, "%s", strcmp(path, "-") ? path : "standard input");
    tu_utf8_tidy(name);
}

static tu_status read_files(rehearse_run *run, tu_error *error)
{
    const tu_rehearse_options *options = &run->options;
    show_name(options->program_path, run->program_name);
    show_name(options->scene_path, run->scene_name);
    tu_status status = tu_scene_read(options->scene_path, &run->scene, error);
    if (!status)
        status = tu_file_text_read(options->program_path, PROGRAM_MAX, &run->program, &run->length,
                                   error);
    return status;
}

/* What the virtual machine says of a scene comes without the scene's name. */
static void name_scene(const rehearse_run *run, tu_error *error)
{
    char where[TU_ERROR_WHERE_SIZE];
    if (!error || tu_status_exit_code(error->status) != 3)
        return;
    snprintf(where, sizeof where, "%s", error->where);
    snprintf(error->where, sizeof error->where, "%.100s%s%.90s", run->scene_name,
             *where ? ": " : "", where);
}

static tu_status rehearse(rehearse_run *run, tu_error *error)
{
    tu_rehearsal_story *story = &run->story;
    story->program_name = run->program_name;
    story->scene_name = run->scene_name;
    story->face = &tu_cli_face;
    story->scene = &run->scene;
    story->target = run->options.target;
    story->within_mm = run->options.within_mm;
    tu_status status =
        tu_story_run(story, run->program, run->length, run->options.svg_path != NULL, error);
    if (status)
        name_scene(run, error);
    else if (story->result.fault != TU_FAULT_NONE && run->options.log_path)
        tu_warn(&story->warnings, "The log was not written: the program did not run to its end.");
    else if (tu_story_is_mismatched(story) && run->options.log_path)
        tu_warn(&story->warnings, "The log was not written: a zero from these touches, with the "
                                  "sizes that the program is made for, would be wrong.");
    return status;
}

/* The verdict as an exit code; the answer has told why. */
static tu_status verdict(const void *of, tu_error *error)
{
    const tu_rehearsal_story *story = &((const rehearse_run *)of)->story;
    (void)error;
    if (story->result.fault == TU_FAULT_NONE)
        return tu_story_is_off(story) || tu_story_is_mismatched(story) ? TU_LIMIT_EXCEEDED : TU_OK;
    return tu_fault_is_of_text(story->result.fault) ? TU_DATA_SYNTAX : TU_LIMIT_EXCEEDED;
}

static void start(void *of)
{
    rehearse_run *run = of;
    tu_rehearse_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    rehearse_run *run = of;
    tu_status status = tu_rehearse_options_check(&run->options, error);
    if (!status)
        status = read_files(run, error);
    return status ? status : rehearse(run, error);
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const rehearse_run *run = of;
    return run->options.json ? tu_report_rehearsal_json(out, &run->story, error)
                             : tu_report_rehearsal_text(out, &run->story, run->options.unit, error);
}

static tu_status draw(FILE *out, const void *of, tu_error *error)
{
    const rehearse_run *run = of;
    return tu_report_rehearsal_svg(out, &run->story, run->options.unit, error);
}

static tu_status write_log(FILE *out, const void *of, tu_error *error)
{
    const rehearse_run *run = of;
    return tu_rehearse_write_log(out, &run->story, run->options.series, error);
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const rehearse_run *run = of;
    bool logged = run->story.result.fault == TU_FAULT_NONE && !tu_story_is_mismatched(&run->story);
    file[0] = (tu_output_file){run->options.svg_path, draw};
    file[1] = (tu_output_file){logged ? run->options.log_path : NULL, write_log};
}

static tu_warnings *warnings_of(void *of)
{
    return &((rehearse_run *)of)->story.warnings;
}

static void end(void *of)
{
    rehearse_run *run = of;
    tu_story_destroy(&run->story);
    free(run->program);
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
