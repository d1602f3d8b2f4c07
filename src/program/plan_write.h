/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_write.h - a touch program as it is written: blocks, and where the tip can be (internal).
 *
 * The tip's position is carried along as a range an axis. A touch narrows it to where the contact
 * can be; a move shifts it. Distances and limits of every move follow from these ranges.
 *
 * A program is gone through twice: first without output, to check it and to learn what its head
 * must say; then for good. plan_write.c has blocks, plan_touch.c touches, plan_head.c the head.
 */
#ifndef TRUEUP_PROGRAM_PLAN_WRITE_H
#define TRUEUP_PROGRAM_PLAN_WRITE_H

#include "trueup/plan.h"

/* Overrun of the machine after a contact, and what rounding and worn plates leave uncertain.
 * Common practice, no source. */
#define TU_PLAN_ALLOWANCE_MM 0.1
#define TU_PLAN_NAME_ROOM    40 /* characters of a name in a comment */

typedef struct tu_range {
    double low, high;
} tu_range;

/*
 * A program being written.
 *   out         NULL: nothing is written.
 *   at          where the tip can be. X and Y from the stock's corner (of a grid: work
 *               coordinates), Z from the face that is touched first.
 *   start       the start window, in the same coordinates.
 *   free_side   0: the stock is not in the way. Else, per axis, the outward direction of the edges
 *               that stock beside the plate has at X = 0 and at Y = 0: the cutter, of radius_mm,
 *               must keep off it.
 *   sums        how many readings the parameters #1 to #3 hold so far.
 *   numbers     how many touches of each axis were announced.
 *   distance    90 or 91, as in force.
 *   status      the first failure; after it nothing more is done.
 */
typedef struct tu_plan_writer {
    FILE *out;
    const tu_plan_style *style;
    tu_plan_summary *summary;
    tu_error *error;
    tu_status status;
    tu_range at[TU_AXIS_COUNT];
    tu_range start[TU_AXIS_COUNT];
    int free_side[2];
    double radius_mm;
    size_t sums[TU_AXIS_COUNT];
    size_t numbers[TU_AXIS_COUNT];
    int distance;
    char series[TU_NAME_SIZE];
} tu_plan_writer;

/* --- plan_write.c --- */

double tu_range_middle(tu_range range);
tu_range tu_range_about(double middle, double half_width);

/* The first failure counts. */
void tu_plan_fail(tu_plan_writer *writer, tu_status status, const char *where, const char *format,
                  ...) TU_PRINTF(4, 5);

/* A length in the program's unit, rounded to what its numbers show; and as text. */
typedef struct tu_plan_text {
    char text[32];
} tu_plan_text;
double tu_plan_round(const tu_plan_style *style, double length_mm);
double tu_plan_round_up(const tu_plan_style *style, double length_mm);
tu_plan_text tu_plan_length(const tu_plan_style *style, double length_mm);
/* With two decimals more, for offsets. */
tu_plan_text tu_plan_length_fine(const tu_plan_style *style, double length_mm);
/* For sentences: "12.5 mm" or "0.492 in". */
tu_plan_text tu_plan_words(const tu_plan_style *style, double length_mm);
tu_plan_text tu_plan_feed(const tu_plan_style *style, double mm_per_min);
/* "G54" for P 1. */
tu_plan_text tu_plan_slot(const tu_plan_style *style);
/* A name as it can stand in a comment: plain ASCII without parentheses. */
tu_plan_text tu_plan_name(const char *name);

/* vsnprintf, the same in every locale. */
void tu_plan_format(char *text, size_t size, const char *format, ...) TU_PRINTF(3, 4);

/* A block, without its newline. */
void tu_plan_block(tu_plan_writer *writer, const char *format, ...) TU_PRINTF(2, 3);
/* Text in as many comments as it needs. Parentheses and what is not ASCII become something else. */
void tu_plan_comment(tu_plan_writer *writer, const char *format, ...) TU_PRINTF(2, 3);

/* Sees to it that G90 or G91 is in force. */
void tu_plan_distance(tu_plan_writer *writer, int distance);
/* Moves along an axis. */
void tu_plan_move(tu_plan_writer *writer, tu_axis axis, double by_mm);
/* Moves so that the tip is in the middle of its range there. */
void tu_plan_move_to(tu_plan_writer *writer, tu_axis axis, double to_mm);
/* To a place in work coordinates, absolute; X and Y must be known as such. */
void tu_plan_go(tu_plan_writer *writer, double x_mm, double y_mm);
/* Notes that the tip can be there on the way: for the space that the program needs. */
void tu_plan_reach(tu_plan_writer *writer, tu_axis axis, tu_range range);
/* M0 with its message. */
void tu_plan_pause(tu_plan_writer *writer, const char *format, ...) TU_PRINTF(2, 3);

/* --- plan_touch.c --- */

/*
 * A touch: the fast one, then, repeats times, off by the back-off and a slow one that counts.
 *   direction  -1 or +1.
 *   place      where the tip can be when it touches.
 *   repeats    0: the fast touch only, and it does not count.
 *   counts     false: the slow ones do not count either.
 *   feed       of the slow ones, mm/min; NaN: the style's.
 */
typedef struct tu_plan_contact {
    tu_axis axis;
    int direction;
    tu_range place;
    int repeats;
    bool counts;
    double feed_mm_per_min;
} tu_plan_contact;

void tu_plan_touch(tu_plan_writer *writer, const tu_plan_contact *contact);
/* One more slow touch, from where the tip stands off by a known distance after having touched. */
void tu_plan_touch_again(tu_plan_writer *writer, const tu_plan_contact *contact, double off_mm);

/* --- plan_head.c --- */

/* Writes what moves and touches. It finds at, start, free_side, radius and series filled in. */
typedef void tu_plan_body(tu_plan_writer *writer, const void *context);

/*
 * The whole program: checks, head, body, end. writer comes with at, start, series and the like
 * filled in, its summary with title, start and start_mm.
 */
tu_status tu_plan_run(FILE *out, tu_plan_writer *writer, const tu_machine *machine,
                      tu_plan_body *body, const void *context);

/* --- plan_style.c --- */

tu_status tu_plan_check_style(const tu_plan_style *style, tu_error *error);
/* Copies the series, or its default where it is empty. */
tu_status tu_plan_take_series(char series[TU_NAME_SIZE], const char *name, const char *otherwise,
                              tu_error *error);

#endif
