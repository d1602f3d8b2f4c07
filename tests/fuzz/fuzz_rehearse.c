/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_rehearse.c - libFuzzer target: any bytes as a program on the virtual machine.
 *
 * The first byte chooses from a few scenes, the rest is the program. Beyond not crashing it
 * demands: it ends; every number that is told is finite; hits, moves and pauses agree with the
 * result; moves join; every place lies in the travel; and the same program gives the same again.
 */
#include "demand.h"

#include "trueup/rehearse.h"
#include "trueup/text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

typedef struct listener {
    const tu_scene *scene;
    tu_machine_point last;
    size_t hits, pauses;
    double sum; /* of all places */
} listener;

static void demand_in_travel(const tu_scene *scene, tu_machine_point point)
{
    const double place[] = {point.x, point.y, point.z};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        DEMAND(place[axis] >= scene->machine.travel_low_mm[axis] - 1e-5);
        DEMAND(place[axis] <= scene->machine.travel_high_mm[axis] + 1e-5);
    }
}

static tu_status hear_hit(void *context, const tu_hit *hit)
{
    listener *heard = context;
    DEMAND(hit->sequence == ++heard->hits);
    DEMAND(hit->direction == 1 || hit->direction == -1);
    DEMAND(memcmp(&hit->position, &heard->last, sizeof hit->position) == 0);
    DEMAND(memchr(hit->series, '\0', sizeof hit->series) != NULL);
    return TU_OK;
}

static tu_status hear_move(void *context, const tu_rehearsal_move *move)
{
    listener *heard = context;
    DEMAND(memcmp(&move->from, &heard->last, sizeof move->from) == 0);
    DEMAND(move->kind >= 0 && move->kind <= 2);
    DEMAND(isfinite(move->feed_mm_per_min) && move->feed_mm_per_min > 0);
    demand_in_travel(heard->scene, move->to);
    heard->last = move->to;
    heard->sum += move->to.x + move->to.y + move->to.z;
    return TU_OK;
}

static tu_status hear_pause(void *context, size_t line, const char *message)
{
    listener *heard = context;
    DEMAND(line > 0);
    DEMAND(strlen(message) < 300);
    heard->pauses++;
    return TU_OK;
}

static void set_scene(tu_scene *scene, unsigned choice)
{
    *scene = tu_scene_start();
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        scene->machine.travel_low_mm[axis] = -100;
        scene->machine.travel_high_mm[axis] = 100;
    }
    scene->machine.step_mm = choice & 1 ? 0.01 : NAN;
    scene->bed.height_mm = -60;
    scene->stock_present = true;
    scene->stock_corner = (tu_machine_plane_point){-40, -40};
    scene->stock_size_mm[0] = scene->stock_size_mm[1] = 80;
    scene->stock_size_mm[2] = 20;
    scene->stock_angle_rad = choice & 2 ? 0.02 : 0;
    scene->plate_present = true;
    scene->plate.thickness = tu_quantity_exact(10);
    scene->plate_corner = (tu_target){.outward = {choice & 4 ? -1 : 1, -1, 1}};
    for (int edge = 0; edge < 2; edge++) {
        scene->plate.wall[edge].present = true;
        scene->plate.wall[edge].offset = tu_quantity_exact(5);
        scene->plate.wall[edge].rise = tu_quantity_exact(choice & 8 ? 8 : 0);
    }
    scene->cutter.diameter = tu_quantity_exact(6);
    scene->cutter.shape = choice & 16 ? TU_CUTTER_BALL : TU_CUTTER_FLAT;
    scene->cutter.flutes = choice & 32 ? 2 : 0;
    scene->cutter.helix_rad = 0.5;
    scene->turned_within_rad = 0.1;
    scene->noise_mm = choice & 64 ? 0.002 : 0;
    scene->latch_delay_s = 0.003;
    if (choice & 64) { /* a bad contact, warming up */
        scene->bounce_s = 0.05;
        scene->drift_mm_per_s[TU_AXIS_Z] = 0.001;
        scene->warm_up_mm[TU_AXIS_X] = -0.05;
        scene->warm_up_tau_s = 60;
    }
    scene->clip_on = (choice & 128) == 0;
    scene->start = (tu_machine_point){0, 0, 0};
}

static void demand_result(const tu_rehearsal *result, const listener *heard)
{
    DEMAND(result->hits == heard->hits && result->pauses == heard->pauses);
    DEMAND(memcmp(&result->end, &heard->last, sizeof result->end) == 0);
    DEMAND(isfinite(result->seconds) && result->seconds >= 0);
    DEMAND(isfinite(result->pressed_mm) && result->pressed_mm >= 0);
    DEMAND(isfinite(result->at.x + result->at.y + result->at.z));
    for (int slot = 0; slot < 9; slot++)
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
            DEMAND(isfinite(result->slot_mm[slot][axis]));
    DEMAND((result->fault == TU_FAULT_NONE) == (result->text[0] == '\0'));
    DEMAND(tu_text_is_utf8(result->text, strlen(result->text)));
    DEMAND(strchr(result->text, '\n') == NULL);
    for (size_t i = 0; i < result->mismatch_count; i++) {
        const char *text = result->mismatch[i].text;
        DEMAND(*text != '\0' && strchr(text, '\n') == NULL && strstr(text, "nan") == NULL);
    }
    for (size_t i = 0; i < result->warnings.count; i++) {
        const char *text = result->warnings.text[i];
        DEMAND(tu_text_is_utf8(text, strlen(text)) && strchr(text, '\n') == NULL);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0)
        return 0;
    static tu_scene scene;
    set_scene(&scene, data[0]);
    /* A copy of just this size, so that a read beyond its end is seen. */
    char *program = malloc(size > 1 ? size - 1 : 1);
    DEMAND(program != NULL);
    memcpy(program, data + 1, size - 1);
    double sum[2];
    for (int i = 0; i < 2; i++) {
        static tu_rehearsal result;
        tu_error error = {0};
        listener heard = {.scene = &scene, .last = scene.start};
        const tu_rehearsal_sink sink = {&heard, hear_hit, hear_move, hear_pause};
        DEMAND(!tu_rehearse(&scene, program, size - 1, &sink, &result, &error));
        demand_result(&result, &heard);
        sum[i] = heard.sum;
    }
    DEMAND(sum[0] == sum[1]);
    free(program);
    return 0;
}
