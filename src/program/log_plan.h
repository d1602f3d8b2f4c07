/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_plan.h - the touches that a program is going to make, and which of them a hit is.
 *
 * A machine stops where it touches, so places are not known beforehand: but a program that moves
 * by known lengths from a place that is known, from an earlier hit, says where the next may be.
 */
#ifndef TU_PROGRAM_LOG_PLAN_H
#define TU_PROGRAM_LOG_PLAN_H

#include "trueup/hits.h"
#include "trueup/quantity.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

/* A coordinate as a program knows it: a length from a base whose place in machine coordinates is
 * found out by the hits. */
typedef struct tu_log_place {
    size_t base;
    double offset_mm;
} tu_log_place;

/*
 * A touch of the program.
 *   line        of its block.
 *   series, number  as its comment announces it; "" and 0 without.
 *   search      the fast touch of a pair, which does not count.
 *   axis, direction  of its move.
 *   from        where its move begins.
 *   length_mm   how far it may go, above 0.
 *   after       the base that its contact makes.
 */
typedef struct tu_log_touch {
    size_t line;
    char series[TU_NAME_SIZE];
    unsigned number;
    bool search;
    tu_axis axis;
    int direction;
    tu_log_place from[TU_AXIS_COUNT];
    double length_mm;
    size_t after;
} tu_log_touch;

/*
 * How far a program has come.
 *   next      the touch that is expected.
 *   landed    touches that came.
 *   base_mm   where each base is; NaN: not known yet.
 *   taught    those that the last hit told.
 */
typedef struct tu_log_course {
    size_t next, landed;
    bool skipped; /* the touch before the next was counted as lost */
    double *base_mm;
    size_t taught[TU_AXIS_COUNT];
    size_t taught_count;
} tu_log_course;

/*
 * Starts as {0}; owns its memory.
 *   course    what is believed.
 *   anew      what would be so if the program had started with the last stray; its next is 0 while
 *             there is none.
 */
typedef struct tu_log_plan {
    tu_log_touch *touch;
    size_t count, room;
    size_t base_count;
    tu_log_course course, anew;
} tu_log_plan;

/*
 * Reads a touch program. error->where: "FILE: line 12, column 7".
 * Returns TU_OK; TU_DATA_SYNTAX, TU_DATA_RANGE (not a program that can be read);
 * TU_DATA_MISSING (no touch in it, or its end is missing); TU_SYSTEM_IO; TU_SYSTEM_MEMORY.
 */
tu_status tu_log_plan_read(const char *path, tu_log_plan *plan, tu_error *error);
void tu_log_plan_destroy(tu_log_plan *plan);

typedef enum tu_log_landing {
    TU_LOG_LANDED,   /* as expected */
    TU_LOG_SKIPPED,  /* at a later touch: those between were missed; or at one counted as lost */
    TU_LOG_REPEATED, /* at the touch before this one: the last hit was not the program's */
    TU_LOG_STARTED,  /* as its second touch: the program started anew with the hit before */
    TU_LOG_STRAY     /* nowhere where the program touches now */
} tu_log_landing;

enum { TU_LOG_STRAY_SIZE = 420 };

/*
 * Which touch this hit is; fills in its series, and axis and direction where they are not known.
 * ok becomes false for a search touch, and for a stray, which uses up no touch of the program.
 *   text  out: what to tell the user of anything but TU_LOG_LANDED.
 */
tu_log_landing tu_log_plan_take(tu_log_plan *plan, tu_hit *hit, tu_unit unit,
                                char text[TU_LOG_STRAY_SIZE]);

/* So many hits were lost. */
void tu_log_plan_skip(tu_log_plan *plan, uint64_t count);
bool tu_log_plan_is_done(const tu_log_plan *plan);

#endif
