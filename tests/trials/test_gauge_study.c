/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One-way random effects against published studies (fixtures/reference): NIST StRD SiRstv and
 * AtmWtAg; ISO 5725-2 (sulphur in coal); NIST/SEMATECH e-Handbook 2.4.4 (resistivity probes); the
 * AIAG manual's crossed study. Of the two-way and nested studies a one-way analysis gives the parts
 * that are asked here: each sum of squares by grouping by its factor, each level of the nest.
 */
#include "trial_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { ROWS_MAX = 400, GROUPS_MAX = 40 };

typedef struct table {
    double value[ROWS_MAX];
    size_t group[ROWS_MAX];
    size_t rows, groups;
    tu_trial_group of[GROUPS_MAX];
} table;

static void add(table *t, double value, size_t group)
{
    assert_true(t->rows < ROWS_MAX && group < GROUPS_MAX);
    t->value[t->rows] = value;
    t->group[t->rows++] = group;
    t->groups = group + 1 > t->groups ? group + 1 : t->groups;
}

static tu_trial_groups study_of(table *t)
{
    tu_trial_series series = trial_sample_of(t->value, t->rows);
    tu_trial_groups study;
    tu_error error;
    series.group = t->group;
    check_status(tu_trials_study_groups(&series, t->groups, t->of, &study, &error), TU_OK, &error);
    return study;
}

static void check_anova(const char *name, double relative)
{
    char path[100];
    snprintf(path, sizeof path, "reference/nist_anova_%s.json", name);
    cJSON *root = check_fixture_json(path);
    const cJSON *group, *number;
    table t = {.rows = 0};
    size_t k = 0;
    cJSON_ArrayForEach(group, check_json_at(root, "data.groups"))
    {
        cJSON_ArrayForEach(number, group)
        {
            add(&t, cJSON_GetNumberValue(number), k);
        }
        k++;
    }
    tu_trial_groups s = study_of(&t);
    check_close(s.dof_between, check_json_number(root, "certified.df_between"), 0.0, name);
    check_close(s.dof_within, check_json_number(root, "certified.df_within"), 0.0, name);
    check_relative(s.ss_between, check_json_number(root, "certified.ss_between"), relative, name);
    check_relative(s.ss_within, check_json_number(root, "certified.ss_within"), relative, name);
    check_relative(s.ms_between, check_json_number(root, "certified.ms_between"), relative, name);
    check_relative(s.ms_within, check_json_number(root, "certified.ms_within"), relative, name);
    check_relative(s.f, check_json_number(root, "certified.f"), relative, name);
    check_relative(s.repeatability, check_json_number(root, "certified.residual_sd"), relative,
                   name);
    check_relative(s.ss_between / (s.ss_between + s.ss_within),
                   check_json_number(root, "certified.r_squared"), relative, name);
    cJSON_Delete(root);
}

static void sirstv_and_atmwtag_keep_their_certified_digits(void **state)
{
    (void)state;
    check_anova("sirstv", 1e-10);
    check_anova("atmwtag", 1e-8);
}

static void the_coal_of_iso_5725_2_has_its_repeatability_and_reproducibility(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/iso5725_2_coal_sulfur.json");
    for (int level = 0; level < 4; level++) {
        table t = {.rows = 0};
        const cJSON *lab, *number;
        size_t k = 0;
        char path[60];
        cJSON_ArrayForEach(lab, check_json_at(root, "data.labs"))
        {
            cJSON_ArrayForEach(number, cJSON_GetArrayItem(lab, level))
            {
                add(&t, cJSON_GetNumberValue(number), k);
            }
            k++;
        }
        tu_trial_groups s = study_of(&t);
        assert_int_equal(s.groups, 8);
        snprintf(path, sizeof path, "computed.levels[%d].s_r", level);
        check_relative(s.repeatability, check_json_number(root, path), 1e-10, "s_r");
        snprintf(path, sizeof path, "computed.levels[%d].s_L", level);
        check_relative(s.between, check_json_number(root, path), 1e-10, "s_L");
        snprintf(path, sizeof path, "computed.levels[%d].s_R", level);
        check_relative(s.reproducibility, check_json_number(root, path), 1e-10, "s_R");
        snprintf(path, sizeof path, "certified.levels[%d].s_R", level);
        check_close(s.reproducibility, check_json_number(root, path), 0.0005, "s_R as printed");
        snprintf(path, sizeof path, "certified.levels[%d].s_r", level);
        check_close(s.repeatability, check_json_number(root, path), 0.0005, "s_r as printed");
    }
    cJSON_Delete(root);
}

/* What a reading of the crossed study is grouped by. */
typedef enum factor { BY_PART, BY_APPRAISER, BY_BOTH } factor;

static tu_trial_groups aiag_by(const cJSON *root, factor by)
{
    const char *appraiser[] = {"A", "B", "C"};
    table t = {.rows = 0};
    for (size_t a = 0; a < 3; a++) {
        for (int trial = 0; trial < 3; trial++) {
            char path[60];
            size_t count;
            snprintf(path, sizeof path, "data.trials.%s[%d]", appraiser[a], trial);
            double *part = check_json_numbers(root, path, &count);
            assert_int_equal(count, 10);
            for (size_t k = 0; k < count; k++)
                add(&t, part[k], by == BY_PART ? k : by == BY_APPRAISER ? a : 10 * a + k);
            free(part);
        }
    }
    return study_of(&t);
}

static void the_crossed_study_of_the_aiag_manual_has_its_sums_of_squares(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/aiag_gauge_rr_crossed.json");
    tu_trial_groups part = aiag_by(root, BY_PART), appraiser = aiag_by(root, BY_APPRAISER);
    tu_trial_groups both = aiag_by(root, BY_BOTH);
    check_relative(part.ss_between, check_json_number(root, "computed.ss_part"), 1e-9, "part");
    check_relative(part.ms_between, check_json_number(root, "computed.ms_part"), 1e-9, "part");
    check_relative(appraiser.ss_between, check_json_number(root, "computed.ss_operator"), 1e-9,
                   "appraiser");
    check_relative(appraiser.ms_between, check_json_number(root, "computed.ms_operator"), 1e-9,
                   "appraiser");
    check_relative(both.ss_within, check_json_number(root, "computed.ss_error"), 1e-9, "error");
    check_relative(both.ms_within, check_json_number(root, "computed.ms_error"), 1e-9, "error");
    check_close(both.dof_within, check_json_number(root, "certified.df_error"), 0.0, "df");
    check_relative(both.ss_between - part.ss_between - appraiser.ss_between,
                   check_json_number(root, "computed.ss_interaction"), 1e-9, "interaction");
    check_relative(part.ss_between + part.ss_within, check_json_number(root, "computed.ss_total"),
                   1e-9, "total");
    check_close(both.ss_within, check_json_number(root, "certified.ss_error"), 0.00005, "printed");
    check_close(part.ss_between, check_json_number(root, "certified.ss_part"), 0.00005, "printed");
    cJSON_Delete(root);
}

/* Level 2: the days within a run and wafer. Level 3: the two runs of a wafer, by their averages. */
static void the_probes_of_the_handbook_have_their_levels(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/handbook_gauge_study_resistivity.json");
    size_t rows;
    double *run = check_json_numbers(root, "data.run", &rows);
    double *wafer = check_json_numbers(root, "data.wafer", &rows);
    double *probe = check_json_numbers(root, "data.probe", &rows);
    double *average = check_json_numbers(root, "data.average", &rows);
    for (int k = 0; k < 5; k++) {
        table days = {.rows = 0}, runs = {.rows = 0};
        char path[60];
        snprintf(path, sizeof path, "computed.pooled_by_probe[%d].probe", k);
        double wanted = check_json_number(root, path);
        for (size_t i = 0; i < rows; i++)
            if (probe[i] == wanted)
                add(&days, average[i], (size_t)(5.0 * (run[i] - 1.0) + wafer[i] - 138.0));
        assert_int_equal(days.rows, 60);
        tu_trial_groups level2 = study_of(&days);
        for (size_t g = 0; g < 10; g++) {
            assert_int_equal(days.of[g].n, 6);
            add(&runs, days.of[g].mean, g % 5);
        }
        tu_trial_groups level3 = study_of(&runs);
        check_close(level2.dof_within, 50.0, 0.0, "df of level 2");
        check_close(level3.dof_within, 5.0, 0.0, "df of level 3");
        snprintf(path, sizeof path, "computed.pooled_by_probe[%d].s2_df_50", k);
        check_relative(level2.repeatability, check_json_number(root, path), 1e-9, "s2");
        snprintf(path, sizeof path, "computed.pooled_by_probe[%d].s3_df_5", k);
        check_relative(level3.repeatability, check_json_number(root, path), 1e-9, "s3");
        if (wanted == 2362.0) {
            check_close(level2.repeatability,
                        check_json_number(root, "certified.probe_2362.s2_level2_df_50"), 1e-4,
                        "s2 as printed");
            check_close(level3.repeatability,
                        check_json_number(root, "certified.probe_2362.s3_level3_df_5"), 1e-4,
                        "s3 as printed");
        }
    }
    free(run);
    free(wafer);
    free(probe);
    free(average);
    cJSON_Delete(root);
}

static void groups_nearer_than_chance_have_nothing_between_them(void **state)
{
    (void)state;
    table t = {.rows = 0};
    const double values[] = {1, 3, 3, 1, 2, 2}; /* three groups with one mean */
    for (size_t i = 0; i < 6; i++)
        add(&t, values[i], i / 2);
    tu_trial_groups s = study_of(&t);
    check_close(s.ss_between, 0.0, 1e-15, "SS between");
    check_same(s.between, 0.0, "s_L");
    check_close(s.reproducibility, s.repeatability, 1e-15, "s_R");
    check_close(s.p, 1.0, 1e-12, "p");
}

/* By hand: groups of 1, 1, 3; n0 = (5 - 11/5)/2 = 1.4. */
static void groups_of_one_count_between_but_not_within(void **state)
{
    (void)state;
    table t = {.rows = 0};
    add(&t, 1.0, 0);
    add(&t, 2.0, 1);
    add(&t, 3.0, 2);
    add(&t, 4.0, 2);
    add(&t, 5.0, 2);
    tu_trial_groups s = study_of(&t);
    check_close(s.dof_within, 2.0, 0.0, "df within");
    check_close(s.ss_within, 2.0, 1e-14, "SS within");
    check_close(s.ss_between, 8.0, 1e-14, "SS between"); /* 4 + 1 + 3 about 3 */
    check_close(s.effective_group, 1.4, 1e-14, "n0");
    check_close(s.between, sqrt(3.0 / 1.4), 1e-14, "s_L");
    check_nan(t.of[0].sd, "sd of one touch");
    check_close(t.of[2].sd, 1.0, 1e-14, "sd of three");
    check_close(t.of[2].mean, 4.0, 1e-14, "mean of three");
}

static void a_group_number_without_touches_is_no_group(void **state)
{
    (void)state;
    table t = {.rows = 0};
    add(&t, 1.0, 0);
    add(&t, 1.5, 0);
    add(&t, 2.0, 2);
    add(&t, 2.5, 2);
    tu_trial_groups s = study_of(&t);
    assert_int_equal(s.groups, 2);
    assert_int_equal(t.of[1].n, 0);
    check_nan(t.of[1].mean, "mean of none");
    check_close(s.effective_group, 2.0, 1e-15, "n0");
}

static void equal_touches_have_no_f(void **state)
{
    (void)state;
    table t = {.rows = 0};
    for (size_t i = 0; i < 6; i++)
        add(&t, 0.1, i / 3);
    tu_trial_groups s = study_of(&t);
    check_same(s.repeatability, 0.0, "s_r");
    check_nan(s.f, "F");
    check_nan(s.p, "p");
}

static void what_is_no_study_is_refused(void **state)
{
    (void)state;
    const double values[] = {1.0, 2.0, 3.0, 4.0};
    const size_t alone[] = {0, 1, 2, 3}, together[] = {1, 1, 1, 1}, beyond[] = {0, 0, 1, 4};
    tu_trial_series series = trial_sample_of(values, 4);
    tu_trial_group of[4];
    tu_trial_groups s;
    tu_error error;
    check_status(tu_trials_study_groups(&series, 4, of, &s, &error), TU_DATA_MISSING, NULL);
    series.group = alone;
    check_status(tu_trials_study_groups(&series, 4, of, &s, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "all 4 groups have one");
    series.group = together;
    check_status(tu_trials_study_groups(&series, 4, of, &s, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "needs two groups, found 1");
    series.group = beyond;
    check_status(tu_trials_study_groups(&series, 4, of, &s, &error), TU_DATA_RANGE, NULL);
    check_contains(error.message, "touch 4");
    series.count = 0;
    check_status(tu_trials_study_groups(&series, 4, of, &s, &error), TU_UNDETERMINED, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sirstv_and_atmwtag_keep_their_certified_digits),
        cmocka_unit_test(the_coal_of_iso_5725_2_has_its_repeatability_and_reproducibility),
        cmocka_unit_test(the_crossed_study_of_the_aiag_manual_has_its_sums_of_squares),
        cmocka_unit_test(the_probes_of_the_handbook_have_their_levels),
        cmocka_unit_test(groups_nearer_than_chance_have_nothing_between_them),
        cmocka_unit_test(groups_of_one_count_between_but_not_within),
        cmocka_unit_test(a_group_number_without_touches_is_no_group),
        cmocka_unit_test(equal_touches_have_no_f),
        cmocka_unit_test(what_is_no_study_is_refused),
    };
    return cmocka_run_group_tests_name("gauge_study", tests, NULL, NULL);
}
