/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * made_for.h - the sizes that a touch program counts on, as its head states them (internal).
 *
 * One form for the writer and for the reader: a list of items after "MADE FOR", comma and blank
 * between them, as in
 *     plate on stock at front-left, plate thickness 9.530+-0.020 mm, wall a at 6.350+-0.020 mm,
 *     cutter shape flat, cutter 6.350+-0.010 mm, stock thickness 18.000+-0.100 mm,
 *     start x 1.150+-3.000 mm, start y 1.100+-3.000 mm, start z 5.000+-3.000 mm
 * docs/touch-program.md lists the items.
 */
#ifndef TRUEUP_PROGRAM_MADE_FOR_H
#define TRUEUP_PROGRAM_MADE_FOR_H

#include "trueup/rehearse.h"

typedef enum tu_made_for_size {
    TU_MADE_FOR_PLATE,
    TU_MADE_FOR_WALL_A,
    TU_MADE_FOR_WALL_B,
    TU_MADE_FOR_BORE_A,
    TU_MADE_FOR_BORE_B,
    TU_MADE_FOR_BORE,
    TU_MADE_FOR_CUTTER_CORNER,
    TU_MADE_FOR_CUTTER_TIP,
    TU_MADE_FOR_CUTTER,
    TU_MADE_FOR_STOCK,
    TU_MADE_FOR_START_X, /* of the tip from the stock's corner that the plate lies on, along the */
    TU_MADE_FOR_START_Y, /* machine's axes; its tolerance is the start window */
    TU_MADE_FOR_START_Z, /* above the plate's face */
    TU_MADE_FOR_SIZES
} tu_made_for_size;

/* The first words of the head's title, and what ends the list of items. */
#define TU_MADE_FOR_TITLE "trueup: touches for "
#define TU_MADE_FOR_START "MADE FOR "
#define TU_MADE_FOR_END   ". Check them with a caliper."

/*
 *   stated        false: nothing is.
 *   line          of the program, where it was read; 0: it was not.
 *   size          none: not stated.
 *   rounding_mm   by how much what was read may differ from what was meant, of value and tolerance
 *                 together.
 *   corner        of the stock that the plate lies on, X and Y; both 0: not stated, and seat
 *                 neither.
 *   has_shape     shape is stated; included_rad of a vee, NaN: not.
 */
typedef struct tu_made_for {
    bool stated;
    size_t line;
    tu_unit unit;
    tu_quantity size[TU_MADE_FOR_SIZES];
    double rounding_mm[TU_MADE_FOR_SIZES];
    tu_target corner;
    tu_seat seat;
    bool has_shape;
    tu_cutter_shape shape;
    double included_rad;
} tu_made_for;

tu_made_for tu_made_for_start(tu_unit unit);

/* Writes the items; what does not fit is left out as a whole: text is then "". */
void tu_made_for_write(const tu_made_for *made, char *text, size_t size);

/*
 * Reads the head of program[0..length): the comments before its first block.
 *   made   out; stated is false where there is no such head, and after a failure.
 *   error  where names the line.
 * Returns TU_OK; TU_DATA_SYNTAX for a list that is not in this form to the last character.
 */
tu_status tu_made_for_read(const char *program, size_t length, tu_made_for *made, tu_error *error);

/* --- made_for_scene.c --- */

/*
 * Adds to result->mismatch what in the scene differs from made by more than tolerance and rounding.
 *   sideways  whether X and Y were touched.
 *   units     20 or 21, in force at the first motion; 0: none was made.
 */
void tu_made_for_compare(const tu_made_for *made, const tu_scene *scene, const bool sideways[2],
                         int units, tu_rehearsal *result);

#endif
