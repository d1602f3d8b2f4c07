/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_rehearsal_json.c - a rehearsed program as JSON: millimetres and seconds, every number so
 * that it reads back as the same double; what is not known is absent. docs/rehearse.md lists the
 * keys.
 */
#include "report/json.h"
#include "report/rehearsal/rehearsal_words.h"
#include "trueup/report.h"

#include <math.h>

static void put_point(tu_json *json, tu_machine_point point)
{
    TU_JSON_KNOWN(json, {"x", point.x}, {"y", point.y}, {"z", point.z});
}

static void put_place(tu_json *json, const char *name, tu_machine_point point)
{
    tu_json_object(json, name);
    put_point(json, point);
    tu_json_end(json);
}

static void put_fault(tu_json *json, const tu_rehearsal *result)
{
    tu_json_object(json, "fault");
    tu_json_text(json, "kind", tu_fault_name(result->fault));
    if (result->line)
        tu_json_count(json, "line", result->line);
    tu_json_text(json, "text", result->text);
    tu_json_text_if_any(json, "struck", result->struck);
    put_place(json, "at", result->at);
    if (result->pressed_mm > 0)
        TU_JSON_NUMBERS(json, {"pressed", result->pressed_mm});
    tu_json_end(json);
}

static void put_verdict(tu_json *json, const tu_rehearsal_story *story)
{
    bool faulty = story->result.fault != TU_FAULT_NONE, mismatched = tu_story_is_mismatched(story);
    tu_json_text(json, "verdict",
                 mismatched               ? "mismatch"
                 : faulty                 ? "fault"
                 : tu_story_is_off(story) ? "off"
                                          : "clean");
    if (faulty && !mismatched)
        put_fault(json, &story->result);
}

static void put_mismatches(tu_json *json, const tu_rehearsal *result)
{
    if (!result->mismatch_count)
        return;
    tu_json_array(json, "mismatches");
    for (size_t i = 0; i < result->mismatch_count; i++) {
        const tu_mismatch *mismatch = &result->mismatch[i];
        tu_json_object(json, NULL);
        tu_json_text(json, "what", mismatch->what);
        tu_json_text(json, "text", mismatch->text);
        TU_JSON_KNOWN(json, {"made_for", mismatch->made_for_mm}, {"found", mismatch->found_mm});
        tu_json_end(json);
    }
    tu_json_end(json);
}

static void put_touches(tu_json *json, const tu_rehearsal_story *story)
{
    tu_json_array(json, "hits");
    for (size_t i = 0; i < story->touch_count; i++) {
        const tu_hit *hit = &story->touches[i].hit;
        tu_json_object(json, NULL);
        TU_JSON_NUMBERS(json, {"seq", (double)hit->sequence},
                        {"line", (double)story->touches[i].line},
                        {"t", (double)hit->device_us / 1e6});
        put_point(json, hit->position);
        tu_json_text(json, "axis", tu_json_axis[hit->axis]);
        TU_JSON_NUMBERS(json, {"dir", hit->direction});
        tu_json_text_if_any(json, "series", hit->series);
        tu_json_bool(json, "ok", hit->ok);
        tu_json_end(json);
    }
    tu_json_end(json);
}

static void put_pauses(tu_json *json, const tu_rehearsal_story *story)
{
    tu_json_array(json, "pauses");
    for (size_t i = 0; i < story->pause_count; i++) {
        tu_json_object(json, NULL);
        tu_json_count(json, "line", story->pauses[i].line);
        tu_json_text_if_any(json, "message", story->pauses[i].message);
        tu_json_end(json);
    }
    tu_json_end(json);
}

static void put_offset(tu_json *json, const tu_rehearsal_story *story, int slot)
{
    double set[TU_AXIS_COUNT], difference[TU_AXIS_COUNT];
    bool compared = false, is_off = false;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        bool is_set = story->result.slot_set[slot][axis];
        set[axis] = is_set ? story->result.slot_mm[slot][axis] : (double)NAN;
        difference[axis] = tu_story_difference(story, slot, (tu_axis)axis);
        compared = compared || !isnan(difference[axis]);
        is_off = is_off || tu_story_axis_is_off(story, slot, (tu_axis)axis);
    }
    tu_json_object(json, NULL);
    tu_json_text(json, "slot", tu_slot_name(slot + 1));
    put_point(json, (tu_machine_point){set[0], set[1], set[2]});
    if (compared)
        put_place(json, "difference",
                  (tu_machine_point){difference[0], difference[1], difference[2]});
    if (compared && !isnan(story->within_mm))
        tu_json_bool(json, "off", is_off);
    tu_json_end(json);
}

static void put_offsets(tu_json *json, const tu_rehearsal_story *story)
{
    tu_json_array(json, "offsets");
    for (int slot = 0; slot < 9; slot++)
        if (tu_story_sets_slot(story, slot))
            put_offset(json, story, slot);
    tu_json_end(json);
    if (!*tu_target_name(story->target))
        return;
    tu_json_text(json, "target", tu_target_name(story->target));
    put_place(json, "truth", story->truth);
}

tu_status tu_report_rehearsal_json(FILE *out, const tu_rehearsal_story *story, tu_error *error)
{
    tu_json json = tu_json_begin(out);
    TU_JSON_NUMBERS(&json, {"schema", 1});
    tu_json_text(&json, "program", story->program_name);
    tu_json_text(&json, "scene", story->scene_name);
    tu_json_text(&json, "unit", "mm");
    put_verdict(&json, story);
    put_mismatches(&json, &story->result);
    TU_JSON_NUMBERS(&json, {"seconds", story->result.seconds});
    put_touches(&json, story);
    put_pauses(&json, story);
    put_offsets(&json, story);
    tu_json_warnings(&json, &story->warnings);
    return tu_json_finish(&json, error);
}
