/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_quantity.c - lengths and angles as people write them.
 *
 * 1 in = 25.4 mm exactly: international yard and pound agreement of 1959.
 */
#include "check.h"

#include "trueup/quantity.h"

#include <math.h>
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

/* Refused in either unit, with none of it kept, and a message that holds said. */
static void check_refused(const char *text, size_t length, tu_status status, const char *said)
{
    for (int unit = TU_UNIT_MM; unit <= TU_UNIT_INCH; unit++) {
        tu_quantity quantity = {1.0, 2.0, true};
        tu_error error = {0};
        check_status(tu_quantity_parse(text, length, (tu_unit)unit, &quantity, &error), status,
                     &error);
        check_nan(quantity.value_mm, text);
        check_nan(quantity.tolerance_mm, text);
        assert_false(quantity.unit_stated);
        check_contains(error.message, said);
        assert_int_equal(tu_quantity_parse(text, length, (tu_unit)unit, &quantity, NULL), status);
    }
}

typedef struct form {
    const char *text;
    double value_mm;
    double tolerance_mm;
    bool unit_stated;
} form;

static void check_forms(const form *forms, size_t count, tu_unit bare_unit)
{
    for (size_t i = 0; i < count; i++) {
        tu_quantity quantity = parsed_as(forms[i].text, bare_unit);
        check_same(quantity.value_mm, forms[i].value_mm, forms[i].text);
        if (isnan(forms[i].tolerance_mm))
            check_nan(quantity.tolerance_mm, forms[i].text);
        else
            check_same(quantity.tolerance_mm, forms[i].tolerance_mm, forms[i].text);
        assert_int_equal(quantity.unit_stated, forms[i].unit_stated);
    }
}

static void lengths_are_read_in_every_accepted_form(void **state)
{
    (void)state;
    static const form forms[] = {
        {"6.35", 6.35, NAN, false},
        {"6.35mm", 6.35, NAN, true},
        {"6.35 mm", 6.35, NAN, true},
        {"0.25in", 6.35, NAN, true},
        {"0.25 inch", 6.35, NAN, true},
        {".25in", 6.35, NAN, true},
        {"1/4in", 6.35, NAN, true},
        {"1/4 in", 6.35, NAN, true},
        {"1-1/2in", 38.1, NAN, true},
        {"3/2in", 38.1, NAN, true},
        {"+1-1/2in", 38.1, NAN, true},
        {"1 1/2in", 38.1, NAN, true},
        {"1  1/2 in", 38.1, NAN, true},
        {"5 1/2\"", 139.7, NAN, true},
        {"-5 1/2\"", -139.7, NAN, true},
        {"5-1/2\"", 139.7, NAN, true},
        {"1/2\"", 12.7, NAN, true},
        {".5\"", 12.7, NAN, true},
        {"0.5''", 12.7, NAN, true},
        {"0.5\xE2\x80\xB3", 12.7, NAN, true},  /* double prime */
        {"1/2 \xE2\x80\x9D", 12.7, NAN, true}, /* closing quotation mark */
        {"1/2\"+-0.254mm", 12.7, 0.254, true},
        {"1/2\"+-0.01\"", 12.7, 0.254, true},
        {"12.7 mm", 12.7, NAN, true},
        {"1/2mm", 0.5, NAN, true},
        {"2-1/2mm", 2.5, NAN, true},
        {"0/4in", 0, NAN, true},
        {"  6.35mm  ", 6.35, NAN, true},
        {"1e2mm", 100, NAN, true},
        {"1e-1in", 2.54, NAN, true},
        {"100.", 100, NAN, false},
        {"0", 0, NAN, false},
        {"-0", 0, NAN, false}, /* a length has no signed zero */
        {"-0in", 0, NAN, true},
    };
    check_forms(forms, sizeof forms / sizeof forms[0], TU_UNIT_MM);
}

static void a_minus_holds_for_the_whole_mixed_number(void **state)
{
    (void)state;
    check_same(parsed("-6.35").value_mm, -6.35, "-6.35, mm");
    check_same(parsed("-1/4in").value_mm, -6.35, "-1/4in, mm");
    check_same(parsed("-1-1/2in").value_mm, -38.1, "-1-1/2in, mm");
    check_same(parsed("-0-1/2in").value_mm, -12.7, "-0-1/2in, mm");
}

static void a_tolerance_takes_the_values_unit(void **state)
{
    (void)state;
    static const form forms[] = {
        {"9.53+-0.02", 9.53, 0.02, false},
        {"9.53+-0.02mm", 9.53, 0.02, true},
        {"9.53mm+-0.02", 9.53, 0.02, true},
        {"9.53mm+-0.02mm", 9.53, 0.02, true},
        {"9.53\xC2\xB1"
         "0.02mm",
         9.53, 0.02, true},
        {"0.5in+-0.01", 12.7, 0.254, true},
        {"1-1/2in+-1/64", 38.1, 0.396875, true},
        {"-20+-0.03", -20, 0.03, false},
        {" 9.53 mm +- 0.02 mm ", 9.53, 0.02, true},
        {"9.53 \xC2\xB1 0.02", 9.53, 0.02, false},
        {"10+-0", 10, 0, false},
    };
    check_forms(forms, sizeof forms / sizeof forms[0], TU_UNIT_MM);
}

static void a_tolerance_may_name_its_own_unit(void **state)
{
    (void)state;
    static const form forms[] = {
        {"1/4in+-0.01mm", 6.35, 0.01, true},
        {"6.35mm+-0.01in", 6.35, 0.254, true},
        {"1/4 inch \xC2\xB1 0.01 mm", 6.35, 0.01, true},
        {"6.35mm+-1/64in", 6.35, 0.396875, true},
    };
    check_forms(forms, sizeof forms / sizeof forms[0], TU_UNIT_MM);
}

static void a_bare_number_is_in_the_given_unit(void **state)
{
    (void)state;
    static const form forms[] = {
        {"0.25", 6.35, NAN, false},          {"1/4", 6.35, NAN, false},
        {"-1-1/2", -38.1, NAN, false},       {"0.25+-0.01", 6.35, 0.254, false},
        {"0.25+-0.01in", 6.35, 0.254, true}, {"6.35mm+-0.01", 6.35, 0.01, true},
    };
    check_forms(forms, sizeof forms / sizeof forms[0], TU_UNIT_INCH);
}

/* "0.25+-0.01mm" in an inch file: 0.25 mm or 0.25 in? Either would be a guess of 6.1 mm. */
static void a_unit_on_the_tolerance_alone_is_refused_where_the_bare_unit_differs(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        tu_unit bare_unit;
        const char *said;
    } forms[] = {
        {"0.25+-0.01mm", TU_UNIT_INCH, "write 0.25in+-0.01mm or 0.25mm+-0.01mm"},
        {"9.53+-0.02in", TU_UNIT_MM, "write 9.53mm+-0.02in or 9.53in+-0.02in"},
        {" -1-1/2 \xC2\xB1 1/64mm ", TU_UNIT_INCH, "write -1-1/2in+-1/64mm or -1-1/2mm+-1/64mm"},
        {"1/4+-0.01in", TU_UNIT_MM, "write 1/4mm+-0.01in or 1/4in+-0.01in"},
    };
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        const char *text = forms[i].text;
        tu_quantity quantity;
        tu_error error = {0};
        check_status(tu_quantity_parse(text, strlen(text), forms[i].bare_unit, &quantity, &error),
                     TU_DATA_SYNTAX, &error);
        check_nan(quantity.value_mm, text);
        check_contains(error.message, "only the tolerance names its unit");
        check_contains(error.message, forms[i].said);
    }
    check_same(parsed_as("0.25+-0.01in", TU_UNIT_INCH).value_mm, 6.35, "agreeing, mm");
    check_same(parsed_as("9.53+-0.02mm", TU_UNIT_MM).value_mm, 9.53, "agreeing, mm");
}

/* 1/4 read as a quarter of a millimetre would be a wrong zero by 6.1 mm. */
static void a_fraction_of_millimetres_must_say_so(void **state)
{
    (void)state;
    static const char *const texts[] = {"1/4", "1-1/2", " 3/8 ", "-1/4", "1/4+-0.01"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        tu_quantity quantity;
        tu_error error;
        check_status(tu_quantity_parse(texts[i], strlen(texts[i]), TU_UNIT_MM, &quantity, &error),
                     TU_DATA_SYNTAX, &error);
        check_nan(quantity.value_mm, texts[i]);
        check_contains(error.message, "fraction without a unit");
        check_contains(error.message, "1/4in");
    }
}

static const struct {
    const char *text;
    const char *said;
} refusals[] = {
    {"", "found nothing"},
    {"   ", "found nothing"},
    {"6,35", "decimal comma"},
    {"6,35mm", "decimal comma"},
    {"1,000.5", "between thousands"},
    {"9.53+-0,02", "decimal comma"},
    {"1.000,5", "decimal comma"},
    {"1'000mm", "between thousands"},
    {"1 000", "unexpected text \"000\""},
    {"1_000", "unexpected text"},
    {"nan", "only finite numbers"},
    {"inf", "only finite numbers"},
    {"-inf mm", "only finite numbers"},
    {"5+-nan", "only finite numbers"},
    {"0x10", "no hexadecimal"},
    {"5'", "write in or mm"},
    {"5\xE2\x80\xB2", "write in or mm"}, /* prime */
    {"5\xE2\x80\x99", "write in or mm"}, /* apostrophe */
    {"5' 6\"", "write in or mm"},
    {"5\"6", "write in for inches"},
    {"\"5\"", "no number"},
    {"X134.9", "write the number alone, as in 134.9"},
    {"y-5", "write the number alone, as in -5"},
    {"Z 5mm", "write the number alone"},
    {"\xE2\x88\x92"
     "5mm",
     "write the minus sign as -"},
    {"5cm", "unknown unit \"cm\""},
    {"5 mil", "unknown unit \"mil\""},
    {"5thou", "unknown unit \"thou\""},
    {"5m", "unknown unit \"m\""},
    {"5ft", "unknown unit \"ft\""},
    {"5inches", "unknown unit \"inches\""},
    {"5MM", "unknown unit \"MM\""},
    {"5\xC2\xB5m", "unknown unit \"\xC2\xB5m\""},
    {"5mm2", "unknown unit \"mm2\""},
    {"5em", "unknown unit \"em\""},
    {"5cm+-1mm", "unknown unit \"cm\""},
    {"6.35 mm mm", "unexpected text \"mm\""},
    {"6.35mm x", "unexpected text \"x\""},
    {"6.35-", "unexpected text \"-\""},
    {"1-1in", "unexpected text \"-1in\""},
    {"1/2-1/4in", "unexpected text"},
    {"6.35mm+0.02", "unexpected text \"+0.02\""},
    {"6.35+-0.02+-0.01", "unexpected text \"+-0.01\""},
    {"6.35+-", "no number"},
    {"6.35+-mm", "no number"},
    {"+-0.02", "no number"},
    {"mm", "no number"},
    {"-", "no number"},
    {"--5", "no number"},
    {"- 5", "no number"},
    {".mm", "no number"},
    {"5++-1", "unexpected text"},
    {"5+-+1", "sign before the tolerance"},
    {"5+ -1", "unexpected text"},
    {"1/0in", "zero denominator"},
    {"1-1/0in", "zero denominator"},
    {"5in+-1/0", "zero denominator"},
    {"1/in", "whole numbers"},
    {"/4in", "no number"},
    {"1/2.5in", "whole numbers"},
    {"1.5/2in", "unexpected text \"/2in\""},
    {"1/-2in", "whole numbers"},
    {"1-/2in", "whole numbers"},
    {"1/2/3in", "unexpected text \"/3in\""},
    {"1234567/2in", "up to 6 digits"},
    {"1/1234567in", "up to 6 digits"},
    {"1-3/2in", "not below one"},
    {"1-2/2in", "not below one"},
    {"1 3/2in", "not below one"},
    {"1.5 1/2in", "unexpected text \"1/2in\""},
    {"1 - 1/2in", "unexpected text"},
    {"\t5mm", "\\x09"},
    {"5\nmm", "\\x0A"},
    {"5mm\n", "\\x0A"},
    {"5\xB1"
     "1",
     "broken UTF-8"}, /* the plus-minus sign of ISO 8859-1 */
    {"5mm\xC2", "broken UTF-8"},
    {"\xC2\xBDin", "write the fraction as 1/2in"}, /* the character 1/2 */
    {"5\xC2\xBC\"", "write the fraction as 1/4in"},
};

static void what_is_no_length_is_refused_and_named(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        check_refused(refusals[i].text, strlen(refusals[i].text), TU_DATA_SYNTAX, refusals[i].said);
        check_refused(refusals[i].text, strlen(refusals[i].text), TU_DATA_SYNTAX,
                      "accepted forms: 6.35mm, 0.25in, 1/4in, 1-1/2in, 9.53mm+-0.02mm");
    }
    check_refused("5\0mm", 4, TU_DATA_SYNTAX, "a NUL byte in \"5\\x00mm\"");
    check_refused("5mm\0", 4, TU_DATA_SYNTAX, "a NUL byte");
}

static void a_negative_tolerance_is_out_of_range(void **state)
{
    (void)state;
    check_refused("5+--0.02", 8, TU_DATA_RANGE, "negative tolerance");
    check_refused("5mm +- -0.02mm", 14, TU_DATA_RANGE, "negative tolerance");
    check_refused("5\xC2\xB1-1/4in", 9, TU_DATA_RANGE, "negative tolerance");
}

static void a_length_beyond_all_doubles_is_out_of_range(void **state)
{
    (void)state;
    check_refused("1e400", 5, TU_DATA_RANGE, "\"1e400\" is too large");
    check_refused("-1e400mm", 8, TU_DATA_RANGE, "too large");
    check_refused("1e308in", 7, TU_DATA_RANGE, "too large"); /* its millimetres are */
    check_refused("5mm+-1e999mm", 12, TU_DATA_RANGE, "too large");
    check_refused("1e99999999999999mm", 18, TU_DATA_RANGE, "too large");
    check_same(parsed("1e-99999999999999mm").value_mm, 0.0, "mm"); /* its nearest double */
}

static void only_the_given_length_is_read(void **state)
{
    (void)state;
    tu_quantity quantity;
    check_status(tu_quantity_parse("9.53mm+-", 6, TU_UNIT_MM, &quantity, NULL), TU_OK, NULL);
    check_same(quantity.value_mm, 9.53, "mm");
    check_status(tu_quantity_parse("1/4in", 3, TU_UNIT_INCH, &quantity, NULL), TU_OK, NULL);
    check_same(quantity.value_mm, 6.35, "mm");
}

static void quantities_are_the_same_in_a_comma_locale(void **state)
{
    (void)state;
    check_comma_locale();
    static const form forms[] = {{"9.53+-0.02mm", 9.53, 0.02, true},
                                 {"0.375in", 9.525, NAN, true},
                                 {"1/4in\xC2\xB1"
                                  "0.01mm",
                                  6.35, 0.01, true}};
    check_forms(forms, sizeof forms / sizeof forms[0], TU_UNIT_MM);
    check_refused("6,35", 4, TU_DATA_SYNTAX, "decimal comma");
    char text[64];
    tu_quantity_format(text, sizeof text, tu_quantity_mm(9.53, 0.02));
    assert_string_equal(text, "9.53mm+-0.02mm");
}

static void not_stated_is_told_from_zero(void **state)
{
    (void)state;
    assert_false(tu_quantity_is_stated(tu_quantity_none()));
    assert_true(tu_quantity_is_stated(tu_quantity_exact(0)));
    check_same(tu_quantity_exact(2).tolerance_mm, 0, "tolerance, mm");
    check_nan(tu_quantity_none().tolerance_mm, "tolerance, mm");
    assert_true(tu_quantity_exact(2).unit_stated);
    assert_true(tu_quantity_mm(2, NAN).unit_stated);
    assert_false(tu_quantity_none().unit_stated);
}

static double angle(const char *text)
{
    double angle_rad;
    tu_error error;
    tu_status status = tu_angle_parse(text, strlen(text), &angle_rad, &error);
    if (status)
        fail_msg("%s is refused: %s", text, error.message);
    return angle_rad;
}

/* A bare number is in degrees; 1 mm/m is a slope of 1/1000. */
static void angles_are_read_in_every_accepted_form(void **state)
{
    (void)state;
    static const double pi = 3.14159265358979323846;
    check_close(angle("180"), pi, 1e-15, "180, rad");
    check_close(angle("0.5deg"), pi / 360, 1e-18, "0.5deg, rad");
    check_close(angle("0.5 deg"), pi / 360, 1e-18, "0.5 deg, rad");
    check_close(angle(" -90\xC2\xB0 "), -pi / 2, 1e-15, "-90 degrees, rad");
    check_same(angle("0.01rad"), 0.01, "0.01rad, rad");
    check_close(angle("1.2mm/m"), 0.0011999994240005, 1e-15, "1.2mm/m, rad"); /* x - x^3/3 + ... */
    check_close(angle("1000 mm/m"), pi / 4, 1e-15, "1000 mm/m, rad");
    check_same(angle("0"), 0.0, "0, rad");
}

static void what_is_no_angle_is_refused_and_named(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        tu_status status;
        const char *said;
    } cases[] = {
        {"", TU_DATA_SYNTAX, "found nothing"},
        {"0,5", TU_DATA_SYNTAX, "decimal comma"},
        {"nan", TU_DATA_SYNTAX, "finite"},
        {"1/2deg", TU_DATA_SYNTAX, "with decimals"},
        {"5grad", TU_DATA_SYNTAX, "unknown unit \"grad\""},
        {"5mm", TU_DATA_SYNTAX, "unknown unit \"mm\""},
        {"5degree", TU_DATA_SYNTAX, "unknown unit"},
        {"5deg deg", TU_DATA_SYNTAX, "unknown unit"},
        {"5+-1deg", TU_DATA_SYNTAX, "unexpected text \"+-1deg\""},
        {"5'", TU_DATA_SYNTAX, "unexpected text"},
        {"deg", TU_DATA_SYNTAX, "no number"},
        {"5\xB0", TU_DATA_SYNTAX, "broken UTF-8"},
        {"1e400deg", TU_DATA_RANGE, "too large"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double angle_rad = 1.0;
        tu_error error;
        check_status(tu_angle_parse(cases[i].text, strlen(cases[i].text), &angle_rad, &error),
                     cases[i].status, &error);
        check_nan(angle_rad, cases[i].text);
        check_contains(error.message, cases[i].said);
        if (cases[i].status == TU_DATA_SYNTAX)
            check_contains(error.message, "accepted forms: 0.5deg, 0.01rad, 1.2mm/m");
    }
}

static void a_unit_is_named_by_its_word(void **state)
{
    (void)state;
    static const char *const bad[] = {"", "MM", "cm", "inches", "mm ", "\""};
    tu_unit unit = TU_UNIT_INCH;
    tu_error error;
    check_status(tu_unit_parse("mm", &unit, &error), TU_OK, &error);
    assert_int_equal(unit, TU_UNIT_MM);
    check_status(tu_unit_parse("in", &unit, &error), TU_OK, &error);
    assert_int_equal(unit, TU_UNIT_INCH);
    check_status(tu_unit_parse("inch", &unit, &error), TU_OK, &error);
    assert_int_equal(unit, TU_UNIT_INCH);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        unit = TU_UNIT_INCH;
        check_status(tu_unit_parse(bad[i], &unit, &error), TU_DATA_UNKNOWN, &error);
        assert_int_equal(unit, TU_UNIT_MM);
        check_contains(error.message, "write mm or in");
    }
    assert_string_equal(tu_unit_name(TU_UNIT_MM), "mm");
    assert_string_equal(tu_unit_name(TU_UNIT_INCH), "in");
    check_close(tu_unit_from_mm(TU_UNIT_INCH, 38.1), 1.5, 1e-15, "38.1 mm, in");
    check_same(tu_unit_from_mm(TU_UNIT_MM, 38.1), 38.1, "38.1 mm, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lengths_are_read_in_every_accepted_form),
        cmocka_unit_test(a_minus_holds_for_the_whole_mixed_number),
        cmocka_unit_test(a_tolerance_takes_the_values_unit),
        cmocka_unit_test(a_tolerance_may_name_its_own_unit),
        cmocka_unit_test(a_unit_on_the_tolerance_alone_is_refused_where_the_bare_unit_differs),
        cmocka_unit_test(a_bare_number_is_in_the_given_unit),
        cmocka_unit_test(a_fraction_of_millimetres_must_say_so),
        cmocka_unit_test(what_is_no_length_is_refused_and_named),
        cmocka_unit_test(a_negative_tolerance_is_out_of_range),
        cmocka_unit_test(a_length_beyond_all_doubles_is_out_of_range),
        cmocka_unit_test(only_the_given_length_is_read),
        cmocka_unit_test_teardown(quantities_are_the_same_in_a_comma_locale, check_plain_locale),
        cmocka_unit_test(not_stated_is_told_from_zero),
        cmocka_unit_test(angles_are_read_in_every_accepted_form),
        cmocka_unit_test(what_is_no_angle_is_refused_and_named),
        cmocka_unit_test(a_unit_is_named_by_its_word),
    };
    return cmocka_run_group_tests_name("quantity", tests, NULL, NULL);
}
