/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_plan.c - `trueup plan`: writes a touch program.
 */
#include "base/sheet.h"
#include "cli/command.h"
#include "cli/face.h"
#include "cli/plan_options.h"
#include "trueup/report.h"
#include "trueup/shop.h"

#include <stdio.h>
#include <string.h>

/* What a run holds until its end. */
typedef struct plan_run {
    tu_plan_options options;
    tu_shop *shop;
    tu_machine machine;
    tu_plan_summary summary;
    tu_sheet program;
    tu_sheet answer;
} plan_run;

static bool touches_side(const tu_plan_options *options)
{
    const tu_target *target = &options->place.target;
    if (options->what == TU_PLAN_TRIALS)
        return options->trials.axis != TU_AXIS_Z;
    return target->outward[TU_AXIS_X] || target->outward[TU_AXIS_Y];
}

/* The set-up from the shop file: a plate and a cutter where the plan needs one. */
static tu_status look_up(plan_run *run, tu_error *error)
{
    tu_plan_options *options = &run->options;
    tu_plan_corner *place = &options->place;
    tu_status status = tu_shop_read(options->shop_path, &run->shop, error);
    if (!status)
        status = tu_typed_unit_check(&options->common.typed, options->style.unit, run->shop,
                                     options->shop_path, error);
    if (status)
        return status;
    run->machine = tu_shop_machine(run->shop);
    if (!tu_quantity_is_stated(place->stock_thickness))
        place->stock_thickness = tu_shop_stock(run->shop).size[TU_AXIS_Z];
    if (options->what != TU_PLAN_GRID && !options->bare)
        status = tu_shop_find_plate(run->shop, options->plate_name, &place->plate, error);
    bool needs_cutter = options->what == TU_PLAN_GRID ||
                        (options->what != TU_PLAN_SURFACE && touches_side(options));
    if (!status && (needs_cutter || options->cutter_name))
        status = tu_shop_find_cutter(run->shop, options->cutter_name, &place->cutter, error);
    return status;
}

static tu_status write_program(plan_run *run, tu_error *error)
{
    tu_plan_options *options = &run->options;
    const tu_plan_style *style = &options->style;
    FILE *out = run->program.stream;
    options->place.machine = &run->machine;
    char *series = options->place.series;
    if (options->series && strlen(options->series) >= TU_NAME_SIZE)
        return tu_fail(error, TU_DATA_RANGE, "--series", "is longer than %d characters",
                       TU_NAME_SIZE - 1);
    snprintf(series, TU_NAME_SIZE, "%s", options->series ? options->series : "");
    switch (options->what) {
    case TU_PLAN_SURFACE: {
        tu_plan_surface plan = {.machine = &run->machine, .plate = options->place.plate};
        memcpy(plan.series, series, TU_NAME_SIZE);
        return tu_plan_write_surface(out, &plan, style, &run->summary, error);
    }
    case TU_PLAN_GRID:
        options->grid.machine = &run->machine;
        options->grid.cutter = options->place.cutter;
        memcpy(options->grid.series, series, TU_NAME_SIZE);
        return tu_plan_write_grid(out, &options->grid, style, &run->summary, error);
    case TU_PLAN_TRIALS:
        options->trials.place = options->place;
        return tu_plan_write_trials(out, &options->trials, style, &run->summary, error);
    case TU_PLAN_CORNER:
    case TU_PLAN_NOTHING:
        break;
    }
    return tu_plan_write_corner(out, &options->place, style, &run->summary, error);
}

static tu_status plan(plan_run *run, tu_error *error)
{
    tu_status status = tu_sheet_open(&run->program, error);
    if (!status)
        status = write_program(run, error);
    return status ? status : tu_sheet_finish(&run->program, error);
}

static tu_status make_answer(plan_run *run, tu_error *error)
{
    const tu_plan_options *options = &run->options;
    tu_status status = tu_sheet_open(&run->answer, error);
    if (!status && options->json)
        status = tu_report_plan_json(run->answer.stream, &run->summary,
                                     options->out_path ? NULL : run->program.text, error);
    else if (!status)
        status = tu_report_plan_text(run->answer.stream, &run->summary, options->style.unit, error);
    return status ? status : tu_sheet_finish(&run->answer, error);
}

static void start(void *of)
{
    plan_run *run = of;
    tu_plan_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    plan_run *run = of;
    tu_status status = tu_plan_options_check(&run->options, error);
    if (!status)
        status = look_up(run, error);
    if (!status)
        status = plan(run, error);
    return status ? status : make_answer(run, error);
}

static bool answers_out(const plan_run *run)
{
    return run->options.out_path || run->options.json;
}

static tu_status write_sheet(FILE *out, const tu_sheet *sheet)
{
    fwrite(sheet->text, 1, sheet->length, out); /* whoever owns the stream sees what was lost */
    return TU_OK;
}

static tu_status write_program_text(FILE *out, const void *of, tu_error *error)
{
    (void)error;
    return write_sheet(out, &((const plan_run *)of)->program);
}

/* What to know of the program to stdout, or, where the program stands there, to stderr. */
static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const plan_run *run = of;
    (void)error;
    return write_sheet(out, answers_out(run) ? &run->answer : &run->program);
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const plan_run *run = of;
    file[0] = (tu_output_file){run->options.out_path, write_program_text};
}

static tu_warnings *warnings_of(void *of)
{
    plan_run *run = of;
    return &run->summary.warnings;
}

static tu_status verdict(const void *of, tu_error *error)
{
    const plan_run *run = of;
    (void)error;
    return answers_out(run) ? TU_OK : write_sheet(stderr, &run->answer);
}

static void end(void *of)
{
    plan_run *run = of;
    tu_sheet_destroy(&run->program);
    tu_sheet_destroy(&run->answer);
    tu_shop_destroy(run->shop);
}

const tu_command tu_command_plan = {
    .name = "plan",
    .summary = "writes a touch program: a corner, a surface, a grid, a trial series",
    .about =
        "Writes a touch program in RS274/NGC. WHAT is one of:\n\n"
        "corner TARGET: the touches that zero needs, at a corner of the stock or a face, by the "
        "plate's walls or its bore;\n\n"
        "surface: touches straight down at one place;\n\n"
        "grid: the heights of the bed over an area, round clamps and screws;\n\n"
        "trials [TARGET]: many touches of one place, to know how well they repeat.\n\n"
        "The program's head says where the tip must be at its start, how much space it needs, and "
        "how far a dead circuit would press. Read it before you start, and rehearse the program: "
        "trueup rehearse. Feeds are in mm/min, with --unit in in in/min.",
    .example = "  trueup plan corner front-left-top --shop shop.json --plate offcut \\\n"
               "    --cutter quarter --out front-left.ngc\n"
               "  trueup plan grid --shop shop.json --cutter pin --area 0,0,400,300 \\\n"
               "    --columns 9 --rows 7 --keep-out 180,-20,220,40 --out bed.ngc\n"
               "  trueup plan trials --shop shop.json --plate slab --axis z --feeds 20,60,120\n",
    .syntax = &tu_plan_syntax_table,
    .size = sizeof(plan_run),
    .start = start,
    .work = work,
    .files = name_files,
    .answer = write_answer,
    .warnings = warnings_of,
    .verdict = verdict,
    .end = end,
};
