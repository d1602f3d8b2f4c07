/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_task_trials.c - the use case "trials", called as a page would call it: through its public
 * header, by files and fields. The figures of a series are in tests/trials.
 */
#include "check.h"

#include "trueup/task_trials.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* s^2 = (0 + 4 + 1 + 1 + 4) e-4 / 4 mm^2 (GUM 4.2.2), worked out by hand. */
#define TOUCHES "z\n-40.00\n-40.02\n-39.99\n-40.01\n-39.98\n"
static const double sd_mm = 0.015811388300841896;

typedef struct folder {
    char path[64], touches[96], shop[96];
} folder;

static void write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0 && fclose(file) == 0);
}

static int make_folder(void **state)
{
    static folder made;
    snprintf(made.path, sizeof made.path, "/tmp/task_trials.XXXXXX");
    if (!mkdtemp(made.path))
        return -1;
    snprintf(made.touches, sizeof made.touches, "%s/seat.csv", made.path);
    snprintf(made.shop, sizeof made.shop, "%s/shop.json", made.path);
    write_file(made.touches, TOUCHES);
    write_file(made.shop, "{\"unit\": \"mm\"}\n");
    *state = &made;
    return 0;
}

/* rmdir fails when a temporary file was left, and with it the test. */
static int remove_folder(void **state)
{
    folder *made = *state;
    unlink(made->touches);
    unlink(made->shop);
    return rmdir(made->path);
}

static tu_task_trials_request request_for(const folder *made)
{
    tu_task_trials_request request = tu_task_trials_request_start();
    request.path[0] = made->touches;
    request.path_count = 1;
    return request;
}

static void a_file_of_touches_becomes_an_answer_and_a_verdict(void **state)
{
    tu_task_trials_request request = request_for(*state);
    tu_task_trials_story story;
    tu_error error = {0};
    request.within_mm = 0.01;
    check_status(tu_task_trials(&request, &story, &error), TU_OK, &error);
    assert_int_equal(story.answer->count, 1);
    assert_int_equal(story.answer->entry[0].figures.n, 5);
    check_close(story.answer->entry[0].figures.sd, sd_mm, 1e-12, "s, mm");
    assert_int_equal(tu_task_trials_verdict(&story), TU_LIMIT_EXCEEDED);
    tu_task_trials_end(&story);
    request.within_mm = 1;
    check_status(tu_task_trials(&request, &story, &error), TU_OK, &error);
    assert_int_equal(tu_task_trials_verdict(&story), TU_OK);
    tu_task_trials_end(&story);
}

static void what_was_judged_is_kept_when_that_is_asked(void **state)
{
    const folder *made = *state;
    tu_task_trials_request request = request_for(made);
    tu_task_trials_story story;
    tu_error error = {0};
    char text[400] = "";
    request.shop = made->shop;
    request.keep = true;
    check_status(tu_task_trials(&request, &story, &error), TU_OK, &error);
    check_status(tu_task_trials_keep(&story, &error), TU_OK, &error);
    assert_int_equal(story.answer->kept_count, 1);
    check_close(story.answer->kept[0].dof, 4, 0, "degrees of freedom");
    tu_task_trials_end(&story);
    FILE *file = fopen(made->shop, "r");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    assert_non_null(strstr(text, "\"z\": {\"sd\": \"0.015811mm\", \"dof\": 4}"));
}

/* Each: what is wrong, and the field that is told. */
static void a_refusal_names_the_field_and_no_option(void **state)
{
    static const struct {
        const char *series, *by, *shop;
        bool keep;
        tu_status status;
        const char *field;
    } cases[] = {{"cold", NULL, NULL, false, TU_DATA_UNKNOWN, "series_name"},
                 {NULL, "x", NULL, false, TU_USAGE, "by"},
                 {NULL, NULL, "-", true, TU_USAGE, "keep"},
                 {NULL, NULL, NULL, true, TU_USAGE, "keep"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tu_task_trials_request request = request_for(*state);
        tu_task_trials_story story;
        tu_error error = {0};
        request.series = cases[i].series;
        request.by = cases[i].by;
        request.shop = cases[i].shop;
        request.keep = cases[i].keep;
        assert_int_equal(tu_task_trials(&request, &story, &error), cases[i].status);
        assert_string_equal(error.field, cases[i].field);
        assert_null(strstr(error.message, "--"));
        tu_task_trials_end(&story);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_file_of_touches_becomes_an_answer_and_a_verdict),
        cmocka_unit_test(what_was_judged_is_kept_when_that_is_asked),
        cmocka_unit_test(a_refusal_names_the_field_and_no_option),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
