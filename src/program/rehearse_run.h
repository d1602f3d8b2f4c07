/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_run.h - a rehearsal under way (internal).
 *
 * rehearse.c reads and moves, rehearse_touch.c makes probe moves and turns the cutter,
 * rehearse_fault.c says what went wrong.
 */
#ifndef TRUEUP_PROGRAM_REHEARSE_RUN_H
#define TRUEUP_PROGRAM_REHEARSE_RUN_H

#include "program/machine.h"
#include "program/scene_solids.h"

typedef struct tu_rehearsal_run {
    const tu_scene *scene;
    const tu_rehearsal_sink *sink;
    tu_rehearsal *result;
    tu_machine_state state;
    tu_rs274_reader reader;
    tu_solids solids;
    tu_cutter_solid cutter;
    uint64_t random;     /* state of the generator */
    double tolerated_mm; /* how deep the last touch may have left the cutter in something */
    size_t line;         /* of the block being executed */
    char message[TU_RS274_MESSAGE_SIZE];
    char series[TU_NAME_SIZE]; /* of the touch that was announced */
    bool is_search;
} tu_rehearsal_run;

/* --- rehearse_touch.c --- */

/* Uniform in [0, 1). SplitMix64: Steele, Lea, Flood, OOPSLA 2014, doi:10.1145/2660193.2660195. */
double tu_run_random(uint64_t *random);
/* Standard normal. Polar method: Marsaglia, Bray, SIAM Review 6 (1964) 260-264. */
double tu_run_random_normal(uint64_t *random);

/* Keeps what a comment announces of the next touch. */
void tu_run_take_comment(tu_rehearsal_run *run, const char *comment);
tu_status tu_run_probe(tu_rehearsal_run *run, const tu_machine_step *step);
/* What the operator does to the cutter at a pause. */
void tu_run_turn_cutter(tu_rehearsal_run *run);

/* --- rehearse.c --- */

/* Ends a move at `to` after its travel: time, position, and what the sink is told. */
tu_status tu_run_arrive(tu_rehearsal_run *run, const tu_machine_step *step, tu_machine_point to,
                        bool contact);
/* How fast that step goes. */
double tu_run_feed(const tu_rehearsal_run *run, const tu_machine_step *step);

/* --- rehearse_fault.c --- */

void tu_run_fail(tu_rehearsal_run *run, tu_fault fault, const char *format, ...) TU_PRINTF(3, 4);
/* False, and the fault, where the point lies outside the travel. what: "this move" */
bool tu_run_check_travel(tu_rehearsal_run *run, tu_machine_point point, const char *what);
/* struck: what was met with the tip at result->at. */
void tu_run_fail_collision(tu_rehearsal_run *run, const tu_machine_step *step,
                           const tu_solid *struck, bool dragged);
void tu_run_fail_touching(tu_rehearsal_run *run, const tu_solid *touched);
/* After result->pressed_mm; struck NULL: nothing was met. */
void tu_run_fail_probe(tu_rehearsal_run *run, const tu_path *path, const tu_solid *struck);

#endif
