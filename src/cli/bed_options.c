/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_options.c - the option table of `trueup bed`.
 */
#include "cli/bed_options.h"

#include <math.h>
#include <string.h>

void tu_bed_options_start(tu_bed_options *options)
{
    *options = (tu_bed_options){.task = tu_task_bed_request_start()};
}

/* --- Takes --- */

static tu_status take_job(const tu_met *met, tu_error *error)
{
    tu_bed_rectangle *job = met->at;
    double number[4];
    tu_met sizes = *met;
    sizes.at = number;
    tu_status status = tu_option_take_places(&sizes, error);
    if (status)
        return status;
    if (!(number[2] > 0 && number[3] > 0))
        return tu_fail(
            error, TU_DATA_RANGE, NULL,
            "its length and width must be above zero, found \"%s\"; the form is X,Y,L,W: "
            "the front left corner, then the sizes along X and Y",
            met->argument);
    *job = (tu_bed_rectangle){number[0], number[0] + number[2], number[1], number[1] + number[3]};
    return TU_OK;
}

static tu_status take_support(const tu_met *met, tu_error *error)
{
    const tu_bed_options *options = met->request;
    const tu_machine_plane_point *place = met->at;
    tu_status status = tu_option_take_places(met, error);
    for (size_t i = 0; !status && i < options->task.supports; i++)
        if (fabs(options->task.support[i].x - place->x) < TU_BED_SAME_PLACE_MM &&
            fabs(options->task.support[i].y - place->y) < TU_BED_SAME_PLACE_MM)
            return tu_fail(error, TU_USAGE, NULL,
                           "%s stands there twice: state each support once, where it is",
                           met->argument);
    return status;
}

/* --- The table --- */

#define AT(member)                TU_AT(tu_bed_options, member)
#define LIST(array, count, limit) TU_LIST(tu_bed_options, array, count, limit)

#define SURFACING   "the time of surfacing takes --surfacer, --step-over and --feed together"
#define THROUGH_CUT "is about a through cut"
#define RE_TOUCH    "is about the touch program for the suspects"

static const tu_option bed_options[] = {
    {"series", "NAME", .take = tu_option_take_text, AT(task.series),
     .help = "only the touches of this series"},
    {"shop", "FILE", .take = tu_option_take_input, AT(task.shop),
     .help = "the shop file: travel, repeatability in Z, tolerance of the stock's thickness"},
    {"job", "X,Y,L,W", .take = take_job, AT(task.job),
     .help = "only this part of the bed: its front left corner, its sizes along X and Y"},
    {"within", "Q", .take = tu_option_take_length, AT(task.within_mm), .sign = TU_ABOVE_ZERO,
     .help = "exit with 1 when the highest and the lowest place differ by more"},
    {"depth-of-cut", "Q", .take = tu_option_take_length, AT(task.depth_of_cut_mm),
     .sign = TU_ABOVE_ZERO, .help = "of one pass of surfacing (default: all in one pass)"},
    {"allowance", "Q", .take = tu_option_take_length, AT(task.allowance_mm),
     .sign = TU_NOT_BELOW_ZERO,
     .help = "how far below the lowest place surfacing goes (default 0.05mm)"},
    {"surfacer", "Q", .take = tu_option_take_length, AT(task.surfacer_mm), .sign = TU_ABOVE_ZERO,
     .needs = {"step-over", SURFACING},
     .help = "diameter of the surfacing cutter; with --step-over and --feed: the time it takes"},
    {"step-over", "Q", .take = tu_option_take_length, AT(task.step_over_mm), .sign = TU_ABOVE_ZERO,
     .needs = {"feed", SURFACING}, .help = "between neighbouring lines of surfacing"},
    {"feed", "F", .take = tu_option_take_feed, AT(task.feed_mm_per_min), .sign = TU_ABOVE_ZERO,
     .needs = {"surfacer", SURFACING}, .help = "of surfacing, in mm/min or in/min"},
    {"overcut", "Q", .take = tu_option_take_length, AT(task.overcut_mm),
     .help =
         "how far below the stock's underside a through cut is programmed: tells bite and skin"},
    {"zeroed-at", "X,Y", .take = tu_option_take_places, AT(task.zeroed_at),
     .needs = {"overcut", THROUGH_CUT},
     .help = "where on the bed the stock was zeroed (default: the middle of the job)"},
    {"stock-tolerance", "Q", .take = tu_option_take_length, AT(task.stock_tolerance_mm),
     .sign = TU_NOT_BELOW_ZERO, .needs = {"overcut", THROUGH_CUT},
     .help = "plus or minus, of the stock's thickness; overrides the shop file's"},
    {"support", "X,Y", .take = take_support, LIST(task.support, task.supports, TU_BED_SUPPORTS_MAX),
     .help = "where the bed can be shimmed, three times or more (default: its corners)"},
    {"against", "FILE", .take = tu_option_take_input, AT(task.against),
     .help = "an earlier map of the same bed: what has changed since"},
    {"svg", "FILE", .take = tu_option_take_output, AT(svg_path),
     .help = "also draw the map, in one step"},
    {"without-tilt", .take = tu_option_take_flag, AT(without_tilt),
     .help = "maps show the heights above the least-squares plane"},
    {"re-touch", "FILE", .take = tu_option_take_output, AT(task.re_touch),
     .needs = {"shop", "needs the shop file's cutter and travel"},
     .help = "write a touch program for the suspects, in one step; its touches (series re-touch) "
             "replace the earlier ones when both logs are given"},
    {"cutter", "NAME", .take = tu_option_take_text, AT(task.cutter),
     .needs = {"re-touch", RE_TOUCH},
     .help = "re-touch: the cutter in the spindle (default: the shop file's only one)"},
    {"active", "X,Y,Z", .take = tu_option_take_places, AT(task.active_mm),
     .needs = {"re-touch", RE_TOUCH},
     .help = "re-touch: machine coordinates of the slot's zero, as the controller shows them"},
    {"slot", "G54..G59.3", .take = tu_option_take_slot, AT(task.slot),
     .needs = {"re-touch", RE_TOUCH}, .help = "re-touch: the work offset to work in (default G54)"},
    {"keep-out", "X0,Y0,X1,Y1", .take = tu_option_take_places,
     LIST(task.keep_out, task.keep_outs, TU_KEEP_OUT_MAX), .needs = {"re-touch", RE_TOUCH},
     .help = "re-touch: a clamp or a screw that the cutter goes round, machine coordinates like "
             "the map; up to 32 times"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(task.unit),
     .help = "of bare numbers here and in a CSV, and of the answer (default mm)"},
    {"json", .take = tu_option_take_flag, AT(json),
     .help = "write the answer as JSON, millimetres and seconds"},
};

const tu_syntax tu_bed_syntax_table = {
    .options = bed_options,
    .count = sizeof bed_options / sizeof *bed_options,
    .operand = {.argument = "FILE",
                .take = tu_option_take_input,
                LIST(task.path, task.path_count, TU_BED_FILES_MAX),
                .help = "a hit log, or a CSV with the columns x, y and z; - is standard input"},
    .operand_required = true,
};
