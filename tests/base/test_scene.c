/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_scene.c - the height of a scene's bed.
 */
#include "check.h"

#include "trueup/scene.h"

#include <math.h>

static void a_tilted_bed_rises_with_its_slopes(void **state)
{
    (void)state;
    static tu_scene scene;
    scene = tu_scene_start();
    scene.bed.height_mm = -100.0;
    scene.bed.slope_x = 0.001;
    scene.bed.slope_y = -0.002;
    check_close(tu_bed_surface_height(&scene.bed, 500.0, 100.0), -99.7, 1e-12, "bed, mm");
}

static void a_map_is_bilinear_inside_its_rectangle_and_nothing_outside(void **state)
{
    (void)state; /* h = x y / 100 is bilinear itself, so every place inside is exact */
    static tu_scene scene;
    scene = tu_scene_start();
    scene.bed.columns = 3;
    scene.bed.rows = 2;
    scene.bed.map_x0_mm = 10.0;
    scene.bed.map_y0_mm = 20.0;
    scene.bed.map_dx_mm = 5.0;
    scene.bed.map_dy_mm = 8.0;
    for (size_t j = 0; j < 2; j++) {
        for (size_t i = 0; i < 3; i++)
            scene.bed.map_mm[j * 3 + i] =
                (10.0 + 5.0 * (double)i) * (20.0 + 8.0 * (double)j) / 100.0;
    }
    check_close(tu_bed_surface_height(&scene.bed, 13.0, 21.0), 2.73, 1e-12, "inside, mm");
    check_close(tu_bed_surface_height(&scene.bed, 20.0, 28.0), 5.6, 1e-12, "last corner, mm");
    check_close(tu_bed_surface_height(&scene.bed, 20.1, 28.0), 0.0, 0.0, "outside, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tilted_bed_rises_with_its_slopes),
        cmocka_unit_test(a_map_is_bilinear_inside_its_rectangle_and_nothing_outside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
