/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_task_rehearse.c - a program on the virtual machine, through the public header alone.
 */
#include "check.h"

#include "trueup/task_rehearse.h"

#include <stdio.h>
#include <stdlib.h>

static tu_status rehearse(const char *scene, tu_task_rehearse_story *story, tu_error *error)
{
    static char program[512], path[512];
    tu_task_rehearse_request request = tu_task_rehearse_request_start();
    const char *fixtures = getenv("TRUEUP_FIXTURES");
    snprintf(program, sizeof program, "%s/programs/front-left.ngc", fixtures);
    snprintf(path, sizeof path, "%s/scenes/%s", fixtures, scene);
    request.program = program;
    request.scene = path;
    request.log = "/tmp/trueup-no-such-log.hits.jsonl"; /* the face would write it */
    return tu_task_rehearse(&request, story, error);
}

static void a_clean_run_gives_the_text_of_its_log(void **state)
{
    (void)state;
    tu_error error = {0};
    tu_task_rehearse_story story;
    check_status(rehearse("front-left.json", &story, &error), TU_OK, &error);
    check_status(tu_task_rehearse_verdict(&story), TU_OK, NULL);
    assert_non_null(story.log);
    size_t lines = 0;
    for (size_t i = 0; i < story.log_length; i++)
        lines += story.log[i] == '\n';
    assert_int_equal(lines, story.rehearsal->touch_count + 1); /* and its header */
    tu_task_rehearse_end(&story);
}

static void a_fault_gives_no_log_and_says_so(void **state)
{
    (void)state;
    tu_error error = {0};
    tu_task_rehearse_story story;
    check_status(rehearse("clamp.json", &story, &error), TU_OK, &error);
    check_status(tu_task_rehearse_verdict(&story), TU_LIMIT_EXCEEDED, NULL);
    assert_null(story.log);
    check_contains(story.rehearsal->warnings.text[story.rehearsal->warnings.count - 1],
                   "The log was not written");
    tu_task_rehearse_end(&story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_clean_run_gives_the_text_of_its_log),
        cmocka_unit_test(a_fault_gives_no_log_and_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
