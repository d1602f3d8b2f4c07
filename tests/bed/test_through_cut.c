/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Through cuts: by pencil, and against the solids of the virtual machine: a cutter lowered onto the
 * bed until it touches tells how far the bed is below the cut.
 */
#include "bed_sample.h"

#include "program/solids.h"

#include <math.h>
#include <stdlib.h>

static const tu_through_cut_request plain = {NULL, {0, 0}, NAN, 0, NAN};

static tu_through_cut cut_of(const bed_model *made, tu_through_cut_request request)
{
    tu_through_cut cut;
    tu_error error;

    check_status(tu_bed_judge_through_cut(&made->model, &request, &cut, &error), TU_OK, &error);
    return cut;
}

static void bite_and_skin_are_as_by_pencil(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_tilted);
    bed_model made = bed_model_of(points, 63, false);
    const tu_bed_rectangle job = {200, 600, 100, 300};
    tu_through_cut_request request = plain;

    /* over the job: 1.05 at the back left to 1.55 at the front right; b0 1.1 at (200, 200) */
    request.job = &job;
    request.reference = (tu_machine_plane_point){200, 200};
    request.overcut_mm = 0.02;
    tu_through_cut cut = cut_of(&made, request);
    check_close(cut.b0_mm, 1.1, 1e-13, "b0, mm");
    check_close(cut.worst_bite_mm, 0.47, 1e-13, "worst bite, mm");
    check_close(cut.bite_at.x_mm, 600, 1e-12, "X of the bite, mm");
    check_close(cut.bite_at.y_mm, 100, 1e-12, "Y of the bite, mm");
    check_close(cut.worst_skin_mm, 0.03, 1e-13, "worst skin, mm");
    check_close(cut.skin_at.y_mm, 300, 1e-12, "Y of the skin, mm");
    check_close(cut.overcut_needed_mm, 0.05, 1e-13, "overcut needed, mm");
    check_close(cut.bite_then_mm, 0.5, 1e-13, "bite with that, mm");
    /* below 1.08: a triangle 30 wide and 60 deep */
    check_close(cut.skin_mm2, 900, 1e-6, "area with a skin, mm2");
    request.stock_tolerance_mm = 0.1;
    cut = cut_of(&made, request);
    check_close(cut.worst_bite_mm, 0.57, 1e-13, "worst bite with tolerance, mm");
    check_close(cut.worst_skin_mm, 0.13, 1e-13, "worst skin with tolerance, mm");
    check_close(cut.overcut_needed_mm, 0.15, 1e-13, "overcut needed with tolerance, mm");
    check_close(cut.bite_then_mm, 0.7, 1e-13, "bite with that, mm");
    request.overcut_mm = cut.overcut_needed_mm;
    check_close(cut_of(&made, request).worst_skin_mm, 0, 1e-13, "skin with the overcut, mm");
    check_close(cut_of(&made, request).skin_mm2, 0, 1e-6, "area with a skin then, mm2");
    bed_model_free(&made);
    free(points);
}

/* The height at which a thin cutter lowered here touches the bed. */
static double touched_height(const tu_solid *bed, double x_mm, double y_mm)
{
    tu_cutter needle = {.shape = TU_CUTTER_FLAT};
    needle.diameter = (tu_quantity){.value_mm = 1e-4, .tolerance_mm = NAN};
    const tu_cutter_solid cutter = tu_cutter_solid_start(&needle, 0);
    const tu_path down =
        tu_path_between((tu_machine_point){x_mm, y_mm, 20}, (tu_machine_point){x_mm, y_mm, -20});
    return 20 - tu_solid_first_contact(bed, &cutter, &down, 0);
}

static void cuts_agree_with_the_solids_of_the_virtual_machine(void **state)
{
    (void)state;
    static tu_bed_surface surface;
    tu_bed_point points[63];
    check_random random = check_random_seed(41);
    const tu_bed_rectangle job = {130, 640, 70, 510};

    surface = (tu_bed_surface){.columns = 9, .rows = 7, .map_dx_mm = 100, .map_dy_mm = 100};
    for (size_t i = 0; i < 63; i++) {
        const double x = 100 * (double)(i % 9), y = 100 * (double)(i / 9);
        surface.map_mm[i] = check_random_uniform(&random, 0, 0.5);
        points[i] = (tu_bed_point){x, y, surface.map_mm[i]};
    }
    const tu_solid bed = tu_solid_start_bed(&surface, true);
    bed_model made = bed_model_of(points, 63, false);
    tu_through_cut_request request = plain;
    request.job = &job;
    request.reference = (tu_machine_plane_point){150, 90};
    request.overcut_mm = 0.1;
    const tu_through_cut cut = cut_of(&made, request);

    const double b0 = touched_height(&bed, 150, 90);
    double bite = -INFINITY, skin = -INFINITY;
    for (int i = 0; i <= 51; i++) {
        for (int j = 0; j <= 44; j++) {
            const double x = 130 + 10 * i, y = 70 + 10 * j;
            const double over = touched_height(&bed, x, y) - b0 + 0.1;
            bite = fmax(bite, over);
            skin = fmax(skin, -over);
        }
    }
    /* extremes are at crossings or corners of the job, which the 10 mm raster meets; the needle's
     * own radius and the march add less than 1e-5 */
    check_close(cut.b0_mm, b0, 1e-5, "b0, mm");
    check_close(cut.worst_bite_mm, bite, 1e-5, "worst bite, mm");
    check_close(cut.worst_skin_mm, skin, 1e-5, "worst skin, mm");
    bed_model_free(&made);
}

static void a_given_height_stands_in_for_a_reference(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_flat);
    bed_model made = bed_model_of(points, 63, true);
    tu_through_cut_request request = plain;

    request.reference.x = NAN;
    request.b0_mm = 0.25;
    const tu_through_cut cut = cut_of(&made, request);
    check_close(cut.worst_skin_mm, 0.25, 1e-15, "skin, mm");
    check_same(cut.worst_bite_mm, 0, "bite, mm");
    check_close(cut.skin_mm2, 480000, 1e-6, "area with a skin, mm2");
    request.b0_mm = -0.25;
    check_close(cut_of(&made, request).overcut_needed_mm, -0.25, 1e-15, "overcut needed, mm");
    bed_model_free(&made);
    free(points);
}

static void what_nobody_touched_is_not_guessed(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_tilted);
    bed_model made = bed_model_of(points, 63, false);
    const tu_bed_rectangle half_out = {700, 900, 0, 100}, out = {900, 1000, 0, 100};
    tu_through_cut_request request = plain;
    tu_through_cut cut;
    tu_error error;

    request.job = &half_out;
    check_close(cut_of(&made, request).unknown_mm2, 10000, 1e-9, "never touched, mm2");
    request.job = &out;
    check_status(tu_bed_judge_through_cut(&made.model, &request, &cut, &error), TU_UNDETERMINED,
                 NULL);
    request = plain;
    request.reference.x = -1;
    check_status(tu_bed_judge_through_cut(&made.model, &request, &cut, &error), TU_UNDETERMINED,
                 NULL);
    check_contains(error.message, "X -1.000");
    request.reference.x = NAN;
    check_status(tu_bed_judge_through_cut(&made.model, &request, &cut, &error), TU_USAGE, NULL);
    request = plain;
    request.stock_tolerance_mm = -0.1;
    check_status(tu_bed_judge_through_cut(&made.model, &request, &cut, &error), TU_DATA_RANGE,
                 NULL);
    bed_model_free(&made);
    free(points);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bite_and_skin_are_as_by_pencil),
        cmocka_unit_test(cuts_agree_with_the_solids_of_the_virtual_machine),
        cmocka_unit_test(a_given_height_stands_in_for_a_reference),
        cmocka_unit_test(what_nobody_touched_is_not_guessed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
