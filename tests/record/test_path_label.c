/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Short names of files: told apart, and no longer than that takes. Expected: by hand.
 */
#include "check.h"

#include "record/path_label.h"

#include <string.h>

static const char *label_of(const char *const *path, size_t count, size_t index)
{
    static char label[TU_PATH_LABEL_SIZE];
    tu_path_label(path, count, index, label, sizeof label);
    return label;
}

static void a_file_alone_is_called_by_its_last_name(void **state)
{
    (void)state;
    assert_string_equal(label_of((const char *[]){"logs/monday/run.csv"}, 1, 0), "run.csv");
    assert_string_equal(label_of((const char *[]){"run.csv"}, 1, 0), "run.csv");
    assert_string_equal(label_of((const char *[]){"-"}, 1, 0), "-");
    assert_string_equal(label_of((const char *[]){"/run.csv"}, 1, 0), "run.csv");
}

static void files_of_one_name_are_told_apart_by_their_folders(void **state)
{
    (void)state;
    const char *path[] = {"a/x/run.csv", "b/x/run.csv", "run.csv", "c.csv", "b//y/rerun.csv"};
    const char *label[] = {"a/x/run.csv", "b/x/run.csv", "run.csv", "c.csv", "rerun.csv"};
    for (size_t i = 0; i < 5; i++)
        assert_string_equal(label_of(path, 5, i), label[i]);
}

static void a_label_that_is_too_long_is_numbered_and_ends_as_the_file_does(void **state)
{
    (void)state;
    char a[200] = "", b[200] = "";
    for (size_t i = 0; i < 80; i++) {
        strcat(a, i == 10 ? "x" : "é");
        strcat(b, "é");
    }
    const char *path[] = {a, b};
    char first[TU_PATH_LABEL_SIZE], second[TU_PATH_LABEL_SIZE];
    tu_path_label(path, 2, 0, first, sizeof first);
    tu_path_label(path, 2, 1, second, sizeof second);
    assert_memory_equal(first, "#1 ...é", strlen("#1 ...é"));
    assert_memory_equal(second, "#2 ...é", strlen("#2 ...é"));
    assert_string_equal(first + strlen(first) - 2, "é");
    assert_string_not_equal(first, second);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_file_alone_is_called_by_its_last_name),
        cmocka_unit_test(files_of_one_name_are_told_apart_by_their_folders),
        cmocka_unit_test(a_label_that_is_too_long_is_numbered_and_ends_as_the_file_does),
    };
    return cmocka_run_group_tests_name("path_label", tests, NULL, NULL);
}
