/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_options.c - the option table of `trueup rehearse`.
 */
#include "cli/rehearse_options.h"

void tu_rehearse_options_start(tu_rehearse_options *options)
{
    *options = (tu_rehearse_options){.task = tu_task_rehearse_request_start()};
}

#define AT(member) TU_AT(tu_rehearse_options, member)

static const tu_option rehearse_options[] = {
    {"scene", "FILE", .take = tu_option_take_input, AT(task.scene),
     .help = "the scene file: bed, stock, plate, cutter, clamps, where they truly are; - is "
             "standard input"},
    {"target", "TARGET", .take = tu_option_take_target, AT(task.target),
     .help = "compare the offset that the program sets with the true zero of this corner or face "
             "(default: the corner that the scene's plate lies on)"},
    {"within", "Q", .take = tu_option_take_length, AT(task.within_mm), .sign = TU_ABOVE_ZERO,
     .help = "exit with 1 also when an offset was set farther from the truth than this"},
    {"svg", "FILE", .take = tu_option_take_output, AT(svg_path),
     .help = "draw the path in plan and from the side"},
    {"log", "FILE", .take = tu_option_take_output, AT(task.log),
     .help = "write the touches as a hit log, a new file, for trueup zero --log; only when the "
             "program ran clean"},
    {"series", "NAME", .take = tu_option_take_series, AT(task.series),
     .needs = {"log", "names touches in a log"},
     .help = "in the log, of touches for which the program names no series"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(unit),
     .help = "of the answer and the drawing (default mm)"},
    {"json", .take = tu_option_take_flag, AT(json),
     .help = "write the answer as JSON: millimetres and seconds"},
};

const tu_syntax tu_rehearse_syntax_table = {
    .options = rehearse_options,
    .count = sizeof rehearse_options / sizeof *rehearse_options,
    .operand = {.argument = "FILE",
                .take = tu_option_take_input,
                AT(task.program),
                .help = "the touch program, RS274/NGC; - is standard input"},
    .operand_required = true,
};
