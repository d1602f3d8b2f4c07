/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_options.c - the option table of `trueup bed`.
 */
#include "cli/bed_options.h"

#include "cli/touch_list.h"
#include "record/same_file.h"
#include "trueup/number.h"
#include "trueup/zero.h"

#include <math.h>
#include <string.h>

void tu_bed_options_start(tu_bed_options *options)
{
    *options = (tu_bed_options){.depth_of_cut_mm = NAN,
                                .allowance_mm = 0.05, /* common practice, no source */
                                .cutter_mm = NAN,
                                .step_over_mm = NAN,
                                .feed_mm_per_min = NAN,
                                .overcut_mm = NAN,
                                .stock_tolerance_mm = NAN,
                                .limit_mm = NAN,
                                .slot = 1,
                                .reference = {NAN, NAN}};
}

/* --- Takes --- */

static tu_status take_file(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    tu_bed_options *options = request;
    (void)option;
    if (options->path_count == TU_BED_FILES_MAX)
        return tu_fail(error, TU_USAGE, "FILE", "takes at most %d files", TU_BED_FILES_MAX);
    options->path[options->path_count++] = argument;
    return TU_OK;
}

static tu_status take_length(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    tu_bed_options *options = request;
    tu_typed_unit_note(&options->typed, argument);
    return tu_place_parse(argument, strlen(argument), options->unit,
                          (double *)((char *)request + option->offset), error);
}

static tu_status take_feed(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    tu_bed_options *options = request;
    (void)option;
    tu_status status =
        tu_number_parse(argument, strlen(argument), &options->feed_mm_per_min, error);
    if (status)
        return tu_fail(error, status, NULL,
                       "\"%s\" is not a number: give the feed bare, in mm/min, or in in/min with "
                       "--unit in",
                       argument);
    if (options->unit == TU_UNIT_INCH)
        options->feed_mm_per_min *= TU_MM_PER_INCH;
    return TU_OK;
}

static tu_status take_places(tu_bed_options *options, const char *argument, double *places,
                             size_t count, const char *form, tu_error *error)
{
    tu_typed_unit_note(&options->typed, argument);
    return tu_places_parse(argument, strlen(argument), options->unit, places, count, form, error);
}

static tu_status take_job(void *request, const tu_option *option, const char *argument,
                          tu_error *error)
{
    tu_bed_options *options = request;
    double number[4];
    (void)option;
    tu_status status = take_places(options, argument, number, 4, "X,Y,L,W", error);
    if (status)
        return status;
    if (!(number[2] > 0 && number[3] > 0))
        return tu_fail(
            error, TU_DATA_RANGE, NULL,
            "its length and width must be above zero, found \"%s\"; the form is X,Y,L,W: "
            "the front left corner, then the sizes along X and Y",
            argument);
    options->job_stated = true;
    options->job =
        (tu_bed_rectangle){number[0], number[0] + number[2], number[1], number[1] + number[3]};
    return TU_OK;
}

static tu_status take_reference(void *request, const tu_option *option, const char *argument,
                                tu_error *error)
{
    tu_bed_options *options = request;
    double number[2];
    (void)option;
    tu_status status = take_places(options, argument, number, 2, "X,Y", error);
    if (!status) {
        options->reference = (tu_machine_plane_point){number[0], number[1]};
        options->reference_stated = true;
    }
    return status;
}

static tu_status take_support(void *request, const tu_option *option, const char *argument,
                              tu_error *error)
{
    tu_bed_options *options = request;
    double number[2];
    (void)option;
    if (options->supports == TU_BED_SUPPORTS_MAX)
        return tu_fail(error, TU_USAGE, NULL, "given more than %d times", TU_BED_SUPPORTS_MAX);
    tu_status status = take_places(options, argument, number, 2, "X,Y", error);
    if (status)
        return status;
    for (size_t i = 0; i < options->supports; i++)
        if (fabs(options->support[i].x - number[0]) < TU_BED_SAME_PLACE_MM &&
            fabs(options->support[i].y - number[1]) < TU_BED_SAME_PLACE_MM)
            return tu_fail(error, TU_USAGE, NULL,
                           "%s stands there twice: state each support once, where it is", argument);
    options->support[options->supports++] = (tu_machine_plane_point){number[0], number[1]};
    return TU_OK;
}

static tu_status take_active(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    tu_bed_options *options = request;
    (void)option;
    options->active_stated = true;
    return take_places(options, argument, options->active_mm, TU_AXIS_COUNT, "X,Y,Z", error);
}

static tu_status take_slot(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    tu_bed_options *options = request;
    (void)option;
    options->slot_stated = true;
    return tu_slot_parse(argument, &options->slot, error);
}

static tu_status take_keep_out(void *request, const tu_option *option, const char *argument,
                               tu_error *error)
{
    tu_bed_options *options = request;
    double number[4];
    (void)option;
    if (options->keep_outs == TU_KEEP_OUT_MAX)
        return tu_fail(error, TU_USAGE, NULL, "given more than %d times", TU_KEEP_OUT_MAX);
    tu_status status = take_places(options, argument, number, 4, "X0,Y0,X1,Y1", error);
    if (!status)
        options->keep_out[options->keep_outs++] =
            (tu_rectangle){number[0], number[1], number[2], number[3]};
    return status;
}

static tu_status take_unit(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    ((tu_bed_options *)request)->typed.stated = true;
    return tu_option_take_unit(request, option, argument, error);
}

/* --- The table --- */

#define AT(member) offsetof(tu_bed_options, member)

static const tu_option bed_options[] = {
    {"series", "NAME", .take = tu_option_take_text, .offset = AT(series),
     .help = "only the touches of this series"},
    {"shop", "FILE", .take = tu_option_take_text, .offset = AT(shop_path),
     .help = "the shop file: travel, repeatability in Z, tolerance of the stock's thickness"},
    {"job", "X,Y,L,W", .take = take_job,
     .help = "only this part of the bed: its front left corner, its sizes along X and Y"},
    {"within", "Q", .take = take_length, .offset = AT(limit_mm),
     .help = "exit with 1 when the highest and the lowest place differ by more"},
    {"depth-of-cut", "Q", .take = take_length, .offset = AT(depth_of_cut_mm),
     .help = "of one pass of surfacing (default: all in one pass)"},
    {"allowance", "Q", .take = take_length, .offset = AT(allowance_mm),
     .help = "how far below the lowest place surfacing goes (default 0.05mm)"},
    {"surfacer", "Q", .take = take_length, .offset = AT(cutter_mm),
     .help = "diameter of the surfacing cutter; with --step-over and --feed: the time it takes"},
    {"step-over", "Q", .take = take_length, .offset = AT(step_over_mm),
     .help = "between neighbouring lines of surfacing"},
    {"feed", "F", .take = take_feed, .help = "of surfacing, in mm/min or in/min"},
    {"overcut", "Q", .take = take_length, .offset = AT(overcut_mm),
     .help =
         "how far below the stock's underside a through cut is programmed: tells bite and skin"},
    {"zeroed-at", "X,Y", .take = take_reference,
     .help = "where on the bed the stock was zeroed (default: the middle of the job)"},
    {"stock-tolerance", "Q", .take = take_length, .offset = AT(stock_tolerance_mm),
     .help = "plus or minus, of the stock's thickness; overrides the shop file's"},
    {"support", "X,Y", .repeatable = true, .take = take_support,
     .help = "where the bed can be shimmed, three times or more (default: its corners)"},
    {"against", "FILE", .take = tu_option_take_text, .offset = AT(against),
     .help = "an earlier map of the same bed: what has changed since"},
    {"svg", "FILE", .take = tu_option_take_text, .offset = AT(svg_path),
     .help = "also draw the map, in one step"},
    {"without-tilt", .take = tu_option_take_flag, .offset = AT(without_tilt),
     .help = "maps show the heights above the least-squares plane"},
    {"re-touch", "FILE", .take = tu_option_take_text, .offset = AT(again_path),
     .help = "write a touch program for the suspects, in one step; its touches (series re-touch) "
             "replace the earlier ones when both logs are given"},
    {"cutter", "NAME", .take = tu_option_take_text, .offset = AT(cutter_name),
     .help = "re-touch: the cutter in the spindle (default: the shop file's only one)"},
    {"active", "X,Y,Z", .take = take_active,
     .help = "re-touch: machine coordinates of the slot's zero, as the controller shows them"},
    {"slot", "G54..G59.3", .take = take_slot,
     .help = "re-touch: the work offset to work in (default G54)"},
    {"keep-out", "X0,Y0,X1,Y1", .repeatable = true, .take = take_keep_out,
     .help = "re-touch: a clamp or a screw that the cutter goes round, machine coordinates like "
             "the map; up to 32 times"},
    {"unit", "mm|in", .early = true, .take = take_unit, .offset = AT(unit),
     .help = "of bare numbers here and in a CSV, and of the answer (default mm)"},
    {"json", .take = tu_option_take_flag, .offset = AT(json),
     .help = "write the answer as JSON, millimetres and seconds"},
};

const tu_syntax tu_bed_syntax_table = {
    .options = bed_options,
    .count = sizeof bed_options / sizeof *bed_options,
    .operand = {.argument = "FILE",
                .repeatable = true,
                .take = take_file,
                .help = "a hit log, or a CSV with the columns x, y and z; - is standard input"},
    .operand_required = true,
};

/* --- Checks --- */

static const double overcut_most_mm = 10; /* most spoilboards are thinner than twice that; common
                                             practice, no source */

static tu_status check_overcut(const tu_bed_options *options, tu_error *error)
{
    if (!(options->overcut_mm > overcut_most_mm))
        return TU_OK;
    return tu_fail(error, TU_DATA_RANGE, "--overcut",
                   "%.3f mm is deep into the bed, at most %.0f mm make sense: it is how far below "
                   "the stock's underside the cut ends, not the depth from its top",
                   options->overcut_mm, overcut_most_mm);
}

static tu_status check_sizes(const tu_bed_options *options, tu_error *error)
{
    const struct {
        const char *name;
        double value;
        double least;
        bool above; /* must be more than that */
    } sizes[] = {
        {"--within", options->limit_mm, 0, true},
        {"--depth-of-cut", options->depth_of_cut_mm, 0, true},
        {"--allowance", options->allowance_mm, 0, false},
        {"--surfacer", options->cutter_mm, 0, true},
        {"--step-over", options->step_over_mm, 0, true},
        {"--feed", options->feed_mm_per_min, 0, true},
        {"--stock-tolerance", options->stock_tolerance_mm, 0, false},
    };
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        if (sizes[i].above ? sizes[i].value <= sizes[i].least : sizes[i].value < sizes[i].least)
            return tu_fail(error, TU_DATA_RANGE, sizes[i].name, "must %s",
                           sizes[i].above ? "be above zero" : "not be below zero");
    }
    return TU_OK;
}

static tu_status check_again(const tu_bed_options *options, tu_error *error)
{
    const char *beside = options->cutter_name     ? "--cutter"
                         : options->active_stated ? "--active"
                         : options->slot_stated   ? "--slot"
                         : options->keep_outs     ? "--keep-out"
                                                  : NULL;
    if (!options->again_path && beside)
        return tu_fail(error, TU_USAGE, beside,
                       "is about the touch program for the suspects: give --re-touch too");
    if (!options->again_path)
        return TU_OK;
    if (strcmp(options->again_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--re-touch", "needs a file's name, found \"-\"");
    if (!options->shop_path)
        return tu_fail(error, TU_USAGE, "--shop",
                       "missing: --re-touch needs the cutter and the machine's travel");
    if (!options->active_stated)
        return tu_fail(error, TU_USAGE, "--active",
                       "missing: the map is in machine coordinates and the program runs in work "
                       "coordinates; state the machine coordinates of the slot's zero");
    return TU_OK;
}

/* A file to write is none of those to read. */
static tu_status check_written(const tu_bed_options *options, const char *where, const char *path,
                               tu_error *error)
{
    for (size_t i = 0; path && i < options->path_count; i++)
        if (tu_is_same_file(path, options->path[i]))
            return tu_fail(error, TU_USAGE, where, "%s is the file to read", path);
    if (tu_is_same_file(path, options->against) || tu_is_same_file(path, options->shop_path))
        return tu_fail(error, TU_USAGE, where, "%s is a file to read", path);
    return TU_OK;
}

static tu_status check_files(const tu_bed_options *options, tu_error *error)
{
    tu_status status = check_written(options, "--svg", options->svg_path, error);
    if (!status)
        status = check_written(options, "--re-touch", options->again_path, error);
    if (!status && (tu_is_same_file(options->again_path, options->svg_path) ||
                    (options->again_path && options->svg_path &&
                     strcmp(options->again_path, options->svg_path) == 0)))
        status =
            tu_fail(error, TU_USAGE, "--re-touch", "%s is the file of --svg", options->again_path);
    return status;
}

tu_status tu_bed_options_check(const tu_bed_options *options, tu_error *error)
{
    bool timed = !isnan(options->cutter_mm);
    if (timed != !isnan(options->step_over_mm) || timed != !isnan(options->feed_mm_per_min))
        return tu_fail(error, TU_USAGE, "--surfacer",
                       "the time of surfacing takes --surfacer, --step-over and --feed together");
    if (isnan(options->overcut_mm) &&
        (options->reference_stated || !isnan(options->stock_tolerance_mm)))
        return tu_fail(error, TU_USAGE,
                       options->reference_stated ? "--zeroed-at" : "--stock-tolerance",
                       "is about a through cut: give --overcut too");
    if (options->supports == 1 || options->supports == 2)
        return tu_fail(error, TU_USAGE, "--support",
                       "given %zu times; a bed is levelled on three supports or more",
                       options->supports);
    tu_status status = check_again(options, error);
    if (!status)
        status = check_files(options, error);
    if (!status)
        status = check_overcut(options, error);
    return status ? status : check_sizes(options, error);
}
