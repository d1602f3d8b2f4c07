/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sample_scene.h - a table for tests of the virtual machine, and what a rehearsal told.
 */
#ifndef TRUEUP_TESTS_SAMPLE_SCENE_H
#define TRUEUP_TESTS_SAMPLE_SCENE_H

#include "trueup/rehearse.h"

enum { SAMPLE_RUN_HITS = 2048, SAMPLE_RUN_MOVES = 128, SAMPLE_RUN_PAUSES = 8 };

typedef struct sample_run {
    tu_scene scene;
    size_t hits, moves, pauses;
    tu_hit hit[SAMPLE_RUN_HITS];
    tu_rehearsal_move move[SAMPLE_RUN_MOVES];
    size_t pause_line[SAMPLE_RUN_PAUSES];
    char pause[SAMPLE_RUN_PAUSES][300];
    tu_rehearsal result;
    tu_error error;
} sample_run;

/*
 * Travel 0..1200, 0..800, -120..0, any step; bed at -100; stock 300 x 200 x 18 with its front-left
 * corner at (200, 150), so its top is at -82; plate 9.53 thick on the front-left corner, its own
 * sides 6.35 (a) and 6.40 (b) outside the edges, so its face is at -72.47; a pin of 6.35; no noise,
 * no delay; the start over the plate at (180, 130, -60) plus (40, 40, 0).
 */
void sample_scene_start(tu_scene *scene);
/* Puts the plate on another corner, by name. */
void sample_scene_lay(tu_scene *scene, const char *corner);
/* Two straight flutes, the first edge at an angle. */
void sample_scene_flutes(tu_scene *scene, int flutes, double angle_rad);
void sample_scene_add_block(tu_scene *scene, const char *name, tu_machine_point low,
                            tu_machine_point high);

/* Rehearses a program in run->scene; keeps hits, moves and pauses. */
tu_status sample_rehearse(sample_run *run, const char *program);
/* The same, and it must end without a fault. */
void sample_rehearse_clean(sample_run *run, const char *program);
/* The same, and it must end with this fault on this line. */
void sample_rehearse_fault(sample_run *run, const char *program, tu_fault fault, size_t line);

#endif
