/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The uncertainty budget against published worked examples and tables (fixtures/reference/, each
 * file with its source and how it was checked):
 *   JCGM 100:2008 (GUM) H.1, 4.2.4, 4.4; EA-4/02 supplement 2 example S10; JCGM 101:2008 9.2;
 *   critical values of Student's t; NIST/SEMATECH e-Handbook 1.3.5.2 (ZARR13).
 * Budgets are homogeneous in the unit, so nanometres, micrometres and kelvin go in as they stand.
 * "certified" is as printed, compared to half a unit of its last place unless said otherwise;
 * "computed" is the same with more digits.
 */
#include "check.h"

#include "trueup/budget.h"
#include "trueup/moments.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static double number(const cJSON *root, const char *path)
{
    return check_json_number(root, path);
}

/* GUM H.1.4, the components of table H.1 in nm, with the half widths of its text. */
static tu_uncertainty end_gauge_budget(const cJSON *root)
{
    const double standard_nm = number(root, "data.components[0].estimate");
    const double alpha = number(root, "data.components[4].estimate");
    const double temperature = fabs(number(root, "data.components[5].estimate"));
    tu_uncertainty budget = {0};

    for (int i = 0; i < 4; i++) {
        char path[40];

        snprintf(path, sizeof path, "data.components[%d].u", i);
        double u = number(root, path);
        snprintf(path, sizeof path, "data.components[%d].nu", i);
        tu_budget_add(&budget, "direct", u, number(root, path));
    }
    tu_budget_add(&budget, "expansion of the standard", 0.0, INFINITY); /* sensitivity 0 */
    tu_budget_add(&budget, "temperature", 0.0, INFINITY);               /* sensitivity 0 */
    tu_budget_add(&budget, "difference of expansions",
                  standard_nm * temperature * tu_standard_of_tolerance(1e-6), 50.0);
    tu_budget_add(&budget, "difference of temperatures",
                  standard_nm * alpha * tu_standard_of_tolerance(0.05), 2.0);
    return budget;
}

static void the_end_gauge_of_gum_h1_gets_its_uncertainty(void **state)
{
    cJSON *root = check_fixture_json("reference/gum_h1_end_gauge.json");
    tu_uncertainty budget = end_gauge_budget(root);
    double share = 0.0;

    (void)state;
    tu_budget_close(&budget, number(root, "data.coverage_probability"));
    check_relative(budget.standard_mm, number(root, "computed.u_c_nm"), 1e-9, "u_c, nm");
    check_relative(budget.dof, number(root, "computed.nu_eff"), 1e-9, "nu_eff");
    check_close(budget.standard_mm, number(root, "certified.u_c_nm"), 0.5, "u_c as printed, nm");
    /* 16.75 is printed as 16.7: cut off, not rounded */
    check_between(budget.dof, 16.7, 16.8, "nu_eff as printed");
    check_close(budget.line[6].standard_mm, number(root, "certified.u_from_delta_alpha_nm"), 0.05,
                "u from the expansions, nm");
    check_close(budget.line[7].standard_mm, number(root, "certified.u_from_delta_theta_nm"), 0.05,
                "u from the temperatures, nm");
    check_relative(tu_student_factor(0.99, 16.0), 2.92078162243, 1e-10,
                   "t at 16, computed.k_t_0.995_16");
    check_close(tu_student_factor(0.99, 16.0), number(root, "certified.t_99_16"), 0.005,
                "t at 16 as printed");
    check_relative(tu_student_factor(0.99, 16.0) * budget.standard_mm,
                   number(root, "computed.U_99_nm"), 1e-9, "U with t at 16, nm");
    /* not truncated: the factor lies between those at 16 and 17 (2.9208 and 2.8982, any t table) */
    check_between(budget.coverage_factor, 2.8982, 2.9207, "t at 16.75");
    check_relative(budget.expanded_mm, budget.coverage_factor * budget.standard_mm, 1e-15, "U, nm");
    for (size_t i = 0; i < budget.count; i++)
        share += budget.line[i].share;
    check_close(share, 1.0, 1e-14, "sum of the shares");
    check_close(budget.line[0].share, 625.0 / (31.6638791110 * 31.6638791110), 1e-9,
                "share of the standard");
    cJSON_Delete(root);
}

/* H.1.7: the second-order terms u(delta_alpha) u(theta) and u(alpha_S) u(delta_theta), times l_S.
 */
static void second_order_terms_of_gum_h1_add_as_squares(void **state)
{
    cJSON *root = check_fixture_json("reference/gum_h1_end_gauge.json");
    tu_uncertainty budget = end_gauge_budget(root);
    const double length = number(root, "data.components[0].estimate");
    const double theta = hypot(0.2, 0.5 / sqrt(2.0)); /* H.1.3.4: mean, and cyclic arcsine */

    (void)state;
    tu_budget_add(&budget, "expansions x temperature",
                  length * tu_standard_of_tolerance(1e-6) * theta, INFINITY);
    tu_budget_add(&budget, "expansion x temperatures",
                  length * tu_standard_of_tolerance(2e-6) * tu_standard_of_tolerance(0.05),
                  INFINITY); /* H.1.3.2: +-2e-6 */
    tu_budget_close(&budget, 0.99);
    check_relative(budget.standard_mm, number(root, "computed.u_c_with_second_order_nm"), 1e-9,
                   "u_c, nm");
    cJSON_Delete(root);
}

static void readings_of_gum_4_4_have_their_mean_and_spread(void **state)
{
    cJSON *root = check_fixture_json("reference/gum_4_4_temperature.json");
    size_t count;
    double *readings = check_json_numbers(root, "data.t_degC", &count);
    tu_moments moments = tu_moments_of(readings, count);
    double sd = tu_moments_sd(&moments);

    (void)state;
    assert_int_equal(count, 20);
    check_relative(moments.mean, number(root, "computed.mean"), 1e-12, "mean, degC");
    check_relative(sd, number(root, "computed.s"), 1e-12, "s, degC");
    check_relative(sd / sqrt(20.0), number(root, "computed.s_mean"), 1e-12, "s/sqrt n, degC");
    check_close(sd, number(root, "certified.s"), 0.0005, "s as printed, degC");
    check_close(sd / sqrt(20.0), number(root, "certified.s_mean"), 0.0005, "s/sqrt n as printed");
    check_close(tu_standard_of_tolerance(number(root, "data.type_b_half_width")),
                number(root, "certified.u_rectangular_a_4"), 0.05, "a/sqrt 3 as printed, degC");
    check_relative(tu_standard_of_tolerance(4.0), 2.30940107675850306, 1e-14, "4/sqrt 3");
    free(readings);
    cJSON_Delete(root);
}

static void the_calliper_of_ea_4_02_gets_its_uncertainty(void **state)
{
    cJSON *root = check_fixture_json("reference/ea402_s10_vernier_caliper.json");
    size_t count;
    double *half_width = check_json_numbers(root, "data.rectangular_half_widths_um", &count);
    tu_uncertainty budget = {0};

    (void)state;
    assert_int_equal(count, 4);
    for (size_t i = 0; i < count; i++)
        tu_budget_add(&budget, "rectangular", tu_standard_of_tolerance(half_width[i]), INFINITY);
    tu_budget_close(&budget, 0.95);
    check_relative(budget.standard_mm, number(root, "computed.u_c_um"), 1e-9, "u_c, um");
    /* printed 33 from terms rounded first: within 0.7 */
    check_close(budget.standard_mm, number(root, "certified.u_c_um"), 0.7, "u_c as printed, um");
    check_close(budget.line[0].standard_mm, number(root, "certified.u_l_S_um"), 0.005,
                "u(l_S), um");
    check_close(budget.line[1].standard_mm, number(root, "certified.u_delta_t_contribution_um"),
                0.05, "u(dt), um");
    check_close(budget.line[2].standard_mm, number(root, "certified.u_indication_um"), 0.6,
                "u(indication), um");
    check_close(budget.line[3].standard_mm, number(root, "certified.u_mechanical_um"), 0.5,
                "u(mechanical), um");
    assert_true(isinf(budget.dof));
    check_close(budget.coverage_factor, 1.959963984540054, 1e-12, "k at infinity");
    free(half_width);
    cJSON_Delete(root);
}

static void the_additive_model_of_jcgm_101_gets_its_endpoints(void **state)
{
    cJSON *root = check_fixture_json("reference/jcgm101_9_2_additive_model.json");
    tu_uncertainty equal = {0}, rectangular = {0}, mixed = {0};

    (void)state;
    for (int i = 0; i < 4; i++) {
        tu_budget_add(&equal, "normal", 1.0, INFINITY);
        tu_budget_add(&rectangular, "rectangular", tu_standard_of_tolerance(sqrt(3.0)), INFINITY);
        tu_budget_add(&mixed, "mixed", tu_standard_of_tolerance((i < 3 ? 1.0 : 10.0) * sqrt(3.0)),
                      INFINITY);
    }
    tu_budget_close(&equal, 0.95);
    tu_budget_close(&rectangular, 0.95);
    tu_budget_close(&mixed, 0.95);
    check_close(equal.standard_mm, number(root, "certified.gaussian_u"), 1e-14, "u (a)");
    check_relative(equal.expanded_mm, number(root, "computed.a_endpoint"), 1e-11, "endpoint (a)");
    check_close(equal.expanded_mm, number(root, "certified.gaussian_endpoint"), 0.005, "(a)");
    check_close(rectangular.standard_mm, number(root, "certified.rectangular_u"), 1e-14, "u (b)");
    check_relative(mixed.standard_mm, number(root, "computed.c_u"), 1e-11, "u (c)");
    check_close(mixed.standard_mm, number(root, "certified.mixed_u"), 0.05, "u (c) as printed");
    check_relative(mixed.expanded_mm, number(root, "computed.c_endpoint_gum_framework"), 1e-11,
                   "endpoint (c)");
    check_close(mixed.expanded_mm,
                number(root, "certified.gum_framework_endpoint_different_widths"), 0.05,
                "endpoint (c) as printed");
    check_close(mixed.line[3].share, 100.0 / 103.0, 1e-14, "share of the widest");
    cJSON_Delete(root);
}

static void student_t_has_its_tabled_values(void **state)
{
    cJSON *root = check_fixture_json("reference/critical_values.json");
    size_t count, count_dof, count_value;
    double *p = check_json_numbers(root, "data.student_t.p", &count);
    double *dof = check_json_numbers(root, "data.student_t.df", &count_dof);
    double *value = check_json_numbers(root, "certified.student_t", &count_value);

    (void)state;
    assert_int_equal(count, 33);
    assert_int_equal(count_dof, count);
    assert_int_equal(count_value, count);
    for (size_t i = 0; i < count; i++)
        check_relative(tu_student_factor(2.0 * p[i] - 1.0, dof[i]), value[i], 1e-10, "t");
    free(p);
    free(dof);
    free(value);
    p = check_json_numbers(root, "data.normal.p", &count);
    value = check_json_numbers(root, "certified.normal", &count_value);
    assert_int_equal(count, count_value);
    for (size_t i = 0; i < count; i++)
        check_relative(tu_student_factor(2.0 * p[i] - 1.0, INFINITY), value[i], 1e-10, "normal");
    free(p);
    free(value);
    cJSON_Delete(root);
}

/* The density of Student's t, integrated by Simpson's rule from -k to k: an own way back from the
 * factor to its probability, for degrees of freedom between whole numbers. */
static double student_probability(double k, double dof)
{
    enum { STEPS = 4000 };
    double scale = exp(lgamma((dof + 1) / 2) - lgamma(dof / 2)) / sqrt(dof * acos(-1.0));
    double sum = 0.0;

    for (int i = 0; i <= STEPS; i++) {
        double x = k * i / STEPS;
        double weight = i == 0 || i == STEPS ? 1.0 : (i % 2 ? 4.0 : 2.0);

        sum += weight * pow(1.0 + x * x / dof, -(dof + 1) / 2);
    }
    return 2.0 * scale * sum * k / STEPS / 3.0;
}

static void student_factors_between_whole_degrees_hold_their_probability(void **state)
{
    const double dof[] = {1.5, 2.0, 2.7, 4.4, 9.3, 16.7518557376, 33.3, 250.5};
    const double coverage[] = {0.90, 0.95, 0.99};

    (void)state;
    for (size_t i = 0; i < sizeof dof / sizeof *dof; i++)
        for (size_t j = 0; j < 3; j++)
            check_close(student_probability(tu_student_factor(coverage[j], dof[i]), dof[i]),
                        coverage[j], 1e-9, "probability");
}

static void the_interval_of_zarr13_is_the_printed_one(void **state)
{
    cJSON *root = check_fixture_json("reference/handbook_t_interval_zarr13.json");
    size_t count;
    double *y = check_json_numbers(root, "data.y", &count);
    tu_moments moments = tu_moments_of(y, count);
    tu_uncertainty budget = {0};

    (void)state;
    assert_int_equal(count, 195);
    tu_budget_add(&budget, "readings", tu_moments_sd(&moments) / sqrt((double)count),
                  (double)count - 1.0);
    tu_budget_close(&budget, 0.95);
    check_relative(moments.mean, number(root, "computed.mean"), 1e-13, "mean");
    check_relative(tu_moments_sd(&moments), number(root, "computed.sd"), 1e-11, "sd");
    check_close(budget.dof, number(root, "certified.df"), 1e-9, "degrees of freedom");
    check_relative(moments.mean - budget.expanded_mm, number(root, "computed.ci95_lower"), 1e-11,
                   "lower end");
    check_relative(moments.mean + budget.expanded_mm, number(root, "computed.ci95_upper"), 1e-11,
                   "upper end");
    /* printed with single precision: 1e-6 of the value */
    check_relative(budget.standard_mm, number(root, "certified.standard_error"), 1e-6, "s/sqrt n");
    check_relative(moments.mean - budget.expanded_mm, number(root, "certified.ci95_lower"), 1e-6,
                   "lower end as printed");
    free(y);
    cJSON_Delete(root);
}

/* GUM 4.2.4: the pooled variance is all squared deviations, each from its own series' mean, over
 * all degrees of freedom. Here from the raw readings of GUM 4.4, split in two series. */
static void pooling_is_the_pooled_variance_of_both_series(void **state)
{
    cJSON *root = check_fixture_json("reference/gum_4_4_temperature.json");
    size_t count;
    double *t = check_json_numbers(root, "data.t_degC", &count);

    (void)state;
    for (size_t split = 2; split <= count - 2; split++) {
        long double mean[2] = {0}, squares[2] = {0}, all;
        size_t n[2] = {split, count - split};
        tu_repeatability stored, pooled;

        for (size_t i = 0; i < count; i++)
            mean[i >= split] += t[i] / (long double)n[i >= split];
        for (size_t i = 0; i < count; i++)
            squares[i >= split] += (t[i] - mean[i >= split]) * (t[i] - mean[i >= split]);
        all = (squares[0] + squares[1]) / (long double)(count - 2);
        stored.sd_mm = (double)sqrtl(squares[1] / (long double)(n[1] - 1));
        stored.dof = (double)n[1] - 1.0;
        pooled = tu_repeatability_pool(n[0], (double)sqrtl(squares[0] / (long double)(n[0] - 1)),
                                       stored);
        check_relative(pooled.sd_mm, (double)sqrtl(all), 1e-13, "pooled s");
        check_close(pooled.dof, (double)count - 2.0, 1e-12, "pooled degrees of freedom");
    }
    free(t);
    cJSON_Delete(root);
}

static void pooling_with_nothing_is_what_is_there(void **state)
{
    const tu_repeatability stored = {0.004, 24.0}, none = {NAN, NAN};
    tu_repeatability one = tu_repeatability_pool(1, NAN, stored);
    tu_repeatability own = tu_repeatability_pool(5, 0.003, none);
    tu_repeatability neither = tu_repeatability_pool(1, NAN, none);

    (void)state;
    check_close(one.sd_mm, 0.004, 1e-18, "stored alone, mm");
    check_close(one.dof, 24.0, 0.0, "stored alone, degrees of freedom");
    check_close(own.sd_mm, 0.003, 1e-18, "own alone, mm");
    check_close(own.dof, 4.0, 0.0, "own alone, degrees of freedom");
    check_nan(neither.sd_mm, "neither");
    check_close(neither.dof, 0.0, 0.0, "neither, degrees of freedom");
}

/* GUM F.2.2.1: a step q is a rectangle of half width q/2, so q/2/sqrt 3. */
static void a_step_counts_as_the_rectangle_it_is(void **state)
{
    (void)state;
    check_relative(tu_standard_of_step(0.0125), tu_standard_of_tolerance(0.00625), 1e-15,
                   "step, mm");
    check_relative(tu_standard_of_step(1.0), 0.288675134594812882, 1e-14, "1/sqrt 12");
    check_close(tu_standard_of_step(NAN), 0.0, 0.0, "no step stated");
    check_close(tu_standard_of_tolerance(NAN), 0.0, 0.0, "no tolerance stated");
}

static void a_budget_of_zeros_has_no_width(void **state)
{
    tu_uncertainty budget = {0};

    (void)state;
    tu_budget_add(&budget, "nothing", 0.0, INFINITY);
    tu_budget_add(&budget, "nothing from few", 0.0, 3.0);
    tu_budget_close(&budget, 0.95);
    check_close(budget.standard_mm, 0.0, 0.0, "u_c");
    check_close(budget.expanded_mm, 0.0, 0.0, "U");
    assert_true(isinf(budget.dof));
    check_close(budget.line[0].share, 0.0, 0.0, "share");
    check_close(budget.coverage, 0.95, 0.0, "coverage");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_end_gauge_of_gum_h1_gets_its_uncertainty),
        cmocka_unit_test(second_order_terms_of_gum_h1_add_as_squares),
        cmocka_unit_test(readings_of_gum_4_4_have_their_mean_and_spread),
        cmocka_unit_test(the_calliper_of_ea_4_02_gets_its_uncertainty),
        cmocka_unit_test(the_additive_model_of_jcgm_101_gets_its_endpoints),
        cmocka_unit_test(student_t_has_its_tabled_values),
        cmocka_unit_test(student_factors_between_whole_degrees_hold_their_probability),
        cmocka_unit_test(the_interval_of_zarr13_is_the_printed_one),
        cmocka_unit_test(pooling_is_the_pooled_variance_of_both_series),
        cmocka_unit_test(pooling_with_nothing_is_what_is_there),
        cmocka_unit_test(a_step_counts_as_the_rectangle_it_is),
        cmocka_unit_test(a_budget_of_zeros_has_no_width),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
