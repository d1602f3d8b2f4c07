/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_words.h - what a bed's figures mean, in sentences that the text and the map share (internal).
 */
#ifndef TU_REPORT_BED_WORDS_H
#define TU_REPORT_BED_WORDS_H

#include "trueup/report_bed.h"

enum { TU_BED_WORDS_SIZE = 1400 };

typedef struct tu_bed_words {
    char text[TU_BED_WORDS_SIZE];
} tu_bed_words;

/* Why not to trust what follows: figures that rest on a suspect place, heights that are hardly one
 * bed's; "" where nothing speaks against them. */
tu_bed_words tu_bed_say_doubt(const tu_bed_answer *answer, tu_unit unit);
/* "0.620 mm from the highest to the lowest of 63 places; 0.210 mm of it is warp, ..." */
tu_bed_words tu_bed_say_verdict(const tu_bed_answer *answer, tu_unit unit);
/* What to do: shim, or surface; what could be done where the limit holds; with and without the
 * suspects where they decide; "" where the bed is so flat that neither would help, or its heights
 * are hardly one bed's. */
tu_bed_words tu_bed_say_remedy(const tu_bed_answer *answer, tu_unit unit);
/* Against the limit that was asked for; "" without one. */
tu_bed_words tu_bed_say_limit(const tu_bed_answer *answer, tu_unit unit);
/* More of the rectangle (the job, or around the touches) than their edges miss is not known. */
bool tu_bed_is_patchy(const tu_bed_answer *answer);
/* What is not known between the touches, and what is filled in; "" where all is touched. */
tu_bed_words tu_bed_say_cover(const tu_bed_answer *answer, tu_unit unit);
/* The through cut; "" where nobody asked. */
tu_bed_words tu_bed_say_through_cut(const tu_bed_answer *answer, tu_unit unit);
/* Which touches replace which; "" where nothing was touched again. */
tu_bed_words tu_bed_say_renewed(const tu_bed_answer *answer);
/* What the noise of the touches does to the flatness figure; "" where nothing is known of it. */
tu_bed_words tu_bed_say_noise(const tu_bed_answer *answer, tu_unit unit);
/* What has changed since the earlier map; "" without one. */
tu_bed_words tu_bed_say_change(const tu_bed_answer *answer, tu_unit unit);
/* Where a support is: "back right corner" of the default ones, "X 10.000 Y 20.000" of others. */
tu_bed_words tu_bed_say_support(const tu_bed_answer *answer, size_t support, tu_unit unit);

/* A length with its unit: "0.620 mm", without -0. */
typedef struct tu_bed_length {
    char text[64];
} tu_bed_length;
tu_bed_length tu_bed_show(tu_unit unit, double length_mm);

extern const char tu_bed_sag_note[];

/* Words at the end of others. */
TU_PRINTF(2, 3) void tu_bed_add_words(tu_bed_words *words, const char *format, ...);
/* What is smaller needs no shim. */
extern const double tu_bed_shim_least_mm;
/* Less than a shim can mend. */
bool tu_bed_is_flat(const tu_bed_answer *answer);
bool tu_bed_is_within(const tu_bed_answer *answer);

#endif
