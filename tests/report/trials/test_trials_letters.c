/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_trials_letters.c - the drawing in letters read back: rows by the numbers beside them.
 */
#include "trials_bench.h"

#include "report/trials/trials_letters.h"

static trials_bench bench;
static int columns;

static char *written(void)
{
    char *text = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&text, &length);
    assert_non_null(out);
    tu_trials_letters(out, &bench.entry[0], bench.story.unit, columns);
    assert_int_equal(fclose(out), 0);
    return text;
}

static void one_touch_draws_nothing(void **state)
{
    (void)state;
    bench_kind(&bench, 0, TU_UNIT_MM);
    char *text = written();
    assert_string_equal(text, "");
    free(text);
    bench_end(&bench);
}

/* Eleven rows from 0 to 10 (the limits are far: 3 MR/1.128 with MR 10): a touch at 0 is in the
 * last row, one at 10 in the first. */
static void a_touch_stands_in_the_row_of_its_value(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    bench_add(&bench, "", (double[]){0, 10, 0, 10, 5}, NULL, 5, NAN);
    bench.entry[0].figures.chart_lower = -1e3; /* out of the picture */
    bench.entry[0].figures.chart_upper = 1e3;
    char *text = written();
    check_contains(text, " | o o \n");
    check_contains(text, " |o o  \n         mm +-----\n");
    free(text);
    bench_end(&bench);
}

static size_t count_letters(const char *text, char letter)
{
    size_t count = 0;
    for (const char *line = text; line && *line; line = strchr(line, '\n') + 1) {
        const char *bar = strchr(line, '|'), *end = strchr(line, '\n');
        for (const char *at = bar; bar && bar < end && at < end; at++)
            count += *at == letter;
    }
    return count;
}

static void every_touch_of_thirty_has_its_own_letter(void **state)
{
    (void)state;
    bench_kind(&bench, 3, TU_UNIT_MM);
    tu_trial_figures *f = &bench.entry[0].figures;
    f->outlier_count = 1;
    f->outlier[0].index = 4;
    char *text = written();
    assert_int_equal(count_letters(text, 'o'), 29);
    assert_int_equal(count_letters(text, '#'), 1);
    check_contains(text, "touch 1 to 30\n");
    check_contains(text, ", # outlier\n");
    free(text);
    bench_end(&bench);
}

/* The numbers behind the bars are the touches. */
static void the_bars_hold_every_touch_and_fit_sixty_columns(void **state)
{
    (void)state;
    for (int kind = 1; kind < BENCH_KINDS; kind++) {
        bench_kind(&bench, kind, kind % 2 ? TU_UNIT_INCH : TU_UNIT_MM);
        char *text = written(), *rest = text, *line;
        bool bars = bench.entry[0].figures.range > 0, is_below = false;
        long sum = 0;
        check_lacks(text, "nan");
        while ((line = strsep(&rest, "\n")) != NULL) {
            char *bar = strchr(line, '|'), *number = strrchr(line, ' ');
            assert_true(strlen(line) <= 66);
            if (is_below && bar && number)
                sum += strtol(number, NULL, 10);
            is_below = is_below || strstr(line, "limits of chance");
        }
        assert_true(is_below);
        assert_int_equal(sum, bars ? (long)bench.entry[0].series.count : 0);
        free(text);
        bench_end(&bench);
    }
}

static void the_drawing_is_as_wide_as_the_terminal(void **state)
{
    (void)state;
    static const int widths[] = {40, 50, 60, 80, 120, 200};
    for (size_t k = 0; k < sizeof widths / sizeof *widths; k++) {
        bench_start(&bench, TU_UNIT_MM);
        bench_add_normal(&bench, "seat", 400, 0.0025, 7);
        bench.entry[0].figures.outlier_count = 1;
        columns = widths[k];
        char *text = written(), *rest = text, *line;
        size_t widest = 0;
        while ((line = strsep(&rest, "\n")) != NULL)
            widest = strlen(line) > widest ? strlen(line) : widest;
        check_between((double)widest, columns - 8, columns, "columns of the widest row");
        free(text);
        bench_end(&bench);
    }
    columns = 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_touch_draws_nothing),
        cmocka_unit_test(a_touch_stands_in_the_row_of_its_value),
        cmocka_unit_test(every_touch_of_thirty_has_its_own_letter),
        cmocka_unit_test(the_drawing_is_as_wide_as_the_terminal),
        cmocka_unit_test(the_bars_hold_every_touch_and_fit_sixty_columns),
    };
    return cmocka_run_group_tests_name("trials_letters", tests, NULL, NULL);
}
