/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_trials_text.c - the tables: figures by hand, rows that fit a terminal, and nothing
 * printed that is not known.
 */
#include "trials_bench.h"

#include "report/word_rows.h"

static trials_bench bench;

static char *written(void)
{
    return bench_written(tu_report_trials_text, &bench);
}

static void start(const double *values, size_t n, tu_unit unit)
{
    bench_start(&bench, unit);
    bench_add(&bench, "seat", values, NULL, n, NAN);
}

/* 1, 2, 3, 4, 6: mean 3.2, squares 4.84 + 1.44 + 0.04 + 0.64 + 7.84 = 14.8, s = sqrt(3.7) =
 * 1.92354; 1.96 sqrt(2) s = 5.33178; 4 s = 7.69415. */
static void the_table_has_the_figures_of_the_touches(void **state)
{
    (void)state;
    start((double[]){1, 2, 3, 4, 6}, 5, TU_UNIT_MM);
    char *text = written();
    check_contains(text, "seat, Z- (mm)\n");
    check_contains(text, "  touches                               5\n");
    check_contains(text, "  mean                             3.2000  95 %: ");
    check_contains(text, "  median                           3.0000\n");
    check_contains(text, "  s                                1.9235  95 %: ");
    check_contains(text, "  range                            5.0000\n");
    check_contains(text, "  repeatability limit              5.3318  two differ");
    check_contains(text, "  repeatability R                  7.6942  4 s (ISO 230-2)\n");
    check_lacks(text, "  step ");
    check_lacks(text, "s without outliers");
    free(text);
    bench_end(&bench);
}

/* 25.4 mm are an inch. */
static void in_inches_every_length_is_divided_once(void **state)
{
    (void)state;
    start((double[]){25.4, 50.8, 76.2, 101.6, 152.4}, 5, TU_UNIT_INCH);
    char *text = written();
    check_contains(text, "seat, Z- (in)\n");
    check_contains(text, "  mean                            3.20000  95 %: ");
    check_contains(text, "  s                               1.92354  95 %: ");
    check_lacks(text, " mm");
    free(text);
    bench_end(&bench);
}

static void every_kind_of_series_fits_a_terminal_and_holds_no_nan(void **state)
{
    (void)state;
    for (int kind = 0; kind < 4 * BENCH_KINDS; kind++) {
        bench_kind(&bench, kind / 4, kind % 2 ? TU_UNIT_INCH : TU_UNIT_MM);
        bench.story.chart = kind / 2 % 2;
        bench.story.limit_mm = 0.001;
        char *text = written(), *rest = text, *line;
        check_lacks(text, "nan");
        check_lacks(text, "inf");
        while ((line = strsep(&rest, "\n")) != NULL)
            if (tu_word_rows_columns(line) > 80)
                fail_msg("more than 80 columns: %s", line);
        free(text);
        bench_end(&bench);
    }
}

static void more_than_six_series_have_a_line_each(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    for (size_t i = 0; i < 8; i++)
        bench_add_normal(&bench, i ? "seat" : "s\xC3\xA9rie", 20, 0.0025, 30 + i);
    char *text = written();
    check_contains(text, "\n  series                         touches        mean          s");
    check_contains(
        text,
        "\n  s\xC3\xA9rie, Z-                           20    -52.3"); /* by columns, not bytes */
    check_lacks(text, "repeatability limit");
    free(text);
    bench_end(&bench);
}

static void a_study_lists_its_groups_and_the_analysis(void **state)
{
    (void)state;
    /* two groups 1, 3 and 5, 7: means 2 and 6, within 2 + 2 = 4 of 2, between 2 (2^2 + 2^2) = 16 */
    start((double[]){1, 3, 5, 7}, 4, TU_UNIT_MM);
    bench_study(&bench, 2);
    char *text = written();
    check_contains(text, "Groups by seat (mm)");
    check_contains(text, "  seat number 1                        2      2.0000     1.4142\n");
    check_contains(text, "  between                16       1             16        8");
    check_contains(text, "  within                  4       2              2\n");
    check_contains(text, "  s within groups                  1.4142");
    free(text);
    bench_end(&bench);
}

/* A step hides the scatter within: there is no F to divide by nothing. */
static void groups_that_do_not_scatter_have_no_f(void **state)
{
    (void)state;
    start((double[]){1, 1, 2, 2}, 4, TU_UNIT_MM);
    bench_study(&bench, 2);
    char *text = written();
    check_contains(text, "              1        -        -\n");
    check_lacks(text, "nan");
    free(text);
    bench_end(&bench);
}

/* Ten touches from one side, then ten from the other, of a place that goes 0.01 mm a touch. */
static void a_drift_in_a_reversal_is_said_beside_it(void **state)
{
    (void)state;
    double side[2][10];
    for (int i = 0; i < 20; i++)
        side[i / 10][i % 10] = 0.01 * i;
    for (int drifting = 0; drifting < 2; drifting++) {
        bench_start(&bench, TU_UNIT_MM);
        for (size_t i = 0; i < 2 && drifting; i++)
            bench_add(&bench, "", side[i], NULL, 10, NAN);
        for (size_t i = 0; i < 2 && !drifting; i++)
            bench_add_normal(&bench, "", 30, 0, 11 + i);
        bench.story.has_reversal = true;
        bench.story.forward = 1;
        bench.story.reversal = (tu_trial_reversal){.b = 0.1, .b_interval = {0.08, 0.12}};
        bench.entry[0].figures.outlier_count = 0;
        char *text = written();
        assert_int_equal(strstr(text, "a side drifts: ") != NULL, drifting);
        assert_int_equal(strstr(text, ", but see above: ") != NULL, drifting);
        check_lacks(text, "outliers are in");
        free(text);
        bench.entry[1].figures.outlier_count = 1;
        text = written();
        check_contains(text, "the outliers are in that difference.");
        free(text);
        bench_end(&bench);
    }
}

static void a_test_that_cannot_be_made_has_no_row(void **state)
{
    (void)state;
    const double equal[] = {1, 1, 1, 1};
    bench_start(&bench, TU_UNIT_MM);
    bench_add(&bench, "after", equal, NULL, 4, NAN);
    bench_add(&bench, "before", (double[]){1, 1.1, 1.2, 1.3}, NULL, 4, NAN);
    bench_compare(&bench);
    char *text = written();
    check_contains(text, "After against before (mm)");
    check_lacks(text, "spreads (F)");
    free(text);
    bench_end(&bench);
}

static void a_full_disk_is_told(void **state)
{
    (void)state;
    tu_error error = {0};
    FILE *full = fopen("/dev/full", "w");
    if (!full)
        skip();
    bench_kind(&bench, 3, TU_UNIT_MM);
    check_status(tu_report_trials_text(full, &bench.story, &error), TU_SYSTEM_IO, &error);
    fclose(full);
    bench_end(&bench);
}

/* 2000 touches with a drift of half an s in all: found by the test, and of no account. */
static void a_drift_below_s_is_in_the_table_and_not_in_the_verdict(void **state)
{
    (void)state;
    static double values[2000], times[2000];
    check_random random = check_random_seed(17);
    for (int i = 0; i < 2000; i++) {
        times[i] = 10 * i;
        values[i] = check_random_normal(&random, 0.005 * i / 2000, 0.01);
    }
    bench_start(&bench, TU_UNIT_MM);
    bench_add(&bench, "seat", values, times, 2000, NAN);
    char *text = bench_written(tu_report_trials_text, &bench);
    check_contains(text, "upwards; below s in all\n");
    check_lacks(text, "drifting");
    free(text);
    bench_end(&bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_drift_below_s_is_in_the_table_and_not_in_the_verdict),
        cmocka_unit_test(the_table_has_the_figures_of_the_touches),
        cmocka_unit_test(in_inches_every_length_is_divided_once),
        cmocka_unit_test(every_kind_of_series_fits_a_terminal_and_holds_no_nan),
        cmocka_unit_test(more_than_six_series_have_a_line_each),
        cmocka_unit_test(a_study_lists_its_groups_and_the_analysis),
        cmocka_unit_test(groups_that_do_not_scatter_have_no_f),
        cmocka_unit_test(a_drift_in_a_reversal_is_said_beside_it),
        cmocka_unit_test(a_test_that_cannot_be_made_has_no_row),
        cmocka_unit_test(a_full_disk_is_told),
    };
    return cmocka_run_group_tests_name("report_trials_text", tests, NULL, NULL);
}
