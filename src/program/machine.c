/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * machine.c - what the words of a block do to a machine; see machine.h.
 */
#include "program/machine.h"

#include "trueup/number.h"

#include <math.h>
#include <stdio.h>

static const double travel_unstated_mm = 10000.0;
static const double feed_most = 1e7; /* mm/min */
static const double offset_most_mm = 1e6;

/* --- Points --- */

double tu_machine_point_along(tu_machine_point point, tu_axis axis)
{
    return axis == TU_AXIS_X ? point.x : axis == TU_AXIS_Y ? point.y : point.z;
}

void tu_machine_point_set(tu_machine_point *point, tu_axis axis, double value_mm)
{
    if (axis == TU_AXIS_X)
        point->x = value_mm;
    else if (axis == TU_AXIS_Y)
        point->y = value_mm;
    else
        point->z = value_mm;
}

double tu_machine_travel_low(const tu_machine *machine, tu_axis axis)
{
    double low = machine->travel_low_mm[axis];
    return isnan(low) ? -travel_unstated_mm : low;
}

double tu_machine_travel_high(const tu_machine *machine, tu_axis axis)
{
    double high = machine->travel_high_mm[axis];
    return isnan(high) ? travel_unstated_mm : high;
}

/* --- State --- */

static double unit_mm(const tu_machine_state *state)
{
    return state->units == 20 ? TU_MM_PER_INCH : 1.0;
}

static double offset_along(const tu_machine_state *state, tu_axis axis)
{
    return state->offset_mm[state->slot - 1][axis];
}

double tu_machine_work_mm(const tu_machine_state *state, tu_axis axis)
{
    return tu_machine_point_along(state->position, axis) - offset_along(state, axis);
}

/* The parameters that mirror the state, in the unit in force. */
static void store_offsets(tu_machine_state *state)
{
    state->parameter[TU_PARAMETER_SLOT] = state->certain[TU_PARAMETER_SLOT] = state->slot;
    for (int slot = 0; slot < TU_MACHINE_SLOTS; slot++) {
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
            int index = TU_PARAMETER_OFFSET + TU_PARAMETER_OFFSET_STEP * slot + axis;
            state->parameter[index] = state->offset_mm[slot][axis] / unit_mm(state);
            state->certain[index] = state->parameter[index];
        }
    }
}

tu_machine_state tu_machine_state_start(const tu_scene *scene)
{
    tu_machine_state state = {.motion = TU_MOTION_CANCEL,
                              .units = 21,
                              .distance = 90,
                              .slot = 1,
                              .position = scene->start};
    for (int i = 0; i < TU_RS274_PARAMETERS; i++)
        state.certain[i] = NAN;
    for (int slot = 0; slot < TU_MACHINE_SLOTS; slot++)
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
            state.offset_mm[slot][axis] = scene->slot_mm[slot][axis];
    store_offsets(&state);
    return state;
}

void tu_machine_store_trip(tu_machine_state *state)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        int index = TU_PARAMETER_TRIP + axis;
        state->parameter[index] = tu_machine_work_mm(state, (tu_axis)axis) / unit_mm(state);
        state->certain[index] = state->parameter[index];
    }
}

/* --- Refusing --- */

static bool refuse(tu_machine_refusal *refusal, tu_fault fault, const char *text)
{
    refusal->fault = fault;
    snprintf(refusal->text, sizeof refusal->text, "%s", text);
    return false;
}

/* Those that a touch or a G10 sets, and the standard's own beside them (3.2.1). */
static bool is_reserved(int parameter)
{
    return (parameter >= 5061 && parameter <= 5066) || (parameter >= 5161 && parameter <= 5400);
}

static bool check_block(const tu_machine_state *state, const tu_rs274_block *block,
                        tu_machine_refusal *refusal)
{
    if (block->deleted)
        return refuse(refusal, TU_FAULT_BLOCK,
                      "a slash begins this block, so a switch at the machine decides whether it "
                      "runs; take the slash or the block out");
    if (block->units != 0 && block->units != state->units && !isnan(block->f))
        return refuse(refusal, TU_FAULT_BLOCK,
                      "F stands in a block that changes the unit: by the order of execution "
                      "(NISTIR 6556, 3.8) it would count in the old one; write F in a later block");
    for (size_t i = 0; i < block->setting_count; i++) {
        if (is_reserved(block->setting[i].index)) {
            snprintf(refusal->text, sizeof refusal->text,
                     "#%d belongs to the machine (touches and offsets); use G10 L2 to set an "
                     "offset, and parameters #1 to #30 for values of your own",
                     block->setting[i].index);
            refusal->fault = TU_FAULT_BLOCK;
            return false;
        }
    }
    return true;
}

/* --- Executing --- */

static double word_along(const tu_rs274_block *block, tu_axis axis)
{
    return axis == TU_AXIS_X ? block->x : axis == TU_AXIS_Y ? block->y : block->z;
}

static bool has_axis_word(const tu_rs274_block *block)
{
    return !isnan(block->x) || !isnan(block->y) || !isnan(block->z);
}

/* In the order of 3.8: feed, dwell, unit, coordinate system, distance mode, offsets. */
static void make_settings(tu_machine_state *state, const tu_rs274_block *block,
                          tu_machine_step *step)
{
    for (size_t i = 0; i < block->setting_count; i++) {
        int index = block->setting[i].index;
        state->parameter[index] = block->setting[i].value;
        state->certain[index] = state->doubtful ? NAN : block->setting[i].value;
    }
    if (!isnan(block->f))
        state->feed_mm_per_min = block->f * unit_mm(state);
    if (block->dwell)
        step->dwell_s = block->p;
    if (block->units != 0) {
        state->units = block->units;
        state->units_stated = true;
    }
    if (block->slot != 0)
        state->slot = block->slot;
    if (block->distance != 0) {
        state->distance = block->distance;
        state->distance_stated = true;
    }
    if (block->set_offset) {
        int slot = (int)block->p - 1;
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
            double word = word_along(block, (tu_axis)axis);
            if (isnan(word))
                continue;
            state->offset_mm[slot][axis] = word * unit_mm(state);
            state->offset_set[slot][axis] = true;
        }
    }
    if (block->motion != TU_MOTION_NONE)
        state->motion = block->motion;
    if (block->units != 0 || block->slot != 0 || block->set_offset)
        store_offsets(state);
}

/* A slip of units or of the decimal point; and what is not finite in millimetres. */
static bool check_settings(const tu_machine_state *state, const tu_rs274_block *block,
                           tu_machine_refusal *refusal)
{
    if (!(state->feed_mm_per_min <= feed_most))
        return refuse(refusal, TU_FAULT_BLOCK, "no machine reaches this feed; check F");
    for (int axis = 0; axis < TU_AXIS_COUNT && block->set_offset; axis++) {
        if (!(fabs(state->offset_mm[(int)block->p - 1][axis]) <= offset_most_mm))
            return refuse(refusal, TU_FAULT_BLOCK,
                          "the offset lies further away than any table reaches; check its numbers");
    }
    return true;
}

static tu_machine_point target_of(const tu_machine_state *state, const tu_rs274_block *block)
{
    tu_machine_point target = state->position;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double word = word_along(block, (tu_axis)axis) * unit_mm(state);
        if (isnan(word))
            continue;
        double base = state->distance == 91 ? tu_machine_point_along(state->position, (tu_axis)axis)
                                            : offset_along(state, (tu_axis)axis);
        tu_machine_point_set(&target, (tu_axis)axis, base + word);
    }
    return target;
}

static bool check_motion(const tu_machine_state *state, const tu_machine_step *step,
                         tu_machine_refusal *refusal)
{
    if (step->motion == TU_MOTION_RAPID)
        return true;
    const char *code = step->motion == TU_MOTION_PROBE ? "G38.2" : "G1";
    if (!(state->feed_mm_per_min > 0.0)) {
        snprintf(refusal->text, sizeof refusal->text,
                 "%s without a feed: the machine would stop with an error; state F before", code);
        refusal->fault = TU_FAULT_NO_FEED;
        return false;
    }
    if (step->motion != TU_MOTION_PROBE)
        return true;
    double length =
        hypot(hypot(step->target.x - state->position.x, step->target.y - state->position.y),
              step->target.z - state->position.z);
    if (length < TU_PROBE_SHORTEST_MM - 1e-9) { /* 0.01 in is not quite that in a double */
        char shown[TU_NUMBER_TEXT_SIZE];
        tu_number_format(shown, sizeof shown, length, 4);
        snprintf(refusal->text, sizeof refusal->text,
                 "the probe move is %s mm long: the machine would refuse one below 0.254 mm or "
                 "0.01 in (NISTIR 6556, 3.5.9)",
                 shown);
        refusal->fault = TU_FAULT_PROBE_SHORT;
        return false;
    }
    return true;
}

void tu_machine_execute(tu_machine_state *state, const tu_rs274_block *block, tu_machine_step *step,
                        tu_machine_refusal *refusal)
{
    *step = (tu_machine_step){.motion = TU_MOTION_NONE, .target = state->position};
    refusal->fault = TU_FAULT_NONE;
    refusal->text[0] = '\0';
    if (!check_block(state, block, refusal))
        return;
    make_settings(state, block, step);
    if (!check_settings(state, block, refusal))
        return;
    if (!has_axis_word(block) || block->set_offset)
        return;
    if (state->motion == TU_MOTION_CANCEL) {
        refuse(
            refusal, TU_FAULT_BLOCK,
            "X, Y or Z without a motion: none is in force here; write G0, G1 or G38.2 with them");
        return;
    }
    step->motion = state->motion;
    step->target = target_of(state, block);
    check_motion(state, step, refusal);
}
