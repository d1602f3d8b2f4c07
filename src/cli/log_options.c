/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_options.c - the option table of `trueup log`.
 */
#include "cli/log_options.h"

#include <math.h>
#include <string.h>

void tu_log_options_start(tu_log_options *options)
{
    *options = (tu_log_options){.axis = TU_AXIS_COUNT, .unit = TU_UNIT_MM, .for_s = (double)NAN};
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
    {"port", "WHERE", .take = tu_option_take_text, AT(port),
     .help = "where lines come from: a serial port (/dev/ttyUSB0), its USB ids as VVVV:PPPP or "
             "VVVV:PPPP:SERIAL, or - for standard input"},
    {"baud", "N", .take = tu_option_take_whole, AT(baud), .whole = {50, 4000000},
     .help = "bits a second (default: 115200)"},
    {"frame", "BITS", .take = tu_option_take_text, AT(frame),
     .help = "data bits, parity, stop bits (default: 8N1)"},
    {"out", "FILE", .take = tu_option_take_output, AT(out_path),
     .help = "the log, by custom *.hits.jsonl; one that is there is added to"},
    {"series", "NAME", .take = tu_option_take_series, AT(series),
     .help = "the series of touches whose line names none"},
    {"axis", "x|y|z", .take = tu_option_take_choice, AT(axis),
     .help = "the axis that moves, where a line does not say"},
    {"direction", "+|-", .take = take_direction, AT(direction),
     .help = "which way it moves, where a line does not say"},
    {"shop", "FILE", .take = tu_option_take_input, AT(shop_path),
     .help = "the shop file: line templates, travel, steps per mm"},
    {"template", "TEXT", .take = tu_option_take_text, AT(template_text),
     .help = "how other lines read, as in \"touch x={x} y={y} z={z}\"; instead of the templates of "
             "the shop file"},
    {"unit", "mm|in", .take = tu_option_take_unit, AT(unit),
     .help = "the unit of lines that name none, and of what is shown (default: that of the shop "
             "file's templates where all state the same, else mm)"},
    {"count", "N", .take = tu_option_take_whole, AT(count), .whole = {1, 1000000000},
     .help = "end after N touches that count"},
    {"for", "TIME", .take = tu_option_take_seconds, AT(for_s),
     .help = "end after a time, as in 90s, 10min or 1.5h"},
    {"expect", "PLAN", .take = tu_option_take_input, AT(plan_path),
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

tu_status tu_log_options_check(tu_log_options *o, tu_error *error)
{
    if (o->verify_path)
        return TU_OK;
    if (!o->port)
        return tu_fail(error, TU_USAGE, "--port",
                       "missing: where the lines come from, as in --port /dev/ttyUSB0, or --port - "
                       "for standard input");
    if (!o->out_path)
        return tu_fail(error, TU_USAGE, "--out",
                       "missing: the file to log to, as in --out bed.hits.jsonl");
    if (strcmp(o->port, "-") == 0 && (o->baud || o->frame))
        return tu_fail(error, TU_USAGE, o->baud ? "--baud" : "--frame",
                       "standard input has none; leave it out");
    const struct {
        const char *option, *path;
    } inputs[] = {{"--shop", o->shop_path}, {"--expect", o->plan_path}};
    for (size_t i = 0; i < 2; i++)
        if (inputs[i].path && strcmp(inputs[i].path, "-") == 0)
            return tu_fail(error, TU_USAGE, inputs[i].option,
                           "standard input is for the lines; name a file");
    return o->template_text ? tu_template_parse(o->template_text, &o->template, error) : TU_OK;
}
