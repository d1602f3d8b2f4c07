/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_options.c - the option table of `trueup zero`.
 */
#include "cli/zero_options.h"

#include <math.h>
#include <string.h>

void tu_zero_options_start(tu_zero_options *options)
{
    *options = (tu_zero_options){.request = tu_zero_request_start(),
                                 .unit = TU_UNIT_MM,
                                 .plate_at = {NAN, NAN},
                                 .zero_at = {NAN, NAN},
                                 .slot = 1};
}

void tu_zero_options_destroy(tu_zero_options *options)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        tu_touch_list_destroy(&options->touches[axis]);
}

static tu_status take_touch(const tu_met *met, tu_error *error)
{
    tu_status status = tu_touch_list_parse(met->at, met->argument, met->common->unit, error);
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
    {"shop", "FILE", .take = tu_option_take_input, AT(shop_path),
     .help = "the shop file: machine, plates, cutters, stock; - is standard input"},
    {"plate", "NAME", .take = tu_option_take_text, AT(plate_name),
     .help = "the plate; may be left out when the shop file has one only"},
    {"cutter", "NAME", .take = tu_option_take_text, AT(cutter_name),
     .help = "the cutter that touches; may be left out when the shop file has one only"},
    {"x", "VALUE", .repeatable = true, .take = take_touch, AT(touches[TU_AXIS_X]),
     .help = "X at contact, machine coordinates; repeat it for each repeated touch. In a bore "
             "LOW:HIGH. With @ACROSS also the Y at contact: 100.000@62.5"},
    {"y", "VALUE", .repeatable = true, .take = take_touch, AT(touches[TU_AXIS_Y]),
     .help = "Y at contact, likewise (@ACROSS: the X at contact)"},
    {"z", "VALUE", .repeatable = true, .take = take_touch, AT(touches[TU_AXIS_Z]),
     .help = "Z at contact with the plate's face, likewise"},
    {"wall", "a|b", .take = tu_option_take_choice, AT(request.wall),
     .help = "for a single side face: the wall that was touched (default a)"},
    {"log", "FILE", .take = tu_option_take_input, AT(log_path),
     .excludes = {"x y z", "holds the touches already"},
     .help = "take the touches from a hit log instead"},
    {"series", "NAME", .take = tu_option_take_text, AT(series),
     .needs = {"log", "names touches in a log"},
     .help = "the series in the log; may be left out when the log has one only"},
    {"seat", "stock|bed", .take = tu_option_take_choice, AT(request.seat),
     .help = "what the plate rests on (default stock)"},
    {"stock-thickness", "Q", .take = tu_option_take_size, AT(request.stock_thickness),
     .use = TU_USE_STOCK_THICKNESS, .help = "overrides the shop file's stock z, as in 18mm+-0.1"},
    {"bed-map", "FILE", .take = tu_option_take_input, AT(bed_map_path),
     .excludes = {"active", "is in machine coordinates, and with --active the touches are not"},
     .help =
         "with --seat bed: touches over the bed, hit log or CSV as for trueup bed, to carry the "
         "height from where the plate sat to the zero"},
    {"map-series", "NAME", .take = tu_option_take_text, AT(map_series),
     .needs = {"bed-map", "names touches in a map"},
     .help = "with --bed-map: the series in the map; may be left out when the map has one only"},
    {"plate-at", "X,Y", .take = tu_option_take_places, AT(plate_at),
     .needs = {"bed-map", "is a place on a map of the bed"},
     .help = "with --bed-map: where on the bed the plate was touched, machine coordinates"},
    {"zero-at", "X,Y", .take = tu_option_take_places, AT(zero_at),
     .needs = {"bed-map", "is a place on a map of the bed"},
     .help = "with --bed-map: where on the bed the zero is wanted (default: the corner, when its X "
             "and Y are worked out here)"},
    {"slot", "G54..G59.3", .take = tu_option_take_slot, AT(slot),
     .help = "the work offset to set (default G54)"},
    {"depth", "Q", .take = tu_option_take_size, AT(request.depth), .use = TU_USE_TOUCH_DEPTH,
     .help = "how far the tip is below the wall's top edge at side contact; overrides the plate's"},
    {"active", "X,Y,Z", .take = tu_option_take_places, AT(request.active_mm),
     .excludes = {"log", "a log holds machine coordinates already"},
     .help = "the touches were read in work coordinates under this offset"},
    {"skew-from", "X1,Y1:X2,Y2", .take = tu_option_take_places,
     LIST(request.baseline, request.baseline_count, TU_BASELINES_MAX),
     .help = "two contacts along one edge of the stock, for its angle; up to 4 times"},
    {"turned-within", "ANGLE", .take = tu_option_take_angle, AT(request.turned_within_rad),
     .help = "a cutting edge was turned to the wall by hand to within this angle, as in 5deg"},
    {"feared-angle", "ANGLE", .take = tu_option_take_angle, AT(request.feared_angle_rad),
     .excludes = {"skew-from", "is for an angle that nobody measured, and --skew-from measures it"},
     .help = "say what a stock turned by this much would do to the zero"},
    {"job", "L,W", .take = take_job, AT(request.job_mm),
     .needs = {"feared-angle", "needs the angle to be afraid of"},
     .help = "with --feared-angle: the job's length along X and width along Y, to say what border "
             "it needs"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(unit),
     .help = "of bare numbers on this command line, of the answer and of the line to enter "
             "(default mm); "
             "bare numbers in the shop file are in its own unit, and where that is another, --unit "
             "or a "
             "unit at each number is a must"},
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
                AT(request.target),
                .help = "where the zero is wanted, as in front-left-top"},
    .operand_required = true,
};

static bool has_touches(const tu_zero_options *options)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        for (int kind = 0; kind < TU_TOUCH_KINDS; kind++)
            if (options->touches[axis].count[kind])
                return true;
    return false;
}

static tu_status check_log(const tu_zero_options *options, tu_error *error)
{
    if (!options->log_path && !has_touches(options))
        return tu_fail(error, TU_USAGE, "touches",
                       "none given: --x, --y, --z with the position at contact, or --log FILE");
    return TU_OK;
}

/* A map of the bed is about a plate that sat on the bed, and in machine coordinates. */
static tu_status check_bed_map(const tu_zero_options *options, tu_error *error)
{
    if (!options->bed_map_path)
        return TU_OK;
    if (options->request.seat != TU_SEAT_BED)
        return tu_fail(
            error, TU_USAGE, "--bed-map",
            "carries the height of a plate that sat on the bed: say --seat bed, or leave "
            "it out");
    if (options->request.target.outward[TU_AXIS_Z] == 0)
        return tu_fail(error, TU_USAGE, "--bed-map", "is about Z, which %s leaves alone",
                       tu_target_name(options->request.target));
    if (isnan(options->plate_at.x))
        return tu_fail(error, TU_USAGE, "--plate-at",
                       "missing: where on the bed the plate was touched, as in --plate-at 100,80");
    return TU_OK;
}

tu_status tu_zero_options_check(const tu_zero_options *options, tu_error *error)
{
    const tu_target target = options->request.target;
    bool side = target.outward[TU_AXIS_X] || target.outward[TU_AXIS_Y];
    if (!options->shop_path)
        return tu_fail(error, TU_USAGE, "--shop", "missing: the file with your plates and cutters");
    tu_status status = check_log(options, error);
    if (!status)
        status = check_bed_map(options, error);
    if (status)
        return status;
    if (options->request.wall >= 0 && !(tu_target_is_face(target) && side))
        return tu_fail(error, TU_USAGE, "--wall", "only for a single side face; at %s %s",
                       tu_target_name(target),
                       side ? "the corner settles which wall serves which axis"
                            : "no wall is touched");
    return TU_OK;
}
