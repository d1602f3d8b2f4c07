/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_plate.c - the use case "plate": from touches on a plate and a block to what it measures.
 */
#include "trueup/task_plate.h"

#include "base/utf8.h"
#include "task/plate/plate_list.h"
#include "task/plate/plate_log.h"
#include "task/plate/plate_save.h"
#include "task/typed_length.h"
#include "trueup/shop.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct tu_plate_run tu_plate_run;

/* fresh: the new plate, walls and bore without figures. */
struct tu_plate_run {
    const tu_task_plate_request *request;
    tu_shop *shop;
    tu_plate fresh;
    tu_plate_list touches;
    tu_calibration_request asked;
    tu_calibration_result result;
    tu_plate_saved saved;
};

tu_task_plate_request tu_task_plate_request_start(void)
{
    const tu_quantity none = tu_quantity_none();
    return (tu_task_plate_request){.depth = none, .block = {none, none}, .slot = {none, none}};
}

/* --- What contradicts itself --- */

/* The shop file takes any name but these; what JSON would have to escape is refused here. */
static tu_status check_new_name(const char *name, tu_error *error)
{
    size_t length = strlen(name);
    bool plain = length < TU_NAME_SIZE && name[0] != ' ' && name[length - 1] != ' ' &&
                 !tu_utf8_has_control(name);
    for (const char *c = name; *c != '\0'; c++)
        plain = plain && strchr("\"\\/=", *c) == NULL;
    if (!plain)
        return tu_fail(error, TU_USAGE, "{new}",
                       "a name has at most %d bytes, no quotes, slashes, = or control characters, "
                       "no space at its ends",
                       TU_NAME_SIZE - 1);
    return TU_OK;
}

static tu_status check(const tu_task_plate_request *request, tu_error *error)
{
    if (!request->shop)
        return tu_fail(error, TU_USAGE, "{shop}", "missing: the file with your plates and cutters");
    if (request->save && strcmp(request->shop, "-") == 0)
        return tu_fail(error, TU_USAGE, "{save}",
                       "cannot write to standard input; name the shop file with {shop}");
    if (request->contact_count == 0)
        return tu_fail(error, TU_USAGE, "{touch}",
                       "missing: the contacts, as in {touch} left/a/quarter=100.000,100.002");
    bool from_log = false;
    for (size_t k = 0; k < request->contact_count; k++)
        from_log = from_log || request->contact[k].series;
    if (from_log && !request->log)
        return tu_fail(error, TU_USAGE, "{log}", "missing: the hit log that @SERIES is in");
    if (!from_log && request->log)
        return tu_fail(error, TU_USAGE, "{log}",
                       "no touch is taken from it; name a series, as in {touch} "
                       "left/a/quarter=@SERIES");
    return request->new_plate ? check_new_name(request->new_plate, error) : TU_OK;
}

/* --- What was touched --- */

static void make_fresh(tu_plate_run *run)
{
    const tu_task_plate_request *request = run->request;
    tu_plate *plate = &run->fresh;
    *plate = tu_plate_start();
    snprintf(plate->name, sizeof plate->name, "%s", request->new_plate);
    plate->turned = !request->not_turned;
    plate->bore.present = request->bore;
    plate->bore.touch_depth = request->depth;
    for (int k = 0; k < 2; k++) {
        plate->wall[k].touch_depth = request->depth;
        plate->wall[k].present = request->facing[k] != 0;
        if (plate->wall[k].present)
            plate->wall[k].facing = (tu_facing)request->facing[k];
    }
}

static tu_status find_plate(tu_plate_run *run, tu_error *error)
{
    const tu_task_plate_request *request = run->request;
    if (!request->new_plate)
        return tu_shop_find_plate(run->shop, request->plate, &run->asked.plate, error);
    const tu_plate *there = NULL;
    if (!tu_shop_find_plate(run->shop, request->new_plate, &there, NULL))
        return tu_fail(error, TU_USAGE, "{new}",
                       "%s is in the shop file already; use {plate} %s, or another name",
                       there->name, there->name);
    make_fresh(run);
    run->asked.plate = &run->fresh;
    return TU_OK;
}

static tu_status take_contact(tu_plate_run *run, const tu_plate_contact *contact, tu_error *error)
{
    char where[TU_ERROR_WHERE_SIZE];
    tu_calibration_touch touch = contact->touch;
    tu_status status = TU_OK;
    snprintf(where, sizeof where, "{touch} %s", contact->name);
    if (touch.axis != TU_AXIS_Z)
        status = tu_plate_list_cutter(&run->touches, run->shop,
                                      *contact->cutter ? contact->cutter : NULL, where,
                                      &touch.cutter, error);
    if (status)
        return status;
    if (contact->series)
        return tu_plate_log_read(&run->touches, run->request->log, contact->series,
                                 run->asked.plate, touch, where, error);
    for (size_t k = 0; !status && k < contact->count; k++) {
        if (contact->touch.contact == TU_CONTACT_BORE_LOW)
            touch.contact = k % 2 ? TU_CONTACT_BORE_HIGH : TU_CONTACT_BORE_LOW;
        touch.position_mm = contact->position_mm[k];
        status = tu_plate_list_add(&run->touches, touch, error);
    }
    return status;
}

static tu_status look_up(tu_plate_run *run, tu_error *error)
{
    const tu_task_plate_request *request = run->request;
    tu_calibration_request *asked = &run->asked;
    tu_status status = tu_shop_read(request->shop, &run->shop, error);
    if (!status)
        status =
            tu_typed_unit_check(&request->typed, request->unit, run->shop, request->shop, error);
    if (!status)
        status = find_plate(run, error);
    for (size_t k = 0; !status && k < request->contact_count; k++)
        status = take_contact(run, &request->contact[k], error);
    if (status)
        return status;
    memcpy(asked->block, request->block, sizeof asked->block);
    memcpy(asked->slot, request->slot, sizeof asked->slot);
    memcpy(asked->cutters, run->touches.cutter, sizeof asked->cutters);
    asked->cutter_count = run->touches.cutter_count;
    asked->trust_cutters = request->trust_cutters;
    asked->machine = tu_shop_machine(run->shop);
    asked->touches = run->touches.touch;
    asked->touch_count = run->touches.count;
    if (request->trust_cutters && asked->cutter_count == 0)
        return tu_fail(error, TU_USAGE, "{trust_cutters}", "no touch names a cutter");
    return TU_OK;
}

/* --- The work --- */

tu_status tu_task_plate(const tu_task_plate_request *request, tu_task_plate_story *story,
                        tu_error *error)
{
    *story = (tu_task_plate_story){0};
    tu_status status = check(request, error);
    if (status)
        return status;
    tu_plate_run *run = story->run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    run->request = request;
    run->asked = tu_calibration_request_start();
    story->asked = &run->asked;
    story->result = &run->result;
    story->saved = run->saved.list;
    status = look_up(run, error);
    if (!status)
        status = tu_calibrate_solve(&run->asked, &run->result, error);
    for (size_t k = 0; !status && k < run->touches.warnings.count; k++)
        tu_warn(&run->result.warnings, "%s", run->touches.warnings.text[k]);
    for (size_t k = 0; !status && k < run->result.advice_count; k++) {
        tu_advice *advice = &run->result.advice[k];
        tu_face_say(request->face, advice->text, advice->text, sizeof advice->text);
    }
    return status;
}

tu_status tu_task_plate_save(tu_task_plate_story *story, tu_error *error)
{
    tu_plate_run *run = story->run;
    tu_status status =
        tu_plate_save(run->shop, run->request, &run->asked, &run->result, &run->saved, error);
    story->saved_count = run->saved.count;
    story->not_saved = run->saved.not_saved;
    return status;
}

tu_status tu_task_plate_verdict(const tu_task_plate_story *story, tu_error *error)
{
    for (size_t k = 0; k < story->result->count; k++) {
        const tu_calibrated *figure = &story->result->figure[k];
        if (figure->needed && !figure->determined) {
            char name[TU_FIGURE_NAME_SIZE];
            tu_calibrated_name(name, story->asked, figure);
            return tu_fail(
                error, TU_UNDETERMINED, name,
                "not determined by these touches; the answer says which would settle it");
        }
    }
    return TU_OK;
}

void tu_task_plate_end(tu_task_plate_story *story)
{
    if (story->run) {
        tu_plate_list_destroy(&story->run->touches);
        tu_shop_destroy(story->run->shop);
    }
    free(story->run);
    *story = (tu_task_plate_story){0};
}
