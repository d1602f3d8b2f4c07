/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_quantity_exact.c - lengths to the last bit: the double nearest to what was written, and
 * back.
 *
 * 1 in = 25.4 mm exactly: international yard and pound agreement of 1959.
 */
#include "check.h"

#include "trueup/quantity.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static tu_quantity parsed_as(const char *text, tu_unit bare_unit)
{
    tu_quantity quantity;
    tu_error error;
    tu_status status = tu_quantity_parse(text, strlen(text), bare_unit, &quantity, &error);
    if (status)
        fail_msg("%s is refused: %s", text, error.message);
    return quantity;
}

static tu_quantity parsed(const char *text)
{
    return parsed_as(text, TU_UNIT_MM);
}

/* n/64 in is n times 0.396875 mm, which six decimals write exactly; strtod gives its nearest
 * double. (n/64.0)*25.4 in doubles may miss that by one unit in the last place, not more. */
static void sixty_fourths_of_an_inch_are_exact_to_the_last_bit(void **state)
{
    (void)state;
    for (int n = 1; n <= 64 * 48; n++) {
        char text[32], exact[32];
        if (n > 64 && n % 64 != 0)
            snprintf(text, sizeof text, "%d-%d/64in", n / 64, n % 64);
        else
            snprintf(text, sizeof text, "%d/64in", n);
        long long millionths = 396875LL * n;
        snprintf(exact, sizeof exact, "%lld.%06lld", millionths / 1000000, millionths % 1000000);
        double value = parsed(text).value_mm;
        check_same(value, strtod(exact, NULL), text);
        double product = n / 64.0 * TU_MM_PER_INCH;
        check_between(product, nextafter(value, 0), nextafter(value, INFINITY), text);
    }
}

/* D * 10^-k in is D * 254 / 10^(k+1) mm: one division of whole numbers that doubles hold exactly,
 * so IEEE 754 rounds it to the nearest. */
static void decimal_inches_become_the_nearest_millimetres(void **state)
{
    (void)state;
    check_random random = check_random_seed(21);
    for (int i = 0; i < 20000; i++) {
        long long digits = (long long)check_random_below(&random, 1000000000000);
        int decimals = (int)check_random_below(&random, 12);
        char text[100];
        int length = snprintf(text, sizeof text, "%lld", digits);
        if (decimals < length)
            snprintf(text, sizeof text, "%lld.%0*lldin", digits / (long long)pow(10, decimals),
                     decimals > 0 ? decimals : 1, digits % (long long)pow(10, decimals));
        else
            snprintf(text, sizeof text, "%llde-%din", digits, decimals);
        double expected = (double)(digits * 254) / pow(10, decimals + 1);
        check_same(parsed(text).value_mm, expected, text);
    }
    check_same(parsed("0.1in").value_mm, 2.54, "0.1 in, mm"); /* 0.1*25.4 is one bit off */
}

static void check_round_trip(tu_quantity from)
{
    char text[100];
    size_t length = tu_quantity_format(text, sizeof text, from);
    assert_int_equal(length, strlen(text));
    tu_quantity back = parsed_as(text, TU_UNIT_INCH);
    check_same(back.value_mm, from.value_mm, text);
    if (isnan(from.tolerance_mm))
        check_nan(back.tolerance_mm, text);
    else
        check_same(back.tolerance_mm, from.tolerance_mm, text);
    assert_true(back.unit_stated);
}

static void any_quantity_reads_back_exactly(void **state)
{
    (void)state;
    check_random random = check_random_seed(22);
    for (int i = 0; i < 20000; i++) {
        double value;
        do {
            uint64_t bits = check_random_bits(&random);
            memcpy(&value, &bits, sizeof value);
        } while (!isfinite(value));
        check_round_trip(tu_quantity_mm(value, NAN));
        check_round_trip(tu_quantity_mm(value, fabs(value) * 1e-3));
        check_round_trip(tu_quantity_mm(check_random_uniform(&random, -300, 300),
                                        check_random_uniform(&random, 0, 0.1)));
    }
    check_round_trip(tu_quantity_exact(-40.12));
    check_round_trip(tu_quantity_exact(DBL_MAX));
}

static void a_quantity_is_written_as_people_write_it(void **state)
{
    (void)state;
    char text[64];
    assert_int_equal(tu_quantity_format(text, sizeof text, tu_quantity_mm(9.53, 0.02)), 14);
    assert_string_equal(text, "9.53mm+-0.02mm");
    tu_quantity_format(text, sizeof text, tu_quantity_mm(25400, NAN));
    assert_string_equal(text, "25400mm");
    tu_quantity_format(text, sizeof text, tu_quantity_mm(-0.0, 0));
    assert_string_equal(text, "0mm+-0mm");
}

static void what_cannot_be_written_leaves_an_empty_text(void **state)
{
    (void)state;
    char text[64] = "x";
    assert_int_equal(tu_quantity_format(text, sizeof text, tu_quantity_none()), 0);
    assert_string_equal(text, "");
    assert_int_equal(tu_quantity_format(text, sizeof text, tu_quantity_mm(INFINITY, 0)), 0);
    assert_int_equal(tu_quantity_format(text, sizeof text, tu_quantity_mm(1, INFINITY)), 0);
    for (size_t size = 0; size <= 15; size++) {
        memset(text, 'x', sizeof text);
        assert_int_equal(tu_quantity_format(text, size, tu_quantity_mm(9.53, 0.02)),
                         size == 15 ? 14 : 0);
        assert_int_equal(text[size], 'x');
        if (size > 0 && size < 15)
            assert_string_equal(text, "");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sixty_fourths_of_an_inch_are_exact_to_the_last_bit),
        cmocka_unit_test(decimal_inches_become_the_nearest_millimetres),
        cmocka_unit_test(any_quantity_reads_back_exactly),
        cmocka_unit_test(a_quantity_is_written_as_people_write_it),
        cmocka_unit_test(what_cannot_be_written_leaves_an_empty_text),
    };
    return cmocka_run_group_tests_name("quantity_exact", tests, NULL, NULL);
}
