/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_zero.c - `trueup zero`: touches to a work offset.
 */
#include "cli/command.h"
#include "cli/face.h"
#include "cli/zero_bed_map.h"
#include "cli/zero_log.h"
#include "cli/zero_options.h"
#include "trueup/report.h"
#include "trueup/shop.h"
#include "trueup/zero.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What a run holds until its end. */
typedef struct zero_run {
    tu_zero_options options;
    tu_shop *shop;
    tu_warnings log_warnings;
    tu_zero_result result;
} zero_run;

static bool touches_side(const zero_run *run)
{
    const tu_touch_list *touches = run->options.touches;
    for (int kind = 0; kind < TU_TOUCH_KINDS; kind++)
        if (touches[TU_AXIS_X].count[kind] || touches[TU_AXIS_Y].count[kind])
            return true;
    return false;
}

/* The set-up from the shop file. A cutter is looked up only where one matters: the sides. */
static tu_status look_up(zero_run *run, tu_error *error)
{
    tu_zero_options *options = &run->options;
    tu_zero_request *request = &options->request;
    tu_status status = tu_shop_read(options->shop_path, &run->shop, error);
    if (!status)
        status = tu_typed_unit_check(&options->common.typed, options->unit, run->shop,
                                     options->shop_path, error);
    if (!status)
        status = tu_shop_find_plate(run->shop, options->plate_name, &request->plate, error);
    if (status)
        return status;
    request->machine = tu_shop_machine(run->shop);
    request->stock = tu_shop_stock(run->shop);
    request->read_unit = options->unit;
    if (options->log_path)
        status = tu_zero_log_read(options->log_path, options->series, request->target,
                                  request->plate->bore.present, options->touches,
                                  &run->log_warnings, error);
    /* A bore does without a cutter, but checks one where it is plain which it was. */
    bool plain = options->cutter_name || tu_shop_cutter_count(run->shop) == 1;
    if (!status && (plain ? options->cutter_name || touches_side(run)
                          : touches_side(run) && !request->plate->bore.present))
        status = tu_shop_find_cutter(run->shop, options->cutter_name, &request->cutter, error);
    return status;
}

/* Touches that came from a log came by no option. */
static void name_log(const tu_zero_options *options, tu_error *error, tu_warnings *warnings)
{
    char word[TU_AXIS_COUNT][120];
    const tu_field_word words[] = {
        {"touches.x", word[0]}, {"touches.y", word[1]}, {"touches.z", word[2]}};
    const tu_face of_log = {words, TU_AXIS_COUNT, NULL};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        snprintf(word[axis], sizeof word[axis], "%.100s: %c touches", options->log_path,
                 "xyz"[axis]);
    if (error)
        tu_face_say_error(&of_log, error);
    tu_face_say_warnings(&of_log, warnings);
}

/* What was stated for the sides while no side was touched: perhaps a touch is missing. */
static void warn_unused(const zero_run *run, tu_warnings *warnings)
{
    const tu_zero_request *request = &run->options.request;
    if (touches_side(run))
        return;
    if (tu_quantity_is_stated(request->depth))
        tu_warn(warnings, "--depth is not used: no side was touched.");
    if (!isnan(request->turned_within_rad))
        tu_warn(warnings, "--turned-within is not used: no side was touched.");
}

/* A stock that is 25.4 times as thick as the file has it, within what stock differs: a unit slip of
 * one of them. */
static void warn_other_thickness(const zero_run *run, tu_warnings *warnings)
{
    const double near = 0.1;
    double stated_mm = run->options.request.stock_thickness.value_mm;
    double ratio = stated_mm / run->options.request.stock.size[TU_AXIS_Z].value_mm;
    bool many = fabs(ratio / TU_MM_PER_INCH - 1) <= near; /* false with NaN */
    if (many || fabs(ratio * TU_MM_PER_INCH - 1) <= near)
        tu_warn(warnings,
                "--stock-thickness, %.3f mm, is about %s the stock z of the shop file: one of them "
                "is probably in the wrong unit.",
                stated_mm, many ? "25.4 times" : "1/25.4 of");
}

/* A feared angle asks for a border round the job, and the stock must have room for both. */
static void warn_small_stock(const zero_run *run, tu_warnings *warnings)
{
    const double *needed = run->result.fear.stock_needed_mm;
    const double *size = run->result.stock_size_mm;
    if (size[TU_AXIS_X] < needed[TU_AXIS_X] || size[TU_AXIS_Y] < needed[TU_AXIS_Y]) /* or NaN */
        tu_warn(
            warnings,
            "the job with its border needs a stock of %.1f x %.1f mm, and that of the shop file "
            "has %.1f x %.1f mm: straighten it, or take a larger one.",
            needed[TU_AXIS_X], needed[TU_AXIS_Y], size[TU_AXIS_X], size[TU_AXIS_Y]);
}

static tu_status solve(zero_run *run, tu_error *error)
{
    tu_zero_request *request = &run->options.request;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        request->touches[axis] = tu_touch_list_view(&run->options.touches[axis]);
    tu_status status = tu_zero_solve(request, &run->result, error);
    if (!status &&
        run->options.bed_map_path) { /* only now the corner's place on the map is known */
        status = tu_zero_bed_map_read(&run->options, &run->result, &request->bed_rise,
                                      &run->log_warnings, error);
        if (!status)
            status = tu_zero_solve(request, &run->result, error);
    }
    if (run->options.log_path)
        name_log(&run->options, status ? error : NULL, &run->result.warnings);
    if (!status) {
        warn_unused(run, &run->result.warnings);
        warn_other_thickness(run, &run->result.warnings);
        warn_small_stock(run, &run->result.warnings);
    }
    for (size_t i = 0; !status && i < run->log_warnings.count; i++)
        tu_warn(&run->result.warnings, "%s", run->log_warnings.text[i]);
    return status;
}

static tu_zero_style style_of(const tu_zero_options *options)
{
    return (tu_zero_style){.unit = options->unit,
                           .slot = options->slot,
                           .budget = options->budget,
                           .explain = options->explain};
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const zero_run *run = of;
    const tu_zero_style style = style_of(&run->options);
    return run->options.json ? tu_report_zero_json(out, &run->result, &style, error)
                             : tu_report_zero_text(out, &run->result, &style, error);
}

static tu_status draw(FILE *out, const void *of, tu_error *error)
{
    const zero_run *run = of;
    const tu_zero_style style = style_of(&run->options);
    return tu_report_zero_svg(out, &run->result, &style, error);
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const zero_run *run = of;
    file[0] = (tu_output_file){run->options.svg_path, draw};
}

static void start(void *of)
{
    zero_run *run = of;
    tu_zero_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    zero_run *run = of;
    tu_status status = tu_zero_options_check(&run->options, error);
    if (!status)
        status = look_up(run, error);
    return status ? status : solve(run, error);
}

static tu_warnings *warnings_of(void *of)
{
    return &((zero_run *)of)->result.warnings;
}

static void end(void *of)
{
    zero_run *run = of;
    tu_shop_destroy(run->shop);
    tu_zero_options_destroy(&run->options);
}

const tu_command tu_command_zero = {
    .name = "zero",
    .summary = "touches -> work offset, uncertainty, drawing, the line to enter",
    .about =
        "Works out the work offset of TARGET from touches on a plate. TARGET is a corner of the "
        "stock, {front|back}-{left|right}-{top|bottom}, or a face alone: left, right, front, "
        "back, top, bottom. Seen from the front of the machine X+ is right, Y+ back, Z+ up.\n\n"
        "Touches are machine coordinates of the spindle's axis and the cutter's tip at contact. "
        "Lengths: 6.35, 6.35mm, 0.25in, 1-1/2in; with a tolerance 9.53mm+-0.02mm.",
    .example = "  trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter \\\n"
               "    --x 100.000 --y 80.000 --z -40.120 --svg setup.svg\n",
    .syntax = &tu_zero_syntax_table,
    .size = sizeof(zero_run),
    .start = start,
    .work = work,
    .files = name_files,
    .answer = write_answer,
    .warnings = warnings_of,
    .end = end,
};
