/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_options.c - the option table of `trueup log`.
 */
#include "cli/log_options.h"

#include "record/hits_form.h"
#include "trueup/number.h"

#include <math.h>
#include <string.h>

#define COUNT_MAX   1e9
#define SECONDS_MAX (1000.0 * 3600.0)

void tu_log_options_start(tu_log_options *options)
{
    *options = (tu_log_options){.axis = TU_AXIS_COUNT, .unit = TU_UNIT_MM, .for_s = (double)NAN};
}

static tu_status take_axis(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    (void)option;
    tu_log_options *options = request;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if ((argument[0] | 0x20) == "xyz"[axis] && !argument[1]) {
            options->axis = (tu_axis)axis;
            return TU_OK;
        }
    }
    return tu_fail(error, TU_USAGE, NULL, "must be x, y or z, found \"%s\"", argument);
}

static tu_status take_direction(void *request, const tu_option *option, const char *argument,
                                tu_error *error)
{
    (void)option;
    tu_log_options *options = request;
    if (strcmp(argument, "+") != 0 && strcmp(argument, "-") != 0)
        return tu_fail(error, TU_USAGE, NULL,
                       "must be + or -, the way the axis moves into the touch, found \"%s\"",
                       argument);
    options->direction = *argument == '+' ? 1 : -1;
    return TU_OK;
}

static tu_status take_unit(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    ((tu_log_options *)request)->unit_stated = true;
    return tu_option_take_unit(request, option, argument, error);
}

static bool read_whole(const char *text, double highest, double *value)
{
    size_t length = strlen(text);
    return length > 0 && strspn(text, "0123456789") == length &&
           !tu_number_parse(text, length, value, NULL) && *value >= 1 && *value <= highest;
}

static tu_status take_count(void *request, const tu_option *option, const char *argument,
                            tu_error *error)
{
    (void)option;
    double value;
    if (!read_whole(argument, COUNT_MAX, &value))
        return tu_fail(error, TU_USAGE, NULL,
                       "must be a whole number of touches from 1 to 1000000000, found \"%s\"",
                       argument);
    ((tu_log_options *)request)->count = (uint64_t)value;
    return TU_OK;
}

static tu_status take_baud(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    (void)option;
    double value;
    if (!read_whole(argument, 4e6, &value) || value < 50)
        return tu_fail(error, TU_USAGE, NULL,
                       "must be a whole number of bits a second from 50 to 4000000, as in 115200; "
                       "found \"%s\"",
                       argument);
    ((tu_log_options *)request)->baud = (int)value;
    return TU_OK;
}

static tu_status take_for(void *request, const tu_option *option, const char *argument,
                          tu_error *error)
{
    (void)option;
    static const struct {
        const char *name;
        double seconds;
    } units[] = {{"min", 60.0}, {"s", 1.0}, {"h", 3600.0}};
    size_t length = strlen(argument);
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        size_t tail = strlen(units[i].name);
        double value;
        if (length <= tail || strcmp(argument + length - tail, units[i].name) != 0)
            continue;
        if (tu_number_parse(argument, length - tail, &value, NULL) || !(value > 0.0) ||
            value * units[i].seconds > SECONDS_MAX)
            break;
        ((tu_log_options *)request)->for_s = value * units[i].seconds;
        return TU_OK;
    }
    return tu_fail(error, TU_USAGE, NULL,
                   "must be a time with its unit, as in 90s, 10min or 1.5h, up to 1000h; found "
                   "\"%s\"",
                   argument);
}

static tu_status take_series(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    tu_status status = tu_option_take_text(request, option, argument, error);
    if (!status && !tu_hits_is_series(argument))
        return tu_fail(error, TU_USAGE, NULL,
                       "must be a name of at most 63 bytes without control characters, found "
                       "\"%s\"",
                       argument);
    return status;
}

#define AT(member) offsetof(tu_log_options, member)

static const tu_option log_options[] = {
    {"port", "WHERE", .take = tu_option_take_text, .offset = AT(port),
     .help = "where lines come from: a serial port (/dev/ttyUSB0), its USB ids as VVVV:PPPP or "
             "VVVV:PPPP:SERIAL, or - for standard input"},
    {"baud", "N", .take = take_baud, .help = "bits a second (default: 115200)"},
    {"frame", "BITS", .take = tu_option_take_text, .offset = AT(frame),
     .help = "data bits, parity, stop bits (default: 8N1)"},
    {"out", "FILE", .take = tu_option_take_text, .offset = AT(out_path),
     .help = "the log, by custom *.hits.jsonl; one that is there is added to"},
    {"series", "NAME", .take = take_series, .offset = AT(series),
     .help = "the series of touches whose line names none"},
    {"axis", "x|y|z", .take = take_axis, .help = "the axis that moves, where a line does not say"},
    {"direction", "+|-", .take = take_direction,
     .help = "which way it moves, where a line does not say"},
    {"shop", "FILE", .take = tu_option_take_text, .offset = AT(shop_path),
     .help = "the shop file: line templates, travel, steps per mm"},
    {"template", "TEXT", .take = tu_option_take_text, .offset = AT(template_text),
     .help = "how other lines read, as in \"touch x={x} y={y} z={z}\"; instead of the templates of "
             "the shop file"},
    {"unit", "mm|in", .take = take_unit, .offset = AT(unit),
     .help = "the unit of lines that name none, and of what is shown (default: that of the shop "
             "file's templates where all state the same, else mm)"},
    {"count", "N", .take = take_count, .help = "end after N touches that count"},
    {"for", "TIME", .take = take_for, .help = "end after a time, as in 90s, 10min or 1.5h"},
    {"expect", "PLAN", .take = tu_option_take_text, .offset = AT(plan_path),
     .help = "the touch program that runs: names series, marks fast touches, tells a touch that "
             "landed elsewhere, ends when all have come"},
    {"quiet", .take = tu_option_take_flag, .offset = AT(quiet),
     .help = "show warnings and the summary only"},
    {"json", .take = tu_option_take_flag, .offset = AT(json),
     .help = "write each touch as the log holds it; with --verify, the report as JSON"},
    {"verify", "FILE", .take = tu_option_take_text, .offset = AT(verify_path),
     .help = "record nothing: check a log and say what is wrong where"},
};

const tu_syntax tu_log_syntax_table = {
    .options = log_options,
    .count = sizeof log_options / sizeof *log_options,
};

/* The first option given of those that make no sense beside another; NULL: none. */
static const char *beside_verify(const tu_log_options *o)
{
    const struct {
        bool given;
        const char *name;
    } others[] = {{o->port != NULL, "--port"},
                  {o->out_path != NULL, "--out"},
                  {o->baud != 0, "--baud"},
                  {o->frame != NULL, "--frame"},
                  {o->series != NULL, "--series"},
                  {o->axis != TU_AXIS_COUNT, "--axis"},
                  {o->direction != 0, "--direction"},
                  {o->shop_path != NULL, "--shop"},
                  {o->template_text != NULL, "--template"},
                  {o->count != 0, "--count"},
                  {!isnan(o->for_s), "--for"},
                  {o->plan_path != NULL, "--expect"},
                  {o->quiet, "--quiet"}};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
        if (others[i].given)
            return others[i].name;
    return NULL;
}

static const char *beside_expect(const tu_log_options *o)
{
    return o->series                  ? "--series"
           : o->axis != TU_AXIS_COUNT ? "--axis"
           : o->direction             ? "--direction"
           : o->count                 ? "--count"
                                      : NULL;
}

tu_status tu_log_options_check(tu_log_options *o, tu_error *error)
{
    if (o->verify_path) {
        const char *other = beside_verify(o);
        return other ? tu_fail(error, TU_USAGE, other,
                               "makes no sense with --verify, which records nothing")
                     : TU_OK;
    }
    if (!o->port)
        return tu_fail(error, TU_USAGE, "--port",
                       "missing: where the lines come from, as in --port /dev/ttyUSB0, or --port - "
                       "for standard input");
    if (!o->out_path)
        return tu_fail(error, TU_USAGE, "--out",
                       "missing: the file to log to, as in --out bed.hits.jsonl");
    if (strcmp(o->out_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--out",
                       "a log is added to, so it needs a file's name; --json writes the touches "
                       "to standard output as well");
    if (strcmp(o->port, "-") == 0 && (o->baud || o->frame))
        return tu_fail(error, TU_USAGE, o->baud ? "--baud" : "--frame",
                       "standard input has none; leave it out");
    const char *other = o->plan_path ? beside_expect(o) : NULL;
    if (other)
        return tu_fail(error, TU_USAGE, other, "the program of --expect says so; leave it out");
    if (o->quiet && o->json)
        return tu_fail(error, TU_USAGE, "--quiet", "contradicts --json");
    const struct {
        const char *option, *path;
    } inputs[] = {{"--shop", o->shop_path}, {"--expect", o->plan_path}};
    for (size_t i = 0; i < 2; i++)
        if (inputs[i].path && strcmp(inputs[i].path, "-") == 0)
            return tu_fail(error, TU_USAGE, inputs[i].option,
                           "standard input is for the lines; name a file");
    return o->template_text ? tu_template_parse(o->template_text, &o->template, error) : TU_OK;
}
