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
#include "trueup/warning.h"

TU_BEGIN_DECLS

/*
 * The machine that is rehearsed, by NISTIR 6556 where that says:
 *   start    G17 G21 G90 G94 and G54; no motion mode (G80), feed 0. A machine may start in other
 *            states: a program should state what it relies on.
 *   moves    G0, G1 and G38.2 are one modal group (3.4): a block with axis words alone repeats the
 *            last of them, a probe too. Straight lines at the feed, no faster than the traverse
 *            rate, without acceleration. work = machine - offset of the slot in force.
 *   touches  the tip stops where the touch was latched: contact + latch delay x feed + noise,
 *            rounded to the step along the axes that moved. It is not drawn back, as 3.5.9 allows.
 *            #5061 to #5063 then hold that place in the program's frame and unit of that moment.
 *   G10 L2   in the unit in force, whether G90 or G91; counts at once where its slot is in force.
 *            #5220 holds the slot, #5221.. the offsets in the unit in force; a program cannot set
 *            these, nor #5061 to #5066, by itself.
 *   refused  a block with a slash (whether it runs is up to a switch), F in a block that changes
 *            the unit (which one it is in depends on the order of execution), more than 115 days.
 * After a touch the cutter stands in contact. A move that leads away from there is no collision;
 * one that is still in contact after twice the overrun and 0.1 mm is.
 */

typedef enum tu_fault {
    TU_FAULT_NONE,
    TU_FAULT_BLOCK,            /* the program cannot be read, or says what the machine refuses */
    TU_FAULT_COLLISION,        /* contact outside a probe move */
    TU_FAULT_NO_CONTACT,       /* a probe move ended without a signal: it met nothing, or the clip
                                  was off, and then pressed_mm tells how far it pressed */
    TU_FAULT_ALREADY_TOUCHING, /* a probe move started in contact */
    TU_FAULT_PRESSED,          /* a probe move met what does not conduct, and pressed on */
    TU_FAULT_TRAVEL,           /* a move leaves the machine's travel */
    TU_FAULT_NO_FEED,          /* G1 or G38.2 without a feed */
    TU_FAULT_PROBE_SHORT,      /* a probe move shorter than 0.254 mm (NISTIR 6556, 3.5.9) */
    TU_FAULT_NO_END            /* the text ends without M2 or a percent sign */
} tu_fault;

/* One move as it was made; of a move that ended in a fault the part up to there. */
typedef struct tu_rehearsal_move {
    size_t line;
    int kind; /* 0 traverse (G0), 1 feed (G1), 2 probe (G38.2) */
    tu_machine_point from, to;
    double feed_mm_per_min; /* of a traverse the traverse rate */
    bool contact;           /* it ended at a contact */
} tu_rehearsal_move;

/* What rehearsing tells while it runs; each may be NULL. A status other than TU_OK ends it.
 * message: of the last "(MSG, ...)" since the last pause; "" none. */
typedef struct tu_rehearsal_sink {
    void *context;
    tu_status (*hit)(void *context, const tu_hit *hit);
    tu_status (*move)(void *context, const tu_rehearsal_move *move);
    tu_status (*pause)(void *context, size_t line, const char *message);
} tu_rehearsal_sink;

enum { TU_FAULT_TEXT_SIZE = 820, TU_MISMATCH_SIZE = 400, TU_MISMATCHES_MAX = 16 };

/*
 * Something in the scene that is not what the program is made for, by its head
 * (docs/touch-program.md), beyond the stated tolerance and the rounding of the printed figures.
 *   what         a word: "cutter", "wall_a", ... (docs/rehearse.md)
 *   text         what was found, and by how much a zero would be off.
 *   made_for_mm, found_mm  NaN: no length, or none there.
 */
typedef struct tu_mismatch {
    const char *what;
    char text[TU_MISMATCH_SIZE];
    double made_for_mm, found_mm;
} tu_mismatch;

typedef struct tu_rehearsal {
    tu_fault fault;
    size_t line;                   /* of the fault */
    char text[TU_FAULT_TEXT_SIZE]; /* "line 41: ", what happened and what a person would see; no
                                      newline; "" without a fault */
    char struck[TU_NAME_SIZE];     /* "plate", "stock", "bed", or the block's name; "" none */
    tu_machine_point at;           /* the tip then; of a contact, where it touched */
    double pressed_mm;             /* how far a probe pressed past the first contact */
    size_t hits;
    size_t pauses;
    double seconds;                   /* motion and dwells, no pauses */
    bool slot_set[9][TU_AXIS_COUNT];  /* by the program */
    double slot_mm[9][TU_AXIS_COUNT]; /* as they stand at the end */
    tu_machine_point end;
    size_t mismatch_count;
    tu_mismatch mismatch[TU_MISMATCHES_MAX];
    tu_warnings warnings;
} tu_rehearsal;

/*
 * Runs program[0..length) in scene.
 * Hits carry machine coordinates of the tip, axis and direction of the move (the longest, of a
 * move along several), device_us since the start without pauses, and ok = false where the block
 * with the probe or one since the probe before carries a comment that ends in ", search"
 * (docs/touch-program.md): the fast touch of a pair. series is the first word of such a comment
 * after "touch", upper or lower case as written; "" else.
 * The same scene, seed and program give the same result to the last bit.
 * Returns TU_OK also when the program faults (result->fault tells); TU_DATA_RANGE,
 * TU_DATA_MISSING or TU_DATA_CONFLICT for a scene that cannot be; or what a sink returned.
 */
tu_status tu_rehearse(const tu_scene *scene, const char *program, size_t length,
                      const tu_rehearsal_sink *sink, tu_rehearsal *result, tu_error *error);

/*
 * Where the zero of that corner or face truly is in the scene: the corner of the stock as it lies;
 * of a face the corner of it nearest to where the plate lies; its upper side, or the plane that its
 * bottom rests on (bed height under its front-left corner). Axes that a face leaves alone are NaN.
 * Statuses as tu_rehearse; TU_DATA_MISSING where no stock is there to ask about.
 */
tu_status tu_scene_truth(const tu_scene *scene, tu_target target, tu_machine_point *zero,
                         tu_error *error);

TU_END_DECLS

#endif
