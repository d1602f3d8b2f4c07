/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_options.c - the option table of `trueup template`.
 */
#include "cli/template_options.h"

#include <math.h>
#include <string.h>

void tu_template_options_start(tu_template_options *options)
{
    *options = (tu_template_options){.shown_mm = {NAN, NAN, NAN}, .unit = TU_UNIT_MM};
}

static tu_status take_line(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    (void)option;
    tu_template_options *options = request;
    if (options->line_count == TU_TEMPLATE_LINES_MAX)
        return tu_fail(error, TU_USAGE, NULL, "given more than %d times", TU_TEMPLATE_LINES_MAX);
    options->line[options->line_count++] = argument;
    return TU_OK;
}

static tu_status take_unit(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    tu_template_options *options = request;
    options->typed.stated = true;
    return tu_option_take_unit(request, option, argument, error);
}

static tu_status take_place(void *request, const tu_option *option, const char *argument,
                            tu_error *error)
{
    tu_template_options *options = request;
    tu_quantity quantity;
    tu_status status =
        tu_quantity_parse(argument, strlen(argument), options->unit, &quantity, error);
    if (status)
        return status;
    if (!isnan(quantity.tolerance_mm))
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "a position has no tolerance, found \"%s\"; type what the controller shows",
                       argument);
    *(double *)(void *)((char *)request + option->offset) = quantity.value_mm;
    tu_typed_unit_note(&options->typed, argument);
    return TU_OK;
}

#define AT(member) offsetof(tu_template_options, member)

static const tu_option template_options[] = {
    {"line", "TEXT", .repeatable = true, .take = take_line,
     .help = "a line that the controller printed; the first one gives the template, the others are "
             "read by it. Left out: lines come from standard input"},
    {"x", "Q", .take = take_place, .offset = AT(shown_mm[TU_AXIS_X]),
     .help = "X that the controller showed with the first line, with all its digits"},
    {"y", "Q", .take = take_place, .offset = AT(shown_mm[TU_AXIS_Y]), .help = "Y, likewise"},
    {"z", "Q", .take = take_place, .offset = AT(shown_mm[TU_AXIS_Z]), .help = "Z, likewise"},
    {"template", "TEXT", .take = tu_option_take_text, .offset = AT(template_text),
     .help = "try this template instead of working one out, as in \"touch x={x} y={y} z={z}\""},
    {"unit", "mm|in", .early = true, .take = take_unit, .offset = AT(unit),
     .help =
         "of the line's positions, and of bare numbers here (default mm); --save writes it into "
         "the template"},
    {"shop", "FILE", .take = tu_option_take_text, .offset = AT(shop_path),
     .help = "the shop file: the machine's travel, and where --save writes"},
    {"save", "NAME", .take = tu_option_take_text, .offset = AT(save_name),
     .help = "write the template into the shop file under this name; everything else in it stays "
             "as it is"},
};

const tu_syntax tu_template_syntax_table = {
    .options = template_options,
    .count = sizeof template_options / sizeof *template_options,
};

/* What an edit of the shop file can name (shop.h). */
static bool is_key(const char *name)
{
    size_t length = strspn(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_");
    return length > 0 && name[length] == '\0' && length < TU_NAME_SIZE;
}

static tu_status check_place(const tu_template_options *options, tu_error *error)
{
    static const char *const names[] = {"--x", "--y", "--z"};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        bool stated = !isnan(options->shown_mm[axis]);
        if (options->template_text && stated)
            return tu_fail(error, TU_USAGE, names[axis],
                           "a position is for working a template out, and --template states one; "
                           "leave one of them out");
        if (!options->template_text && !stated)
            return tu_fail(error, TU_USAGE, names[axis],
                           "is missing: give the X, Y and Z that the controller showed with the "
                           "line, or a --template");
    }
    return TU_OK;
}

tu_status tu_template_options_check(const tu_template_options *options, tu_error *error)
{
    if (options->save_name && !options->shop_path)
        return tu_fail(error, TU_USAGE, "--save", "needs --shop, the file to write into");
    if (options->save_name && strcmp(options->shop_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--save",
                       "can't write into standard input; give --shop a file");
    if (options->save_name && !is_key(options->save_name))
        return tu_fail(error, TU_USAGE, "--save",
                       "a template's name is made of letters a to z, digits and _, at most %d, "
                       "found \"%s\"",
                       TU_NAME_SIZE - 1, options->save_name);
    if (!options->line_count && options->shop_path && strcmp(options->shop_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--shop",
                       "standard input can't be both the shop file and the lines; give --line");
    return check_place(options, error);
}
