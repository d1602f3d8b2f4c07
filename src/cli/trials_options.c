/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_options.c - the option table of `trueup trials`.
 */
#include "cli/trials_options.h"

#include "record/same_file.h"

#include <math.h>
#include <string.h>
#include <strings.h>

void tu_trials_options_start(tu_trials_options *options)
{
    *options = (tu_trials_options){.unit = TU_UNIT_MM,
                                   .axis = TU_AXIS_COUNT,
                                   .within_mm = NAN,
                                   .step_mm = NAN,
                                   .wanted_mm = NAN};
}

static tu_status take_by(const tu_met *met, tu_error *error)
{
    static const char *const meaning[] = {"series", "file", "dir"};
    const char *word = met->argument;
    if (strlen(word) == 1 && strchr("xyzXYZ", *word))
        return tu_fail(error, TU_USAGE, NULL,
                       "%s is the position that is judged; name the column that says what was "
                       "changed between the groups",
                       word);
    tu_status status = tu_option_take_text(met, error);
    for (size_t i = 0; i < sizeof meaning / sizeof *meaning; i++)
        if (strcasecmp(word, meaning[i]) == 0)
            *(const char **)met->at = meaning[i];
    return status;
}

#define AT(member)                TU_AT(tu_trials_options, member)
#define LIST(array, count, limit) TU_LIST(tu_trials_options, array, count, limit)

static const tu_option trials_options[] = {
    {"series", "NAME", .take = tu_option_take_text, AT(series),
     .help = "judge this series only (default: each one by itself)"},
    {"axis", "x|y|z", .take = tu_option_take_choice, AT(axis),
     .help = "judge touches along this axis only; a must where the file says several positions "
             "and not which axis moved"},
    {"against", "B", .take = tu_option_take_input, AT(against),
     .excludes = {"by", "compares two series and --by many groups"},
     .help = "compare with before: the name of a series, or another file"},
    {"by", "COLUMN", .take = take_by, AT(by),
     .help = "gauge study: is there more between the groups that this column of a CSV names (a "
             "seating of the plate, a bit put in) than within them? Also: series, file"},
    {"warm-up", .take = tu_option_take_flag, AT(warm_up),
     .help = "fit a drift that dies out, and say when to begin"},
    {"feed", .take = tu_option_take_flag, AT(feed),
     .excludes = {"warm-up",
                  "fits a delay and --warm-up a drift, each as if the other were not there: touch "
                  "at one feed, or on a warm machine"},
     .help = "fit position against feed: the delay between contact and latch"},
    {"one-pass", .take = tu_option_take_flag, AT(one_pass),
     .excludes = {"against by warm-up feed keep svg chart", "keeps no touches to look at again"},
     .help = "for logs of any length: keep no touches, and leave out what needs them (median, "
             "outliers, drift, normality)"},
    {"within", "Q", .take = tu_option_take_length, AT(within_mm), .sign = TU_ABOVE_ZERO,
     .help = "exit with 1 when 19 touches in 20 do not repeat within plus or minus this: once "
             "settled with "
             "--warm-up, at one feed with --feed"},
    {"step", "Q", .take = tu_option_take_length, AT(step_mm), .sign = TU_ABOVE_ZERO,
     .help = "the smallest step of the position (default: that of the shop file, or not known)"},
    {"mean-within", "Q", .take = tu_option_take_length, AT(wanted_mm), .sign = TU_ABOVE_ZERO,
     .help = "say how many touches it takes until their mean is known to plus or minus this"},
    {"shop", "FILE", .take = tu_option_take_input, AT(shop_path),
     .help = "the shop file: for the step, and for --keep"},
    {"keep", .take = tu_option_take_flag, AT(keep), .needs = {"shop", "writes into the shop file"},
     .excludes = {"by feed warm-up", "keeps a series of equal touches"},
     .help = "write the repeatability of the axis into the shop file, where zero takes it from; "
             "everything else in the file stays as it is"},
    {"despite", .take = tu_option_take_flag, AT(despite),
     .needs = {"keep", "says something of --keep only"},
     .help = "with --keep: also a series that drifts, has outliers or is beyond --within"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(unit),
     .help = "of bare numbers on this command line and in a CSV, and of the answer (default mm); a "
             "hit log is in mm"},
    {"svg", "FILE", .take = tu_option_take_output, AT(svg_path),
     .help = "draw the touches, their distribution and what was compared"},
    {"chart", .take = tu_option_take_flag, AT(chart), .excludes = {"json", "is for text"},
     .help = "draw the touches in letters also where the answer goes to a file"},
    {"json", .take = tu_option_take_flag, AT(json),
     .help = "write the answer as JSON: millimetres and seconds"},
};

const tu_syntax tu_trials_syntax_table = {
    .options = trials_options,
    .count = sizeof trials_options / sizeof *trials_options,
    .operand = {.argument = "FILE",
                .take = tu_option_take_input,
                LIST(path, path_count, TU_TRIALS_FILES_MAX),
                .help = "hit logs, or CSVs with a header row of x y z t series axis dir feed; - is "
                        "standard input"},
    .operand_required = true,
};

static tu_status check_against(const tu_trials_options *options, tu_error *error)
{
    for (size_t i = 0; options->against && i < options->path_count; i++)
        if (tu_is_same_file(options->against, options->path[i]))
            return tu_fail(error, TU_USAGE, "--against",
                           "%s is the file that is judged (%s): a series does not differ from "
                           "itself; name another file, or a series",
                           options->against, options->path[i]);
    return TU_OK;
}

/* A file whose touches would count twice. */
static tu_status check_twice(const tu_trials_options *options, tu_error *error)
{
    for (size_t i = 0; i < options->path_count; i++)
        for (size_t k = 0; k < i; k++)
            if (strcmp(options->path[i], options->path[k]) == 0 ||
                tu_is_same_file(options->path[i], options->path[k]))
                return tu_fail(error, TU_USAGE, options->path[i],
                               "stands there twice: its touches would count twice");
    return TU_OK;
}

tu_status tu_trials_options_check(const tu_trials_options *options, tu_error *error)
{
    if (options->keep && strcmp(options->shop_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--keep",
                       "cannot write to standard input; name the shop file with --shop");
    tu_status status = check_twice(options, error);
    return status ? status : check_against(options, error);
}
