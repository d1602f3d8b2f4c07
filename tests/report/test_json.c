/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_json.c - JSON as it is written, beside what cJSON makes of the same members.
 */
#include "check.h"

#include "report/json.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static char *written;

static int forget(void **state)
{
    free(written);
    written = NULL;
    return check_plain_locale(state);
}

/* What a writer puts into the root object. */
static const char *write_members(void (*put)(tu_json *json))
{
    size_t length;
    free(written);
    FILE *out = open_memstream(&written, &length);
    assert_non_null(out);
    tu_json json = tu_json_begin(out);
    put(&json);
    check_status(tu_json_finish(&json, NULL), TU_OK, NULL);
    assert_int_equal(fclose(out), 0);
    return written;
}

/* The text has cJSON's own layout, and every member that cJSON finds: it is JSON. */
static void is_laid_out_as_by_cjson(const char *text)
{
    cJSON *tree = cJSON_Parse(text);
    assert_non_null(tree);
    char *again = cJSON_Print(tree);
    assert_int_equal(strlen(text), strlen(again) + 1);
    assert_memory_equal(text, again, strlen(again));
    assert_int_equal(text[strlen(again)], '\n');
    cJSON_free(again);
    cJSON_Delete(tree);
}

static void put_nothing(tu_json *json)
{
    (void)json;
}

static void put_rooms(tu_json *json)
{
    TU_JSON_NUMBERS(json, {"schema", 1}, {"none", (double)NAN}, {"endless", (double)INFINITY});
    tu_json_object(json, "empty");
    tu_json_end(json);
    tu_json_array(json, "list");
    tu_json_end(json);
    tu_json_object(json, "far");
    tu_json_object(json, "away");
    tu_json_array(json, "places");
    for (int i = 0; i < 2; i++) {
        tu_json_object(json, NULL);
        TU_JSON_NUMBERS(json, {"x", -0.5}, {"y", 12});
        tu_json_array(json, "of");
        tu_json_array(json, NULL);
        tu_json_count(json, NULL, 3);
        tu_json_bool(json, NULL, true);
        tu_json_end(json);
        tu_json_end(json);
        tu_json_end(json);
    }
    tu_json_end(json);
    tu_json_end(json);
    tu_json_bool(json, "near", false);
    tu_json_end(json);
    tu_json_text(json, "last", "word");
}

static void objects_and_arrays_are_laid_out_as_cjson_does(void **state)
{
    (void)state;
    is_laid_out_as_by_cjson(write_members(put_nothing));
    is_laid_out_as_by_cjson(write_members(put_rooms));
    check_contains(written, "\"none\":\tnull,\n\t\"endless\":\tnull,\n");
}

static const char strange[] = "a \"b\" \\ / \b\f\n\r\t \x01\x1F\x7F \xC2\xB5m \xF0\x9F\x94\xA7";

static void put_strange(tu_json *json)
{
    tu_json_text(json, strange, strange);
    tu_json_text(json, "broken", "a\xFFz\xC3");
    tu_json_text_if_any(json, "any", "");
}

static void a_text_reads_back_as_it_was_and_broken_utf8_as_the_mark_for_it(void **state)
{
    (void)state;
    is_laid_out_as_by_cjson(write_members(put_strange));
    cJSON *tree = cJSON_Parse(written);
    assert_string_equal(cJSON_GetObjectItemCaseSensitive(tree, strange)->valuestring, strange);
    /* U+FFFD, The Unicode Standard, 3.9: one for each byte that belongs to no character */
    assert_string_equal(cJSON_GetObjectItemCaseSensitive(tree, "broken")->valuestring,
                        "a\xEF\xBF\xBDz\xEF\xBF\xBD");
    assert_int_equal(cJSON_GetArraySize(tree), 2);
    cJSON_Delete(tree);
}

static const double numbers[] = {0.1, -1.0 / 3, 5e-324, 1.7976931348623157e308, 123456789.25, 1e-7};

static void put_numbers(tu_json *json)
{
    tu_json_array(json, "numbers");
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        TU_JSON_NUMBERS(json, {NULL, numbers[i]});
    tu_json_end(json);
    TU_JSON_KNOWN(json, {"known", 0.25}, {"unknown", (double)NAN});
    tu_json_interval(json, "interval", -0.5, 0.5);
    tu_json_interval(json, "half", (double)NAN, 0.5);
}

static void numbers_read_back_as_the_same_doubles_in_every_locale(void **state)
{
    (void)state;
    check_comma_locale();
    write_members(put_numbers);
    cJSON *tree = cJSON_Parse(written);
    const cJSON *list = cJSON_GetObjectItem(tree, "numbers");
    for (int i = 0; i < (int)(sizeof numbers / sizeof *numbers); i++)
        check_same(cJSON_GetArrayItem(list, i)->valuedouble, numbers[i], "a number");
    check_contains(written, "\"numbers\":\t[0.1, ");
    check_contains(written, "\"known\":\t0.25,\n\t\"interval\":\t[-0.5, 0.5]\n}\n");
    check_lacks(written, "unknown");
    cJSON_Delete(tree);
}

static void a_write_that_failed_is_told_at_the_end(void **state)
{
    (void)state;
    FILE *full = fopen("/dev/full", "w");
    assert_non_null(full);
    setvbuf(full, NULL, _IONBF, 0);
    tu_error error = {0};
    tu_json json = tu_json_begin(full);
    put_rooms(&json);
    check_status(tu_json_finish(&json, &error), TU_SYSTEM_IO, NULL);
    check_contains(error.message, "the answer cannot be written");
    fclose(full);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(objects_and_arrays_are_laid_out_as_cjson_does, forget),
        cmocka_unit_test_teardown(a_text_reads_back_as_it_was_and_broken_utf8_as_the_mark_for_it,
                                  forget),
        cmocka_unit_test_teardown(numbers_read_back_as_the_same_doubles_in_every_locale, forget),
        cmocka_unit_test(a_write_that_failed_is_told_at_the_end),
    };
    return cmocka_run_group_tests_name("json", tests, NULL, NULL);
}
