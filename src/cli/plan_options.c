/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_options.c - the option table of `trueup plan`.
 */
#include "cli/plan_options.h"

#include "trueup/text.h"
#include "trueup/zero.h"

#include <math.h>
#include <string.h>

void tu_plan_options_start(tu_plan_options *options)
{
    *options = (tu_plan_options){.task = tu_task_plan_request_start()};
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

static tu_status take_what(tu_plan_options *options, const char *word, tu_error *error)
{
    const char *names[KINDS];
    for (size_t i = 0; i < KINDS; i++) {
        names[i] = kinds[i].name;
        if (strcmp(word, names[i]) == 0)
            options->task.what = kinds[i].what;
    }
    if (options->task.what != TU_PLAN_NOTHING)
        return TU_OK;
    const char *nearest = tu_text_nearest(word, names, KINDS);
    return tu_fail(error, TU_USAGE, "WHAT",
                   "must be corner, surface, grid or trials, found \"%s\"%s%s%s", word,
                   nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
}

static tu_status take_operand(const tu_met *met, tu_error *error)
{
    tu_plan_options *options = met->request;
    if (options->task.what == TU_PLAN_NOTHING)
        return take_what(options, met->argument, error);
    if (*tu_target_name(options->task.place.target) ||
        !(options->task.what & (TU_PLAN_CORNER | TU_PLAN_TRIALS)))
        return tu_fail(error, TU_USAGE, met->argument, "one word too many");
    tu_status status = tu_option_take_target(met, error);
    if (status && error)
        strcpy(error->where, "TARGET");
    return status;
}

static tu_status take_feeds(const tu_met *met, tu_error *error)
{
    tu_plan_trials *trials = &((tu_plan_options *)met->request)->task.trials;
    for (const char *feed = met->argument;;) {
        size_t length = strcspn(feed, ",");
        if (trials->feed_count == TU_PLAN_FEEDS_MAX)
            return tu_fail(error, TU_USAGE, NULL, "takes at most %d", TU_PLAN_FEEDS_MAX);
        tu_status status = tu_feed_parse(feed, length, met->common->unit,
                                         &trials->feed_mm_per_min[trials->feed_count++], error);
        if (status || !feed[length])
            return status;
        feed += length + 1;
    }
}

/* --- The table --- */

#define AT(member)                TU_AT(tu_plan_options, member)
#define LIST(array, count, limit) TU_LIST(tu_plan_options, array, count, limit)

enum {
    PLACED = TU_PLAN_CORNER | TU_PLAN_TRIALS, /* beside a stock */
    PLATED = PLACED | TU_PLAN_SURFACE,
};

static const tu_option plan_options[] = {
    {"shop", "FILE", .take = tu_option_take_input, AT(task.shop),
     .help = "the shop file: machine, plates, cutters, stock; - is standard input (default: what "
             "TRUEUP_SHOP names, else shop.json here)"},
    {"plate", "NAME", .only_for = PLATED, .take = tu_option_take_text, AT(task.plate),
     .help = "the plate (default: the one on the shop file's table, or its only one)"},
    {"bare", .take = tu_option_take_flag, AT(task.bare), .only_for = TU_PLAN_SURFACE,
     .excludes = {"plate", "means no plate"},
     .help = "surface: no plate, the surface itself conducts"},
    {"cutter", "NAME", .only_for = TU_PLAN_CORNER | TU_PLAN_GRID | TU_PLAN_TRIALS,
     .take = tu_option_take_text, AT(task.cutter),
     .help =
         "the cutter that touches (default: the one on the shop file's table, or its only one)"},
    {"seat", "stock|bed", .only_for = PLACED, .take = tu_option_take_choice, AT(task.seat),
     .help =
         "corner, trials: what the plate rests on (default: as the shop file's table says, else "
         "stock)"},
    {"wall", "a|b", .only_for = PLACED, .take = tu_option_take_choice, AT(task.place.wall),
     .help = "corner, trials, of a single side face: the wall to touch (default a)"},
    {"depth", "Q", .only_for = PLACED, .take = tu_option_take_size, AT(task.place.depth),
     .use = TU_USE_TOUCH_DEPTH,
     .help = "corner, trials: how far the tip is below the wall's top edge at side contact; "
             "overrides the plate's"},
    {"turned-within", "ANGLE", .only_for = PLACED, .take = tu_option_take_angle,
     AT(task.place.turned_within_rad),
     .help = "corner, trials: a cutting edge will be turned to the wall by hand to within this "
             "angle, as in 5deg"},
    {"set", .only_for = TU_PLAN_CORNER | TU_PLAN_SURFACE, .take = tu_option_take_flag,
     AT(task.style.set),
     .help = "corner, surface: the program sets the offset by itself (default: it only touches, "
             "and the touches are logged)"},
    {"stock-thickness", "Q", .only_for = TU_PLAN_CORNER, .take = tu_option_take_size,
     AT(task.place.stock_thickness), .use = TU_USE_STOCK_THICKNESS,
     .help = "corner with --set: overrides the shop file's stock z"},
    {"slot", "G54..G59.3", .take = tu_option_take_slot, AT(task.slot),
     .help = "the work offset to work in, and to set (default: as the shop file's table says, else "
             "G54)"},
    {"area", "X0,Y0,X1,Y1", .only_for = TU_PLAN_GRID, .take = tu_option_take_places,
     AT(task.grid.area), .help = "grid: its front left and back right corner, work coordinates"},
    {"columns", "N", .only_for = TU_PLAN_GRID, .take = tu_option_take_whole, AT(task.grid.columns),
     .whole = {2, TU_GRID_MAX}, .help = "grid: points along X"},
    {"rows", "N", .only_for = TU_PLAN_GRID, .take = tu_option_take_whole, AT(task.grid.rows),
     .whole = {2, TU_GRID_MAX}, .help = "grid: points along Y"},
    {"keep-out", "X0,Y0,X1,Y1", .only_for = TU_PLAN_GRID, .take = tu_option_take_places,
     LIST(task.keep_out, task.grid.keep_out_count, TU_KEEP_OUT_MAX),
     .help = "grid: a clamp or a screw that the cutter goes round; up to 32 times"},
    {"variation", "Q", .only_for = TU_PLAN_GRID, .take = tu_option_take_length,
     AT(task.grid.variation_mm),
     .help = "grid: the most by which two points of the bed differ in height (default 2mm)"},
    {"axis", "x|y|z", .only_for = TU_PLAN_TRIALS, .take = tu_option_take_choice,
     AT(task.trials.axis), .help = "trials: the axis that touches"},
    {"touches", "N", .only_for = TU_PLAN_TRIALS, .take = tu_option_take_whole,
     AT(task.trials.touches), .whole = {2, TU_PLAN_TOUCHES_MAX},
     .help = "trials: how many count, 2 to 1000 (default 30)"},
    {"feeds", "F,F,...", .only_for = TU_PLAN_TRIALS, .take = take_feeds,
     .help = "trials: feeds of the slow touch, used in turn, each a series of its own"},
    {"both-sides", .only_for = TU_PLAN_TRIALS, .take = tu_option_take_flag,
     AT(task.trials.both_sides), .help = "trials in a bore: low and high side in turn"},
    {"repeats", "N", .only_for = TU_PLAN_CORNER | TU_PLAN_SURFACE | TU_PLAN_GRID,
     .take = tu_option_take_whole, AT(task.style.repeats), .whole = {1, TU_PLAN_REPEATS_MAX},
     .help = "slow touches of each place, 1 to 20 (default 3)"},
    {"search", "F", .take = tu_option_take_feed, AT(task.style.search_mm_per_min),
     .help = "feed of the fast touch, in mm/min or in/min (default 100 mm/min)"},
    {"measure", "F", .take = tu_option_take_feed, AT(task.style.measure_mm_per_min),
     .help = "feed of the slow touch, which counts (default 25 mm/min)"},
    {"traverse", "F", .take = tu_option_take_feed, AT(task.style.traverse_mm_per_min),
     .help = "feed of all other moves (default 600 mm/min)"},
    {"back-off", "Q", .take = tu_option_take_length, AT(task.style.back_off_mm),
     .help = "between fast and slow touch (default 1mm)"},
    {"window", "Q", .take = tu_option_take_length, AT(task.style.window_mm),
     .help = "how far the start may be off in X and Y, either way (default 3mm)"},
    {"height", "LOW:HIGH", .take = tu_option_take_places, AT(task.style.height_mm),
     .help = "height of the start above the face that is touched first (default 2mm:8mm)"},
    {"press", "Q", .take = tu_option_take_length, AT(task.style.press_mm),
     .help = "how far a touch goes on past the last place of contact (default 2mm)"},
    {"clearance", "Q", .take = tu_option_take_length, AT(task.style.clearance_mm),
     .help = "kept from everything while not touching (default 3mm)"},
    {"skew", "ANGLE", .only_for = PLACED, .take = tu_option_take_angle, AT(task.style.skew_rad),
     .help = "how far plate and stock may be turned against the axes (default 1deg)"},
    {"series", "NAME", .take = tu_option_take_text, AT(task.series),
     .help = "name of the touches in the log (default: TARGET, surface, bed or trial)"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(task.style.unit),
     .of_shop = true,
     .help = "of bare numbers here and of the program (default: the shop file's unit)"},
    {"out", "FILE", .take = tu_option_take_output, AT(out_path),
     .help = "write the program to this file, in one step (default: standard output)"},
    {"json", .take = tu_option_take_flag, AT(json),
     .help = "write the summary as JSON, millimetres and seconds; without --out it holds the "
             "program too"},
};
enum { OPTIONS = sizeof plan_options / sizeof *plan_options };

const tu_syntax tu_plan_syntax_table = {
    .options = plan_options,
    .count = OPTIONS,
    .operand = {.argument = "WHAT [TARGET]",
                .repeatable = true,
                .take = take_operand,
                AT(task.place.target),
                .help = "corner, surface, grid or trials"},
    .operand_required = true,
};

/* --- Checks --- */

static bool is_given(const tu_plan_options *options, const char *name)
{
    return tu_option_is_given(&tu_plan_syntax_table, &options->common, name);
}

tu_status tu_plan_options_check(const tu_plan_options *options, tu_error *error)
{
    const char *what = "";
    for (size_t i = 0; i < KINDS; i++)
        if (kinds[i].what == options->task.what)
            what = kinds[i].name;
    for (size_t i = 0; i < OPTIONS; i++) {
        const tu_option *option = &plan_options[i];
        char where[40];
        snprintf(where, sizeof where, "--%s", option->name);
        if (option->only_for && !(option->only_for & (int)options->task.what) &&
            is_given(options, option->name))
            return tu_fail(error, TU_USAGE, where, "is not for \"plan %s\"; leave it out", what);
    }
    return TU_OK;
}
