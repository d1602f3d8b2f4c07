/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_set.c - the block by which a program sets the offset itself. Expected sums by
 * docs/geometry.md, by pencil.
 */
#include "plan_case.h"

#include <math.h>
#include <string.h>

static void the_offset_is_the_reading_less_wall_and_radius(void **unused)
{
    (void)unused;
    p.style.set = true;
    p.style.slot = 2;
    p.style.repeats = 2;
    sample_plan_good(&p, SAMPLE_CORNER);
    /* E = P - s o - s sigma r, s = -1, sigma = +1: + 6.35 + 3.175 and + 6.40 + 3.175. */
    check_contains(p.program, "\nG10 L2 P2 X[#5241+#1/2+9.52500] Y[#5242+#2/2+9.57500] "
                              "Z[#5243+#3/2-9.53000]\nM2\n");
    check_contains(p.program, "\n#1=#5061\n");
    check_contains(p.program, "\n#1=[#1+#5061]\n");
    sample_plan_rising(&p, 8.0, 4.0);
    sample_plan_target(&p, "back-right-top");
    sample_plan_good(&p, SAMPLE_CORNER);
    /* s = +1, sigma = -1: - 18 + 3.175. */
    check_contains(p.program, "X[#5241+#1/2-14.82500] Y[#5242+#2/2-14.82500]");
}

static void a_flute_loss_is_taken_into_the_offset(void **unused)
{
    (void)unused;
    p.style.set = true;
    sample_plan_flutes(&p, 2, 0.2);
    sample_plan_good(&p, SAMPLE_CORNER);
    /* r sin(a)/a = 3.175 sin(0.2)/0.2 = 3.15388: 6.35 + that. */
    check_contains(p.program, "X[#5221+#1/3+9.50388]");
    check_contains(p.program, "3.17500 less 0.02112");
}

static void the_stocks_thickness_is_added_where_it_lies_between(void **unused)
{
    (void)unused;
    p.style.set = true;
    struct {
        const char *target;
        tu_seat seat;
        const char *z;
    } cases[] = {{"top", TU_SEAT_STOCK, "Z[#5223+#3/3-9.53000]"},
                 {"bottom", TU_SEAT_STOCK, "Z[#5223+#3/3-27.53000]"},
                 {"bottom", TU_SEAT_BED, "Z[#5223+#3/3-9.53000]"},
                 {"top", TU_SEAT_BED, "Z[#5223+#3/3+8.47000]"}};
    for (size_t i = 0; i < 4; i++) {
        sample_plan_target(&p, cases[i].target);
        p.corner.seat = cases[i].seat;
        p.corner.stock_thickness = tu_quantity_exact(18.0);
        sample_plan_good(&p, SAMPLE_CORNER);
        check_contains(p.program, cases[i].z);
        const double bad[] = {NAN, 0.0, -18.0, INFINITY};
        for (int k = 0; k < 4; k++) {
            p.corner.stock_thickness.value_mm = bad[k];
            if (i % 2 == 1)
                sample_plan_refused(&p, SAMPLE_CORNER, TU_DATA_MISSING, "{stock_thickness}",
                                    "measure the stock's thickness");
            else
                sample_plan_good(&p, SAMPLE_CORNER);
        }
    }
}

static void a_bare_surface_is_its_reading(void **unused)
{
    (void)unused;
    p.style.set = true;
    p.surface.plate = NULL;
    sample_plan_good(&p, SAMPLE_SURFACE);
    check_contains(p.program, "\nG10 L2 P1 Z[#5223+#3/3+0.00000]\n");
    assert_true(isnan(p.summary.start_mm[0]) && isnan(p.summary.worst_press_mm[0]));
    check_contains(p.summary.start, "over the surface");
    p.surface.plate = &p.plate;
    sample_plan_good(&p, SAMPLE_SURFACE);
    check_contains(p.program, "Z[#5223+#3/3-9.53000]\n");
}

static void a_bore_is_its_middle_less_the_centre(void **unused)
{
    (void)unused;
    p.style.set = true;
    p.style.repeats = 1;
    p.style.slot = 9;
    sample_plan_bore(&p, 30.0);
    sample_plan_target(&p, "back-left-top");
    sample_plan_good(&p, SAMPLE_CORNER);
    /* The centre lies 20 inside: X at left, E = middle - 20; Y at the back, E = middle + 20. */
    check_contains(p.program, "X[#5381+#1/2-20.00000] Y[#5382+#2/2+20.00000]");
    check_contains(p.program, "\nG10 L2 P9 ");
}

static void absolute_distances_are_in_force_where_the_offset_is_set(void **unused)
{
    (void)unused;
    p.style.set = true;
    sample_plan_good(&p, SAMPLE_CORNER);
    const char *set = strstr(p.program, "\nG10 "), *last = NULL;
    for (const char *at = p.program; (at = strstr(at, "\nG9")) != NULL && at < set; at++)
        last = at;
    assert_int_equal(strncmp(last, "\nG90\n", 5), 0);
    p.style.set = false;
    sample_plan_good(&p, SAMPLE_CORNER);
    assert_null(strstr(p.program, "G10"));
    assert_null(strstr(p.program, "#"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(the_offset_is_the_reading_less_wall_and_radius),
        TEST(a_flute_loss_is_taken_into_the_offset),
        TEST(the_stocks_thickness_is_added_where_it_lies_between),
        TEST(a_bare_surface_is_its_reading),
        TEST(a_bore_is_its_middle_less_the_centre),
        TEST(absolute_distances_are_in_force_where_the_offset_is_set),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
