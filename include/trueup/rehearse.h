/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse.h - a touch program on the virtual machine: solids moved against each other, contact
 * found by geometry and never by the formulas of zero.h.
 */
#ifndef TRUEUP_REHEARSE_H
#define TRUEUP_REHEARSE_H

#include "trueup/hits.h"
#include "trueup/scene.h"
#include "trueup/status.h"

typedef enum tu_fault {
    TU_FAULT_NONE,
    TU_FAULT_BLOCK,            /* the program cannot be read, or says what the machine refuses */
    TU_FAULT_COLLISION,        /* contact outside a probe move */
    TU_FAULT_NO_CONTACT,       /* a probe move ended without contact */
    TU_FAULT_ALREADY_TOUCHING, /* a probe move started in contact */
    TU_FAULT_PRESSED,     /* nothing told the probe to stop: it pressed on (clip off, circuit dead,
                             or something that does not conduct) */
    TU_FAULT_TRAVEL,      /* a move leaves the machine's travel */
    TU_FAULT_NO_FEED,     /* G1 or G38.2 without a feed */
    TU_FAULT_PROBE_SHORT, /* a probe move shorter than 0.254 mm (NISTIR 6556, 3.5.8) */
    TU_FAULT_NO_END       /* the text ends without M2 or a percent sign */
} tu_fault;

/* One move as it was made. */
typedef struct tu_rehearsal_move {
    size_t line;
    int kind; /* 0 traverse (G0), 1 feed (G1), 2 probe (G38.2) */
    tu_machine_point from, to;
    double feed_mm_per_min;
    bool contact; /* it ended at a contact */
} tu_rehearsal_move;

/* What rehearsing tells while it runs; each may be NULL. A status other than TU_OK ends it. */
typedef struct tu_rehearsal_sink {
    void *context;
    tu_status (*hit)(void *context, const tu_hit *hit);
    tu_status (*move)(void *context, const tu_rehearsal_move *move);
    tu_status (*pause)(void *context, size_t line, const char *message);
} tu_rehearsal_sink;

enum { TU_FAULT_TEXT_SIZE = 300 };

typedef struct tu_rehearsal {
    tu_fault fault;
    size_t line;                   /* of the fault */
    char text[TU_FAULT_TEXT_SIZE]; /* what happened and what a person would see; no newline */
    char struck[TU_NAME_SIZE];     /* "plate", "stock", "bed", or the block's name; "" none */
    tu_machine_point at;           /* the tip then */
    double pressed_mm;             /* how far a probe pressed past the first contact */
    size_t hits;
    size_t pauses;
    double seconds; /* motion only */
    bool slot_set[9][TU_AXIS_COUNT];
    double slot_mm[9][TU_AXIS_COUNT];
    tu_machine_point end;
} tu_rehearsal;

/*
 * Runs program[0..length) in scene.
 * Hits carry machine coordinates of the tip, axis and direction of the move, and ok = false where
 * the block before the probe carries a comment that ends in ", search" (docs/touch-program.md):
 * the fast touch of a pair. series is the first word of such a comment after "touch", upper or
 * lower case as written; "" else.
 * Returns TU_OK also when the program faults (result->fault tells); TU_USAGE for a scene that
 * cannot be; or what a sink returned.
 */
tu_status tu_rehearse(const tu_scene *scene, const char *program, size_t length,
                      const tu_rehearsal_sink *sink, tu_rehearsal *result, tu_error *error);

/* Where the zero of that corner or face truly is in the scene. For a turned stock the corner. */
tu_status tu_scene_truth(const tu_scene *scene, tu_target target, tu_machine_point *zero,
                         tu_error *error);

#endif
