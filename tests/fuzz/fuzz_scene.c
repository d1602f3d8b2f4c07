/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_scene.c - libFuzzer target: a scene file.
 *
 * Beyond not crashing it demands: what is refused leaves an empty table and a message of one line
 * with its place; what is accepted holds possible numbers only, reads the same again, and is then
 * either rehearsed or refused by the virtual machine with a message.
 */
#include "demand.h"

#include "trueup/rehearse.h"
#include "trueup/scene_file.h"
#include "trueup/text.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static tu_scene scene, again;

static void demand_failure(tu_status status, const tu_error *error)
{
    DEMAND(tu_status_exit_code(status) == 3);
    DEMAND(error->status == status && error->message[0] != '\0');
    demand_line_of_text(error->where);
    demand_line_of_text(error->message);
}

static void demand_possible(void)
{
    DEMAND(scene.cutter.diameter.value_mm > 0 && scene.rapid_mm_per_min > 0);
    DEMAND(isfinite(scene.start.x) && isfinite(scene.start.y) && isfinite(scene.start.z));
    DEMAND(scene.noise_mm >= 0 && scene.noise_mm <= 1);
    DEMAND(scene.latch_delay_s >= 0 && scene.latch_delay_s <= 1);
    DEMAND(fabs(scene.stock_angle_rad) < 0.8 && abs(scene.wrong_turns) <= 3);
    DEMAND(scene.bed.columns * scene.bed.rows <= TU_BED_MAP_MAX);
    DEMAND(scene.block_count <= TU_SCENE_BLOCKS);
    for (size_t i = 0; i < scene.block_count; i++) {
        demand_line_of_text(scene.block[i].name);
        DEMAND(scene.block[i].low.z < scene.block[i].high.z);
    }
    if (scene.plate_present) {
        DEMAND(scene.plate_corner.outward[TU_AXIS_X] != 0);
        DEMAND(scene.seat == TU_SEAT_BED || scene.stock_present);
        DEMAND(scene.plate.thickness.value_mm > 0);
    }
}

/* A probe down, a move up: enough to build every solid and to meet one. */
static void rehearse(void)
{
    static const char program[] = "G21 G91 F600\nG38.2 Z-30\nG0 Z1\nM2\n";
    tu_rehearsal result;
    tu_error error = {0};
    tu_status status = tu_rehearse(&scene, program, sizeof program - 1, NULL, &result, &error);
    if (status)
        demand_failure(status, &error);
    else
        demand_line_of_text(result.text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const char *text = (const char *)data;
    tu_error error = {0};
    tu_status status = tu_scene_parse("fuzz.json", text, size, &scene, &error);
    if (status) {
        again = tu_scene_start();
        demand_failure(status, &error);
        DEMAND(strncmp(error.where, "fuzz.json", 9) == 0);
        DEMAND(!scene.stock_present && !scene.plate_present && scene.block_count == 0);
        return 0;
    }
    DEMAND(!tu_scene_parse("fuzz.json", text, size, &again, NULL));
    DEMAND(scene.seed == again.seed && scene.block_count == again.block_count);
    DEMAND(scene.plate_present == again.plate_present);
    demand_possible();
    rehearse();
    return 0;
}
