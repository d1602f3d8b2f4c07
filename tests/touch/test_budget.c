/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_budget.c - the rules of the budget one at a time. Published examples: test_gum.c.
 */
#include "check.h"

#include "trueup/budget.h"

#include <math.h>

static void a_tolerance_counts_as_rectangular(void **state)
{
    (void)state;
    check_close(tu_standard_of_tolerance(0.03), 0.03 / sqrt(3.0), 1e-15, "u of a tolerance, mm");
    check_close(tu_standard_of_tolerance(NAN), 0.0, 0.0, "u of no tolerance, mm");
}

static void a_step_counts_as_rectangular_over_half_of_it(void **state)
{
    (void)state;
    check_close(tu_standard_of_step(0.012), 0.006 / sqrt(3.0), 1e-15, "u of a step, mm");
    check_close(tu_standard_of_step(NAN), 0.0, 0.0, "u of no step, mm");
}

static void shares_add_up_to_one_and_the_root_of_squares_is_taken(void **state)
{
    (void)state;
    tu_uncertainty budget = {0};
    tu_budget_add(&budget, "one", 3.0, INFINITY);
    tu_budget_add(&budget, "other", 4.0, 8.0);
    tu_budget_close(&budget, 0.95);
    check_close(budget.standard_mm, 5.0, 1e-15, "combined, mm");
    check_close(budget.line[0].share, 0.36, 1e-15, "share");
    check_close(budget.line[1].share, 0.64, 1e-15, "share");
    check_close(budget.dof, 625.0 / (256.0 / 8.0), 1e-12, "Welch-Satterthwaite");
    check_close(budget.expanded_mm, budget.coverage_factor * 5.0, 1e-15, "expanded, mm");
}

static void a_budget_of_nothing_is_exact(void **state)
{
    (void)state;
    tu_uncertainty budget = {0};
    tu_budget_add(&budget, "exact", 0.0, INFINITY);
    tu_budget_close(&budget, 0.95);
    check_close(budget.expanded_mm, 0.0, 0.0, "expanded, mm");
    assert_true(isinf(budget.dof));
    check_close(budget.line[0].share, 0.0, 0.0, "share");
}

static void a_full_budget_drops_nothing_silently_below_its_size(void **state)
{
    (void)state;
    tu_uncertainty budget = {0};
    for (int i = 0; i < TU_BUDGET_LINES + 3; i++)
        tu_budget_add(&budget, "line", 1.0, INFINITY);
    assert_int_equal(budget.count, TU_BUDGET_LINES);
}

static void one_touch_pools_to_what_is_stored(void **state)
{
    (void)state;
    tu_repeatability pooled = tu_repeatability_pool(1, NAN, (tu_repeatability){0.004, 19});
    check_close(pooled.sd_mm, 0.004, 1e-15, "pooled sd, mm");
    check_close(pooled.dof, 19.0, 0.0, "degrees of freedom");
}

static void repeats_and_stored_are_weighted_by_their_degrees_of_freedom(void **state)
{
    (void)state; /* GUM 4.2.4: (20 * 9 + 5 * 16) / 25 = 10.4 */
    tu_repeatability pooled = tu_repeatability_pool(6, 4.0, (tu_repeatability){3.0, 20});
    check_close(pooled.sd_mm, sqrt(10.4), 1e-14, "pooled sd, mm");
    check_close(pooled.dof, 25.0, 0.0, "degrees of freedom");
}

static void neither_repeats_nor_stored_is_not_known(void **state)
{
    (void)state;
    tu_repeatability pooled = tu_repeatability_pool(1, NAN, (tu_repeatability){NAN, 0});
    check_nan(pooled.sd_mm, "pooled sd, mm");
    check_close(pooled.dof, 0.0, 0.0, "degrees of freedom");
}

static void near_perfect_repeats_leave_a_finite_interval(void **state)
{
    (void)state; /* their share is so small that the degrees of freedom are astronomical */
    tu_uncertainty budget = {0};
    tu_budget_add(&budget, "touches", 1e-15, 2.0);
    tu_budget_add(&budget, "wall offset", 0.01, INFINITY);
    tu_budget_close(&budget, 0.95);
    check_close(budget.coverage_factor, 1.959963984540, 1e-9, "normal quantile, critical_values");
    check_close(tu_student_factor(0.95, 1e12), 1.959963984540, 1e-9, "t at 1e12");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tolerance_counts_as_rectangular),
        cmocka_unit_test(a_step_counts_as_rectangular_over_half_of_it),
        cmocka_unit_test(shares_add_up_to_one_and_the_root_of_squares_is_taken),
        cmocka_unit_test(a_budget_of_nothing_is_exact),
        cmocka_unit_test(a_full_budget_drops_nothing_silently_below_its_size),
        cmocka_unit_test(near_perfect_repeats_leave_a_finite_interval),
        cmocka_unit_test(one_touch_pools_to_what_is_stored),
        cmocka_unit_test(repeats_and_stored_are_weighted_by_their_degrees_of_freedom),
        cmocka_unit_test(neither_repeats_nor_stored_is_not_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
