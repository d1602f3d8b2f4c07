/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_zero.c - the use case "zero": from a request to a work offset.
 */
#include "trueup/task_zero.h"

#include "record/clock.h"
#include "record/journal.h"
#include "task/touch_list.h"
#include "task/typed_length.h"
#include "task/used.h"
#include "task/zero/zero_bed_map.h"
#include "task/zero/zero_log.h"
#include "touch/request.h"
#include "touch/shown.h"
#include "trueup/shop.h"
#include "trueup/task_shop.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct tu_zero_run tu_zero_run;

/*
 *   setup    the request's, completed from shop file, log and map.
 *   touches  of a log.
 *   warnings  of log and map.
 */
struct tu_zero_run {
    const tu_task_zero_request *request;
    tu_zero_request setup;
    tu_shop *shop;
    tu_shop_place place;
    tu_touch_list touches[TU_AXIS_COUNT];
    tu_warnings warnings;
    tu_zero_result result;
};

tu_task_zero_request tu_task_zero_request_start(void)
{
    return (tu_task_zero_request){.plate_at = {NAN, NAN},
                                  .zero_at = {NAN, NAN},
                                  .setup = tu_zero_request_start(),
                                  .seat = -1};
}

/* --- What contradicts itself --- */

static bool has_touches(const tu_task_zero_request *request)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (tu_request_asks(&request->setup, (tu_axis)axis))
            return true;
    return false;
}

static tu_status check_log(const tu_task_zero_request *request, tu_error *error)
{
    if (!request->log && !has_touches(request))
        return tu_fail(error, TU_USAGE, "touches",
                       "none given: {touches.x}, {touches.y}, {touches.z} with the position at "
                       "contact, or {log} FILE");
    return TU_OK;
}

/* A map of the bed is about a plate that sat on the bed, and in machine coordinates. */
static tu_status check_bed_map(const tu_zero_run *run, tu_error *error)
{
    const tu_task_zero_request *request = run->request;
    if (!request->bed_map)
        return TU_OK;
    if (run->setup.seat != TU_SEAT_BED)
        return tu_fail(
            error, TU_USAGE, "{bed_map}",
            "carries the height of a plate that sat on the bed: say {seat} bed, or leave "
            "it out");
    if (!tu_target_asks(run->setup.target, TU_AXIS_Z))
        return tu_fail(error, TU_USAGE, "{bed_map}", "is about Z, which %s leaves alone",
                       tu_target_name(run->setup.target));
    if (isnan(request->plate_at.x))
        return tu_fail(error, TU_USAGE, "{plate_at}",
                       "missing: where on the bed the plate was touched, as in {plate_at} 100,80");
    return TU_OK;
}

static tu_status check(const tu_zero_run *run, tu_error *error)
{
    const tu_target target = run->setup.target;
    bool side = tu_target_asks(target, TU_AXIS_X) || tu_target_asks(target, TU_AXIS_Y);
    if (!*tu_target_name(target))
        return tu_fail(error, TU_USAGE, "{target}",
                       "missing: where the zero is wanted, as in front-left-top; or keep it: "
                       "{shop.table} target=front-left-top");
    tu_status status = check_bed_map(run, error);
    if (!status && run->setup.wall >= 0 && !(tu_target_is_face(target) && side))
        return tu_fail(error, TU_USAGE, "{wall}", "only for a single side face; at %s %s",
                       tu_target_name(target),
                       side ? "the corner settles which wall serves which axis"
                            : "no wall is touched");
    return status;
}

/* --- The set-up --- */

static bool touches_side(const tu_zero_request *setup)
{
    return tu_request_asks(setup, TU_AXIS_X) || tu_request_asks(setup, TU_AXIS_Y);
}

/* The touches, and the cutter where one matters: the sides. */
static tu_status find_touches(tu_zero_run *run, const char *cutter, tu_error *error)
{
    const tu_task_zero_request *request = run->request;
    tu_zero_request *setup = &run->setup;
    tu_status status = TU_OK;
    setup->machine = tu_shop_machine(run->shop);
    setup->stock = tu_shop_stock(run->shop);
    setup->read_unit = request->unit;
    if (request->log)
        status = tu_zero_log_read(request->log, request->series, setup->target,
                                  setup->plate->bore.present, run->touches, &run->warnings, error);
    for (int axis = 0; request->log && axis < TU_AXIS_COUNT; axis++)
        setup->touches[axis] = tu_touch_list_view(&run->touches[axis]);
    /* A bore does without a cutter, but checks one where it is plain which it was. */
    bool plain = cutter || tu_shop_cutter_count(run->shop) == 1;
    if (!status && (plain ? cutter || touches_side(setup)
                          : touches_side(setup) && !setup->plate->bore.present))
        status = tu_shop_find_cutter(run->shop, cutter, &setup->cutter, error);
    return status;
}

/* The set-up from the shop file. */
static tu_status look_up(tu_zero_run *run, tu_task_zero_story *story, tu_error *error)
{
    const tu_task_zero_request *request = run->request;
    tu_zero_request *setup = &run->setup;
    tu_status status = tu_task_shop_open(request->shop, &run->place, &run->shop, error);
    if (!status)
        status =
            tu_typed_unit_check(&request->typed, request->unit, run->shop, run->place.path, error);
    if (status)
        return status;
    const char *plate = tu_used_name(story->used, run->shop, TU_SHOP_PLATE, request->plate);
    const char *cutter = tu_used_name(story->used, run->shop, TU_SHOP_CUTTER, request->cutter);
    setup->seat = tu_used_seat(story->used, run->shop, request->seat);
    setup->target = tu_used_target(story->used, run->shop, setup->target);
    story->slot = tu_used_slot(story->used, run->shop, request->slot);
    tu_used_unit(story->used, request->unit, &request->typed);
    tu_used_place(story->used, run->place);
    status = tu_shop_find_plate(run->shop, plate, &setup->plate, error);
    if (!status)
        status = check(run, error);
    if (status)
        return status;
    return find_touches(run, cutter, error);
}

/* Touches of a log have no field of their own in the request. */
static void name_log(const char *path, tu_error *error, tu_warnings *warnings)
{
    char word[TU_AXIS_COUNT][120];
    const tu_field_word words[] = {
        {"touches.x", word[0]}, {"touches.y", word[1]}, {"touches.z", word[2]}};
    const tu_face of_log = {words, TU_AXIS_COUNT, NULL};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        snprintf(word[axis], sizeof word[axis], "%.100s: %c touches", path, "xyz"[axis]);
    if (error)
        tu_face_say_error(&of_log, error);
    tu_face_say_warnings(&of_log, warnings);
}

/* What was stated for the sides while no side was touched: perhaps a touch is missing. */
static void warn_unused(const tu_zero_run *run, tu_warnings *warnings)
{
    const tu_zero_request *setup = &run->setup;
    if (touches_side(&run->setup))
        return;
    if (tu_quantity_is_stated(setup->depth))
        tu_warn(warnings, "{depth} is not used: no side was touched.");
    if (!isnan(setup->turned_within_rad))
        tu_warn(warnings, "{turned_within} is not used: no side was touched.");
}

/* A stock that is 25.4 times as thick as the file has it, within what stock differs: a unit slip of
 * one of them. */
static void warn_other_thickness(const tu_zero_run *run, tu_warnings *warnings)
{
    const double near = 0.1;
    double stated_mm = run->setup.stock_thickness.value_mm;
    double ratio = stated_mm / run->setup.stock.size[TU_AXIS_Z].value_mm;
    bool many = fabs(ratio / TU_MM_PER_INCH - 1) <= near; /* false with NaN */
    if (many || fabs(ratio * TU_MM_PER_INCH - 1) <= near)
        tu_warn(warnings,
                "{stock_thickness}, %.3f mm, is about %s the stock z of the shop file: one of them "
                "is probably in the wrong unit.",
                stated_mm, many ? "25.4 times" : "1/25.4 of");
}

/* A feared angle asks for a border round the job, and the stock must have room for both. */
static void warn_small_stock(const tu_zero_run *run, tu_warnings *warnings)
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

static tu_status solve(tu_zero_run *run, tu_error *error)
{
    const tu_task_zero_request *request = run->request;
    tu_status status = tu_zero_solve(&run->setup, &run->result, error);
    if (!status && request->bed_map) { /* only now the corner's place on the map is known */
        const tu_machine *machine = &run->setup.machine;
        status = tu_zero_bed_map_read(request, machine, &run->result, &run->setup.bed_rise,
                                      &run->warnings, error);
        if (!status)
            status = tu_zero_solve(&run->setup, &run->result, error);
    }
    if (request->log)
        name_log(request->log, status ? error : NULL, &run->result.warnings);
    return status;
}

static void warn(tu_zero_run *run)
{
    tu_warnings *warnings = &run->result.warnings;
    warn_unused(run, warnings);
    warn_other_thickness(run, warnings);
    warn_small_stock(run, warnings);
    for (size_t i = 0; i < run->warnings.count; i++)
        tu_warn(warnings, "%s", run->warnings.text[i]);
}

/* --- The journal --- */

static tu_journal_entry entry_of(const tu_zero_run *run, const tu_task_zero_story *story)
{
    tu_journal_entry entry = {.time_s = tu_clock_now(),
                              .slot = story->slot,
                              .target = tu_target_name(run->setup.target),
                              .used = story->used};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const tu_axis_zero *zero = &run->result.axis[axis];
        entry.zero_mm[axis] = zero->asked ? zero->zero_mm : (double)NAN;
        entry.expanded_mm[axis] = zero->asked ? zero->uncertainty.expanded_mm : (double)NAN;
    }
    return entry;
}

/* "2 h" */
static void show_age(char *text, size_t size, double age_s)
{
    static const struct {
        double seconds;
        const char *name;
    } units[] = {{86400, "d"}, {3600, "h"}, {60, "min"}};
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (age_s >= units[i].seconds) {
            snprintf(text, size, "%.0f %s", floor(age_s / units[i].seconds), units[i].name);
            return;
        }
    snprintf(text, size, "less than a minute");
}

/* How far this zero lies from the last one of its slot and target. */
static tu_status compare_with_last(const tu_zero_run *run, tu_task_zero_story *story,
                                   tu_error *error)
{
    static const char *const way[TU_AXIS_COUNT][2] = {
        {"to the left", "to the right"}, {"to the front", "to the back"}, {"lower", "higher"}};
    const char *path = tu_shop_journal(run->shop);
    const tu_journal_entry now = entry_of(run, story);
    tu_journal_entry last;
    char age[40], *text = story->last;
    bool found = false, moved = false;
    tu_status status =
        path ? tu_journal_last(path, now.slot, now.target, &last, &found, error) : TU_OK;
    if (status || !found)
        return status;
    show_age(age, sizeof age, (double)(now.time_s - last.time_s));
    snprintf(text, TU_USED_SIZE, "The last zero of %s at %s, %s ago: this one is",
             tu_slot_name(now.slot), now.target, age);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double away_mm = now.zero_mm[axis] - last.zero_mm[axis];
        if (!(fabs(away_mm) >= 0.0005)) /* or NaN */
            continue;
        size_t used = strlen(text);
        snprintf(text + used, TU_USED_SIZE - used, "%s %s %s", moved ? "," : "",
                 tu_show_length(run->request->unit, fabs(away_mm)).text, way[axis][away_mm > 0]);
        moved = true;
    }
    size_t used = strlen(text);
    snprintf(text + used, TU_USED_SIZE - used, moved ? "." : " the same.");
    return TU_OK;
}

tu_status tu_task_zero(const tu_task_zero_request *request, tu_task_zero_story *story,
                       tu_error *error)
{
    *story = (tu_task_zero_story){0};
    tu_status status = check_log(request, error);
    if (status)
        return status;
    tu_zero_run *run = story->run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    run->request = request;
    run->setup = request->setup;
    story->result = &run->result;
    status = look_up(run, story, error);
    if (!status)
        status = solve(run, error);
    if (!status)
        status = compare_with_last(run, story, error);
    if (!status)
        warn(run);
    return status;
}

tu_status tu_task_zero_keep(const tu_task_zero_story *story, tu_error *error)
{
    const char *path = tu_shop_journal(story->run->shop);
    const tu_journal_entry entry = entry_of(story->run, story);
    return path ? tu_journal_add(path, &entry, error) : TU_OK;
}

void tu_task_zero_end(tu_task_zero_story *story)
{
    tu_zero_run *run = story->run;
    for (int axis = 0; run && axis < TU_AXIS_COUNT; axis++)
        tu_touch_list_destroy(&run->touches[axis]);
    if (run)
        tu_shop_destroy(run->shop);
    free(run);
    *story = (tu_task_zero_story){0};
}
