/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Quantiles and intervals against fixtures/reference/critical_values.json (R and mpmath at 40
 * digits) and control_chart_constants.json (published tables).
 */
#include "trial_sample.h"

#include "touch/repeats.h"
#include "trials/distribution.h"
#include "trueup/budget.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct table {
    cJSON *root;
    double *p, *dof, *dof_below, *value;
    size_t count;
} table;

static double *column(cJSON *root, const char *folder, const char *name, size_t *count)
{
    char path[100];
    snprintf(path, sizeof path, "%s%s", folder, name);
    return check_json_numbers(root, path, count);
}

static table open_table(const char *name, const char *dof, const char *dof_below)
{
    table t = {.root = check_fixture_json("reference/critical_values.json")};
    char folder[50];
    snprintf(folder, sizeof folder, "data.%s.", name);
    t.p = column(t.root, folder, "p", &t.count);
    t.dof = column(t.root, folder, dof, &t.count);
    t.dof_below = dof_below != NULL ? column(t.root, folder, dof_below, &t.count) : NULL;
    size_t values;
    t.value = column(t.root, "certified.", name, &values);
    assert_int_equal(values, t.count);
    return t;
}

static void close_table(table *t)
{
    cJSON_Delete(t->root);
    free(t->p);
    free(t->dof);
    free(t->dof_below);
    free(t->value);
}

static void chi_squared_has_its_tabled_quantiles(void **state)
{
    (void)state;
    table t = open_table("chi_square", "df", NULL);
    assert_int_equal(t.count, 40);
    for (size_t i = 0; i < t.count; i++)
        check_relative(tu_chi_squared_quantile(t.p[i], t.dof[i]), t.value[i], 1e-10, "chi2");
    close_table(&t);
}

static void f_has_its_tabled_quantiles(void **state)
{
    (void)state;
    table t = open_table("f", "df1", "df2");
    assert_int_equal(t.count, 30);
    for (size_t i = 0; i < t.count; i++) {
        double f = tu_f_quantile(t.p[i], t.dof[i], t.dof_below[i]);
        check_relative(f, t.value[i], 1e-10, "F");
        check_relative(tu_upper_f(t.value[i], t.dof[i], t.dof_below[i]), 1.0 - t.p[i], 1e-9, "p");
    }
    close_table(&t);
}

static void students_interval_has_its_tabled_width(void **state)
{
    (void)state;
    table t = open_table("student_t", "df", NULL);
    size_t met = 0;
    for (size_t i = 0; i < t.count; i++) {
        if (t.p[i] == 0.975) {
            tu_interval interval = tu_interval_of_t(3.0, 2.0, t.dof[i]);
            check_relative(interval.high - 3.0, 2.0 * t.value[i], 1e-10, "half width");
            check_relative(3.0 - interval.low, 2.0 * t.value[i], 1e-10, "half width");
            met++;
        }
        check_relative(tu_two_sided_t(t.value[i], t.dof[i]), 2.0 * (1.0 - t.p[i]), 1e-9, "p");
    }
    assert_int_equal(met, 11);
    close_table(&t);
}

static void grubbs_has_its_tabled_values(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/critical_values.json");
    size_t count, values;
    double *n = check_json_numbers(root, "data.grubbs.n", &count);
    double *alpha = check_json_numbers(root, "data.grubbs.alpha", &count);
    double *value = check_json_numbers(root, "certified.grubbs", &values);
    const cJSON *two_sided = check_json_at(root, "data.grubbs.two_sided");
    assert_int_equal(count, 36);
    assert_int_equal(values, count);
    for (size_t i = 0; i < count; i++) {
        bool both = cJSON_IsTrue(cJSON_GetArrayItem(two_sided, (int)i));
        double level = both ? alpha[i] : 2.0 * alpha[i]; /* one-sided: half of it on each side */
        check_relative(tu_repeats_grubbs_critical((size_t)n[i], level), value[i], 1e-10, "G");
    }
    free(n);
    free(alpha);
    free(value);
    cJSON_Delete(root);
}

/* Origin: R 4.2.2, qchisq(0.975, c(2e5, 1e6)), qf(0.975, 1e5, 1e5) and qf(0.975, 10, 1e5). At ten
 * million the logarithm of F has the standard deviation sqrt(2/a + 2/b), and s that of 1/sqrt(2 n).
 */
static void quantiles_hold_for_ten_million_touches(void **state)
{
    (void)state;
    double dof = 1e7, z = 1.959963984540054;
    check_relative(tu_chi_squared_quantile(0.975, 2e5), 201241.483281547, 1e-8, "chi2 at 200 000");
    check_relative(tu_chi_squared_quantile(0.975, 1e6), 1002773.70146793, 1e-8,
                   "chi2 at a million");
    check_relative(log(tu_f_quantile(0.975, 1e5, 1e5)), log(1.01247311981782), 1e-4, "log F");
    check_relative(tu_f_quantile(0.975, 10.0, 1e5), 2.04844558568507, 1e-8, "F");
    check_relative(log(tu_f_quantile(0.975, dof, dof)), z * sqrt(4.0 / dof), 1e-4, "log F");
    check_close(tu_two_sided_f(1.0, dof, dof), 1.0, 1e-4, "p of equal variances");
    tu_interval sd = tu_interval_of_sd(1.0, dof);
    check_relative(sd.high - sd.low, 2.0 * z / sqrt(2.0 * dof), 1e-4, "width of the interval");
}

static void the_chart_uses_the_published_constants(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/control_chart_constants.json");
    const double values[] = {0.0, 1.0};
    tu_trial_figures f = trial_sample_judge(values, 2);
    double d2 = check_json_number(root, "certified.d2[0]");
    check_close(f.chart_upper, 0.5 + 3.0 / d2, 1e-12, "3/d2");
    check_close(f.chart_mr_upper, check_json_number(root, "certified.D4[0]"), 1e-12, "D4");
    cJSON_Delete(root);
}

static void without_degrees_of_freedom_there_is_no_interval(void **state)
{
    (void)state;
    check_nan(tu_interval_of_t(1.0, 1.0, 0.0).low, "t");
    check_nan(tu_interval_of_sd(1.0, 0.0).high, "sd");
    check_nan(tu_interval_of_ratio(1.0, 3.0, 0.0).low, "ratio");
    check_nan(tu_interval_of_sd(NAN, 5.0).low, "sd that is not stated");
    check_nan(tu_two_sided_t(NAN, 5.0), "p of t");
    check_nan(tu_upper_f(NAN, 5.0, 5.0), "p of F");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chi_squared_has_its_tabled_quantiles),
        cmocka_unit_test(f_has_its_tabled_quantiles),
        cmocka_unit_test(students_interval_has_its_tabled_width),
        cmocka_unit_test(grubbs_has_its_tabled_values),
        cmocka_unit_test(quantiles_hold_for_ten_million_touches),
        cmocka_unit_test(the_chart_uses_the_published_constants),
        cmocka_unit_test(without_degrees_of_freedom_there_is_no_interval),
    };
    return cmocka_run_group_tests_name("distribution", tests, NULL, NULL);
}
