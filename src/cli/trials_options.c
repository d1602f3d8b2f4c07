/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_options.c - the option table of `trueup trials`.
 */
#include "cli/trials_options.h"

void tu_trials_options_start(tu_trials_options *options)
{
    *options = (tu_trials_options){.task = tu_task_trials_request_start()};
}

#define AT(member)                TU_AT(tu_trials_options, member)
#define LIST(array, count, limit) TU_LIST(tu_trials_options, array, count, limit)

static const tu_option trials_options[] = {
    {"series", "NAME", .take = tu_option_take_text, AT(task.series),
     .help = "judge this series only (default: each one by itself)"},
    {"axis", "x|y|z", .take = tu_option_take_choice, AT(task.axis),
     .help = "judge touches along this axis only; a must where the file says several positions "
             "and not which axis moved"},
    {"against", "B", .take = tu_option_take_input, AT(task.against),
     .excludes = {"by", "compares two series and --by many groups"},
     .help = "compare with before: the name of a series, or another file"},
    {"by", "COLUMN", .take = tu_option_take_text, AT(task.by),
     .help = "gauge study: is there more between the groups that this column of a CSV names (a "
             "seating of the plate, a bit put in) than within them? Also: series, file"},
    {"warm-up", .take = tu_option_take_flag, AT(task.warm_up),
     .help = "fit a drift that dies out, and say when to begin"},
    {"feed", .take = tu_option_take_flag, AT(task.feed),
     .excludes = {"warm-up",
                  "fits a delay and --warm-up a drift, each as if the other were not there: touch "
                  "at one feed, or on a warm machine"},
     .help = "fit position against feed: the delay between contact and latch"},
    {"one-pass", .take = tu_option_take_flag, AT(task.one_pass),
     .excludes = {"against by warm-up feed keep svg chart", "keeps no touches to look at again"},
     .help = "for logs of any length: keep no touches, and leave out what needs them (median, "
             "outliers, drift, normality)"},
    {"within", "Q", .take = tu_option_take_length, AT(task.within_mm), .sign = TU_ABOVE_ZERO,
     .help = "exit with 1 when 19 touches in 20 do not repeat within plus or minus this: once "
             "settled with "
             "--warm-up, at one feed with --feed"},
    {"step", "Q", .take = tu_option_take_length, AT(task.step_mm), .sign = TU_ABOVE_ZERO,
     .help = "the smallest step of the position (default: that of the shop file, or not known)"},
    {"mean-within", "Q", .take = tu_option_take_length, AT(task.wanted_mm), .sign = TU_ABOVE_ZERO,
     .help = "say how many touches it takes until their mean is known to plus or minus this"},
    {"shop", "FILE", .take = tu_option_take_input, AT(task.shop),
     .help = "the shop file: for the step, and for --keep"},
    {"keep", .take = tu_option_take_flag, AT(task.keep),
     .needs = {"shop", "writes into the shop file"},
     .excludes = {"by feed warm-up", "keeps a series of equal touches"},
     .help = "write the repeatability of the axis into the shop file, where zero takes it from; "
             "everything else in the file stays as it is"},
    {"despite", .take = tu_option_take_flag, AT(task.despite),
     .needs = {"keep", "says something of --keep only"},
     .help = "with --keep: also a series that drifts, has outliers or is beyond --within"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(task.unit),
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
                LIST(task.path, task.path_count, TU_TRIALS_FILES_MAX),
                .help = "hit logs, or CSVs with a header row of x y z t series axis dir feed; - is "
                        "standard input"},
    .operand_required = true,
};
