/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_face.c - the words of a face in place of fields.
 */
#include "check.h"

#include "trueup/face.h"
#include "trueup/status.h"
#include "trueup/text.h"

#include <string.h>

static const tu_field_word words[] = {{"depth", "--depth"}, {"touches.x", "--x"}};
static const tu_face face = {words, 2, NULL};

static void a_field_is_said_in_the_words_of_the_face(void **state)
{
    (void)state;
    char said[80];
    tu_face_say(&face, "{touches.x}, high side: give {depth}, too", said, sizeof said);
    assert_string_equal(said, "--x, high side: give --depth, too");
    assert_string_equal(tu_face_word(&face, "depth"), "--depth");
}

static void what_is_no_field_of_the_face_stays(void **state)
{
    (void)state;
    const char *texts[] = {"touch x={x} y={y}", "{", "{depth", "depth}", "{}", "{{}", "{dep\nth}"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts - 1; i++) {
        char said[80];
        tu_face_say(&face, texts[i], said, sizeof said);
        assert_string_equal(said, texts[i]);
    }
    assert_string_equal(tu_face_word(&face, "unit"), "unit");
    assert_string_equal(tu_face_word(NULL, "depth"), "depth");
}

static void without_a_face_the_text_stays(void **state)
{
    (void)state;
    char said[80];
    tu_face_say(NULL, "give {depth}", said, sizeof said);
    assert_string_equal(said, "give {depth}");
}

static void words_of_one_face_come_before_those_of_the_next(void **state)
{
    (void)state;
    const tu_field_word of_log[] = {{"touches.x", "day.hits.jsonl: x touches"}};
    const tu_face first = {of_log, 1, &face};
    char said[80];
    tu_face_say(&first, "{touches.x} {depth}", said, sizeof said);
    assert_string_equal(said, "day.hits.jsonl: x touches --depth");
}

static void a_text_is_said_in_its_own_place_and_cut_between_characters(void **state)
{
    (void)state;
    char text[24] = "{depth} \xC2\xB1 12345";
    tu_face_say(&face, text, text, sizeof text);
    assert_string_equal(text, "--depth \xC2\xB1 12345");
    char small[10];
    tu_face_say(&face, "{depth} \xC2\xB1", small, sizeof small);
    assert_string_equal(small, "--depth ");
}

static void a_word_at_the_end_of_a_long_message_is_cut(void **state)
{
    (void)state;
    char text[TU_ERROR_MESSAGE_SIZE];
    memset(text, 'a', sizeof text);
    strcpy(text + sizeof text - 8, "{depth}");
    tu_face_say(&face, text, text, sizeof text);
    assert_int_equal(strlen(text), TU_ERROR_MESSAGE_SIZE - 1);
    assert_true(tu_text_is_utf8(text, strlen(text)));
}

static void a_failure_keeps_the_field_that_it_is_about(void **state)
{
    (void)state;
    tu_error error = {0};
    tu_fail(&error, TU_DATA_RANGE, "{touches.x}, high side", "is off");
    assert_string_equal(error.field, "touches.x");
    assert_string_equal(error.where, "{touches.x}, high side");
    tu_fail(&error, TU_DATA_RANGE, "shop.json:3: {depth}", "is off");
    assert_string_equal(error.field, "");
    tu_fail(&error, TU_DATA_RANGE, "{}", "is off");
    assert_string_equal(error.field, "");
    tu_fail(&error, TU_DATA_RANGE, "{a-name-that-is-longer-than-fields-ever-are}", "is off");
    assert_string_equal(error.field, "");
    tu_fail(&error, TU_DATA_RANGE, NULL, "is off");
    assert_string_equal(error.field, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_field_is_said_in_the_words_of_the_face),
        cmocka_unit_test(what_is_no_field_of_the_face_stays),
        cmocka_unit_test(without_a_face_the_text_stays),
        cmocka_unit_test(words_of_one_face_come_before_those_of_the_next),
        cmocka_unit_test(a_text_is_said_in_its_own_place_and_cut_between_characters),
        cmocka_unit_test(a_word_at_the_end_of_a_long_message_is_cut),
        cmocka_unit_test(a_failure_keeps_the_field_that_it_is_about),
    };
    return cmocka_run_group_tests_name("face", tests, NULL, NULL);
}
