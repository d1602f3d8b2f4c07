/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_options.c - the option table of `trueup zero`.
 */
#include "cli/zero_options.h"

#include "record/same_file.h"

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

static tu_status take_target(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    (void)option;
    tu_zero_options *options = request;
    tu_status status = tu_target_parse(argument, &options->request.target, error);
    if (status && error)
        error->status = TU_USAGE; /* the target is a word of the command line, not data */
    return status ? TU_USAGE : TU_OK;
}

static tu_status take_touch(void *request, const tu_option *option, const char *argument,
                            tu_error *error)
{
    tu_zero_options *options = request;
    tu_status status =
        tu_touch_list_parse(&options->touches[*option->name - 'x'], argument, options->unit, error);
    if (!status)
        tu_typed_unit_note(&options->typed, argument);
    if (status != TU_DATA_CONFLICT)
        return status;
    if (error)
        error->status = TU_USAGE;
    return TU_USAGE;
}

static tu_status take_unit(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    ((tu_zero_options *)request)->typed.stated = true;
    return tu_option_take_unit(request, option, argument, error);
}

static tu_status take_length(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    tu_zero_options *options = request;
    tu_quantity *quantity = (tu_quantity *)(void *)((char *)request + option->offset);
    tu_length_use use =
        quantity == &options->request.depth ? TU_USE_TOUCH_DEPTH : TU_USE_STOCK_THICKNESS;
    tu_status status = tu_typed_size_parse(argument, options->unit, use, quantity, error);
    if (!status)
        tu_typed_unit_note(&options->typed, argument);
    return status;
}

/* A word out of two: sets *choice to 0 or 1. */
static tu_status take_choice(const char *argument, const char *first, const char *second,
                             int *choice, tu_error *error)
{
    *choice = strcmp(argument, second) == 0;
    if (*choice || strcmp(argument, first) == 0)
        return TU_OK;
    return tu_fail(error, TU_USAGE, NULL, "must be %s or %s, found \"%s\"", first, second,
                   argument);
}

static tu_status take_wall(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    (void)option;
    return take_choice(argument, "a", "b", &((tu_zero_options *)request)->request.wall, error);
}

static tu_status take_seat(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    (void)option;
    int bed = 0;
    tu_status status = take_choice(argument, "stock", "bed", &bed, error);
    ((tu_zero_options *)request)->request.seat = bed ? TU_SEAT_BED : TU_SEAT_STOCK;
    return status;
}

static tu_status take_slot(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    (void)option;
    tu_zero_options *options = request;
    return tu_slot_parse(argument, &options->slot, error);
}

static tu_status take_active(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    (void)option;
    tu_zero_options *options = request;
    options->active_stated = true;
    tu_typed_unit_note(&options->typed, argument);
    return tu_places_parse(argument, strlen(argument), options->unit, options->request.active_mm,
                           TU_AXIS_COUNT, "X,Y,Z", error);
}

static tu_status take_place(void *request, const tu_option *option, const char *argument,
                            tu_error *error)
{
    tu_zero_options *options = request;
    double place[2];
    tu_typed_unit_note(&options->typed, argument);
    tu_status status =
        tu_places_parse(argument, strlen(argument), options->unit, place, 2, "X,Y", error);
    if (!status)
        *(tu_machine_plane_point *)(void *)((char *)request + option->offset) =
            (tu_machine_plane_point){place[0], place[1]};
    return status;
}

static tu_status take_baseline(void *request, const tu_option *option, const char *argument,
                               tu_error *error)
{
    static const char form[] = "X1,Y1:X2,Y2";
    (void)option;
    tu_zero_options *options = request;
    tu_zero_request *zero = &options->request;
    if (zero->baseline_count == TU_BASELINES_MAX)
        return tu_fail(error, TU_USAGE, NULL, "given more than %d times", TU_BASELINES_MAX);
    const char *colon = strchr(argument, ':');
    if (!colon)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "must have the form %s, found \"%s\"", form,
                       argument);
    double from[2], to[2];
    tu_status status =
        tu_places_parse(argument, (size_t)(colon - argument), options->unit, from, 2, form, error);
    if (!status)
        status = tu_places_parse(colon + 1, strlen(colon + 1), options->unit, to, 2, form, error);
    if (status)
        return status;
    zero->baseline[zero->baseline_count++] =
        (tu_baseline){.from = {from[0], from[1]}, .to = {to[0], to[1]}};
    tu_typed_unit_note(&options->typed, argument);
    return TU_OK;
}

static tu_status take_job(void *request, const tu_option *option, const char *argument,
                          tu_error *error)
{
    (void)option;
    tu_zero_options *options = request;
    double *job_mm = options->request.job_mm;
    tu_typed_unit_note(&options->typed, argument);
    tu_status status =
        tu_places_parse(argument, strlen(argument), options->unit, job_mm, 2, "L,W", error);
    if (!status && !(job_mm[0] > 0 && job_mm[1] > 0))
        return tu_fail(error, TU_DATA_RANGE, NULL, "both sizes must be above 0, found \"%s\"",
                       argument);
    return status;
}

#define AT(member) offsetof(tu_zero_options, member)

static const tu_option zero_options[] = {
    {"shop", "FILE", .take = tu_option_take_text, .offset = AT(shop_path),
     .help = "the shop file: machine, plates, cutters, stock; - is standard input"},
    {"plate", "NAME", .take = tu_option_take_text, .offset = AT(plate_name),
     .help = "the plate; may be left out when the shop file has one only"},
    {"cutter", "NAME", .take = tu_option_take_text, .offset = AT(cutter_name),
     .help = "the cutter that touches; may be left out when the shop file has one only"},
    {"x", "VALUE", .repeatable = true, .take = take_touch,
     .help = "X at contact, machine coordinates; repeat it for each repeated touch. In a bore "
             "LOW:HIGH. With @ACROSS also the Y at contact: 100.000@62.5"},
    {"y", "VALUE", .repeatable = true, .take = take_touch,
     .help = "Y at contact, likewise (@ACROSS: the X at contact)"},
    {"z", "VALUE", .repeatable = true, .take = take_touch,
     .help = "Z at contact with the plate's face, likewise"},
    {"wall", "a|b", .take = take_wall,
     .help = "for a single side face: the wall that was touched (default a)"},
    {"log", "FILE", .take = tu_option_take_text, .offset = AT(log_path),
     .help = "take the touches from a hit log instead"},
    {"series", "NAME", .take = tu_option_take_text, .offset = AT(series),
     .help = "the series in the log; may be left out when the log has one only"},
    {"seat", "stock|bed", .take = take_seat, .help = "what the plate rests on (default stock)"},
    {"stock-thickness", "Q", .take = take_length, .offset = AT(request.stock_thickness),
     .help = "overrides the shop file's stock z, as in 18mm+-0.1"},
    {"bed-map", "FILE", .take = tu_option_take_text, .offset = AT(bed_map_path),
     .help =
         "with --seat bed: touches over the bed, hit log or CSV as for trueup bed, to carry the "
         "height from where the plate sat to the zero"},
    {"map-series", "NAME", .take = tu_option_take_text, .offset = AT(map_series),
     .help = "with --bed-map: the series in the map; may be left out when the map has one only"},
    {"plate-at", "X,Y", .take = take_place, .offset = AT(plate_at),
     .help = "with --bed-map: where on the bed the plate was touched, machine coordinates"},
    {"zero-at", "X,Y", .take = take_place, .offset = AT(zero_at),
     .help = "with --bed-map: where on the bed the zero is wanted (default: the corner, when its X "
             "and Y are worked out here)"},
    {"slot", "G54..G59.3", .take = take_slot, .help = "the work offset to set (default G54)"},
    {"depth", "Q", .take = take_length, .offset = AT(request.depth),
     .help = "how far the tip is below the wall's top edge at side contact; overrides the plate's"},
    {"active", "X,Y,Z", .take = take_active,
     .help = "the touches were read in work coordinates under this offset"},
    {"skew-from", "X1,Y1:X2,Y2", .repeatable = true, .take = take_baseline,
     .help = "two contacts along one edge of the stock, for its angle; up to 4 times"},
    {"turned-within", "ANGLE", .take = tu_option_take_angle,
     .offset = AT(request.turned_within_rad),
     .help = "a cutting edge was turned to the wall by hand to within this angle, as in 5deg"},
    {"feared-angle", "ANGLE", .take = tu_option_take_angle, .offset = AT(request.feared_angle_rad),
     .help = "say what a stock turned by this much would do to the zero"},
    {"job", "L,W", .take = take_job,
     .help = "with --feared-angle: the job's length along X and width along Y, to say what border "
             "it needs"},
    {"unit", "mm|in", .early = true, .take = take_unit, .offset = AT(unit),
     .help = "of bare numbers on this command line, of the answer and of the line to enter "
             "(default mm); "
             "bare numbers in the shop file are in its own unit, and where that is another, --unit "
             "or a "
             "unit at each number is a must"},
    {"svg", "FILE", .take = tu_option_take_text, .offset = AT(svg_path),
     .help = "write the set-up as a drawing, to hold against the table"},
    {"json", .take = tu_option_take_flag, .offset = AT(json),
     .help = "write the answer as JSON: millimetres and radians"},
    {"budget", .take = tu_option_take_flag, .offset = AT(budget),
     .help = "also what the uncertainty is made of (JSON holds that anyway)"},
    {"explain", .take = tu_option_take_flag, .offset = AT(explain),
     .help = "also the arithmetic, to follow with a pencil"},
};

const tu_syntax tu_zero_syntax_table = {
    .options = zero_options,
    .count = sizeof zero_options / sizeof *zero_options,
    .operand = {.argument = "TARGET",
                .take = take_target,
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
    if (options->log_path && has_touches(options))
        return tu_fail(error, TU_USAGE, "--log",
                       "the touches come from the log or from --x --y --z, not from both");
    if (options->log_path && options->active_stated)
        return tu_fail(error, TU_USAGE, "--active",
                       "a log holds machine coordinates already; leave out --active");
    if (options->series && !options->log_path)
        return tu_fail(error, TU_USAGE, "--series", "needs the log it is in: --log FILE");
    if (!options->log_path && !has_touches(options))
        return tu_fail(error, TU_USAGE, "touches",
                       "none given: --x, --y, --z with the position at contact, or --log FILE");
    return TU_OK;
}

/* The drawing replaces what is in its file: nothing that was meant to be read. */
static tu_status check_svg(const tu_zero_options *options, tu_error *error)
{
    static const char *const names[] = {"shop file", "log", "map"};
    const char *inputs[] = {options->shop_path, options->log_path, options->bed_map_path};
    if (!options->svg_path)
        return TU_OK;
    if (strcmp(options->svg_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--svg",
                       "needs a file's name; standard output carries the answer");
    for (size_t i = 0; i < sizeof inputs / sizeof *inputs; i++)
        if (tu_is_same_file(options->svg_path, inputs[i]))
            return tu_fail(error, TU_USAGE, "--svg",
                           "%s is read as the %s; the drawing would replace it: name another file",
                           options->svg_path, names[i]);
    return TU_OK;
}

/* A map of the bed is about a plate that sat on the bed, and in machine coordinates. */
static tu_status check_bed_map(const tu_zero_options *options, tu_error *error)
{
    bool mapped = options->bed_map_path != NULL, placed = !isnan(options->plate_at.x);
    if (!mapped && options->map_series)
        return tu_fail(error, TU_USAGE, "--map-series", "needs the map it is in: --bed-map FILE");
    if (!mapped && (placed || !isnan(options->zero_at.x)))
        return tu_fail(error, TU_USAGE, placed ? "--plate-at" : "--zero-at",
                       "is a place on a map of the bed: give --bed-map, too");
    if (!mapped)
        return TU_OK;
    if (options->request.seat != TU_SEAT_BED)
        return tu_fail(
            error, TU_USAGE, "--bed-map",
            "carries the height of a plate that sat on the bed: say --seat bed, or leave "
            "it out");
    if (options->request.target.outward[TU_AXIS_Z] == 0)
        return tu_fail(error, TU_USAGE, "--bed-map", "is about Z, which %s leaves alone",
                       tu_target_name(options->request.target));
    if (!placed)
        return tu_fail(error, TU_USAGE, "--plate-at",
                       "missing: where on the bed the plate was touched, as in --plate-at 100,80");
    if (options->active_stated)
        return tu_fail(
            error, TU_USAGE, "--bed-map",
            "is in machine coordinates, and with --active the touches are not: read them "
            "in machine coordinates");
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
    if (!isnan(options->request.job_mm[0]) && isnan(options->request.feared_angle_rad))
        return tu_fail(error, TU_USAGE, "--job", "needs the angle to be afraid of: --feared-angle");
    if (options->request.baseline_count && !isnan(options->request.feared_angle_rad))
        return tu_fail(error, TU_USAGE, "--feared-angle",
                       "is for an angle that nobody measured, and --skew-from measures it; leave "
                       "out one of them");
    if (options->explain && options->json)
        return tu_fail(error, TU_USAGE, "--explain", "is text; leave out --json or --explain");
    return check_svg(options, error);
}
