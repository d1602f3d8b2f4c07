/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_options.c - the option table of `trueup rehearse`.
 */
#include "cli/rehearse_options.h"

#include "base/utf8.h"
#include "record/same_file.h"

#include <errno.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

void tu_rehearse_options_start(tu_rehearse_options *options)
{
    *options = (tu_rehearse_options){.unit = TU_UNIT_MM, .within_mm = NAN};
}

static tu_status take_within(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    (void)option;
    tu_rehearse_options *options = request;
    tu_quantity limit;
    tu_status status = tu_quantity_parse(argument, strlen(argument), options->unit, &limit, error);
    if (!status && (!(limit.value_mm > 0) || !isnan(limit.tolerance_mm)))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "must be a length above 0 without a tolerance, found \"%s\"", argument);
    options->within_mm = limit.value_mm;
    return status;
}

static tu_status take_target(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    (void)option;
    tu_rehearse_options *options = request;
    tu_status status = tu_target_parse(argument, &options->target, error);
    if (status && error)
        error->status = TU_USAGE; /* the target is a word of the command line, not data */
    return status ? TU_USAGE : TU_OK;
}

static tu_status take_series(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    (void)option;
    char tidy[TU_NAME_SIZE];
    tu_rehearse_options *options = request;
    if (!*argument || strlen(argument) >= sizeof tidy)
        return tu_fail(error, TU_USAGE, NULL, "a name has 1 to %d bytes", TU_NAME_SIZE - 1);
    memcpy(tidy, argument, strlen(argument) + 1);
    tu_utf8_tidy(tidy);
    if (strcmp(tidy, argument) != 0)
        return tu_fail(error, TU_USAGE, NULL, "a name holds no control characters");
    options->series = argument;
    return TU_OK;
}

#define AT(member) offsetof(tu_rehearse_options, member)

static const tu_option rehearse_options[] = {
    {"scene", "FILE", .take = tu_option_take_text, .offset = AT(scene_path),
     .help = "the scene file: bed, stock, plate, cutter, clamps, where they truly are; - is "
             "standard input"},
    {"target", "TARGET", .take = take_target,
     .help = "compare the offset that the program sets with the true zero of this corner or face "
             "(default: the corner that the scene's plate lies on)"},
    {"within", "Q", .take = take_within,
     .help = "exit with 1 also when an offset was set farther from the truth than this"},
    {"svg", "FILE", .take = tu_option_take_text, .offset = AT(svg_path),
     .help = "draw the path in plan and from the side"},
    {"log", "FILE", .take = tu_option_take_text, .offset = AT(log_path),
     .help = "write the touches as a hit log, a new file, for trueup zero --log; only when the "
             "program ran clean"},
    {"series", "NAME", .take = take_series,
     .help = "in the log, of touches for which the program names no series"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, .offset = AT(unit),
     .help = "of the answer and the drawing (default mm)"},
    {"json", .take = tu_option_take_flag, .offset = AT(json),
     .help = "write the answer as JSON: millimetres and seconds"},
};

const tu_syntax tu_rehearse_syntax_table = {
    .options = rehearse_options,
    .count = sizeof rehearse_options / sizeof *rehearse_options,
    .operand = {.argument = "FILE",
                .take = tu_option_take_text,
                .offset = AT(program_path),
                .help = "the touch program, RS274/NGC; - is standard input"},
    .operand_required = true,
};

/* What is written replaces nothing that is read. */
static tu_status check_output(const tu_rehearse_options *options, const char *option,
                              const char *path, tu_error *error)
{
    if (!path)
        return TU_OK;
    if (strcmp(path, "-") == 0)
        return tu_fail(error, TU_USAGE, option,
                       "needs a file's name; standard output carries the answer");
    bool program = tu_is_same_file(path, options->program_path);
    if (program || tu_is_same_file(path, options->scene_path))
        return tu_fail(error, TU_USAGE, option, "%s is read as the %s; name another file", path,
                       program ? "program" : "scene");
    return TU_OK;
}

/* A log is what was measured: it is never replaced, and a second rehearsal is another log. */
static tu_status check_log(const char *path, tu_error *error)
{
    struct stat there;
    if (!path)
        return TU_OK;
    if (lstat(path, &there) == 0)
        return tu_fail(error, TU_USAGE, "--log",
                       "%s is there already, and a log is not written over; name a new file", path);
    if (errno == ENOENT || errno == ENOTDIR)
        return TU_OK; /* what is wrong with the folder, writing will tell */
    return tu_fail(error, TU_SYSTEM_IO, "--log", "%s: %s", path, strerror(errno));
}

tu_status tu_rehearse_options_check(const tu_rehearse_options *options, tu_error *error)
{
    if (!options->scene_path)
        return tu_fail(error, TU_USAGE, "--scene",
                       "missing: the file that says what lies on the table");
    if (strcmp(options->program_path, "-") == 0 && strcmp(options->scene_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--scene",
                       "standard input can't be both the program and the scene");
    tu_status status = check_output(options, "--svg", options->svg_path, error);
    if (!status)
        status = check_output(options, "--log", options->log_path, error);
    if (!status && options->svg_path && options->log_path &&
        strcmp(options->svg_path, options->log_path) == 0)
        status = tu_fail(error, TU_USAGE, "--log", "names the same file as --svg");
    if (!status && options->series && !options->log_path)
        status = tu_fail(error, TU_USAGE, "--series", "names touches in a log: --log FILE");
    return status ? status : check_log(options->log_path, error);
}
