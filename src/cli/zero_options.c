/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_options.c - the option table of `trueup zero`.
 */
#include "cli/zero_options.h"

#include <math.h>
#include <string.h>

void tu_zero_options_start(tu_zero_options *options)
{
    *options = (tu_zero_options){.task = tu_task_zero_request_start()};
}

void tu_zero_options_destroy(tu_zero_options *options)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        tu_touch_list_destroy(&options->touches[axis]);
}

static tu_status take_touch(const tu_met *met, tu_error *error)
{
    tu_status status = tu_touch_list_parse(met->at, met->argument, met->common->unit,
                                           (tu_axis)(*met->option->name - 'x'), error);
    if (!status)
        tu_typed_unit_note(&met->common->typed, met->argument);
    if (status != TU_DATA_CONFLICT)
        return status;
    if (error)
        error->status = TU_USAGE;
    return TU_USAGE;
}

static tu_status take_job(const tu_met *met, tu_error *error)
{
    const double *job_mm = met->at;
    tu_status status = tu_option_take_places(met, error);
    if (!status && !(job_mm[0] > 0 && job_mm[1] > 0))
        return tu_fail(error, TU_DATA_RANGE, NULL, "both sizes must be above 0, found \"%s\"",
                       met->argument);
    return status;
}

#define AT(member)                TU_AT(tu_zero_options, member)
#define LIST(array, count, limit) TU_LIST(tu_zero_options, array, count, limit)

static const tu_option zero_options[] = {
    {"shop", "FILE", .take = tu_option_take_input, AT(task.shop),
     .help = "the shop file: machine, plates, cutters, stock; - is standard input (default: what "
             "TRUEUP_SHOP names, else shop.json here)"},
    {"plate", "NAME", .take = tu_option_take_text, AT(task.plate),
     .help = "the plate (default: the one on the shop file's table, or its only one)"},
    {"cutter", "NAME", .take = tu_option_take_text, AT(task.cutter),
     .help =
         "the cutter that touches (default: the one on the shop file's table, or its only one)"},
    {"x", "VALUE", .repeatable = true, .take = take_touch, AT(touches[TU_AXIS_X]),
     .help = "X at contact, machine coordinates; for repeated touches repeat it, or part them by "
             "commas: 100.00,100.02. In a bore LOW:HIGH. With @ACROSS also the Y at contact: "
             "100.000@62.5"},
    {"y", "VALUE", .repeatable = true, .take = take_touch, AT(touches[TU_AXIS_Y]),
     .help = "Y at contact, likewise (@ACROSS: the X at contact)"},
    {"z", "VALUE", .repeatable = true, .take = take_touch, AT(touches[TU_AXIS_Z]),
     .help = "Z at contact with the plate's face, likewise"},
    {"wall", "a|b", .take = tu_option_take_choice, AT(task.setup.wall),
     .help = "for a single side face: the wall that was touched (default a)"},
    {"log", "FILE", .take = tu_option_take_input, AT(task.log),
     .excludes = {"x y z", "holds the touches already"},
     .help = "take the touches from a hit log instead"},
    {"series", "NAME", .take = tu_option_take_text, AT(task.series),
     .needs = {"log", "names touches in a log"},
     .help = "the series in the log; may be left out when the log has one only"},
    {"seat", "stock|bed", .take = tu_option_take_choice, AT(task.seat),
     .help = "what the plate rests on (default: as the shop file's table says, else stock)"},
    {"stock-thickness", "Q", .take = tu_option_take_size, AT(task.setup.stock_thickness),
     .use = TU_USE_STOCK_THICKNESS, .help = "overrides the shop file's stock z, as in 18mm+-0.1"},
    {"bed-map", "FILE", .take = tu_option_take_input, AT(task.bed_map),
     .excludes = {"active", "is in machine coordinates, and with --active the touches are not"},
     .help =
         "with --seat bed: touches over the bed, hit log or CSV as for trueup bed, to carry the "
         "height from where the plate sat to the zero"},
    {"map-series", "NAME", .take = tu_option_take_text, AT(task.map_series),
     .needs = {"bed-map", "names touches in a map"},
     .help = "with --bed-map: the series in the map; may be left out when the map has one only"},
    {"plate-at", "X,Y", .take = tu_option_take_places, AT(task.plate_at),
     .needs = {"bed-map", "is a place on a map of the bed"},
     .help = "with --bed-map: where on the bed the plate was touched, machine coordinates"},
    {"zero-at", "X,Y", .take = tu_option_take_places, AT(task.zero_at),
     .needs = {"bed-map", "is a place on a map of the bed"},
     .help = "with --bed-map: where on the bed the zero is wanted (default: the corner, when its X "
             "and Y are worked out here)"},
    {"slot", "G54..G59.3", .take = tu_option_take_slot, AT(task.slot),
     .help = "the work offset to set (default: as the shop file's table says, else G54)"},
    {"depth", "Q", .take = tu_option_take_size, AT(task.setup.depth), .use = TU_USE_TOUCH_DEPTH,
     .help = "how far the tip is below the wall's top edge at side contact; overrides the plate's"},
    {"active", "X,Y,Z", .take = tu_option_take_places, AT(task.setup.active_mm),
     .excludes = {"log", "a log holds machine coordinates already"},
     .help = "the touches were read in work coordinates under this offset"},
    {"skew-from", "X1,Y1:X2,Y2", .take = tu_option_take_places,
     LIST(task.setup.baseline, task.setup.baseline_count, TU_BASELINES_MAX),
     .help = "two contacts along one edge of the stock, for its angle; up to 4 times"},
    {"turned-within", "ANGLE", .take = tu_option_take_angle, AT(task.setup.turned_within_rad),
     .help = "a cutting edge was turned to the wall by hand to within this angle, as in 5deg"},
    {"feared-angle", "ANGLE", .take = tu_option_take_angle, AT(task.setup.feared_angle_rad),
     .excludes = {"skew-from", "is for an angle that nobody measured, and --skew-from measures it"},
     .help = "say what a stock turned by this much would do to the zero"},
    {"job", "L,W", .take = take_job, AT(task.setup.job_mm),
     .needs = {"feared-angle", "needs the angle to be afraid of"},
     .help = "with --feared-angle: the job's length along X and width along Y, to say what border "
             "it needs"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(task.unit), .of_shop = true,
     .help = "of bare numbers on this command line, of the answer and of the line to enter "
             "(default: the shop file's unit)"},
    {"svg", "FILE", .take = tu_option_take_output, AT(svg_path),
     .help = "write the set-up as a drawing, to hold against the table"},
    {"json", .take = tu_option_take_flag, AT(json),
     .help = "write the answer as JSON: millimetres and radians"},
    {"budget", .take = tu_option_take_flag, AT(budget),
     .help = "also what the uncertainty is made of (JSON holds that anyway)"},
    {"explain", .take = tu_option_take_flag, AT(explain), .excludes = {"json", "is text"},
     .help = "also the arithmetic, to follow with a pencil"},
};

const tu_syntax tu_zero_syntax_table = {
    .options = zero_options,
    .count = sizeof zero_options / sizeof *zero_options,
    .operand = {.argument = "TARGET",
                .take = tu_option_take_target,
                AT(task.setup.target),
                .help = "where the zero is wanted, as in front-left-top; may be left out where the "
                        "shop file's table names it"},
};
