/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_options.c - the option table of `trueup template`.
 */
#include "cli/template_options.h"

void tu_template_options_start(tu_template_options *options)
{
    *options = (tu_template_options){.task = tu_task_template_request_start()};
}

#define AT(member)                TU_AT(tu_template_options, member)
#define LIST(array, count, limit) TU_LIST(tu_template_options, array, count, limit)

static const tu_option template_options[] = {
    {"line", "TEXT", .take = tu_option_take_text,
     LIST(task.line, task.line_count, TU_TEMPLATE_LINES_MAX),
     .help = "a line that the controller printed; the first one gives the template, the others are "
             "read by it. Left out: lines come from standard input"},
    {"x", "Q", .take = tu_option_take_length, AT(task.shown_mm[TU_AXIS_X]),
     .help = "X that the controller showed with the first line, with all its digits"},
    {"y", "Q", .take = tu_option_take_length, AT(task.shown_mm[TU_AXIS_Y]), .help = "Y, likewise"},
    {"z", "Q", .take = tu_option_take_length, AT(task.shown_mm[TU_AXIS_Z]), .help = "Z, likewise"},
    {"template", "TEXT", .take = tu_option_take_text, AT(task.text),
     .excludes = {"x y z", "states a template, and a position is for working one out"},
     .help = "try this template instead of working one out, as in \"touch x={x} y={y} z={z}\""},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(task.unit),
     .help =
         "of the line's positions, and of bare numbers here (default mm); --save writes it into "
         "the template"},
    {"shop", "FILE", .take = tu_option_take_input, AT(task.shop),
     .help = "the shop file: the machine's travel, and where --save writes"},
    {"save", "NAME", .take = tu_option_take_text, AT(task.save),
     .needs = {"shop", "writes into the shop file"},
     .help = "write the template into the shop file under this name; everything else in it stays "
             "as it is"},
};

const tu_syntax tu_template_syntax_table = {
    .options = template_options,
    .count = sizeof template_options / sizeof *template_options,
};
