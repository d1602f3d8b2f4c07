/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_judge.h - from the touches of a bed to the answer about it.
 */
#ifndef TU_TASK_BED_JUDGE_H
#define TU_TASK_BED_JUDGE_H

#include "base/sheet.h"
#include "task/bed/bed_read.h"
#include "task/typed_length.h"
#include "trueup/report_bed.h"
#include "trueup/shop.h"
#include "trueup/task_bed.h"

/* A map: its touches, merged, with a surface through them. Starts as {0}; owns its memory. */
typedef struct tu_bed_map {
    tu_bed_reading reading;
    tu_bed_places places;
    tu_bed_model model;
    void *model_memory;
} tu_bed_map;

/* What a run holds until its end. Starts as {0}. known_machine: its travel where the caller has
 * read the shop file already; NULL: as the request say. */
typedef struct tu_bed_run tu_bed_run;
struct tu_bed_run {
    tu_task_bed_request request;
    tu_shop *shop;
    tu_machine machine;
    const tu_machine *known_machine;
    tu_bed_map map, before;
    void *scratch;
    size_t scratch_bytes;
    tu_zone_workspace *zone_room;
    tu_bed_point *judged;
    tu_bed_straightness *lines;
    tu_bed_suspect *suspects;
    tu_sheet again_program;
    tu_plan_summary again;
    tu_bed_run *without; /* the same without its suspects; owned */
    bool part;           /* this is one of those: the shop is another's */
    tu_bed_answer answer;
};

/* Reads the map that the request name, with its surface, its suspects and warnings about the file;
 * no more of the answer. */
tu_status tu_bed_prepare(tu_bed_run *run, tu_error *error);
/* Reads the files that the request name and works out the answer. */
tu_status tu_bed_judge(tu_bed_run *run, tu_error *error);
void tu_bed_run_destroy(tu_bed_run *run);

/* Makes the scratch at least that large. TU_SYSTEM_MEMORY. */
tu_status tu_bed_need(tu_bed_run *run, size_t bytes, tu_error *error);

/* Which points are judged; their planes and shape. */
tu_status tu_bed_choose_points(tu_bed_run *run, tu_error *error);
tu_status tu_bed_find_planes(tu_bed_run *run, tu_error *error);

/* --- bed_decide.c --- */

/* Surfacing, shims and, where asked for, the through cut. */
tu_status tu_bed_decide(tu_bed_run *run, tu_error *error);
/* Standard deviation of a place's height by the repeatability of its touches; NaN: not known. */
double tu_bed_place_sd(const tu_bed_run *run);

/* --- bed_doubt.c --- */

/* Whether suspects decide, and what the answer is without them; heights that are hardly one bed's.
 */
tu_status tu_bed_doubt(tu_bed_run *run, tu_error *error);

/* --- bed_series.c --- */

/* Warns where the map is made of several series, and where one of them lies higher than another. */
tu_status tu_bed_check_series(tu_bed_run *run, tu_error *error);

/* --- bed_compare.c --- */

/* The answer's comparison with the earlier map. */
tu_status tu_bed_compare(tu_bed_run *run, tu_error *error);

/* --- bed_rounds.c --- */

/* Refuses a round of touches whose clean places all moved alike: TU_DATA_CONFLICT. */
tu_status tu_bed_check_rounds(tu_bed_run *run, tu_error *error);

/* --- bed_again.c --- */

/* The touch program for the suspects, where --re-touch asks for it and there are any. */
tu_status tu_bed_plan_again(tu_bed_run *run, tu_error *error);

#endif
