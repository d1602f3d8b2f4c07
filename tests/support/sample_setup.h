/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sample_setup.h - a request for a zero to start from in tests: invented machine, plates, cutters.
 */
#ifndef TRUEUP_TESTS_SAMPLE_SETUP_H
#define TRUEUP_TESTS_SAMPLE_SETUP_H

#include "trueup/zero.h"

enum { SAMPLE_TOUCHES = 8 };

/* A set-up that owns what its request points to. Copy-free: pass it by pointer. */
typedef struct sample_setup {
    tu_plate plate;
    tu_cutter cutter;
    tu_touch touch[TU_AXIS_COUNT][SAMPLE_TOUCHES];
    tu_touch high[TU_AXIS_COUNT][SAMPLE_TOUCHES];
    tu_zero_request request;
    tu_zero_result result;
    tu_error error;
} sample_setup;

/*
 * Travel 0..1200, 0..800, -120..0; step 0.0125; plate "offcut" 9.53+-0.02 with outward walls a
 * 6.35+-0.02 and b 6.40+-0.02, touch depth 5; a pin of 6.35+-0.01 (no flutes); nothing touched.
 */
void sample_start(sample_setup *setup, const char *target);
/* Makes the plate a "ring": 10 thick, bore 25+-0.02 with its centre at a -20+-0.03, b -20+-0.03. */
void sample_ring(sample_setup *setup);
/* Adds a touch to an axis. across NaN: not stated. */
void sample_touch(sample_setup *setup, tu_axis axis, double position_mm, double across_mm);
/* Adds a contact on either side of a bore. */
void sample_chord(sample_setup *setup, tu_axis axis, double low_mm, double high_mm,
                  double across_mm);
tu_status sample_solve(sample_setup *setup);
/* Whether one of the result's warnings holds this text. */
bool sample_warned(const sample_setup *setup, const char *part);

#endif
