/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_task_shop.c - the use cases of the shop file, called as a page would call them. The terminal
 * is in tests/cli/test_shop_new.py, failing calls in tests/cli/test_shop_failures.py.
 */
#include "check.h"

#include "trueup/task_shop.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define SHOP                                                                                       \
    "{\n  \"unit\": \"mm\",\n  \"notes\":  \"kept\",\n"                                            \
    "  \"plates\": [{\"name\": \"p\", \"thickness\": \"9.50\"}],\n"                                \
    "  \"cutters\": [{\"name\": \"c\", \"shape\": \"flat\", \"diameter\": 6}],\n"                  \
    "  \"table\": {\"plate\": \"p\"}\n}\n"

typedef struct folder {
    char path[64];
    char file[96];
} folder;

static int make_folder(void **state)
{
    static folder made;
    snprintf(made.path, sizeof made.path, "/tmp/task_shop.XXXXXX");
    if (!mkdtemp(made.path))
        return -1;
    snprintf(made.file, sizeof made.file, "%s/shop.json", made.path);
    unsetenv("TRUEUP_SHOP");
    *state = &made;
    return 0;
}

/* rmdir fails when a temporary file was left, and with it the test. */
static int remove_folder(void **state)
{
    folder *made = *state;
    unsetenv("TRUEUP_SHOP");
    unlink(made->file);
    return rmdir(made->path);
}

static void write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0 && fclose(file) == 0);
}

static void check_file(const char *path, const char *expected)
{
    char text[2000] = "";
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    assert_string_equal(text, expected);
}

/* One change of SHOP. Words are parted by spaces; none: "". */
static tu_status change(const char *path, tu_task_shop_deed deed, tu_shop_kind kind,
                        const char *name, const char *words, tu_task_shop_story *story,
                        tu_error *error)
{
    char copy[200];
    const char *list[8];
    size_t count = 0;
    snprintf(copy, sizeof copy, "%s", words);
    for (char *word = strtok(copy, " "); word; word = strtok(NULL, " "))
        list[count++] = word;
    const tu_task_shop_request request = {path, deed, kind, name, list, count};
    write_file(path, SHOP);
    *story = (tu_task_shop_story){0};
    return tu_task_shop_change(&request, story, error);
}

static void check_changed(folder *f, tu_task_shop_deed deed, tu_shop_kind kind, const char *name,
                          const char *words, const char *was, const char *is)
{
    char expected[1000];
    tu_task_shop_story story;
    tu_error error = {0};
    check_status(change(f->file, deed, kind, name, words, &story, &error), TU_OK, &error);
    const char *at = strstr(SHOP, was);
    assert_non_null(at);
    snprintf(expected, sizeof expected, "%.*s%s%s", (int)(at - SHOP), SHOP, is, at + strlen(was));
    check_file(f->file, expected);
    assert_non_null(story.shop);
    tu_task_shop_destroy(&story);
}

static void a_change_alters_its_bytes_and_no_other(void **state)
{
    folder *f = *state;
    check_changed(f, TU_SHOP_CHANGE, TU_SHOP_PLATE, "p", "thickness=9.53+-0.02", "\"9.50\"",
                  "\"9.53+-0.02\"");
    check_changed(f, TU_SHOP_ADD, TU_SHOP_CUTTER, "d", "diameter=8 shape=ball", "\"diameter\": 6}",
                  "\"diameter\": 6}, {\"name\": \"d\", \"diameter\": 8, \"shape\": \"ball\"}");
    check_changed(f, TU_SHOP_REMOVE, TU_SHOP_CUTTER, "c", "",
                  "{\"name\": \"c\", \"shape\": \"flat\", \"diameter\": 6}", "");
    check_changed(f, TU_SHOP_CHANGE, TU_SHOP_TABLE, NULL, "cutter=c slot=g55", "\"plate\": \"p\"}",
                  "\"plate\": \"p\", \"cutter\": \"c\", \"slot\": \"g55\"}");
    check_changed(f, TU_SHOP_CHANGE, TU_SHOP_FILE, NULL, "notes=", "  \"notes\":  \"kept\",\n", "");
}

static void what_lies_on_the_table_is_renamed_with_it_and_not_removed(void **state)
{
    folder *f = *state;
    tu_task_shop_story story;
    tu_error error = {0};
    check_status(change(f->file, TU_SHOP_CHANGE, TU_SHOP_PLATE, "p", "name=q", &story, &error),
                 TU_OK, &error);
    assert_string_equal(tu_shop_table(story.shop)->plate, "q");
    tu_task_shop_destroy(&story);
    check_status(change(f->file, TU_SHOP_REMOVE, TU_SHOP_PLATE, "p", "", &story, &error),
                 TU_DATA_CONFLICT, &error);
    check_contains(error.message, "lies on the table (table.plate)");
    tu_task_shop_destroy(&story);
    check_file(f->file, SHOP);
}

static void what_cannot_be_done_is_refused_and_changes_nothing(void **state)
{
    folder *f = *state;
    static const struct {
        tu_task_shop_deed deed;
        tu_shop_kind kind;
        const char *name, *words;
        tu_status status;
        const char *message;
    } cases[] = {
        {TU_SHOP_ADD, TU_SHOP_PLATE, "p", "thickness=9", TU_DATA_CONFLICT,
         "there is a plate \"p\" already"},
        {TU_SHOP_ADD, TU_SHOP_PLATE, "q", "", TU_DATA_MISSING, "\"thickness\" is missing"},
        {TU_SHOP_ADD, TU_SHOP_PLATE, "q", "thickness=9 thickness=8", TU_USAGE, "stated twice"},
        {TU_SHOP_ADD, TU_SHOP_PLATE, "a/b", "thickness=9", TU_DATA_RANGE, "can't hold a slash"},
        {TU_SHOP_ADD, TU_SHOP_PLATE, NULL, "thickness=9", TU_USAGE,
         "the name of the plate is missing"},
        {TU_SHOP_CHANGE, TU_SHOP_STOCK, "oak", "x=300", TU_USAGE, "a shop has one stock"},
        {TU_SHOP_CHANGE, TU_SHOP_PLATE, "p", "", TU_USAGE, "what is to change is missing"},
        {TU_SHOP_CHANGE, TU_SHOP_PLATE, "pp", "thickness=9", TU_DATA_UNKNOWN, "did you mean \"p\""},
        {TU_SHOP_CHANGE, TU_SHOP_PLATE, "p", "thicknes=9", TU_DATA_UNKNOWN,
         "did you mean \"thickness\""},
        {TU_SHOP_CHANGE, TU_SHOP_PLATE, "p", "thickness=", TU_DATA_MISSING,
         "\"thickness\" is missing"},
        {TU_SHOP_CHANGE, TU_SHOP_PLATE, "p", "rise=", TU_DATA_UNKNOWN, "unknown key"},
        {TU_SHOP_CHANGE, TU_SHOP_PLATE, "p", "thickness=0.375", TU_DATA_RANGE,
         "unit is probably wrong"},
        {TU_SHOP_CHANGE, TU_SHOP_TABLE, NULL, "plate=q", TU_DATA_UNKNOWN,
         "no plate is named \"q\""},
        {TU_SHOP_CHANGE, TU_SHOP_TABLE, NULL, "seat=", TU_DATA_MISSING, "no such place"},
        {TU_SHOP_REMOVE, TU_SHOP_THING, "clamp", "", TU_DATA_MISSING, "the file has no thing"},
        {TU_SHOP_REMOVE, TU_SHOP_CUTTER, "c", "diameter", TU_USAGE, "one word too many"},
        {TU_SHOP_CHANGE, TU_SHOP_FILE, NULL, "unit=in", TU_DATA_RANGE, "unit is probably wrong"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        tu_task_shop_story story;
        tu_error error = {0};
        tu_status status = change(f->file, cases[i].deed, cases[i].kind, cases[i].name,
                                  cases[i].words, &story, &error);
        tu_task_shop_destroy(&story);
        check_status(status, cases[i].status, &error);
        check_contains(error.message, cases[i].message);
        check_file(f->file, SHOP);
    }
}

static void the_file_is_the_stated_one_else_the_environments_else_the_one_here(void **state)
{
    folder *f = *state;
    tu_shop_place place = tu_shop_locate(NULL);
    assert_true(place.origin == TU_SHOP_NOWHERE || place.origin == TU_SHOP_FOLDER);
    assert_string_equal(place.path, "shop.json");
    char here[512];
    assert_non_null(getcwd(here, sizeof here));
    assert_int_equal(chdir(f->path), 0);
    assert_int_equal(tu_shop_locate(NULL).origin, TU_SHOP_NOWHERE);
    tu_task_shop_story story = {0};
    tu_error error = {0};
    check_status(tu_task_shop_look(NULL, &story, &error), TU_DATA_MISSING, &error);
    check_contains(error.message, "there is no shop.json in this folder");
    write_file(f->file, SHOP);
    assert_int_equal(tu_shop_locate(NULL).origin, TU_SHOP_FOLDER);
    setenv("TRUEUP_SHOP", "", 1); /* as good as not set */
    assert_int_equal(tu_shop_locate(NULL).origin, TU_SHOP_FOLDER);
    setenv("TRUEUP_SHOP", f->file, 1);
    assert_int_equal(tu_shop_locate(NULL).origin, TU_SHOP_ENVIRONMENT);
    assert_string_equal(tu_shop_locate(NULL).path, f->file);
    assert_int_equal(tu_shop_locate("other.json").origin, TU_SHOP_STATED);
    assert_string_equal(tu_shop_locate("other.json").path, "other.json");
    assert_int_equal(chdir(here), 0);
}

/* Whether something is missed, and needed. */
static bool lacks(const tu_shop_lacks *list, tu_shop_purpose purpose, const char *name,
                  const char *key, bool needed)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->lack[i].purpose == purpose && !strcmp(list->lack[i].name, name) &&
            !strcmp(list->lack[i].key, key))
            return list->lack[i].needed == needed;
    return false;
}

/* The conditions are those under which zero refuses or warns: tests/touch, tests/cli/golden
 * (bad-ball-without-depth). */
static void what_is_missing_is_told_by_what_it_is_for(void **state)
{
    folder *f = *state;
    tu_task_shop_story story = {0};
    tu_error error = {0};
    write_file(
        f->file,
        "{\"unit\":\"mm\",\"plates\":[{\"name\":\"p\",\"thickness\":\"9+-0.01\",\"walls\":{"
        "\"a\":{\"offset\":6,\"faces\":\"outward\"}}}],\"cutters\":[{\"name\":\"b\",\"shape\":"
        "\"ball\",\"diameter\":\"6+-0.01\",\"flutes\":2}],\"table\":{\"target\":\"left\"}}");
    check_status(tu_task_shop_look(f->file, &story, &error), TU_OK, &error);
    assert_true(lacks(&story.lacks, TU_PURPOSE_ZERO, "p", "walls.a.touch_depth", true));
    assert_true(lacks(&story.lacks, TU_PURPOSE_ZERO, "p", "walls.a.offset", false));
    assert_false(lacks(&story.lacks, TU_PURPOSE_ZERO, "p", "thickness", false));
    assert_true(lacks(&story.lacks, TU_PURPOSE_ZERO, "b", "turned_within_deg", false));
    assert_false(lacks(&story.lacks, TU_PURPOSE_ZERO, "b", "diameter", false));
    assert_false(lacks(&story.lacks, TU_PURPOSE_ZERO, "", "target", false));
    assert_true(lacks(&story.lacks, TU_PURPOSE_JOB, "", "things", true));
    assert_true(lacks(&story.lacks, TU_PURPOSE_JOB, "", "x", true));
    tu_task_shop_destroy(&story);
    write_file(f->file,
               "{\"unit\":\"mm\",\"table\":{\"target\":\"top\",\"seat\":\"bed\",\"things\":[]}}");
    check_status(tu_task_shop_look(f->file, &story, &error), TU_OK, &error);
    assert_true(lacks(&story.lacks, TU_PURPOSE_ZERO, "", "z", true)); /* top, from the bed */
    assert_false(lacks(&story.lacks, TU_PURPOSE_JOB, "", "things", true));
    assert_true(lacks(&story.lacks, TU_PURPOSE_ZERO, "", "", true)); /* no plate at all */
    tu_task_shop_destroy(&story);
}

static void a_long_list_of_what_is_missing_says_how_much_more(void **state)
{
    folder *f = *state;
    tu_task_shop_story story = {0};
    tu_error error = {0};
    FILE *file = fopen(f->file, "w");
    assert_non_null(file);
    fputs("{\"unit\":\"mm\",\"plates\":[", file);
    for (int i = 0; i < 40; i++)
        fprintf(file, "%s{\"name\":\"p%d\",\"thickness\":9}", i ? "," : "", i);
    fputs("]}", file);
    assert_int_equal(fclose(file), 0);
    check_status(tu_task_shop_look(f->file, &story, &error), TU_OK, &error);
    assert_int_equal(story.lacks.count, TU_SHOP_LACKS_MAX);
    assert_true(story.lacks.more >= 2 * 40 + 40 - TU_SHOP_LACKS_MAX);
    tu_task_shop_destroy(&story);
}

static void a_page_can_walk_the_questions_too(void **state)
{
    folder *f = *state;
    tu_task_shop_new *made;
    tu_task_shop_story story = {0};
    tu_error error = {0};
    size_t asked = 0;
    check_status(tu_task_shop_new_start(f->file, &made, &error), TU_OK, &error);
    while (tu_task_shop_new_question(made)) {
        const tu_task_shop_question *question = tu_task_shop_new_question(made);
        assert_true(strlen(question->text) > 5 && strlen(question->why) > 10);
        /* every example is an answer, in its place */
        check_status(tu_task_shop_new_answer(made, question->example, &error), TU_OK, &error);
        asked++;
    }
    assert_int_equal(access(f->file, F_OK), -1);
    check_status(tu_task_shop_new_finish(made, &story, &error), TU_OK, &error);
    tu_task_shop_new_destroy(made);
    assert_int_equal(access(f->file, F_OK), 0);
    assert_true(asked > 15);
    assert_int_equal(tu_shop_plate_count(story.shop), 1);
    assert_true(tu_shop_plate_at(story.shop, 0)->wall[1].present);
    tu_task_shop_destroy(&story);
    check_status(tu_task_shop_new_start(f->file, &made, &error), TU_DATA_CONFLICT, &error);
    assert_null(made);
}

#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, make_folder, remove_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_change_alters_its_bytes_and_no_other),
        IN_FOLDER(what_lies_on_the_table_is_renamed_with_it_and_not_removed),
        IN_FOLDER(what_cannot_be_done_is_refused_and_changes_nothing),
        IN_FOLDER(the_file_is_the_stated_one_else_the_environments_else_the_one_here),
        IN_FOLDER(what_is_missing_is_told_by_what_it_is_for),
        IN_FOLDER(a_long_list_of_what_is_missing_says_how_much_more),
        IN_FOLDER(a_page_can_walk_the_questions_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
