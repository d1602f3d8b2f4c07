/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_json_text.c - strict JSON, and where each value stands. What is refused, with its message,
 * is in fixtures/bad/shop; here is what is accepted, and the places.
 */
#include "check.h"

#include "record/json_text.h"

#include <locale.h>
#include <string.h>

static tu_status read_text(tu_json_document *document, const char *text, tu_error *error)
{
    return tu_json_read(document, "t.json", 1, text, strlen(text), error);
}

/* The grammar's own cases, RFC 8259 sections 2 to 7. */
static void every_form_of_the_grammar_is_read(void **state)
{
    (void)state;
    static const char *const good[] = {
        "0",
        "-0",
        "10.25",
        "1e5",
        "1E+5",
        "-1.5e-3",
        "null",
        "true",
        "false",
        "\"\"",
        "\"\\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u00e9 \\ud83d\\udd27\"",
        "[]",
        "{}",
        " [ 1 , 2 ] ",
        "\t{\r\n\"a\" : [ { } ] }\n",
        "\"\xC3\xA9\xE2\x82\xAC\xF0\x9F\x94\xA7\"",
        "{\"\":{\"\":0}}",
        "[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]",
    };
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
        tu_json_document document = {0};
        tu_error error = {0};
        check_status(read_text(&document, good[i], &error), TU_OK, &error);
        tu_json_close(&document);
    }
}

/* The same grammar: texts that one or another lenient reader takes. */
static const char *const bad[] = {
    "",
    " ",
    "01",
    "-",
    "+1",
    ".5",
    "5.",
    "1e",
    "1e+",
    "0x1",
    "NaN",
    "nul",
    "nulls",
    "True",
    "'a'",
    "\"a",
    "\"\\x\"",
    "\"\\u12\"",
    "\"\t\"",
    "\"\x01\"",
    "[1,]",
    "[,1]",
    "[1 2]",
    "{\"a\":1,}",
    "{a:1}",
    "{\"a\"}",
    "{\"a\" 1}",
    "{1:1}",
    "[1",
    "{",
    "[}",
    "1 1",
    "[]]",
    "//\n1",
    "1 /**/",
    "\"\\ud83d\"",
    "\"\\ud83d\\ue000\"",
    "\"\\ud83d\\ud83d\"",
    "\"\\ud83dx\"",
    "\"\\udd27\"",
    "\"\\u0000\"",
    "\"\xFF\"",
    "\"\xC0\x80\"",
    "\xEF\xBB\xBF{}",
    "[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]",
    "1a",
    "1/4",
    "[1}",
    "{\"a\":1]",
    "\v1",
    "1\f",
};

static void what_the_grammar_does_not_know_is_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        tu_json_document document = {0};
        tu_error error = {0};
        tu_status status = read_text(&document, bad[i], &error);
        if (status != TU_DATA_SYNTAX)
            fail_msg("status %d for %s", status, bad[i]);
        check_contains(error.where, "t.json:");
        tu_json_close(&document);
    }
}

static void every_value_and_key_has_its_bytes(void **state)
{
    (void)state;
    const char *text = "{ \"a\" : [10, \"x\"] ,\n\"b\":{\"c\":null}}";
    tu_json_document document = {0};
    check_status(read_text(&document, text, NULL), TU_OK, NULL);
    size_t a = tu_json_member(&document, 0, "a"), b = tu_json_member(&document, 0, "b");
    size_t c = tu_json_member(&document, b, "c");
    const tu_json_node *n = document.nodes;
    assert_memory_equal(text + n[a].start, "[10, \"x\"]", n[a].end - n[a].start);
    assert_int_equal(n[a].end - n[a].start, 9);
    assert_memory_equal(text + n[a].key_start, "\"a\"", 3);
    assert_int_equal(n[a].key_end - n[a].key_start, 3);
    assert_memory_equal(text + n[c].start, "null}", 5);
    assert_int_equal(n[0].end, strlen(text));
    assert_int_equal(n[a].count, 2);
    assert_int_equal(n[n[a].last].index, 1);
    assert_string_equal(tu_json_string(&document, n[a].last), "x");
    assert_int_equal(tu_json_line(&document, n[c].start), 2);
    assert_int_equal(tu_json_column(&document, n[b].start), 5);
    assert_int_equal(tu_json_member(&document, 0, "c"), TU_JSON_NONE);
    tu_json_close(&document);
}

/* Characters, not bytes: that is what an editor counts. */
static void columns_count_characters(void **state)
{
    (void)state;
    tu_json_document document = {0};
    tu_error error = {0};
    check_status(read_text(&document, "{\"\xC3\xA9\xF0\x9F\x94\xA7\": x}", &error), TU_DATA_SYNTAX,
                 &error);
    assert_string_equal(error.where, "t.json:1:8");
    tu_json_close(&document);
}

/* RFC 8259 section 8.3: names compare as the characters they stand for. */
static void a_key_written_in_two_ways_is_still_the_same_key(void **state)
{
    (void)state;
    tu_json_document document = {0};
    tu_error error = {0};
    check_status(read_text(&document, "{\"a\":1,\n\"\\u0061\":2}", &error), TU_DATA_CONFLICT,
                 &error);
    assert_string_equal(error.where, "t.json:2: a");
    check_contains(error.message, "line 1");
    tu_json_close(&document);
}

static void a_long_file_name_gives_way_to_line_and_path(void **state)
{
    (void)state;
    char name[600];
    memset(name, 'd', sizeof name - 1);
    memcpy(name + sizeof name - 11, "/shop.json", 11);
    const char *text = "{\"plates\":[{\"thickness\":[]}]}";
    tu_json_document document = {0};
    tu_error error = {0};
    check_status(tu_json_read(&document, name, 1, text, strlen(text), NULL), TU_OK, NULL);
    tu_json_fail(&document, document.count - 1, NULL, &error, TU_DATA_RANGE, "x");
    check_contains(error.where, "/shop.json:1: plates[0].thickness");
    assert_memory_equal(error.where, "...d", 4);
    tu_json_close(&document);
}

static void messages_carry_no_control_characters(void **state)
{
    (void)state;
    char show[TU_JSON_SHOW_SIZE];
    assert_string_equal(tu_json_quote(show, "a\x1b[0m\xC2\x9B", 7), "\"a\\u001b[0m\\u009b\"");
    char text[300];
    for (size_t i = 0; i < sizeof text; i += 2)
        memcpy(text + i, "\xC3\xA9", 2);
    const char *cut = tu_json_quote(show, text, sizeof text);
    check_contains(cut, "...\"");
    for (size_t i = 1; cut[i] != '.'; i += 2)
        assert_memory_equal(cut + i, "\xC3\xA9", 2);
}

/* Exactly the double nearest to the text, whatever the locale: cJSON is not asked. */
static void numbers_are_read_the_same_under_a_comma_locale(void **state)
{
    (void)state;
    check_comma_locale();
    tu_json_document document = {0};
    double value = 0;
    check_status(read_text(&document, "9.525", NULL), TU_OK, NULL);
    check_status(tu_json_number(&document, 0, &value, NULL), TU_OK, NULL);
    check_same(value, 9.525, "the number");
    tu_json_close(&document);
}

/* Its point, U+066B, takes two bytes. */
static void a_decimal_point_of_two_bytes_in_the_locale_changes_nothing(void **state)
{
    (void)state;
    if (!setlocale(LC_ALL, "ps_AF.UTF-8") || strlen(localeconv()->decimal_point) != 2)
        skip();
    tu_json_document document = {0};
    tu_error error = {0};
    double value = 0;
    check_status(read_text(&document, "[\"a\", -9.525e-1, \"b\"]", &error), TU_OK, &error);
    check_status(tu_json_number(&document, 2, &value, NULL), TU_OK, NULL);
    check_same(value, -0.9525, "the number");
    assert_string_equal(tu_json_string(&document, 3), "b");
    tu_json_close(&document);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_form_of_the_grammar_is_read),
        cmocka_unit_test(what_the_grammar_does_not_know_is_refused),
        cmocka_unit_test(every_value_and_key_has_its_bytes),
        cmocka_unit_test(columns_count_characters),
        cmocka_unit_test(a_key_written_in_two_ways_is_still_the_same_key),
        cmocka_unit_test(a_long_file_name_gives_way_to_line_and_path),
        cmocka_unit_test(messages_carry_no_control_characters),
        cmocka_unit_test_teardown(numbers_are_read_the_same_under_a_comma_locale,
                                  check_plain_locale),
        cmocka_unit_test_teardown(a_decimal_point_of_two_bytes_in_the_locale_changes_nothing,
                                  check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
