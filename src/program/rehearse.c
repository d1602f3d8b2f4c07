/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse.c - runs a program block by block: moves against solids, pauses, faults.
 */
#include "program/rehearse_run.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double longest_s = 1e7;

/* --- Moves --- */

double tu_run_feed(const tu_rehearsal_run *run, const tu_machine_step *step)
{
    double rapid = run->scene->rapid_mm_per_min;
    return step->motion == TU_MOTION_RAPID ? rapid : fmin(run->state.feed_mm_per_min, rapid);
}

static tu_status tell_move(const tu_rehearsal_run *run, const tu_rehearsal_move *move)
{
    return run->sink != NULL && run->sink->move != NULL ? run->sink->move(run->sink->context, move)
                                                        : TU_OK;
}

static int kind_of(tu_rs274_motion motion)
{
    return motion == TU_MOTION_RAPID ? 0 : motion == TU_MOTION_LINEAR ? 1 : 2;
}

tu_status tu_run_arrive(tu_rehearsal_run *run, const tu_machine_step *step, tu_machine_point to,
                        bool contact)
{
    double feed = tu_run_feed(run, step);
    const tu_rehearsal_move move = {.line = run->line,
                                    .kind = kind_of(step->motion),
                                    .from = run->state.position,
                                    .to = to,
                                    .feed_mm_per_min = feed,
                                    .contact = contact};
    run->result->seconds += tu_path_between(move.from, to).length_mm / feed * 60.0;
    run->state.position = to;
    return tell_move(run, &move);
}

static tu_status make_move(tu_rehearsal_run *run, const tu_machine_step *step)
{
    tu_path path = tu_path_between(run->state.position, step->target);
    double now = run->result->seconds;
    tu_path true_path = tu_run_true_path(run, &path, now);
    double tolerated = tu_run_tolerated_mm(run);
    const tu_solid *struck = NULL;
    for (size_t i = 0; i < run->solids.count; i++) {
        const tu_solid *solid = &run->solids.solid[i];
        double travel = tu_solid_first_contact(solid, &run->cutter, &true_path, tolerated);
        if (travel > true_path.length_mm)
            continue;
        struck = solid;
        true_path.length_mm = travel; /* the rest need not be nearer */
    }
    if (struck == NULL) {
        tu_run_open_contact(run, &true_path, tu_run_feed(run, step));
        return tu_run_arrive(run, step, step->target, false);
    }
    bool dragged = run->tolerated_mm > 0.0 &&
                   tu_solid_clearance(struck, &run->cutter, true_path.from, 0.0) < 0.0;
    tu_status status = tu_run_arrive(run, step, tu_path_point(&path, true_path.length_mm), true);
    tu_run_fail_collision(run, step, struck, dragged);
    return status;
}

/* --- Blocks --- */

static tu_status make_motion(tu_rehearsal_run *run, const tu_machine_step *step)
{
    if (step->motion == TU_MOTION_NONE)
        return TU_OK;
    if (!tu_run_check_travel(run, step->target, "this move would end"))
        return TU_OK;
    return step->motion == TU_MOTION_PROBE ? tu_run_probe(run, step) : make_move(run, step);
}

static tu_status make_pause(tu_rehearsal_run *run)
{
    run->result->pauses++;
    if (isfinite(run->open_s))
        run->open_s = -INFINITY; /* no contact bounces for as long as a person takes */
    tu_run_turn_cutter(run);
    tu_status status = TU_OK;
    if (run->sink != NULL && run->sink->pause != NULL)
        status = run->sink->pause(run->sink->context, run->line, run->message);
    run->message[0] = '\0';
    return status;
}

static void keep_comment(tu_rehearsal_run *run, const tu_rs274_block *block)
{
    if (block->has_message) {
        const char *text = block->message + strspn(block->message, " ");
        snprintf(run->message, sizeof run->message, "%s", text);
    } else if (block->message[0] != '\0') {
        tu_run_take_comment(run, block->message);
    }
}

static tu_status run_block(tu_rehearsal_run *run, const tu_rs274_block *block)
{
    tu_machine_step step;
    tu_machine_refusal refusal;
    run->line = block->line;
    keep_comment(run, block);
    tu_machine_execute(&run->state, block, &step, &refusal);
    if (refusal.fault != TU_FAULT_NONE) {
        tu_run_fail(run, refusal.fault, "%s", refusal.text);
        return TU_OK;
    }
    tu_run_watch_block(run, block, &step);
    run->result->seconds += step.dwell_s;
    tu_status status = make_motion(run, &step);
    if (status || run->result->fault != TU_FAULT_NONE)
        return status;
    if (!(run->result->seconds <= longest_s)) {
        tu_run_fail(run, TU_FAULT_BLOCK,
                    "by the end of this block the machine would have run for more than 115 days; "
                    "check feeds and dwells");
        return TU_OK;
    }
    return block->pause ? make_pause(run) : TU_OK;
}

/* The reader's error names line and column itself. */
static void fail_reading(tu_rehearsal_run *run, tu_fault fault, const tu_error *error)
{
    run->line = run->reader.line;
    run->result->fault = fault;
    run->result->line = run->line;
    run->result->at = run->state.position;
    snprintf(run->result->text, sizeof run->result->text, "%s: %s", error->where, error->message);
}

/* No line of it can be named. */
static void fail_empty(tu_rehearsal_run *run)
{
    run->result->fault = TU_FAULT_NO_END;
    run->result->at = run->state.position;
    snprintf(run->result->text, sizeof run->result->text,
             "the program is empty: there is no block in it; perhaps it was not saved, or another "
             "file is meant");
}

static tu_status run_program(tu_rehearsal_run *run)
{
    for (;;) {
        tu_rs274_block block;
        bool have;
        bool percent = run->reader.percent;
        tu_error unreadable = {0};
        tu_status status = tu_run_read_block(run, &block, &have, &unreadable);
        if (status) {
            /* The reader gives up waiting for the closing percent sign only at the text's end. */
            bool torn = percent && !run->reader.percent;
            fail_reading(run, torn ? TU_FAULT_NO_END : TU_FAULT_BLOCK, &unreadable);
            return TU_OK;
        }
        if (!have) {
            run->line = run->reader.line;
            if (run->has_block)
                tu_run_fail(run, TU_FAULT_NO_END,
                            "the program ends here without M2; part of it may be missing");
            else
                fail_empty(run);
            return TU_OK;
        }
        run->has_block = true;
        status = run_block(run, &block);
        if (status || run->result->fault != TU_FAULT_NONE || block.end)
            return status;
    }
}

/* --- The whole --- */

static tu_status start_run(tu_rehearsal_run *run, tu_error *error)
{
    const tu_scene *scene = run->scene;
    run->state = tu_machine_state_start(scene);
    run->cutter = tu_cutter_solid_start(&scene->cutter, scene->cutter_angle_rad);
    run->random = scene->seed;
    if (run->cutter.run_out_mm > 0.0)
        run->cutter.run_out_rad = 2.0 * M_PI * tu_run_random(&run->random);
    tu_scene_build_solids(scene, &run->solids);
    for (size_t i = 0; i < run->solids.count; i++) {
        const tu_solid *solid = &run->solids.solid[i];
        if (tu_solid_clearance(solid, &run->cutter, scene->start, 0.0) < 0.0)
            return tu_fail(error, TU_DATA_CONFLICT, "start",
                           "the cutter would start inside the %s; start it higher or elsewhere",
                           solid->name);
    }
    return TU_OK;
}

static void finish_run(tu_rehearsal_run *run)
{
    run->result->end = run->state.position;
    if (run->result->fault == TU_FAULT_NONE)
        run->result->at = run->state.position;
    tu_made_for_compare(&run->made_for, run->scene, run->sideways, run->first_units, run->result);
    memcpy(run->result->slot_set, run->state.offset_set, sizeof run->result->slot_set);
    memcpy(run->result->slot_mm, run->state.offset_mm, sizeof run->result->slot_mm);
}

tu_status tu_rehearse(const tu_scene *scene, const char *program, size_t length,
                      const tu_rehearsal_sink *sink, tu_rehearsal *result, tu_error *error)
{
    *result = (tu_rehearsal){.fault = TU_FAULT_NONE};
    tu_status status = tu_scene_check(scene, error);
    if (status)
        return status;
    tu_rehearsal_run run = {.scene = scene, .sink = sink, .result = result, .open_s = -INFINITY};
    run.reader = tu_rs274_start(program, length);
    tu_run_read_head(&run, program, length);
    status = start_run(&run, error);
    if (status)
        return status;
    status = run_program(&run);
    finish_run(&run);
    return status;
}
