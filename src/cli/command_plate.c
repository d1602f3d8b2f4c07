/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_plate.c - `trueup plate`: what a homemade plate really measures.
 */
#include "cli/command.h"
#include "cli/face.h"
#include "cli/plate_options.h"

/* What a run holds until its end. */
typedef struct plate_run {
    tu_plate_options options;
    tu_task_plate_story story;
    tu_error late; /* saving failed */
} plate_run;

/* Exit 5: the answer stands, but something that the touches bear on is open. */
static tu_status verdict(const void *of, tu_error *error)
{
    const plate_run *run = of;
    if (!run->late.status)
        return tu_task_plate_verdict(&run->story, error);
    *error = run->late;
    return error->status;
}

static void start(void *of)
{
    plate_run *run = of;
    tu_plate_options_start(&run->options);
}

/* The answer is shown even when saving fails: it took an hour of touching. */
static tu_status work(void *of, tu_error *error)
{
    plate_run *run = of;
    tu_task_plate_request *request = &run->options.task;
    request->face = &tu_cli_face;
    request->typed = run->options.common.typed;
    tu_status status = tu_task_plate(request, &run->story, error);
    /* Saving looks for places that may be missing, so error alone does not say that it failed. */
    if (!status && request->save && !tu_task_plate_save(&run->story, &run->late))
        run->late = (tu_error){0};
    return status;
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const plate_run *run = of;
    const tu_plate_options *options = &run->options;
    const tu_task_plate_story *story = &run->story;
    const tu_calibration_style style = {.unit = options->task.unit,
                                        .budget = options->budget,
                                        .shop_path = options->task.shop,
                                        .saved = story->saved,
                                        .saved_count = story->saved_count,
                                        .not_saved = story->not_saved};
    return (options->json ? tu_report_calibration_json : tu_report_calibration_text)(
        out, story->asked, story->result, &style, error);
}

static tu_warnings *warnings_of(void *of)
{
    return &((plate_run *)of)->story.result->warnings;
}

static const char *kept(const void *of)
{
    const plate_run *run = of;
    return run->story.saved_count > 0 ? "; the figures were saved all the same" : "";
}

static void end(void *of)
{
    plate_run *run = of;
    tu_task_plate_end(&run->story);
    tu_plate_options_end(&run->options);
}

const tu_command tu_command_plate = {
    .name = "plate",
    .summary = "calibrates a plate from touches; adds it to the shop file",
    .about =
        "Works out what a homemade plate really measures - thickness, wall offsets, bore - and the "
        "effective diameter of the cutter, from touches on the plate, on a block of known width, "
        "and on the bare block. Says what the touches leave open and which touch settles it.\n\n"
        "Put the plate on one edge of the block, touch its wall, put it on the opposite edge, "
        "touch "
        "again; then touch one edge of the bare block with the same cutter. Spindle off, clip on "
        "the cutter, circuit tested by hand before each series.\n\n"
        "Positions are machine coordinates of the spindle's axis. Seen from the front of the "
        "machine X+ is right, Y+ back, Z+ up. Exit status 5: something is not determined.",
    .example = "  trueup plate --shop shop.json --plate offcut --block-x 60.00mm+-0.01mm \\\n"
               "    --touch left/a/quarter=100.000,100.003,99.998 \\\n"
               "    --touch right/a/quarter=179.047,179.050,179.052 \\\n"
               "    --touch left/bare/quarter=106.348,106.352,106.350\n",
    .syntax = &tu_plate_syntax_table,
    .size = sizeof(plate_run),
    .start = start,
    .work = work,
    .answer = write_answer,
    .warnings = warnings_of,
    .kept = kept,
    .verdict = verdict,
    .end = end,
};
