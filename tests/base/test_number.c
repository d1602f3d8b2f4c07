/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_number.c - numbers to and from text: the nearest double, the same in every locale.
 */
#include "check.h"

#include "trueup/number.h"

#include <float.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static double parsed(const char *text)
{
    double value;
    tu_error error;
    tu_status status = tu_number_parse(text, strlen(text), &value, &error);
    if (status)
        fail_msg("%s is refused: %s", text, error.message);
    return value;
}

static void check_refused(const char *text, size_t length, tu_status status, const char *said)
{
    double value = 1.0;
    tu_error error = {0};
    check_status(tu_number_parse(text, length, &value, &error), status, &error);
    check_nan(value, text);
    check_contains(error.message, said);
    assert_string_equal(error.where, "");
    assert_int_equal(tu_number_parse(text, length, &value, NULL), status);
}

static void plain_numbers_are_read(void **state)
{
    (void)state;
    check_same(parsed("0"), 0.0, "0");
    check_same(parsed("-0"), -0.0, "-0");
    check_same(parsed("6.35"), 6.35, "6.35");
    check_same(parsed("+6.35"), 6.35, "+6.35");
    check_same(parsed("-40.120"), -40.12, "-40.120");
    check_same(parsed(".5"), 0.5, ".5");
    check_same(parsed("5."), 5.0, "5.");
    check_same(parsed("007"), 7.0, "007");
    check_same(parsed("1e3"), 1000.0, "1e3");
    check_same(parsed("1E+3"), 1000.0, "1E+3");
    check_same(parsed("25e-1"), 2.5, "25e-1");
    check_same(parsed("1e-400"), 0.0, "1e-400"); /* its nearest double */
}

static void only_the_given_length_is_read(void **state)
{
    (void)state;
    double value;
    check_status(tu_number_parse("12.59", 4, &value, NULL), TU_OK, NULL);
    check_same(value, 12.5, "12.5|9");
    check_status(tu_number_parse("1e99", 2, &value, NULL), TU_DATA_SYNTAX, NULL);
}

static void what_is_no_plain_number_is_refused_and_named(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        const char *said;
    } cases[] = {
        {"6,35", "decimal comma"},
        {"1,000.5", "between thousands"},
        {"1'000", "between thousands"},
        {"1 000", "\"1 000\" is not a number"},
        {"1_000", "not a number"},
        {"nan", "finite"},
        {"NaN", "finite"},
        {"inf", "finite"},
        {"-Infinity", "finite"},
        {"0x10", "hexadecimal"},
        {"0X1p3", "hexadecimal"},
        {"\xE2\x88\x92"
         "5",
         "minus sign"},
        {"\xE2\x80\x93"
         "5",
         "minus sign"},
        {"5\"", "write in for inches"},
        {"", "found nothing"},
        {" 5", "not a number"},
        {"5 ", "not a number"},
        {"\t5", "not a number"},
        {"5\n", "\"5\\x0A\" is not a number"},
        {"+", "not a number"},
        {"-", "not a number"},
        {".", "not a number"},
        {"-.", "not a number"},
        {"+-5", "not a number"},
        {"--5", "not a number"},
        {"1.2.3", "not a number"},
        {"1e", "not a number"},
        {"1e+", "not a number"},
        {"1e5.0", "not a number"},
        {"e5", "not a number"},
        {"1d5", "not a number"},
        {"1f", "not a number"},
        {"6.35mm", "not a number"},
        {"1/4", "not a number"},
        {"\xD9\xA1", "not a number"}, /* U+0661, a digit elsewhere */
        {"5\xFF", "\"5\\xFF\" is not a number"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        check_refused(cases[i].text, strlen(cases[i].text), TU_DATA_SYNTAX, cases[i].said);
    check_refused("5\0", 2, TU_DATA_SYNTAX, "\"5\\x00\" is not a number");
}

static void too_large_a_number_is_out_of_range(void **state)
{
    (void)state;
    check_refused("1e400", 5, TU_DATA_RANGE, "\"1e400\" is too large");
    check_refused("-1e309", 6, TU_DATA_RANGE, "too large");
    check_refused("1.7976931348623159e308", 22, TU_DATA_RANGE, "too large");
    check_refused("1e99999999999999999999", 22, TU_DATA_RANGE, "too large");
}

static void a_number_may_have_a_thousand_characters_and_no_more(void **state)
{
    (void)state;
    char text[1001];
    memset(text, '0', sizeof text);
    text[0] = '1';
    text[1] = '.';
    text[999] = '1';
    double value;
    check_status(tu_number_parse(text, 1000, &value, NULL), TU_OK, NULL);
    check_same(value, 1.0, "1.00...01");
    check_refused(text, 1001, TU_DATA_SYNTAX, "more than 1000 characters");
}

typedef struct hard_case {
    const char *text;
    double nearest;
} hard_case;

/*
 * Decimals that lie very near half way between two doubles, or at the ends of their range. The
 * first 22: V. Paxson, "A program for testing IEEE decimal-binary conversion" (1991), stress
 * inputs for double precision. 2.225...11e-308, at the edge of the subnormal numbers: widely
 * reported in 2011 for making conversions loop. 1e23: W. D. Clinger, PLDI 1990. The texts are from
 * memory; every expected double was computed in exact rational arithmetic (Python's fractions).
 */
static const hard_case hard_cases[] = {
    {"5e125", 0x1.7a2ecc414a03fp+417},
    {"69e267", 0x1.0b7cb60c994dap+893},
    {"999e-26", 0x1.82782afe1869ep-77},
    {"7861e-34", 0x1.fe3544145e9d8p-101},
    {"75569e-254", 0x1.5a462d91c6ab3p-828},
    {"928609e-261", 0x1.be2dd66200befp-848},
    {"9210917e80", 0x1.da232347e6032p+288},
    {"84863171e114", 0x1.06e98f5ec8f37p+405},
    {"653777767e273", 0x1.20223f2b3a881p+936},
    {"5232604057e-298", 0x1.465b896c24520p-958},
    {"27235667517e-109", 0x1.7d41824d64fb2p-328},
    {"653532977297e-123", 0x1.925a0aabcdc68p-370},
    {"3142213164987e-294", 0x1.d3409dfbca26fp-936},
    {"46202199371337e-72", 0x1.28f9edfbd341fp-194},
    {"231010996856685e-73", 0x1.28f9edfbd341fp-195},
    {"9324754620109615e212", 0x1.3ae60753af6cap+757},
    {"78459735791271921e49", 0x1.dcd0089c1314ep+218},
    {"272104041512242479e200", 0x1.3bbb4bf05f087p+722},
    {"6802601037806061975e198", 0x1.3bbb4bf05f087p+720},
    {"20505426358836677347e-221", 0x1.012954b6aabbap-670},
    {"836168422905420598437e-234", 0x1.20403a628a9cap-708},
    {"4891559871276714924261e222", 0x1.6ecaf7694a3c7p+809},
    {"2.2250738585072011e-308", 0x0.fffffffffffffp-1022},
    {"2.2250738585072012e-308", 0x1p-1022},
    {"1e23", 0x1.52d02c7e14af6p+76},
    {"9007199254740993", 0x1p+53}, /* exactly half way: to even */
    {"9007199254740993.00000000000000000000000001", 0x1.0000000000001p+53},
    {"2.4703282292062327e-324", 0.0},
    {"2.4703282292062328e-324", 0x1p-1074},
    {"1.7976931348623158e308", DBL_MAX},
    {"123456789012345678901234567890", 0x1.8ee90ff6c373ep+96},
};

static void hard_decimals_become_the_nearest_double(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof hard_cases / sizeof hard_cases[0]; i++)
        check_same(parsed(hard_cases[i].text), hard_cases[i].nearest, hard_cases[i].text);
}

/* A random decimal of up to 25 digits. */
static void random_decimal(check_random *random, char *text, size_t size)
{
    size_t used = 0;
    size_t digits = 1 + check_random_below(random, 25);
    size_t point = check_random_below(random, 2 * digits);
    if (check_random_below(random, 3) == 0)
        text[used++] = check_random_below(random, 2) == 0 ? '-' : '+';
    for (size_t i = 0; i < digits; i++) {
        if (i == point)
            text[used++] = '.';
        text[used++] = (char)('0' + check_random_below(random, 10));
    }
    text[used] = '\0';
    if (check_random_below(random, 2) == 0)
        snprintf(text + used, size - used, "e%d", (int)check_random_below(random, 680) - 350);
}

/* Independent of what is tested: strtod as it is, in the locale "C" that a program starts in. */
static void random_decimals_agree_with_the_c_library(void **state)
{
    (void)state;
    check_random random = check_random_seed(11);
    int overflows = 0;
    for (int i = 0; i < 100000; i++) {
        char text[64];
        random_decimal(&random, text, sizeof text);
        double expected = strtod(text, NULL);
        double value;
        tu_status status = tu_number_parse(text, strlen(text), &value, NULL);
        assert_int_equal(status, isinf(expected) ? TU_DATA_RANGE : TU_OK);
        overflows += isinf(expected) != 0;
        if (!status)
            check_same(value, expected, text);
    }
    assert_in_range(overflows, 1000, 20000); /* both kinds did occur */
}

static void a_comma_locale_changes_nothing(void **state)
{
    (void)state;
    check_comma_locale();
    char text[TU_NUMBER_TEXT_SIZE];
    check_same(parsed("6.35"), 6.35, "6.35");
    check_refused("6,35", 4, TU_DATA_SYNTAX, "decimal comma");
    tu_number_format(text, sizeof text, -1234.5678, 3);
    assert_string_equal(text, "-1234.568");
    tu_number_format_exact(text, sizeof text, 1234.5678);
    assert_string_equal(text, "1234.5678");
    tu_number_format_exact(text, sizeof text, 1.5e-300);
    assert_string_equal(text, "1.5e-300");
    for (size_t i = 0; i < sizeof hard_cases / sizeof hard_cases[0]; i++)
        check_same(parsed(hard_cases[i].text), hard_cases[i].nearest, hard_cases[i].text);
    /* and the program keeps its locale */
    assert_string_equal(setlocale(LC_NUMERIC, NULL), "de_DE.UTF-8");
    snprintf(text, sizeof text, "%.1f", 1.5);
    assert_string_equal(text, "1,5");
}

static void a_number_has_the_decimals_asked_for(void **state)
{
    (void)state;
    static const struct {
        double value;
        int decimals;
        const char *text;
    } cases[] = {
        {6.35, 3, "6.350"},
        {-40.12, 4, "-40.1200"},
        {100, 0, "100"},
        {0.0, 3, "0.000"},
        {-0.0, 3, "0.000"},
        {-0.0004, 3, "0.000"},
        {-0.0006, 3, "-0.001"},
        {-0.4, 0, "0"},
        {-0.6, 0, "-1"},
        {2.5, 0, "2"}, /* exactly half way: to even */
        {0.1, 15, "0.100000000000000"},
        {1.5, -3, "2"},                 /* 0 decimals at least */
        {0.5, 20, "0.500000000000000"}, /* 15 at most */
        {NAN, 3, "nan"},
        {INFINITY, 3, "inf"},
        {-INFINITY, 3, "-inf"},
        {-10.0, 0, "-10"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[TU_NUMBER_TEXT_SIZE];
        size_t length = tu_number_format(text, sizeof text, cases[i].value, cases[i].decimals);
        assert_string_equal(text, cases[i].text);
        assert_int_equal(length, strlen(text));
    }
}

static void every_number_below_1e15_fits_the_stated_size(void **state)
{
    (void)state;
    char text[TU_NUMBER_TEXT_SIZE];
    assert_int_equal(tu_number_format(text, sizeof text, -999999999999999.9, 15), 32);
    assert_int_equal(tu_number_format_exact(text, sizeof text, -1.7976931348623157e308), 23);
    assert_int_equal(tu_number_format_exact(text, sizeof text, -1.2345678901234567e-5), 24);
}

static void a_text_that_does_not_fit_is_left_empty(void **state)
{
    (void)state;
    char text[8];
    for (size_t size = 0; size < sizeof text; size++) {
        memset(text, 'x', sizeof text);
        assert_int_equal(tu_number_format(text, size, 1234.5, 1), size > 6 ? 6 : 0);
        assert_string_equal(size == 0 ? "" : text, size > 6 ? "1234.5" : "");
        memset(text, 'x', sizeof text);
        assert_int_equal(tu_number_format_exact(text, size, 1234.5), size > 6 ? 6 : 0);
        assert_string_equal(size == 0 ? "" : text, size > 6 ? "1234.5" : "");
        assert_int_equal(text[size], 'x'); /* nothing beyond the size */
        memset(text, 'x', sizeof text);
        assert_int_equal(tu_number_format(text, size, NAN, 1), size > 3 ? 3 : 0);
        assert_int_equal(text[size], 'x');
    }
}

/* Origin of the digits: Python's repr, which gives the shortest (D. M. Gay's algorithm). The last
 * eight are powers of two whose nearest decimal of as many digits does not read back. */
static void the_fewest_digits_are_written(void **state)
{
    (void)state;
    static const struct {
        double value;
        const char *text;
    } cases[] = {
        {0.0, "0"},
        {-0.0, "-0"},
        {100, "100"},
        {-25400, "-25400"},
        {9.53, "9.53"},
        {4.35, "4.35"},
        {1.0 / 3.0, "0.3333333333333333"},
        {0x1.3333333333334p-2, "0.30000000000000004"},
        {0x1.0eeeeeeeeeeefp+3, "8.466666666666667"},
        {299792.458, "299792.458"},
        {999999999999999.9, "999999999999999.9"},
        {1e15, "1e15"},
        {0x1p+53, "9.007199254740992e15"},
        {0x1.b69b4ba630f35p+56, "1.2345678901234568e17"},
        {1e22, "1e22"},
        {1e23, "1e23"},
        {0.00001, "0.00001"},
        {0x1.4f8b588e368f0p-17, "9.999999999999999e-6"},
        {6.35e-9, "6.35e-9"},
        {DBL_MAX, "1.7976931348623157e308"},
        {DBL_MIN, "2.2250738585072014e-308"},
        {0x3p-1074, "1.5e-323"},
        {0x1p-1074, "5e-324"},
        {NAN, "nan"},
        {-INFINITY, "-inf"},
        {0x1p-44, "5.684341886080802e-14"},
        {0x1p-24, "5.960464477539063e-8"},
        {0x1p-1017, "7.120236347223045e-307"},
        {0x1p-1007, "7.291122019556398e-304"},
        {0x1p-957, "8.209073602596753e-289"},
        {0x1p-808, "5.858190679279809e-244"},
        {0x1p-791, "7.678447687145631e-239"},
        {0x1p-788, "6.142758149716505e-238"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[TU_NUMBER_TEXT_SIZE];
        size_t length = tu_number_format_exact(text, sizeof text, cases[i].value);
        assert_string_equal(text, cases[i].text);
        assert_int_equal(length, strlen(text));
    }
}

/* Any bit pattern that is a finite double. */
static double random_double(check_random *random)
{
    double value;
    do {
        uint64_t bits = check_random_bits(random);
        memcpy(&value, &bits, sizeof value);
    } while (!isfinite(value));
    return value;
}

static void any_double_reads_back_exactly(void **state)
{
    (void)state;
    check_random random = check_random_seed(12);
    for (int i = 0; i < 50000; i++) {
        double value =
            i % 2 == 0 ? random_double(&random) : check_random_uniform(&random, -2000.0, 2000.0);
        char text[TU_NUMBER_TEXT_SIZE];
        assert_true(tu_number_format_exact(text, sizeof text, value) > 0);
        check_same(parsed(text), value, text);
    }
}

static void a_typed_decimal_comes_back_as_typed(void **state)
{
    (void)state;
    check_random random = check_random_seed(13);
    for (int i = 0; i < 20000; i++) {
        char typed[64], text[TU_NUMBER_TEXT_SIZE];
        snprintf(typed, sizeof typed, "%d.%03d%d", (int)check_random_below(&random, 3000),
                 (int)check_random_below(&random, 1000), 1 + (int)check_random_below(&random, 9));
        tu_number_format_exact(text, sizeof text, parsed(typed));
        assert_string_equal(text, typed);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_numbers_are_read),
        cmocka_unit_test(only_the_given_length_is_read),
        cmocka_unit_test(what_is_no_plain_number_is_refused_and_named),
        cmocka_unit_test(too_large_a_number_is_out_of_range),
        cmocka_unit_test(a_number_may_have_a_thousand_characters_and_no_more),
        cmocka_unit_test(hard_decimals_become_the_nearest_double),
        cmocka_unit_test(random_decimals_agree_with_the_c_library),
        cmocka_unit_test_teardown(a_comma_locale_changes_nothing, check_plain_locale),
        cmocka_unit_test(a_number_has_the_decimals_asked_for),
        cmocka_unit_test(every_number_below_1e15_fits_the_stated_size),
        cmocka_unit_test(a_text_that_does_not_fit_is_left_empty),
        cmocka_unit_test(the_fewest_digits_are_written),
        cmocka_unit_test(any_double_reads_back_exactly),
        cmocka_unit_test(a_typed_decimal_comes_back_as_typed),
    };
    return cmocka_run_group_tests_name("number", tests, NULL, NULL);
}
