/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_plate.c - `trueup plate`: what a homemade plate really measures.
 */
#include "cli/command.h"
#include "cli/face.h"
#include "cli/plate_options.h"
#include "cli/plate_save.h"
#include "cli/plate_touches.h"
#include "trueup/report.h"
#include "trueup/shop.h"

/* What a run holds until its end. */
typedef struct plate_run {
    tu_plate_options options;
    tu_shop *shop;
    tu_plate_touches touches;
    tu_calibration_request request;
    tu_calibration_result result;
    tu_plate_saved saved;
    tu_error late; /* saving failed */
} plate_run;

static tu_status find_plate(plate_run *run, tu_error *error)
{
    const tu_plate_options *options = &run->options;
    if (options->new_name == NULL)
        return tu_shop_find_plate(run->shop, options->plate_name, &run->request.plate, error);
    const tu_plate *there = NULL;
    if (!tu_shop_find_plate(run->shop, options->new_name, &there, NULL))
        return tu_fail(error, TU_USAGE, "--new",
                       "%s is in the shop file already; use --plate %s, or another name",
                       there->name, there->name);
    run->request.plate = &options->fresh;
    return TU_OK;
}

static tu_status look_up(plate_run *run, tu_error *error)
{
    tu_plate_options *options = &run->options;
    tu_calibration_request *request = &run->request;
    tu_status status = tu_shop_read(options->shop_path, &run->shop, error);
    if (!status)
        status = tu_typed_unit_check(&options->common.typed, options->unit, run->shop,
                                     options->shop_path, error);
    if (!status)
        status = find_plate(run, error);
    if (!status)
        status = tu_plate_touches_read(&run->touches, options, run->shop, request->plate, error);
    if (status)
        return status;
    for (int k = 0; k < 2; k++) {
        request->block[k] = options->block[k];
        request->slot[k] = options->slot[k];
    }
    for (size_t k = 0; k < run->touches.cutter_count; k++)
        request->cutters[k] = run->touches.cutter[k];
    request->cutter_count = run->touches.cutter_count;
    request->trust_cutters = options->trust_cutters;
    request->machine = tu_shop_machine(run->shop);
    request->touches = run->touches.touch;
    request->touch_count = run->touches.count;
    if (options->trust_cutters && request->cutter_count == 0)
        return tu_fail(error, TU_USAGE, "--trust-cutters", "no touch names a cutter");
    return TU_OK;
}

static tu_status solve(plate_run *run, tu_error *error)
{
    tu_status status = tu_calibrate_solve(&run->request, &run->result, error);
    for (size_t k = 0; !status && k < run->touches.warnings.count; k++)
        tu_warn(&run->result.warnings, "%s", run->touches.warnings.text[k]);
    for (size_t k = 0; !status && k < run->result.advice_count; k++) {
        tu_advice *advice = &run->result.advice[k];
        tu_face_say(&tu_cli_face, advice->text, advice->text, sizeof advice->text);
    }
    return status;
}

/* Exit 5: the answer stands, but something that the touches bear on is open. */
static tu_status verdict(const void *of, tu_error *error)
{
    const plate_run *run = of;
    if (run->late.status) {
        *error = run->late;
        return error->status;
    }
    for (size_t k = 0; k < run->result.count; k++) {
        const tu_calibrated *figure = &run->result.figure[k];
        if (figure->needed && !figure->determined) {
            char name[TU_FIGURE_NAME_SIZE];
            tu_calibrated_name(name, &run->request, figure);
            return tu_fail(
                error, TU_UNDETERMINED, name,
                "not determined by these touches; the answer says which would settle it");
        }
    }
    return TU_OK;
}

static void save(plate_run *run)
{
    const tu_plate_options *options = &run->options;
    const tu_plate_saving saving = {.path = options->shop_path,
                                    .fresh = options->new_name != NULL,
                                    .bare = options->common.typed.bare != NULL,
                                    .unit = options->unit};
    /* Saving looks for places that may be missing, so error alone does not say that it failed. */
    if (!tu_plate_save(run->shop, &saving, &run->request, &run->result, &run->saved, &run->late))
        run->late = (tu_error){0};
}

static void start(void *of)
{
    plate_run *run = of;
    tu_plate_options_start(&run->options);
    run->request = tu_calibration_request_start();
}

/* The answer is shown even when saving fails: it took an hour of touching. */
static tu_status work(void *of, tu_error *error)
{
    plate_run *run = of;
    tu_status status = tu_plate_options_check(&run->options, error);
    if (!status)
        status = look_up(run, error);
    if (!status)
        status = solve(run, error);
    if (!status && run->options.save)
        save(run);
    return status;
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const plate_run *run = of;
    const tu_plate_options *options = &run->options;
    const tu_calibration_style style = {.unit = options->unit,
                                        .budget = options->budget,
                                        .shop_path = options->shop_path,
                                        .saved = run->saved.list,
                                        .saved_count = run->saved.count,
                                        .not_saved = run->saved.not_saved};
    return options->json
               ? tu_report_calibration_json(out, &run->request, &run->result, &style, error)
               : tu_report_calibration_text(out, &run->request, &run->result, &style, error);
}

static tu_warnings *warnings_of(void *of)
{
    return &((plate_run *)of)->result.warnings;
}

static const char *kept(const void *of)
{
    const plate_run *run = of;
    return run->saved.count > 0 ? "; the figures were saved all the same" : "";
}

static void end(void *of)
{
    plate_run *run = of;
    tu_plate_touches_destroy(&run->touches);
    tu_shop_destroy(run->shop);
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
