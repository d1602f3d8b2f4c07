/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * machine.h - the state of a machine that executes RS274/NGC, block by block (internal).
 *
 * NISTIR 6556: 3.2 and 3.5 for what a word does, 3.4 for modal groups, 3.8 for the order within a
 * block. It knows positions but no solids: it tells where a block wants to move to, and is told
 * where that ended.
 */
#ifndef TRUEUP_PROGRAM_MACHINE_H
#define TRUEUP_PROGRAM_MACHINE_H

#include "trueup/rehearse.h"
#include "trueup/rs274.h"

enum {
    TU_MACHINE_SLOTS = 9,
    TU_PARAMETER_TRIP = 5061,   /* X, Y, Z of the last touch */
    TU_PARAMETER_SLOT = 5220,   /* 1 to 9 */
    TU_PARAMETER_OFFSET = 5221, /* X, Y, Z of G54, then 20 on for each further slot */
    TU_PARAMETER_OFFSET_STEP = 20
};

#define TU_PROBE_SHORTEST_MM 0.254 /* 0.01 in: 3.5.9 */

typedef struct tu_machine_state {
    double parameter[TU_RS274_PARAMETERS]; /* 0 where nothing was set */
    double certain[TU_RS274_PARAMETERS];   /* the same; NaN where nothing was set, or was reckoned
                                              from that */
    bool doubtful;                         /* in: the block read what is not certain */
    bool units_stated, distance_stated;    /* by the program */
    tu_rs274_motion motion;                /* TU_MOTION_CANCEL: none */
    int units;                             /* 20 or 21 */
    int distance;                          /* 90 or 91 */
    int slot;                              /* 1 to 9 */
    double feed_mm_per_min;                /* 0: not stated */
    double offset_mm[TU_MACHINE_SLOTS][TU_AXIS_COUNT];
    bool offset_set[TU_MACHINE_SLOTS][TU_AXIS_COUNT];
    tu_machine_point position;
} tu_machine_state;

/* What is left to do of a block whose settings have been made. */
typedef struct tu_machine_step {
    tu_rs274_motion motion; /* RAPID, LINEAR, PROBE; NONE: stands still */
    tu_machine_point target;
    double dwell_s;
} tu_machine_step;

/* Why a block cannot be executed; text names no line. */
typedef struct tu_machine_refusal {
    tu_fault fault; /* TU_FAULT_NONE: it can */
    char text[TU_FAULT_TEXT_SIZE];
} tu_machine_refusal;

tu_machine_state tu_machine_state_start(const tu_scene *scene);

/*
 * Makes the settings of a block and works out its motion; the position is not changed.
 * refusal out; step is then not to be used, and the state as far as it came.
 */
void tu_machine_execute(tu_machine_state *state, const tu_rs274_block *block, tu_machine_step *step,
                        tu_machine_refusal *refusal);

/* Sets #5061 to #5063 to the position, in the frame and unit in force. */
void tu_machine_store_trip(tu_machine_state *state);

/* Where the position is in the program's frame, millimetres. */
double tu_machine_work_mm(const tu_machine_state *state, tu_axis axis);

/* The travel that counts: where not stated, 10 m either way. */
double tu_machine_travel_low(const tu_machine *machine, tu_axis axis);
double tu_machine_travel_high(const tu_machine *machine, tu_axis axis);

double tu_machine_point_along(tu_machine_point point, tu_axis axis);
void tu_machine_point_set(tu_machine_point *point, tu_axis axis, double value_mm);

#endif
