/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_options.c - the option table of `trueup log`.
 */
#include "cli/log_options.h"

#include <string.h>

void tu_log_options_start(tu_log_options *options)
{
    *options = (tu_log_options){.task = tu_task_log_request_start()};
}

static tu_status take_direction(const tu_met *met, tu_error *error)
{
    if (strcmp(met->argument, "+") != 0 && strcmp(met->argument, "-") != 0)
        return tu_fail(error, TU_USAGE, NULL,
                       "must be + or -, the way the axis moves into the touch, found \"%s\"",
                       met->argument);
    *(int *)met->at = *met->argument == '+' ? 1 : -1;
    return TU_OK;
}

#define AT(member) TU_AT(tu_log_options, member)

static const tu_option log_options[] = {
    {"port", "WHERE", .take = tu_option_take_text, AT(task.port),
     .help = "where lines come from: a serial port (/dev/ttyUSB0), its USB ids as VVVV:PPPP or "
             "VVVV:PPPP:SERIAL, or - for standard input"},
    {"baud", "N", .take = tu_option_take_whole, AT(task.baud), .whole = {50, 4000000},
     .help = "bits a second (default: 115200)"},
    {"frame", "BITS", .take = tu_option_take_text, AT(task.frame),
     .help = "data bits, parity, stop bits (default: 8N1)"},
    {"out", "FILE", .take = tu_option_take_output, AT(task.out),
     .help = "the log, by custom *.hits.jsonl; one that is there is added to"},
    {"series", "NAME", .take = tu_option_take_series, AT(task.series),
     .help = "the series of touches whose line names none"},
    {"axis", "x|y|z", .take = tu_option_take_choice, AT(task.axis),
     .help = "the axis that moves, where a line does not say"},
    {"direction", "+|-", .take = take_direction, AT(task.direction),
     .help = "which way it moves, where a line does not say"},
    {"shop", "FILE", .take = tu_option_take_input, AT(task.shop),
     .help = "the shop file: line templates, travel, steps per mm"},
    {"template", "TEXT", .take = tu_option_take_text, AT(task.text),
     .help = "how other lines read, as in \"touch x={x} y={y} z={z}\"; instead of the templates of "
             "the shop file"},
    {"unit", "mm|in", .take = tu_option_take_unit, AT(task.unit),
     .help = "the unit of lines that name none, and of what is shown (default: that of the shop "
             "file's templates where all state the same, else mm)"},
    {"count", "N", .take = tu_option_take_whole, AT(task.count), .whole = {1, 1000000000},
     .help = "end after N touches that count"},
    {"for", "TIME", .take = tu_option_take_seconds, AT(task.for_s),
     .help = "end after a time, as in 90s, 10min or 1.5h"},
    {"expect", "PLAN", .take = tu_option_take_input, AT(task.expect),
     .excludes = {"series axis direction count", "the program says that itself"},
     .help = "the touch program that runs: names series, marks fast touches, tells a touch that "
             "landed elsewhere, ends when all have come"},
    {"quiet", .take = tu_option_take_flag, AT(quiet), .excludes = {"json", "shows no touches"},
     .help = "show warnings and the summary only"},
    {"json", .take = tu_option_take_flag, AT(json),
     .help = "write each touch as the log holds it; with --verify, the report as JSON"},
    {"verify", "FILE", .take = tu_option_take_input, AT(verify_path),
     .excludes = {"port out baud frame series axis direction shop template count for expect quiet",
                  "records nothing"},
     .help = "record nothing: check a log and say what is wrong where"},
};

const tu_syntax tu_log_syntax_table = {
    .options = log_options,
    .count = sizeof log_options / sizeof *log_options,
};
