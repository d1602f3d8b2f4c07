/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sample_scene.c - see sample_scene.h.
 */
#include "check.h"

#include "sample_scene.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void sample_scene_start(tu_scene *scene)
{
    *scene = tu_scene_start();
    const double high[] = {1200.0, 800.0, 0.0};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        scene->machine.travel_low_mm[axis] = axis == TU_AXIS_Z ? -120.0 : 0.0;
        scene->machine.travel_high_mm[axis] = high[axis];
    }
    scene->bed.height_mm = -100.0;
    scene->stock_present = true;
    scene->stock_corner = (tu_machine_plane_point){200.0, 150.0};
    scene->stock_size_mm[0] = 300.0;
    scene->stock_size_mm[1] = 200.0;
    scene->stock_size_mm[2] = 18.0;
    scene->plate_present = true;
    scene->plate.thickness = tu_quantity_exact(9.53);
    for (int edge = 0; edge < 2; edge++) {
        scene->plate.wall[edge].present = true;
        scene->plate.wall[edge].offset = tu_quantity_exact(edge == 0 ? 6.35 : 6.40);
    }
    sample_scene_lay(scene, "front-left-top");
    scene->cutter.diameter = tu_quantity_exact(6.35);
    scene->start = (tu_machine_point){220.0, 170.0, -60.0};
}

void sample_scene_lay(tu_scene *scene, const char *corner)
{
    check_status(tu_target_parse(corner, &scene->plate_corner, NULL), TU_OK, NULL);
}

void sample_scene_flutes(tu_scene *scene, int flutes, double angle_rad)
{
    scene->cutter.flutes = flutes;
    scene->cutter_angle_rad = angle_rad;
}

void sample_scene_add_block(tu_scene *scene, const char *name, tu_machine_point low,
                            tu_machine_point high)
{
    tu_scene_block *block = &scene->block[scene->block_count++];
    snprintf(block->name, sizeof block->name, "%s", name);
    block->low = low;
    block->high = high;
}

static tu_status keep_hit(void *context, const tu_hit *hit)
{
    sample_run *run = context;
    if (run->hits < SAMPLE_RUN_HITS)
        run->hit[run->hits] = *hit;
    run->hits++;
    return TU_OK;
}

static tu_status keep_move(void *context, const tu_rehearsal_move *move)
{
    sample_run *run = context;
    if (run->moves < SAMPLE_RUN_MOVES)
        run->move[run->moves] = *move;
    run->moves++;
    return TU_OK;
}

static tu_status keep_pause(void *context, size_t line, const char *message)
{
    sample_run *run = context;
    if (run->pauses < SAMPLE_RUN_PAUSES) {
        run->pause_line[run->pauses] = line;
        snprintf(run->pause[run->pauses], sizeof run->pause[0], "%s", message);
    }
    run->pauses++;
    return TU_OK;
}

tu_status sample_rehearse(sample_run *run, const char *program)
{
    const tu_rehearsal_sink sink = {run, keep_hit, keep_move, keep_pause};
    run->hits = run->moves = run->pauses = 0;
    return tu_rehearse(&run->scene, program, strlen(program), &sink, &run->result, &run->error);
}

void sample_rehearse_clean(sample_run *run, const char *program)
{
    check_status(sample_rehearse(run, program), TU_OK, &run->error);
    assert_string_equal(run->result.text, "");
    assert_int_equal(run->result.fault, TU_FAULT_NONE);
}

void sample_rehearse_fault(sample_run *run, const char *program, tu_fault fault, size_t line)
{
    check_status(sample_rehearse(run, program), TU_OK, &run->error);
    if (run->result.fault != fault)
        fail_msg("expected fault %d, found %d: %s", (int)fault, (int)run->result.fault,
                 run->result.text);
    assert_int_equal(run->result.line, line);
    char start[32];
    snprintf(start, sizeof start, "line %zu", line);
    assert_int_equal(strncmp(run->result.text, start, strlen(start)), 0);
    assert_null(strchr(run->result.text, '\n'));
}
