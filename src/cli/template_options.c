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

#define AT(member)                TU_AT(tu_template_options, member)
#define LIST(array, count, limit) TU_LIST(tu_template_options, array, count, limit)

static const tu_option template_options[] = {
    {"line", "TEXT", .take = tu_option_take_text, LIST(line, line_count, TU_TEMPLATE_LINES_MAX),
     .help = "a line that the controller printed; the first one gives the template, the others are "
             "read by it. Left out: lines come from standard input"},
    {"x", "Q", .take = tu_option_take_length, AT(shown_mm[TU_AXIS_X]),
     .help = "X that the controller showed with the first line, with all its digits"},
    {"y", "Q", .take = tu_option_take_length, AT(shown_mm[TU_AXIS_Y]), .help = "Y, likewise"},
    {"z", "Q", .take = tu_option_take_length, AT(shown_mm[TU_AXIS_Z]), .help = "Z, likewise"},
    {"template", "TEXT", .take = tu_option_take_text, AT(template_text),
     .excludes = {"x y z", "states a template, and a position is for working one out"},
     .help = "try this template instead of working one out, as in \"touch x={x} y={y} z={z}\""},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(unit),
     .help =
         "of the line's positions, and of bare numbers here (default mm); --save writes it into "
         "the template"},
    {"shop", "FILE", .take = tu_option_take_input, AT(shop_path),
     .help = "the shop file: the machine's travel, and where --save writes"},
    {"save", "NAME", .take = tu_option_take_text, AT(save_name),
     .needs = {"shop", "writes into the shop file"},
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
        if (!options->template_text && !stated)
            return tu_fail(error, TU_USAGE, names[axis],
                           "is missing: give the X, Y and Z that the controller showed with the "
                           "line, or a --template");
    }
    return TU_OK;
}

tu_status tu_template_options_check(const tu_template_options *options, tu_error *error)
{
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
