/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_sideways.c - the pieces that walls and bores share.
 */
#include "check.h"
#include "sample_setup.h"

#include "touch/sideways.h"

#include <math.h>

static void names_without_tolerance_are_listed_once(void **state)
{
    (void)state;
    tu_untoleranced list = {""};
    tu_untoleranced_note(&list, tu_quantity_mm(1.0, NAN), "one");
    tu_untoleranced_note(&list, tu_quantity_mm(1.0, NAN), "two");
    tu_untoleranced_note(&list, tu_quantity_mm(1.0, NAN), "one");
    tu_untoleranced_note(&list, tu_quantity_mm(1.0, 0.0), "exact");
    tu_untoleranced_note(&list, tu_quantity_none(), "absent");
    assert_string_equal(list.names, "one, two");
}

static void half_a_diameters_tolerance_moves_the_radius(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "left");
    tu_cutter cutter = setup.cutter;
    double half = tu_radius_half_width(&cutter, 5.0, &cutter.diameter);
    check_close(half, 0.005, 1e-12, "half width of the radius, mm");
    check_close(cutter.diameter.value_mm, 6.35, 0.0, "the cutter stays as it was, mm");
}

static void a_corner_radius_at_its_limit_still_has_a_half_width(void **state)
{
    (void)
        state; /* corner radius = D/2: plus its tolerance it cannot be; one side serves for both */
    sample_setup setup;
    sample_start(&setup, "left");
    tu_cutter cutter = setup.cutter;
    cutter.shape = TU_CUTTER_BULL;
    cutter.corner_radius = tu_quantity_mm(3.175, 0.05);
    double half = tu_radius_half_width(&cutter, 1.0, &cutter.corner_radius);
    /* d(D/2 - c + sqrt(h(2c - h)))/dc = -1 + h/sqrt(h(2c - h)) */
    double expected = (-1.0 + 1.0 / sqrt(2.0 * 3.175 - 1.0)) * 0.05;
    check_relative(half, expected, 0.02, "half width of the radius, mm");
}

static void the_request_overrides_how_the_cutter_was_turned(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "left");
    setup.cutter.turned_within_rad = 0.2;
    check_close(tu_request_cutter(&setup.request).turned_within_rad, 0.2, 0.0, "turned, rad");
    setup.request.turned_within_rad = 0.1;
    check_close(tu_request_cutter(&setup.request).turned_within_rad, 0.1, 0.0, "turned, rad");
}

static void work_coordinates_become_machine_coordinates(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "left");
    check_close(tu_to_machine(&setup.request, TU_AXIS_X, 5.0), 5.0, 0.0, "X, mm");
    setup.request.active_mm[0] = 100.0;
    check_close(tu_to_machine(&setup.request, TU_AXIS_X, 5.0), 105.0, 0.0, "X, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_without_tolerance_are_listed_once),
        cmocka_unit_test(half_a_diameters_tolerance_moves_the_radius),
        cmocka_unit_test(a_corner_radius_at_its_limit_still_has_a_half_width),
        cmocka_unit_test(the_request_overrides_how_the_cutter_was_turned),
        cmocka_unit_test(work_coordinates_become_machine_coordinates),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
