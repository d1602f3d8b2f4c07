/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_task_template.c - a sample line to a template, through the public header alone.
 */
#include "check.h"

#include "trueup/task_template.h"

#include <string.h>

static tu_status next_line(void *context, const char **text, size_t *length, tu_error *error)
{
    int *asked = context;
    (void)error;
    if (++*asked == 1) {
        *text = "hit 100.5 80.25 -40.125 end\r\n";
        *length = strlen(*text);
    }
    return TU_OK;
}

static void a_source_gives_lines_that_the_request_does_not_hold(void **state)
{
    (void)state;
    int asked = 0;
    tu_error error = {0};
    tu_task_template_story story;
    tu_task_template_request request = tu_task_template_request_start();
    request.more = (tu_template_source){"the page", &asked, next_line};
    request.shown_mm[TU_AXIS_X] = 100.5;
    request.shown_mm[TU_AXIS_Y] = 80.25;
    request.shown_mm[TU_AXIS_Z] = -40.125;
    check_status(tu_task_template(&request, &story, &error), TU_OK, &error);
    assert_string_equal(story.found->text, "hit {x} {y} {z} end");
    assert_int_equal(story.line_count, 1);
    assert_true(story.line[0].read);
    check_same(story.line[0].decoded.position_mm[TU_AXIS_Z], -40.125, "z, mm");
    tu_task_template_end(&story);
}

static void nobody_is_asked_for_a_line_before_the_rest_is_right(void **state)
{
    (void)state;
    int asked = 0;
    tu_error error = {0};
    tu_task_template_story story;
    tu_task_template_request request = tu_task_template_request_start();
    request.more = (tu_template_source){"the page", &asked, next_line};
    check_status(tu_task_template(&request, &story, &error), TU_USAGE, NULL);
    assert_string_equal(error.field, "touches.x");
    assert_int_equal(asked, 0);
    tu_task_template_end(&story);
    request.text = "hit {x} {y} {z} end";
    request.save = "hit";
    check_status(tu_task_template(&request, &story, &error), TU_USAGE, NULL);
    assert_string_equal(error.field, "save");
    tu_task_template_end(&story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_source_gives_lines_that_the_request_does_not_hold),
        cmocka_unit_test(nobody_is_asked_for_a_line_before_the_rest_is_right),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
