/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_bench.h - a bench for calibrations in tests: a block, a plate that is put on its edges, a
 * slot, a disc for the cutter, moved until they meet.
 *
 * It knows no formula of the calibration. The plate's wall is a slab of material and its bore a
 * circle, both built once for the left edge and then turned bodily onto the others about the
 * vertical; the contact is found by halving the way between a clear place and one that overlaps.
 */
#ifndef TRUEUP_TESTS_PLATE_BENCH_H
#define TRUEUP_TESTS_PLATE_BENCH_H

#include "check.h"
#include "trueup/calibrate.h"

enum { BENCH_TOUCHES = 1024 };

/* The truth. Lengths in millimetres; origin is the block's front-left corner on the machine. */
typedef struct bench_truth {
    double origin[2];
    double width[2];      /* of the block */
    double slot_at[2];    /* low side of a slot, machine coordinates */
    double slot_width[2]; /* of the slot */
    double offset[2];     /* walls a, b */
    bool outward[2];
    double bore_diameter;
    double bore_out[2]; /* of its centre, from the edges outwards: distances a and b */
    double seat_z, thickness;
    double cutter_diameter[TU_CALIBRATION_CUTTERS];
} bench_truth;

/* A request with room for its parts; what it is told is the nominal side, apart from the truth. */
typedef struct bench {
    bench_truth truth;
    double noise_mm; /* standard deviation of a touch */
    check_random random;
    tu_plate plate;
    tu_cutter cutter[TU_CALIBRATION_CUTTERS];
    tu_calibration_touch touch[BENCH_TOUCHES];
    tu_calibration_request request;
    tu_calibration_result result;
    tu_error error;
} bench;

/*
 * A block of 60 x 45, plate "offcut" 9.53 thick with outward walls a 6.35 and b 6.40, cutters
 * "quarter" 6.35, "eighth" 3.175, "six" 6; truth and nominal values the same, no noise, no
 * tolerances, nothing touched, no width stated.
 */
void bench_start(bench *on, uint64_t seed);
/* Gives the plate a bore of 25 with its centre 20 inside both edges. */
void bench_bore(bench *on);
/* States the widths of the block as they are, with a tolerance. */
void bench_state_block(bench *on, double tolerance_mm);
/* Touches n times: edge 'l' 'r' 'f' 'k' (back), on 'a' 'b' wall, '<' '>' bore low and high side of
 * the distance that is home there, '(' ')' of the other distance, '-' bare, '=' slot. */
void bench_touch(bench *on, char edge, char surface, size_t cutter, size_t n);
/* 'f' the plate's face, 's' its seat. */
void bench_touch_z(bench *on, char surface, size_t n);
/* As the advice says, as often as n. */
void bench_follow(bench *on, const tu_advice *advice, size_t n);
tu_status bench_solve(bench *on);
/* The figure of that kind; fails the test where there is none. */
const tu_calibrated *bench_figure(const bench *on, tu_calibrated_kind kind, int index, int cutter);
bool bench_warned(const bench *on, const char *part);
/* The true value of a figure. */
double bench_truth_of(const bench *on, const tu_calibrated *figure);

#endif
