/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sample_plan.h - something to plan, for tests of touch programs.
 */
#ifndef TRUEUP_TESTS_SAMPLE_PLAN_H
#define TRUEUP_TESTS_SAMPLE_PLAN_H

#include "trueup/plan.h"

typedef enum sample_kind { SAMPLE_CORNER, SAMPLE_SURFACE, SAMPLE_GRID, SAMPLE_TRIALS } sample_kind;

typedef struct sample_plan {
    tu_machine machine;
    tu_plate plate;
    tu_cutter cutter;
    tu_plan_style style;
    tu_plan_corner corner;
    tu_plan_surface surface;
    tu_plan_grid grid;
    tu_rectangle keep_out[TU_KEEP_OUT_MAX];
    tu_plan_trials trials;
    tu_plan_summary summary;
    tu_error error;
    char *program; /* of the last plan */
    size_t length;
} sample_plan;

/*
 * Travel 1200 x 800 x 120; plate 9.53 thick whose own sides are 6.35 (a) and 6.40 (b) outside the
 * edges, touched 5 below its face; a pin of 6.35, exact; the usual style. Corner front-left-top;
 * the surface under that plate; a grid of 5 x 4 points over 400 x 300 from 0,0, no keep-outs,
 * variation 2; 10 trials of Z. Free with sample_plan_end.
 */
void sample_plan_start(sample_plan *p);
void sample_plan_end(sample_plan *p);

/* The walls rise by that above the face, touched that deep, facing inward, 18 outside the edges. */
void sample_plan_rising(sample_plan *p, double rise_mm, double depth_mm);
/* A bore of that diameter instead, its centre 20 inside both edges. */
void sample_plan_bore(sample_plan *p, double diameter_mm);
void sample_plan_flutes(sample_plan *p, int flutes, double turned_within_rad);
void sample_plan_target(sample_plan *p, const char *name);
void sample_plan_add_keep_out(sample_plan *p, double x0, double y0, double x1, double y1);

tu_status sample_plan_write(sample_plan *p, sample_kind kind);
/* The same, and it must succeed. */
void sample_plan_good(sample_plan *p, sample_kind kind);
/* The same, and it must be refused, with nothing written. */
void sample_plan_refused(sample_plan *p, sample_kind kind, tu_status status, const char *where,
                         const char *part);
/* The programmed length of the probe move on a line of a program, mm. */
double sample_plan_probe_length(const char *program, size_t line, tu_unit unit);
/* How often part stands in the program. */
size_t sample_plan_count(const sample_plan *p, const char *part);

#endif
