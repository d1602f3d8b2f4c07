/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_options.c - the option table of `trueup plan`.
 */
#include "cli/plan_options.h"

#include "cli/touch_list.h"
#include "record/same_file.h"
#include "trueup/number.h"
#include "trueup/text.h"
#include "trueup/zero.h"

#include <math.h>
#include <string.h>

void tu_plan_options_start(tu_plan_options *options)
{
    *options = (tu_plan_options){.place = tu_plan_corner_start(), .style = tu_plan_style_start()};
    options->grid.keep_out = options->keep_out;
    options->grid.variation_mm = 2.0; /* common practice, no source */
    options->trials.touches = 30;     /* common practice, no source */
}

static const struct {
    const char *name;
    tu_plan_what what;
} kinds[] = {{"corner", TU_PLAN_CORNER},
             {"surface", TU_PLAN_SURFACE},
             {"grid", TU_PLAN_GRID},
             {"trials", TU_PLAN_TRIALS}};
enum { KINDS = sizeof kinds / sizeof *kinds };

/* --- Takes --- */

/* Notes that an option was met, for the check of which go together. */
static tu_plan_options *note(void *request, const tu_option *option);

static void *at(void *request, const tu_option *option)
{
    return (char *)request + option->offset;
}

static tu_status take_what(tu_plan_options *options, const char *word, tu_error *error)
{
    const char *names[KINDS];
    for (size_t i = 0; i < KINDS; i++) {
        names[i] = kinds[i].name;
        if (strcmp(word, names[i]) == 0)
            options->what = kinds[i].what;
    }
    if (options->what != TU_PLAN_NOTHING)
        return TU_OK;
    const char *nearest = tu_text_nearest(word, names, KINDS);
    return tu_fail(error, TU_USAGE, "WHAT",
                   "must be corner, surface, grid or trials, found \"%s\"%s%s%s", word,
                   nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
}

static tu_status take_operand(void *request, const tu_option *option, const char *argument,
                              tu_error *error)
{
    (void)option;
    tu_plan_options *options = request;
    if (options->what == TU_PLAN_NOTHING)
        return take_what(options, argument, error);
    if (options->target_stated || !(options->what & (TU_PLAN_CORNER | TU_PLAN_TRIALS)))
        return tu_fail(error, TU_USAGE, argument, "one word too many");
    options->target_stated = true;
    tu_status status = tu_target_parse(argument, &options->place.target, error);
    if (status && error) {
        error->status = TU_USAGE; /* the target is a word of the command line, not data */
        strcpy(error->where, "TARGET");
    }
    return status ? TU_USAGE : TU_OK;
}

static tu_status take_text(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    return tu_option_take_text(note(request, option), option, argument, error);
}

static tu_status take_flag(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    return tu_option_take_flag(note(request, option), option, argument, error);
}

static tu_status take_angle(void *request, const tu_option *option, const char *argument,
                            tu_error *error)
{
    return tu_option_take_angle(note(request, option), option, argument, error);
}

static tu_status take_size(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    tu_plan_options *options = note(request, option);
    tu_typed_unit_note(&options->typed, argument);
    return tu_quantity_parse(argument, strlen(argument), options->style.unit, at(request, option),
                             error);
}

/* A length without a tolerance. */
static tu_status take_length(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    tu_plan_options *options = note(request, option);
    tu_typed_unit_note(&options->typed, argument);
    return tu_place_parse(argument, strlen(argument), options->style.unit, at(request, option),
                          error);
}

static tu_status take_height(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    tu_plan_options *options = note(request, option);
    const char *colon = strchr(argument, ':');
    if (!colon)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "must have the form LOW:HIGH, found \"%s\"",
                       argument);
    tu_typed_unit_note(&options->typed, argument);
    double *height = options->style.height_mm;
    tu_status status = tu_place_parse(argument, (size_t)(colon - argument), options->style.unit,
                                      &height[0], error);
    return status ? status
                  : tu_place_parse(colon + 1, strlen(colon + 1), options->style.unit, &height[1],
                                   error);
}

static tu_status parse_feed(const tu_plan_options *options, const char *text, size_t length,
                            double *feed, tu_error *error)
{
    tu_status status = tu_number_parse(text, length, feed, error);
    if (!status && options->style.unit == TU_UNIT_INCH)
        *feed *= TU_MM_PER_INCH;
    return status;
}

static tu_status take_feed(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    return parse_feed(note(request, option), argument, strlen(argument), at(request, option),
                      error);
}

static tu_status take_feeds(void *request, const tu_option *option, const char *argument,
                            tu_error *error)
{
    tu_plan_options *options = note(request, option);
    tu_plan_trials *trials = &options->trials;
    for (;;) {
        size_t length = strcspn(argument, ",");
        if (trials->feed_count == TU_PLAN_FEEDS_MAX)
            return tu_fail(error, TU_USAGE, NULL, "takes at most %d", TU_PLAN_FEEDS_MAX);
        tu_status status = parse_feed(options, argument, length,
                                      &trials->feed_mm_per_min[trials->feed_count++], error);
        if (status || !argument[length])
            return status;
        argument += length + 1;
    }
}

/* A whole number up to six digits; the library says which can be. */
static tu_status parse_count(const char *argument, size_t *count, tu_error *error)
{
    size_t length = strlen(argument);
    if (length == 0 || length > 6 || strspn(argument, "0123456789") != length)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "must be a whole number, found \"%s\"",
                       argument);
    *count = 0;
    for (; *argument; argument++)
        *count = 10 * *count + (size_t)(*argument - '0');
    return TU_OK;
}

static tu_status take_count(void *request, const tu_option *option, const char *argument,
                            tu_error *error)
{
    note(request, option);
    return parse_count(argument, at(request, option), error);
}

static tu_status take_repeats(void *request, const tu_option *option, const char *argument,
                              tu_error *error)
{
    size_t count = 0;
    tu_plan_options *options = note(request, option);
    tu_status status = parse_count(argument, &count, error);
    options->style.repeats = (int)count;
    return status;
}

static tu_status take_choice(const char *argument, const char *const *words, int count, int *choice,
                             tu_error *error)
{
    for (*choice = 0; *choice < count; (*choice)++)
        if (strcmp(argument, words[*choice]) == 0)
            return TU_OK;
    return tu_fail(error, TU_USAGE, NULL, "must be %s%s%s or %s, found \"%s\"", words[0],
                   count > 2 ? ", " : "", count > 2 ? words[1] : "", words[count - 1], argument);
}

static tu_status take_wall(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    static const char *const words[] = {"a", "b"};
    return take_choice(argument, words, 2, &note(request, option)->place.wall, error);
}

static tu_status take_seat(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    static const char *const words[] = {"stock", "bed"};
    int choice = 0;
    tu_status status = take_choice(argument, words, 2, &choice, error);
    note(request, option)->place.seat = choice == 1 ? TU_SEAT_BED : TU_SEAT_STOCK;
    return status;
}

static tu_status take_axis(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    static const char *const words[] = {"x", "y", "z"};
    int choice = 0;
    tu_plan_options *options = note(request, option);
    tu_status status = take_choice(argument, words, 3, &choice, error);
    options->trials.axis = (tu_axis)choice;
    options->axis_stated = true;
    return status;
}

static tu_status take_slot(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    return tu_slot_parse(argument, &note(request, option)->style.slot, error);
}

static tu_status parse_rectangle(tu_plan_options *options, const char *argument,
                                 tu_rectangle *rectangle, tu_error *error)
{
    double corner[4];
    tu_typed_unit_note(&options->typed, argument);
    tu_status status = tu_places_parse(argument, strlen(argument), options->style.unit, corner, 4,
                                       "X0,Y0,X1,Y1", error);
    *rectangle = (tu_rectangle){corner[0], corner[1], corner[2], corner[3]};
    return status;
}

static tu_status take_area(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    tu_plan_options *options = note(request, option);
    return parse_rectangle(options, argument, &options->grid.area, error);
}

static tu_status take_keep_out(void *request, const tu_option *option, const char *argument,
                               tu_error *error)
{
    tu_plan_options *options = note(request, option);
    if (options->grid.keep_out_count == TU_KEEP_OUT_MAX)
        return tu_fail(error, TU_USAGE, NULL, "given more than %d times", TU_KEEP_OUT_MAX);
    return parse_rectangle(options, argument, &options->keep_out[options->grid.keep_out_count++],
                           error);
}

static tu_status take_unit(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    ((tu_plan_options *)request)->typed.stated = true;
    return tu_option_take_unit(request, option, argument, error);
}

/* --- The table --- */

#define AT(member) offsetof(tu_plan_options, member)

static const tu_option plan_options[] = {
    {"shop", "FILE", .take = take_text, .offset = AT(shop_path),
     .help = "the shop file: machine, plates, cutters, stock; - is standard input"},
    {"plate", "NAME", .take = take_text, .offset = AT(plate_name),
     .help = "the plate; may be left out when the shop file has one only"},
    {"bare", .take = take_flag, .offset = AT(bare),
     .help = "surface: no plate, the surface itself conducts"},
    {"cutter", "NAME", .take = take_text, .offset = AT(cutter_name),
     .help = "the cutter that touches; may be left out when the shop file has one only"},
    {"seat", "stock|bed", .take = take_seat,
     .help = "corner, trials: what the plate rests on (default stock)"},
    {"wall", "a|b", .take = take_wall,
     .help = "corner, trials, of a single side face: the wall to touch (default a)"},
    {"depth", "Q", .take = take_size, .offset = AT(place.depth),
     .help = "corner, trials: how far the tip is below the wall's top edge at side contact; "
             "overrides the plate's"},
    {"turned-within", "ANGLE", .take = take_angle, .offset = AT(place.turned_within_rad),
     .help = "corner, trials: a cutting edge will be turned to the wall by hand to within this "
             "angle, as in 5deg"},
    {"set", .take = take_flag, .offset = AT(style.set),
     .help = "corner, surface: the program sets the offset by itself (default: it only touches, "
             "and the touches are logged)"},
    {"stock-thickness", "Q", .take = take_size, .offset = AT(place.stock_thickness),
     .help = "corner with --set: overrides the shop file's stock z"},
    {"slot", "G54..G59.3", .take = take_slot,
     .help = "the work offset to work in, and to set (default G54)"},
    {"area", "X0,Y0,X1,Y1", .take = take_area,
     .help = "grid: its front left and back right corner, work coordinates"},
    {"columns", "N", .take = take_count, .offset = AT(grid.columns),
     .help = "grid: points along X"},
    {"rows", "N", .take = take_count, .offset = AT(grid.rows), .help = "grid: points along Y"},
    {"keep-out", "X0,Y0,X1,Y1", .repeatable = true, .take = take_keep_out,
     .help = "grid: a clamp or a screw that the cutter goes round; up to 32 times"},
    {"variation", "Q", .take = take_length, .offset = AT(grid.variation_mm),
     .help = "grid: the most by which two points of the bed differ in height (default 2mm)"},
    {"axis", "x|y|z", .take = take_axis, .help = "trials: the axis that touches"},
    {"touches", "N", .take = take_count, .offset = AT(trials.touches),
     .help = "trials: how many count, 2 to 1000 (default 30)"},
    {"feeds", "F,F,...", .take = take_feeds,
     .help = "trials: feeds of the slow touch, used in turn, each a series of its own"},
    {"both-sides", .take = take_flag, .offset = AT(trials.both_sides),
     .help = "trials in a bore: low and high side in turn"},
    {"repeats", "N", .take = take_repeats,
     .help = "slow touches of each place, 1 to 20 (default 3)"},
    {"search", "F", .take = take_feed, .offset = AT(style.search_mm_per_min),
     .help = "feed of the fast touch, in mm/min or in/min (default 100 mm/min)"},
    {"measure", "F", .take = take_feed, .offset = AT(style.measure_mm_per_min),
     .help = "feed of the slow touch, which counts (default 25 mm/min)"},
    {"traverse", "F", .take = take_feed, .offset = AT(style.traverse_mm_per_min),
     .help = "feed of all other moves (default 600 mm/min)"},
    {"back-off", "Q", .take = take_length, .offset = AT(style.back_off_mm),
     .help = "between fast and slow touch (default 1mm)"},
    {"window", "Q", .take = take_length, .offset = AT(style.window_mm),
     .help = "how far the start may be off in X and Y, either way (default 3mm)"},
    {"height", "LOW:HIGH", .take = take_height,
     .help = "height of the start above the face that is touched first (default 2mm:8mm)"},
    {"press", "Q", .take = take_length, .offset = AT(style.press_mm),
     .help = "how far a touch goes on past the last place of contact (default 2mm)"},
    {"clearance", "Q", .take = take_length, .offset = AT(style.clearance_mm),
     .help = "kept from everything while not touching (default 3mm)"},
    {"skew", "ANGLE", .take = take_angle, .offset = AT(style.skew_rad),
     .help = "how far plate and stock may be turned against the axes (default 1deg)"},
    {"series", "NAME", .take = take_text, .offset = AT(series),
     .help = "name of the touches in the log (default: TARGET, surface, bed or trial)"},
    {"unit", "mm|in", .early = true, .take = take_unit, .offset = AT(style.unit),
     .help = "of bare numbers here and of the program (default mm)"},
    {"out", "FILE", .take = take_text, .offset = AT(out_path),
     .help = "write the program to this file, in one step (default: standard output)"},
    {"json", .take = take_flag, .offset = AT(json),
     .help = "write the summary as JSON, millimetres and seconds; without --out it holds the "
             "program too"},
};
enum { OPTIONS = sizeof plan_options / sizeof *plan_options };

static tu_plan_options *note(void *request, const tu_option *option)
{
    tu_plan_options *options = request;
    options->given[option - plan_options] = true;
    return options;
}

const tu_syntax tu_plan_syntax_table = {
    .options = plan_options,
    .count = OPTIONS,
    .operand = {.argument = "WHAT [TARGET]",
                .repeatable = true,
                .take = take_operand,
                .help = "corner, surface, grid or trials"},
    .operand_required = true,
};

/* --- Checks --- */

/* Options that are for some plans only. */
static const struct {
    const char *name;
    int what;
} reserved[] = {
    {"plate", TU_PLAN_CORNER | TU_PLAN_SURFACE | TU_PLAN_TRIALS},
    {"bare", TU_PLAN_SURFACE},
    {"cutter", TU_PLAN_CORNER | TU_PLAN_GRID | TU_PLAN_TRIALS},
    {"seat", TU_PLAN_CORNER | TU_PLAN_TRIALS},
    {"wall", TU_PLAN_CORNER | TU_PLAN_TRIALS},
    {"depth", TU_PLAN_CORNER | TU_PLAN_TRIALS},
    {"turned-within", TU_PLAN_CORNER | TU_PLAN_TRIALS},
    {"set", TU_PLAN_CORNER | TU_PLAN_SURFACE},
    {"stock-thickness", TU_PLAN_CORNER},
    {"area", TU_PLAN_GRID},
    {"columns", TU_PLAN_GRID},
    {"rows", TU_PLAN_GRID},
    {"keep-out", TU_PLAN_GRID},
    {"variation", TU_PLAN_GRID},
    {"axis", TU_PLAN_TRIALS},
    {"touches", TU_PLAN_TRIALS},
    {"feeds", TU_PLAN_TRIALS},
    {"both-sides", TU_PLAN_TRIALS},
    {"repeats", TU_PLAN_CORNER | TU_PLAN_SURFACE | TU_PLAN_GRID},
    {"skew", TU_PLAN_CORNER | TU_PLAN_TRIALS},
};

static bool is_given(const tu_plan_options *options, const char *name)
{
    for (int i = 0; i < OPTIONS; i++)
        if (strcmp(plan_options[i].name, name) == 0)
            return options->given[i];
    return false;
}

static tu_status check_reserved(const tu_plan_options *options, tu_error *error)
{
    const char *what = "";
    for (size_t i = 0; i < KINDS; i++)
        if (kinds[i].what == options->what)
            what = kinds[i].name;
    for (size_t i = 0; i < sizeof reserved / sizeof *reserved; i++) {
        char where[40];
        snprintf(where, sizeof where, "--%s", reserved[i].name);
        if (!(reserved[i].what & (int)options->what) && is_given(options, reserved[i].name))
            return tu_fail(error, TU_USAGE, where, "is not for \"plan %s\"; leave it out", what);
    }
    return TU_OK;
}

static tu_status check_parts(const tu_plan_options *options, tu_error *error)
{
    if (options->what == TU_PLAN_CORNER && !options->target_stated)
        return tu_fail(error, TU_USAGE, "TARGET",
                       "missing: the corner or face of the stock, as in front-left-top");
    if (options->what == TU_PLAN_TRIALS && !options->axis_stated)
        return tu_fail(error, TU_USAGE, "--axis", "missing: x, y or z");
    if (options->what == TU_PLAN_TRIALS && options->trials.axis != TU_AXIS_Z &&
        !options->target_stated)
        return tu_fail(error, TU_USAGE, "TARGET",
                       "missing: the corner or face at which the plate lies, as in front-left-top");
    if (options->what == TU_PLAN_GRID && !is_given(options, "area"))
        return tu_fail(error, TU_USAGE, "--area", "missing: X0,Y0,X1,Y1 in work coordinates");
    if (options->what == TU_PLAN_GRID && !is_given(options, "columns"))
        return tu_fail(error, TU_USAGE, "--columns", "missing: points along X");
    if (options->what == TU_PLAN_GRID && !is_given(options, "rows"))
        return tu_fail(error, TU_USAGE, "--rows", "missing: points along Y");
    if (options->bare && options->plate_name)
        return tu_fail(error, TU_USAGE, "--bare", "means no plate; leave out --plate or --bare");
    return TU_OK;
}

tu_status tu_plan_options_check(tu_plan_options *options, tu_error *error)
{
    if (!options->shop_path)
        return tu_fail(error, TU_USAGE, "--shop", "missing: the file with your plates and cutters");
    if (options->out_path && strcmp(options->out_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--out",
                       "needs a file's name; without --out the program goes to standard output");
    if (tu_is_same_file(options->out_path, options->shop_path))
        return tu_fail(error, TU_USAGE, "--out",
                       "%s is the shop file; the program would replace it: name another file",
                       options->out_path);
    tu_status status = check_reserved(options, error);
    return status ? status : check_parts(options, error);
}
