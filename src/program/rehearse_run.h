/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_run.h - a rehearsal under way (internal).
 *
 * rehearse.c reads and moves, rehearse_touch.c makes probe moves and turns the cutter,
 * rehearse_contact.c lets contacts wander and bounce, rehearse_watch.c sees what is left to chance,
 * rehearse_fault.c says what went wrong.
 */
#ifndef TRUEUP_PROGRAM_REHEARSE_RUN_H
#define TRUEUP_PROGRAM_REHEARSE_RUN_H

#include "program/machine.h"
#include "program/made_for.h"
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
    const tu_solid *touched; /* what gave the last signal; NULL: nothing yet */
    double touched_s;        /* when */
    double open_s;           /* when that circuit opened; INFINITY: not yet; -INFINITY: long ago */
    tu_made_for made_for;
    tu_error doubt;   /* the reading of what was never set */
    int first_units;  /* 20 or 21, in force at the first motion; 0: none yet */
    bool sideways[2]; /* a touch of X, of Y counted */
    bool has_block, touched_down, told_units, told_distance;
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

/* --- rehearse_contact.c --- */

/* How far contacts have wandered at that time; whether they do at all. The tip truly is where the
 * machine shows it less that. */
bool tu_run_wanders(const tu_rehearsal_run *run);
tu_machine_point tu_run_wander(const tu_rehearsal_run *run, double seconds);
tu_machine_point tu_run_true_point(const tu_rehearsal_run *run, tu_machine_point point,
                                   double seconds);
tu_path tu_run_true_path(const tu_rehearsal_run *run, const tu_path *path, double seconds);
/* tolerated_mm, and what has grown since the touch. */
double tu_run_tolerated_mm(const tu_rehearsal_run *run);

/* The circuit closed through that solid. */
void tu_run_close_contact(tu_rehearsal_run *run, const tu_solid *solid, double seconds);
/* Before a move along a true path has been made: notes when it opens the circuit. */
void tu_run_open_contact(tu_rehearsal_run *run, const tu_path *path, double feed_mm_per_min);
/* Whether the circuit still bounces. */
bool tu_run_bounces(const tu_rehearsal_run *run);

/* --- rehearse_watch.c --- */

void tu_run_read_head(tu_rehearsal_run *run, const char *program, size_t length);
/* Reads the next block; state.doubtful tells whether it read what was never set. */
tu_status tu_run_read_block(tu_rehearsal_run *run, tu_rs274_block *block, bool *have,
                            tu_error *error);
/* After its settings, before its motion. */
void tu_run_watch_block(tu_rehearsal_run *run, const tu_rs274_block *block,
                        const tu_machine_step *step);
/* tip_z_mm: where it touched, as the solids lie. */
void tu_run_watch_hit(tu_rehearsal_run *run, const tu_hit *hit, const tu_solid *touched,
                      double tip_z_mm);

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
void tu_run_fail_bouncing(tu_rehearsal_run *run);
/* After result->pressed_mm; struck NULL: nothing was met. */
void tu_run_fail_probe(tu_rehearsal_run *run, const tu_path *path, const tu_solid *struck);

#endif
