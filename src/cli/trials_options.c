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

static tu_status take_file(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    (void)option;
    tu_trials_options *options = request;
    if (!*argument)
        return tu_fail(error, TU_USAGE, "FILE", "the name is empty");
    if (options->path_count == TU_TRIALS_FILES_MAX)
        return tu_fail(error, TU_USAGE, "FILE", "more than %d files", TU_TRIALS_FILES_MAX);
    for (size_t i = 0; i < options->path_count; i++)
        if (strcmp(options->path[i], argument) == 0 || tu_is_same_file(options->path[i], argument))
            return tu_fail(error, TU_USAGE, argument,
                           "stands there twice: its touches would count twice");
    options->path[options->path_count++] = argument;
    return TU_OK;
}

static tu_status take_axis(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    (void)option;
    const char *found = strlen(argument) == 1 ? strchr("xyzXYZ", *argument) : NULL;
    if (!found)
        return tu_fail(error, TU_USAGE, NULL, "must be x, y or z, found \"%s\"", argument);
    ((tu_trials_options *)request)->axis = (int)strchr("xyz", *argument | 0x20)[0] - 'x';
    return TU_OK;
}

static tu_status take_by(void *request, const tu_option *option, const char *argument,
                         tu_error *error)
{
    static const char *const meaning[] = {"series", "file", "dir"};
    if (strlen(argument) == 1 && strchr("xyzXYZ", *argument))
        return tu_fail(error, TU_USAGE, NULL,
                       "%s is the position that is judged; name the column that says what was "
                       "changed between the groups",
                       argument);
    tu_status status = tu_option_take_text(request, option, argument, error);
    for (size_t i = 0; i < sizeof meaning / sizeof *meaning; i++)
        if (strcasecmp(argument, meaning[i]) == 0)
            ((tu_trials_options *)request)->by = meaning[i];
    return status;
}

static tu_status take_length(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    const tu_trials_options *options = request;
    double *length_mm = (double *)(void *)((char *)request + option->offset);
    tu_quantity quantity;
    tu_status status =
        tu_quantity_parse(argument, strlen(argument), options->unit, &quantity, error);
    if (!status && (!(quantity.value_mm > 0) || !isnan(quantity.tolerance_mm)))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "must be a length above 0 without a tolerance, found \"%s\"", argument);
    *length_mm = quantity.value_mm;
    return status;
}

#define AT(member) offsetof(tu_trials_options, member)

static const tu_option trials_options[] = {
    {"series", "NAME", .take = tu_option_take_text, .offset = AT(series),
     .help = "judge this series only (default: each one by itself)"},
    {"axis", "x|y|z", .take = take_axis,
     .help = "judge touches along this axis only; a must where the file says several positions "
             "and not which axis moved"},
    {"against", "B", .take = tu_option_take_text, .offset = AT(against),
     .help = "compare with before: the name of a series, or another file"},
    {"by", "COLUMN", .take = take_by, .offset = AT(by),
     .help = "gauge study: is there more between the groups that this column of a CSV names (a "
             "seating of the plate, a bit put in) than within them? Also: series, file"},
    {"warm-up", .take = tu_option_take_flag, .offset = AT(warm_up),
     .help = "fit a drift that dies out, and say when to begin"},
    {"feed", .take = tu_option_take_flag, .offset = AT(feed),
     .help = "fit position against feed: the delay between contact and latch"},
    {"one-pass", .take = tu_option_take_flag, .offset = AT(one_pass),
     .help = "for logs of any length: keep no touches, and leave out what needs them (median, "
             "outliers, drift, normality)"},
    {"within", "Q", .take = take_length, .offset = AT(within_mm),
     .help = "exit with 1 when 19 touches in 20 do not repeat within plus or minus this: once "
             "settled with "
             "--warm-up, at one feed with --feed"},
    {"step", "Q", .take = take_length, .offset = AT(step_mm),
     .help = "the smallest step of the position (default: that of the shop file, or not known)"},
    {"mean-within", "Q", .take = take_length, .offset = AT(wanted_mm),
     .help = "say how many touches it takes until their mean is known to plus or minus this"},
    {"shop", "FILE", .take = tu_option_take_text, .offset = AT(shop_path),
     .help = "the shop file: for the step, and for --keep"},
    {"keep", .take = tu_option_take_flag, .offset = AT(keep),
     .help = "write the repeatability of the axis into the shop file, where zero takes it from; "
             "everything else in the file stays as it is"},
    {"despite", .take = tu_option_take_flag, .offset = AT(despite),
     .help = "with --keep: also a series that drifts, has outliers or is beyond --within"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, .offset = AT(unit),
     .help = "of bare numbers on this command line and in a CSV, and of the answer (default mm); a "
             "hit log is in mm"},
    {"svg", "FILE", .take = tu_option_take_text, .offset = AT(svg_path),
     .help = "draw the touches, their distribution and what was compared"},
    {"chart", .take = tu_option_take_flag, .offset = AT(chart),
     .help = "draw the touches in letters also where the answer goes to a file"},
    {"json", .take = tu_option_take_flag, .offset = AT(json),
     .help = "write the answer as JSON: millimetres and seconds"},
};

const tu_syntax tu_trials_syntax_table = {
    .options = trials_options,
    .count = sizeof trials_options / sizeof *trials_options,
    .operand = {.argument = "FILE",
                .repeatable = true,
                .take = take_file,
                .help = "hit logs, or CSVs with a header row of x y z t series axis dir feed; - is "
                        "standard input"},
    .operand_required = true,
};

static tu_status check_keep(const tu_trials_options *options, tu_error *error)
{
    if (options->despite && !options->keep)
        return tu_fail(error, TU_USAGE, "--despite", "says something of --keep only");
    if (!options->keep)
        return TU_OK;
    if (!options->shop_path)
        return tu_fail(error, TU_USAGE, "--keep", "needs the shop file: --shop FILE");
    if (strcmp(options->shop_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--keep",
                       "cannot write to standard input; name the shop file with --shop");
    if (options->by || options->feed || options->warm_up)
        return tu_fail(error, TU_USAGE, "--keep", "keeps a series of equal touches; leave out %s",
                       options->by     ? "--by"
                       : options->feed ? "--feed"
                                       : "--warm-up, and touch once the machine is warm");
    return TU_OK;
}

/* What looks at the touches once more cannot be had without them. */
static tu_status check_one_pass(const tu_trials_options *options, tu_error *error)
{
    const char *other = options->against    ? "--against"
                        : options->by       ? "--by"
                        : options->warm_up  ? "--warm-up"
                        : options->feed     ? "--feed"
                        : options->keep     ? "--keep"
                        : options->svg_path ? "--svg"
                        : options->chart    ? "--chart"
                                            : NULL;
    return options->one_pass && other
               ? tu_fail(error, TU_USAGE, "--one-pass",
                         "keeps no touches, and %s takes them all; leave one out", other)
               : TU_OK;
}

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

static tu_status check_svg(const tu_trials_options *options, tu_error *error)
{
    const char *svg = options->svg_path;
    if (!svg)
        return TU_OK;
    if (strcmp(svg, "-") == 0)
        return tu_fail(error, TU_USAGE, "--svg",
                       "needs a file's name; standard output carries the answer");
    bool same = (options->shop_path && tu_is_same_file(svg, options->shop_path)) ||
                (options->against && tu_is_same_file(svg, options->against));
    for (size_t i = 0; i < options->path_count; i++)
        same = same || tu_is_same_file(svg, options->path[i]);
    return same ? tu_fail(error, TU_USAGE, "--svg", "%s is read as well; name another file", svg)
                : TU_OK;
}

tu_status tu_trials_options_check(const tu_trials_options *options, tu_error *error)
{
    if (options->against && options->by)
        return tu_fail(error, TU_USAGE, "--against",
                       "compares two series and --by many groups; leave one out");
    if (options->warm_up && options->feed)
        return tu_fail(error, TU_USAGE, "--feed",
                       "fits a delay and --warm-up a drift, each as if the other were not there; "
                       "ask for one at a time, of touches at one feed or on a warm machine");
    if (options->json && options->chart)
        return tu_fail(error, TU_USAGE, "--chart", "is for text; leave out --json");
    tu_status status = check_one_pass(options, error);
    if (!status)
        status = check_against(options, error);
    if (!status)
        status = check_keep(options, error);
    return status ? status : check_svg(options, error);
}
