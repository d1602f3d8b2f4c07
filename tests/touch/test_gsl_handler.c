/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_gsl_handler.c - GSL's own handler of errors ends the process: in this program, which leaves
 * it in force, no call of the library may reach it. A case that did would end the test by a signal.
 */
#include "check.h"
#include "plate_bench.h"
#include "sample_setup.h"

#include "trueup/bed.h"

#include <math.h>
#include <stdlib.h>

static void students_factor_of_nothing_is_nan(void **state)
{
    (void)state;
    const double dof[] = {0.0, -1.0, NAN, -INFINITY};
    for (size_t i = 0; i < sizeof dof / sizeof *dof; i++)
        check_nan(tu_student_factor(0.95, dof[i]), "factor of no degrees of freedom");
    const double coverage[] = {-0.1, 1.0, 1.5, NAN, INFINITY};
    for (size_t i = 0; i < sizeof coverage / sizeof *coverage; i++)
        check_nan(tu_student_factor(coverage[i], 5.0), "factor of what is no share");
    /* GUM (JCGM 100:2008), table G.2 */
    check_close(tu_student_factor(0.95, 1.0), 12.71, 0.005, "factor, 1 degree of freedom");
    check_close(tu_student_factor(0.95, INFINITY), 1.960, 0.0005, "factor, infinitely many");
    tu_uncertainty budget = {0};
    tu_budget_add(&budget, "touches", 0.01, -1.0);
    tu_budget_close(&budget, 0.95);
    tu_budget_add(&budget, "touches", NAN, NAN);
    tu_budget_close(&budget, 2.0);
}

/* The p of F is not defined below GSL's one degree of freedom, by its inverse; by itself it is. */
static void a_stored_repeatability_of_less_than_one_degree_of_freedom_is_used(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    for (int i = 0; i < 3; i++)
        sample_touch(&setup, TU_AXIS_X, 100.0 + 0.01 * i, NAN);
    setup.request.machine.repeatability[0] = (tu_repeatability){0.004, 0.5};
    check_status(sample_solve(&setup), TU_OK, &setup.error);
}

static void a_calibration_takes_no_machine_that_cannot_be(void **state)
{
    (void)state;
    static const tu_repeatability bad[] = {
        {0.004, 0.0}, {0.004, -3.0}, {0.004, NAN}, {INFINITY, 5}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        static bench on;
        bench_start(&on, 1);
        bench_state_block(&on, 0.01);
        bench_touch(&on, 'l', 'a', 0, 3);
        bench_touch(&on, 'l', '-', 0, 3);
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
            on.request.machine.repeatability[axis] = bad[i];
        check_status(bench_solve(&on), TU_DATA_RANGE, &on.error);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(students_factor_of_nothing_is_nan),
        cmocka_unit_test(a_stored_repeatability_of_less_than_one_degree_of_freedom_is_used),
        cmocka_unit_test(a_calibration_takes_no_machine_that_cannot_be),
    };
    return cmocka_run_group_tests_name("gsl_handler", tests, NULL, NULL);
}
