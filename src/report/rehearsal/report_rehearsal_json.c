/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_rehearsal_json.c - a rehearsed program as JSON: millimetres and seconds, every number so
 * that it reads back as the same double; what is not known is absent. docs/rehearse.md lists the
 * keys.
 */
#include "report/json_build.h"
#include "report/rehearsal/rehearsal_words.h"
#include "trueup/report.h"

#include <math.h>

static const char *axis_name(int axis)
{
    static const char *const names[TU_AXIS_COUNT] = {"x", "y", "z"};
    return names[axis];
}

static bool add_point(cJSON *parent, tu_machine_point point)
{
    return tu_json_add_known(parent, "x", point.x) && tu_json_add_known(parent, "y", point.y) &&
           tu_json_add_known(parent, "z", point.z);
}

static bool add_place(cJSON *parent, const char *name, tu_machine_point point)
{
    cJSON *item = tu_json_add(parent, name, cJSON_CreateObject());
    return item && add_point(item, point);
}

static bool add_verdict(cJSON *root, const tu_rehearsal_story *story)
{
    const tu_rehearsal *result = &story->result;
    if (tu_story_is_mismatched(story))
        return tu_json_add_text(root, "verdict", "mismatch");
    if (result->fault == TU_FAULT_NONE)
        return tu_json_add_text(root, "verdict", tu_story_is_off(story) ? "off" : "clean");
    cJSON *item = tu_json_add_text(root, "verdict", "fault")
                      ? tu_json_add(root, "fault", cJSON_CreateObject())
                      : NULL;
    bool pressed = result->pressed_mm > 0;
    return item && tu_json_add_text(item, "kind", tu_fault_name(result->fault)) &&
           (!result->line || tu_json_add_number(item, "line", (double)result->line)) &&
           tu_json_add_text(item, "text", result->text) &&
           (!*result->struck || tu_json_add_text(item, "struck", result->struck)) &&
           add_place(item, "at", result->at) &&
           (!pressed || tu_json_add_number(item, "pressed", result->pressed_mm));
}

static bool add_mismatches(cJSON *root, const tu_rehearsal *result)
{
    cJSON *mismatches =
        result->mismatch_count ? tu_json_add(root, "mismatches", cJSON_CreateArray()) : NULL;
    bool ok = mismatches != NULL || !result->mismatch_count;
    for (size_t i = 0; ok && i < result->mismatch_count; i++) {
        const tu_mismatch *mismatch = &result->mismatch[i];
        cJSON *item = tu_json_append(mismatches, cJSON_CreateObject());
        ok = item && tu_json_add_text(item, "what", mismatch->what) &&
             tu_json_add_text(item, "text", mismatch->text) &&
             tu_json_add_known(item, "made_for", mismatch->made_for_mm) &&
             tu_json_add_known(item, "found", mismatch->found_mm);
    }
    return ok;
}

static bool add_touch(cJSON *hits, const tu_rehearsal_touch *touch)
{
    const tu_hit *hit = &touch->hit;
    cJSON *item = tu_json_append(hits, cJSON_CreateObject());
    return item && tu_json_add_number(item, "seq", (double)hit->sequence) &&
           tu_json_add_number(item, "line", (double)touch->line) &&
           tu_json_add_number(item, "t", (double)hit->device_us / 1e6) &&
           add_point(item, hit->position) &&
           tu_json_add_text(item, "axis", axis_name((int)hit->axis)) &&
           tu_json_add_number(item, "dir", hit->direction) &&
           (!*hit->series || tu_json_add_text(item, "series", hit->series)) &&
           tu_json_add_bool(item, "ok", hit->ok);
}

static bool add_touches(cJSON *root, const tu_rehearsal_story *story)
{
    cJSON *hits = tu_json_add(root, "hits", cJSON_CreateArray());
    bool ok = hits != NULL;
    for (size_t i = 0; ok && i < story->touch_count; i++)
        ok = add_touch(hits, &story->touches[i]);
    return ok;
}

static bool add_pauses(cJSON *root, const tu_rehearsal_story *story)
{
    cJSON *pauses = tu_json_add(root, "pauses", cJSON_CreateArray());
    bool ok = pauses != NULL;
    for (size_t i = 0; ok && i < story->pause_count; i++) {
        cJSON *item = tu_json_append(pauses, cJSON_CreateObject());
        ok = item && tu_json_add_number(item, "line", (double)story->pauses[i].line) &&
             (!*story->pauses[i].message ||
              tu_json_add_text(item, "message", story->pauses[i].message));
    }
    return ok;
}

static bool add_offset(cJSON *offsets, const tu_rehearsal_story *story, int slot)
{
    tu_machine_point set = {NAN, NAN, NAN}, difference = {NAN, NAN, NAN};
    double *of_set[] = {&set.x, &set.y, &set.z};
    double *of_difference[] = {&difference.x, &difference.y, &difference.z};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (story->result.slot_set[slot][axis])
            *of_set[axis] = story->result.slot_mm[slot][axis];
        *of_difference[axis] = tu_story_difference(story, slot, (tu_axis)axis);
    }
    bool compared = !isnan(difference.x) || !isnan(difference.y) || !isnan(difference.z);
    cJSON *item = tu_json_append(offsets, cJSON_CreateObject());
    bool judged = compared && !isnan(story->within_mm);
    bool is_off = false;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        is_off = is_off || tu_story_axis_is_off(story, slot, (tu_axis)axis);
    return item && tu_json_add_text(item, "slot", tu_slot_name(slot + 1)) && add_point(item, set) &&
           (!compared || add_place(item, "difference", difference)) &&
           (!judged || tu_json_add_bool(item, "off", is_off));
}

static bool add_offsets(cJSON *root, const tu_rehearsal_story *story)
{
    cJSON *offsets = tu_json_add(root, "offsets", cJSON_CreateArray());
    bool ok = offsets != NULL;
    for (int slot = 0; ok && slot < 9; slot++)
        if (tu_story_sets_slot(story, slot))
            ok = add_offset(offsets, story, slot);
    if (!ok || !*tu_target_name(story->target))
        return ok;
    return tu_json_add_text(root, "target", tu_target_name(story->target)) &&
           add_place(root, "truth", story->truth);
}

tu_status tu_report_rehearsal_json(FILE *out, const tu_rehearsal_story *story, tu_error *error)
{
    cJSON *root = cJSON_CreateObject();
    bool ok = root && tu_json_add_number(root, "schema", 1) &&
              tu_json_add_text(root, "program", story->program_name) &&
              tu_json_add_text(root, "scene", story->scene_name) &&
              tu_json_add_text(root, "unit", "mm") && add_verdict(root, story) &&
              add_mismatches(root, &story->result) &&
              tu_json_add_number(root, "seconds", story->result.seconds) &&
              add_touches(root, story) && add_pauses(root, story) && add_offsets(root, story) &&
              tu_json_add_warnings(root, &story->warnings);
    return tu_json_write(out, root, ok, error);
}
