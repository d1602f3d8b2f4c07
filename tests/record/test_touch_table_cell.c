/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_touch_table_cell.c - cells of a CSV: numbers to the last bit, and what is none.
 */
#include "table_sample.h"

#include "trueup/touch_table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void a_decimal_comma_is_an_error_in_every_form(void **state)
{
    (void)state;
    static const char *const texts[] = {"z;t\n1,5;2\n", "z,t\n1,5,2\n", "z\n1,5\n",
                                        "z,t\n\"1,5\",2\n", "t;z\n1,5;2\n"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        tu_touch_table *table;
        tu_error error = {0};
        check_status(table_sample_read(texts[i], TU_UNIT_MM, NULL, &table, &error), TU_DATA_SYNTAX,
                     &error);
        assert_null(table);
        check_contains(error.where, ":2");
        check_contains(error.message, "decimal comma");
    }
}

static void only_finite_decimal_numbers_are_read(void **state)
{
    (void)state;
    static const char *const cells[] = {"nan",   "NaN",    "inf", "-inf", "0x1p3",
                                        "1e999", "1.2.3",  "--1", "1 2",  "1/4",
                                        "0.25'", "5+-0.1", ".",   "-",    "1e"};
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++) {
        char text[60];
        tu_touch_table *table;
        tu_error error = {0};
        snprintf(text, sizeof text, "t\tz\n1\t%s\n", cells[i]);
        tu_status status = table_sample_read(text, TU_UNIT_MM, NULL, &table, &error);
        assert_int_equal(tu_status_exit_code(status), 3);
        check_contains(error.where, ":2: column z");
        snprintf(text, sizeof text, "z\tt\n1\t%s\n", cells[i]);
        status = table_sample_read(text, TU_UNIT_MM, NULL, &table, &error);
        assert_int_equal(tu_status_exit_code(status), 3);
        check_contains(error.where, ":2: column t");
    }
}

/* The quick way against the C library's strtod, both ways to the last bit. */
static void numbers_are_the_nearest_doubles(void **state)
{
    (void)state;
    check_random random = check_random_seed(20261125);
    for (int i = 0; i < 300; i++) {
        char number[40], text[60];
        snprintf(number, sizeof number, "%.*f", (int)check_random_below(&random, 14),
                 check_random_uniform(&random, -1000, 1000));
        snprintf(text, sizeof text, "z\n%s\n", number);
        tu_touch_table *table = table_sample_good(text);
        double expected = strtod(number, NULL);
        check_same(table->position_mm[TU_AXIS_Z][0], expected == 0 ? 0 : expected, number);
        tu_touch_table_destroy(table);
    }
}

/* Up to 18 digits, the point anywhere among them, before or behind them, or none; any sign. */
static size_t draw_decimal(check_random *random, char *text)
{
    static const char *const signs[] = {"", "-", "+"};
    size_t digits = 1 + check_random_below(random, 18);
    size_t point = check_random_below(random, digits + 2);
    size_t length = (size_t)sprintf(text, "%s", signs[check_random_below(random, 3)]);
    bool zeros = check_random_below(random, 8) == 0; /* at the front, or nothing but zeros */
    for (size_t i = 0; i < digits; i++) {
        if (i == point)
            text[length++] = '.';
        bool zero = zeros && i < digits - 1;
        text[length++] = (char)('0' + (zero ? 0 : (int)check_random_below(random, 10)));
    }
    if (point == digits)
        text[length++] = '.';
    text[length] = '\0';
    return length;
}

/* Four columns of 250 000 rows. */
static void a_million_decimals_are_those_of_strtod(void **state)
{
    (void)state;
    enum { ROWS = 250000, COLUMNS = 4 };
    char *text = malloc((size_t)ROWS * COLUMNS * 24 + 20), *at = text;
    double *expected = malloc((size_t)ROWS * COLUMNS * sizeof *expected);
    assert_non_null(text);
    assert_non_null(expected);
    check_random random = check_random_seed(83);
    at += sprintf(at, "x,y,z,t\n");
    for (size_t i = 0; i < (size_t)ROWS * COLUMNS; i++) {
        size_t length = draw_decimal(&random, at);
        expected[i] = strtod(at, NULL);
        at += length;
        *at++ = i % COLUMNS == COLUMNS - 1 ? '\n' : ',';
    }
    *at = '\0';
    tu_touch_table *table = table_sample_good(text);
    assert_int_equal(table->count, ROWS);
    for (size_t i = 0; i < (size_t)ROWS * COLUMNS; i++) {
        double found = i % COLUMNS < TU_AXIS_COUNT ? table->position_mm[i % COLUMNS][i / COLUMNS]
                                                   : table->time_s[i / COLUMNS];
        if (found != expected[i]) /* bit by bit, since none is NaN; but a zero has no sign */
            fail_msg("row %zu, column %zu: %.17g, strtod %.17g", i / COLUMNS, i % COLUMNS, found,
                     expected[i]);
    }
    tu_touch_table_destroy(table);
    free(expected);
    free(text);
}

static void a_time_of_day_is_told_from_seconds(void **state)
{
    (void)state;
    static const char *const cells[] = {"12:30:00", "12:30", "12:30:05.25"};
    static const char *const none[] = {"12:30 h", "a:b", "1:-2"};
    for (size_t i = 0; i < 6; i++) {
        char text[60];
        tu_touch_table *table;
        tu_error error = {0};
        snprintf(text, sizeof text, "t,z\n%s,1\n", i < 3 ? cells[i] : none[i - 3]);
        check_status(table_sample_read(text, TU_UNIT_MM, NULL, &table, &error), TU_DATA_SYNTAX,
                     &error);
        check_contains(error.where, ":2: column t");
        assert_true((strstr(error.message, "seconds from any moment") != NULL) == (i < 3));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_decimal_comma_is_an_error_in_every_form),
        cmocka_unit_test(only_finite_decimal_numbers_are_read),
        cmocka_unit_test(numbers_are_the_nearest_doubles),
        cmocka_unit_test(a_million_decimals_are_those_of_strtod),
        cmocka_unit_test(a_time_of_day_is_told_from_seconds),
    };
    return cmocka_run_group_tests_name("touch_table_cell", tests, NULL, NULL);
}
