/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_shop_edit.c - changes that leave every other byte alone. What happens when a call fails is
 * in test_record_failures.py.
 */
#include "check.h"

#include "record/shop_edit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define THING "{\"name\":\"s\",\"at\":[1,2],\"diameter\":9,\"top\":5}"
#define PLATE "{\"name\":\"p\",\"thickness\":9}"

/* Applies one edit to text; json NULL takes the value out. The result, or NULL with the error. Free
 * it. */
static char *edit(const char *text, const char *path, const char *json, tu_error *error)
{
    tu_shop *shop;
    char *result;
    size_t length;
    tu_shop_edit one;
    check_status(tu_shop_parse("t.json", text, strlen(text), &shop, error), TU_OK, error);
    snprintf(one.path, sizeof one.path, "%s", path);
    snprintf(one.new_json, sizeof one.new_json, "%s", json ? json : TU_SHOP_TAKE_OUT);
    tu_status status = tu_shop_edit_text(shop, &one, 1, &result, &length, error);
    if (!status)
        assert_int_equal(strlen(result), length);
    tu_shop_destroy(shop);
    return result;
}

static void check_edit(const char *text, const char *path, const char *json, const char *expected)
{
    tu_error error = {0};
    char *result = edit(text, path, json, &error);
    if (!expected) {
        assert_null(result);
        return;
    }
    if (!result)
        fail_msg("%s: %s: %s", path, error.where, error.message);
    assert_string_equal(result, expected);
    free(result);
}

static void check_refused(const char *text, const char *path, const char *json, tu_status status,
                          const char *message)
{
    tu_error error = {0};
    assert_null(edit(text, path, json, &error));
    assert_int_equal(error.status, status);
    check_contains(error.message, message);
}

static void only_the_value_changes(void **state)
{
    (void)state;
    check_edit(
        "{ \"unit\" : \"mm\",\n\t\"plates\":[ " PLATE " ] , \"notes\":\"a  b\" }\n",
        "plates[0].thickness", "\"9.5+-0.01\"",
        "{ \"unit\" : \"mm\",\n\t\"plates\":[ {\"name\":\"p\",\"thickness\":\"9.5+-0.01\"} ] , "
        "\"notes\":\"a  b\" }\n");
    check_edit("{\"unit\":\"mm\",\"stock\":{\"x\":300}}", "stock", " {\"y\":200} ",
               "{\"unit\":\"mm\",\"stock\":{\"y\":200}}");
    check_edit("{\"machine\":{\"travel\":{\"x\":[0,1200]}},\"unit\":\"mm\"}", "machine.travel.x[1]",
               "1190.5", "{\"machine\":{\"travel\":{\"x\":[0,1190.5]}},\"unit\":\"mm\"}");
}

static void a_new_key_takes_the_spacing_of_its_neighbours(void **state)
{
    (void)state;
    check_edit("{\"unit\":\"mm\"}", "notes", "\"n\"", "{\"unit\":\"mm\",\"notes\":\"n\"}");
    check_edit("{\"unit\": \"mm\", \"plates\": []}", "notes", "\"n\"",
               "{\"unit\": \"mm\", \"plates\": [], \"notes\": \"n\"}");
    check_edit("{\n  \"unit\": \"mm\",\n  \"plates\": []\n}\n", "stock", "{}",
               "{\n  \"unit\": \"mm\",\n  \"plates\": [],\n  \"stock\": {}\n}\n");
    check_edit("{\r\n\t\"unit\" : \"mm\",\r\n\t\"plates\" : []\r\n}", "stock", "{}",
               "{\r\n\t\"unit\" : \"mm\",\r\n\t\"plates\" : [],\r\n\t\"stock\" : {}\r\n}");
}

static void a_new_entry_goes_behind_the_last(void **state)
{
    (void)state;
    check_edit("{\"unit\":\"mm\",\"plates\":[" PLATE "]}", "plates[1]",
               "{\"name\":\"q\",\"thickness\":8}",
               "{\"unit\":\"mm\",\"plates\":[" PLATE ",{\"name\":\"q\",\"thickness\":8}]}");
    check_edit("{\"unit\":\"mm\",\"plates\":[]}", "plates[0]", PLATE,
               "{\"unit\":\"mm\",\"plates\":[" PLATE "]}");
    check_edit("{\n  \"unit\": \"mm\",\n  \"plates\": [\n  ]\n}", "plates[0]", PLATE,
               "{\n  \"unit\": \"mm\",\n  \"plates\": [\n    " PLATE "\n  ]\n}");
    check_edit("{\"unit\":\"mm\",\n \"plates\":[{\"name\":\"p\",\n            \"thickness\":9}]}",
               "plates[1]", "{\"name\":\"q\",\"thickness\":8}",
               "{\"unit\":\"mm\",\n \"plates\":[{\"name\":\"p\",\n            \"thickness\":9},\n"
               "           {\"name\":\"q\",\"thickness\":8}]}");
}

static void a_place_that_does_not_exist_is_refused(void **state)
{
    (void)state;
    const char *text = "{\"unit\":\"mm\",\"plates\":[" PLATE "]}";
    check_refused(text, "plates[2]", PLATE, TU_DATA_MISSING, "no such place");
    check_refused(text, "cutters[1].diameter", "6", TU_DATA_MISSING, "no such place");
    check_refused(text, "cutters", NULL, TU_DATA_MISSING, "no such place");
    check_refused(text, "plates[0].walls.a", NULL, TU_DATA_MISSING, "no such place");
    check_refused(text, "plates.name", "6", TU_DATA_MISSING, "no such place");
    check_refused(text, "unit[0]", "6", TU_DATA_MISSING, "no such place");
    check_refused(text, "plates[0].walls.a.offset", "6", TU_DATA_MISSING, "\"faces\" is missing");
}

static void what_is_missing_of_a_path_is_made(void **state)
{
    (void)state;
    check_edit("{\"unit\":\"mm\"}", "machine.travel.x", "[0,900]",
               "{\"unit\":\"mm\",\"machine\":{\"travel\":{\"x\":[0,900]}}}");
    check_edit("{\"unit\": \"mm\"}", "plates[0]", PLATE,
               "{\"unit\": \"mm\", \"plates\": [" PLATE "]}");
    check_edit("{\n  \"unit\": \"mm\"\n}\n", "plates[0]", PLATE,
               "{\n  \"unit\": \"mm\",\n  \"plates\": [\n    " PLATE "\n  ]\n}\n");
    check_edit("{\n  \"unit\": \"mm\",\n  \"plates\": [\n    " PLATE "\n  ]\n}\n", "plates[1]",
               "{\"name\":\"q\",\"thickness\":8}",
               "{\n  \"unit\": \"mm\",\n  \"plates\": [\n    " PLATE
               ",\n    {\"name\":\"q\",\"thickness\":8}\n  ]\n}\n");
    check_edit("{\n  \"unit\": \"mm\"\n}\n", "table.things[0]", THING,
               "{\n  \"unit\": \"mm\",\n  \"table\": {\"things\": [\n    " THING "\n  ]}\n}\n");
    check_edit("{\n  \"unit\": \"mm\"\n}\n", "table.things[0].name", "\"clamp\"",
               NULL); /* refused: it stands nowhere */
}

static void a_single_member_gets_a_neighbour_as_airy_as_the_file(void **state)
{
    (void)state;
    check_edit("{\"unit\": \"mm\", \"stock\": {\"x\": 300}}", "stock.y", "200",
               "{\"unit\": \"mm\", \"stock\": {\"x\": 300, \"y\": 200}}");
    check_edit("{\"unit\":\"mm\",\"stock\":{\"x\":300}}", "stock.y", "200",
               "{\"unit\":\"mm\",\"stock\":{\"x\":300,\"y\":200}}");
}

static void a_value_goes_with_its_key_and_one_comma(void **state)
{
    (void)state;
    const char *text =
        "{ \"unit\": \"mm\",\n  \"notes\": \"n\",\n  \"stock\": {\"x\": 300 , \"y\": 200} }";
    check_edit(text, "notes", NULL,
               "{ \"unit\": \"mm\",\n  \"stock\": {\"x\": 300 , \"y\": 200} }");
    check_edit(text, "stock", NULL, "{ \"unit\": \"mm\",\n  \"notes\": \"n\" }");
    check_edit(text, "stock.y", NULL,
               "{ \"unit\": \"mm\",\n  \"notes\": \"n\",\n  \"stock\": {\"x\": 300} }");
    check_edit("{\"unit\":\"mm\",\"plates\":[ " PLATE " ]}", "plates[0]", NULL,
               "{\"unit\":\"mm\",\"plates\":[]}");
    check_refused(text, "unit", NULL, TU_DATA_MISSING, "\"unit\" is missing");
}

/* A word below a base, as the JSON it becomes; "-" for a removal, else the message. */
static void check_word(tu_shop_kind kind, const char *base, const char *word, const char *path,
                       const char *expected)
{
    tu_shop_edit edit;
    tu_error error = {0};
    tu_status status = tu_shop_edit_word(kind, base, word, &edit, &error);
    if (!path) {
        assert_true(status);
        check_contains(error.message, expected);
        return;
    }
    check_status(status, TU_OK, &error);
    assert_string_equal(edit.path, path);
    assert_string_equal(edit.new_json, expected);
}

static void a_word_becomes_the_json_that_its_key_holds(void **state)
{
    (void)state;
    static const struct {
        tu_shop_kind kind;
        const char *base, *word, *path, *json;
    } words[] = {
        {TU_SHOP_CUTTER, "cutters[1]", "diameter=6+-0.01", "cutters[1].diameter", "\"6+-0.01\""},
        {TU_SHOP_CUTTER, "cutters[1]", "diameter=6.50", "cutters[1].diameter", "6.50"},
        {TU_SHOP_CUTTER, "cutters[1]", "diameter=.5in", "cutters[1].diameter", "\".5in\""},
        {TU_SHOP_CUTTER, "cutters[1]", "diameter=-0.5e+3", "cutters[1].diameter", "-0.5e+3"},
        {TU_SHOP_CUTTER, "cutters[1]", "diameter=06", "cutters[1].diameter", "\"06\""},
        {TU_SHOP_CUTTER, "cutters[1]", "diameter=6.", "cutters[1].diameter", "\"6.\""},
        {TU_SHOP_CUTTER, "cutters[1]", "diameter=6e", "cutters[1].diameter", "\"6e\""},
        {TU_SHOP_CUTTER, "cutters[1]", "diameter=-", "cutters[1].diameter", "\"-\""},
        {TU_SHOP_CUTTER, "cutters[1]", "name=7", "cutters[1].name", "\"7\""},
        {TU_SHOP_CUTTER, "cutters[1]", "notes=a=\"b\"\t\\", "cutters[1].notes",
         "\"a=\\\"b\\\"\\u0009\\\\\""},
        {TU_SHOP_CUTTER, "cutters[1]", "flutes=two", "cutters[1].flutes", "\"two\""},
        {TU_SHOP_CUTTER, "cutters[1]", "run_out=", "cutters[1].run_out", "-"},
        {TU_SHOP_PLATE, "plates[0]", "walls.a.offset=-3", "plates[0].walls.a.offset", "-3"},
        {TU_SHOP_PLATE, "plates[0]", "turned=false", "plates[0].turned", "false"},
        {TU_SHOP_PLATE, "plates[0]", "extent.b=-60,6.35", "plates[0].extent.b", "[-60, 6.35]"},
        {TU_SHOP_PLATE, "plates[0]", "walls=", "plates[0].walls", "-"},
        {TU_SHOP_MACHINE, "machine", "travel.x=[0, 48in]", "machine.travel.x", "[0, \"48in\"]"},
        {TU_SHOP_THING, "table.things[0]", "at=10,20", "table.things[0].at", "[10, 20]"},
        {TU_SHOP_TABLE, "table", "things=none", "table.things", "[]"},
        {TU_SHOP_FILE, "", "unit=in", "unit", "\"in\""},
        {TU_SHOP_CUTTER, "cutters[1]", "diametre=6", NULL, "did you mean \"diameter\"?"},
        {TU_SHOP_PLATE, "plates[0]", "walls.c.offset=6", NULL,
         "unknown key \"c\". Known here: a, b"},
        {TU_SHOP_PLATE, "plates[0]", "walls=6", NULL, "one value is not enough"},
        {TU_SHOP_PLATE, "plates[0]", "thickness.x=6", NULL, "no key stands in it"},
        {TU_SHOP_FILE, "", "plates=6", NULL, "one value is not enough"},
        {TU_SHOP_CUTTER, "cutters[1]", "six", NULL, "expected KEY=VALUE"},
        {TU_SHOP_CUTTER, "cutters[1]", "=6", NULL, "expected KEY=VALUE"},
    };
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        check_word(words[i].kind, words[i].base, words[i].word, words[i].path, words[i].json);
    char big[700];
    memset(big, '9', sizeof big - 1);
    big[sizeof big - 1] = '\0';
    memcpy(big, "diameter=", 9);
    check_word(TU_SHOP_CUTTER, "cutters[1]", big, NULL, "too long");
    memcpy(big, "travel.x=", 9);
    check_word(TU_SHOP_MACHINE, "machine", big, NULL, "too long");
    big[200] = '=';
    memset(big, 'k', 200);
    check_word(TU_SHOP_MACHINE, "machine", big, NULL, "no key of such a length");
}

static void a_path_that_is_none_is_refused(void **state)
{
    (void)state;
    const char *text = "{\"unit\":\"mm\",\"plates\":[" PLATE "]}";
    static const char *const paths[] = {".unit",    "plates[",    "plates[]",   "plates[x]",
                                        "plates..", "plates[0]x", "plates[-1]", "plates[0]."};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++)
        check_refused(text, paths[i], "6", TU_USAGE, "a path looks like");
    check_refused(text, "", "6", TU_USAGE, "names no place");
}

static void a_new_value_that_is_not_json_is_refused(void **state)
{
    (void)state;
    const char *text = "{\"unit\":\"mm\",\"stock\":{\"x\":300}}";
    static const char *const values[] = {"", "1,2", "NaN", "6mm", "{", "1}", "\"a\",\"b\":\"c\""};
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++)
        check_refused(text, "stock.x", values[i], TU_DATA_SYNTAX, "the new value can't be used");
}

static void a_change_that_makes_a_bad_file_is_refused(void **state)
{
    (void)state;
    const char *text = "{\"unit\":\"mm\",\"plates\":[" PLATE "]}";
    check_refused(text, "plates[0].thickness", "-9", TU_DATA_RANGE,
                  "the change was not made: the plate thickness must be above zero");
    check_refused(text, "plates[0].width", "9", TU_DATA_UNKNOWN, "unknown key");
    check_refused(text, "unit", "\"in\"", TU_DATA_RANGE, "unit is probably wrong");
}

static void edits_build_on_each_other(void **state)
{
    (void)state;
    const char *text = "{\"unit\":\"mm\"}";
    tu_shop *shop;
    char *result;
    size_t length;
    tu_error error = {0};
    const tu_shop_edit edits[] = {{"plates", "[]"},
                                  {"plates[0]", PLATE},
                                  {"plates[0].turned", "false"},
                                  {"plates[0].turned", "true"}};
    check_status(tu_shop_parse("t.json", text, strlen(text), &shop, &error), TU_OK, &error);
    check_status(tu_shop_edit_text(shop, edits, 4, &result, &length, &error), TU_OK, &error);
    assert_string_equal(result, "{\"unit\":\"mm\",\"plates\":[{\"name\":\"p\",\"thickness\":9,"
                                "\"turned\":true}]}");
    free(result);
    tu_shop_destroy(shop);
}

/* --- on disk --- */

typedef struct folder {
    char path[64];
    char file[96];
    char link[96];
} folder;

static void write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0 && fclose(file) == 0);
}

static void check_file(const char *path, const char *expected)
{
    char text[400] = "";
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    size_t length = fread(text, 1, sizeof text - 1, file);
    fclose(file);
    text[length] = '\0';
    assert_string_equal(text, expected);
}

static int make_folder(void **state)
{
    static folder made;
    snprintf(made.path, sizeof made.path, "/tmp/shop_edit.XXXXXX");
    if (!mkdtemp(made.path))
        return -1;
    snprintf(made.file, sizeof made.file, "%s/shop.json", made.path);
    snprintf(made.link, sizeof made.link, "%s/link.json", made.path);
    write_file(made.file, "{\"unit\":\"mm\",\"stock\":{\"x\":300}}\n");
    *state = &made;
    return 0;
}

/* rmdir fails when a temporary file was left, and with it the test. */
static int remove_folder(void **state)
{
    folder *made = *state;
    unlink(made->link);
    unlink(made->file);
    return rmdir(made->path);
}

static tu_status write_stock(const tu_shop *shop, const char *path, tu_error *error)
{
    const tu_shop_edit one = {"stock.x", "310"};
    return tu_shop_write_edits(shop, path, &one, 1, error);
}

static void a_link_stays_and_its_target_changes_with_its_permissions(void **state)
{
    folder *f = *state;
    tu_shop *shop;
    struct stat info;
    tu_error error = {0};
    assert_int_equal(symlink("shop.json", f->link), 0);
    assert_int_equal(chmod(f->file, 0604), 0);
    check_status(tu_shop_read(f->link, &shop, &error), TU_OK, &error);
    check_status(write_stock(shop, f->link, &error), TU_OK, &error);
    tu_shop_destroy(shop);
    assert_int_equal(lstat(f->link, &info), 0);
    assert_true(S_ISLNK(info.st_mode));
    assert_int_equal(stat(f->file, &info), 0);
    assert_int_equal(info.st_mode & 07777, 0604);
    check_file(f->file, "{\"unit\":\"mm\",\"stock\":{\"x\":310}}\n");
}

static void a_file_that_changed_meanwhile_is_left_alone(void **state)
{
    folder *f = *state;
    tu_shop *shop;
    tu_error error = {0};
    check_status(tu_shop_read(f->file, &shop, &error), TU_OK, &error);
    write_file(f->file, "{\"unit\":\"mm\",\"stock\":{\"x\":301}}\n");
    check_status(write_stock(shop, f->file, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "another program changed this file");
    tu_shop_destroy(shop);
    check_file(f->file, "{\"unit\":\"mm\",\"stock\":{\"x\":301}}\n");
}

/* Many programs at once, each adding one cutter: each says that it did, or that it was refused, and
 * the file holds all those that did. */
static void two_that_change_at_once_lose_nothing(void **state)
{
    enum { WRITERS = 12 };
    folder *f = *state;
    size_t done = 0;
    tu_shop *shop;
    tu_error error = {0};
    pid_t children[WRITERS];
    for (int i = 0; i < WRITERS; i++) {
        children[i] = fork();
        assert_true(children[i] >= 0);
        if (children[i])
            continue;
        tu_shop_edit one = {0};
        if (tu_shop_read(f->file, &shop, NULL))
            _exit(2);
        snprintf(one.path, sizeof one.path, "cutters[%zu]", tu_shop_cutter_count(shop));
        snprintf(one.new_json, sizeof one.new_json,
                 "{\"name\":\"c%d\",\"shape\":\"flat\",\"diameter\":6}", i);
        tu_status status = tu_shop_write_edits(shop, f->file, &one, 1, NULL);
        tu_shop_destroy(shop);
        _exit(!status ? 0 : status == TU_DATA_CONFLICT ? 1 : 2);
    }
    for (int i = 0; i < WRITERS; i++) {
        int how;
        assert_int_equal(waitpid(children[i], &how, 0), children[i]);
        assert_true(WIFEXITED(how) && WEXITSTATUS(how) < 2);
        done += WEXITSTATUS(how) == 0;
    }
    check_status(tu_shop_read(f->file, &shop, &error), TU_OK, &error);
    assert_true(done >= 1);
    assert_int_equal(tu_shop_cutter_count(shop), done);
    tu_shop_destroy(shop);
}

static void a_new_file_never_takes_the_place_of_another(void **state)
{
    folder *f = *state;
    tu_error error = {0};
    const char text[] = "{\"unit\":\"in\"}";
    check_status(tu_shop_write_new(f->file, text, sizeof text - 1, &error), TU_DATA_CONFLICT,
                 &error);
    check_contains(error.message, "there is such a file already");
    check_file(f->file, "{\"unit\":\"mm\",\"stock\":{\"x\":300}}\n");
    check_status(tu_shop_write_new(f->link, text, sizeof text - 1, &error), TU_OK, &error);
    check_file(f->link, text);
    unlink(f->link);
    check_status(tu_shop_write_new(f->link, "{}", 2, &error), TU_DATA_MISSING, &error);
    assert_int_equal(access(f->link, F_OK), -1);
}

static void standard_input_cannot_be_changed(void **state)
{
    folder *f = *state;
    tu_shop *shop;
    tu_error error = {0};
    check_status(tu_shop_read(f->file, &shop, &error), TU_OK, &error);
    check_status(write_stock(shop, "-", &error), TU_USAGE, &error);
    tu_shop_destroy(shop);
}

static void a_refused_change_leaves_the_file_alone(void **state)
{
    folder *f = *state;
    tu_shop *shop;
    tu_error error = {0};
    const tu_shop_edit edits[] = {{"stock.x", "310"}, {"stock.y", "-1"}};
    check_status(tu_shop_read(f->file, &shop, &error), TU_OK, &error);
    check_status(tu_shop_write_edits(shop, f->file, edits, 2, &error), TU_DATA_RANGE, &error);
    tu_shop_destroy(shop);
    check_file(f->file, "{\"unit\":\"mm\",\"stock\":{\"x\":300}}\n");
}

#define ON_DISK(test) cmocka_unit_test_setup_teardown(test, make_folder, remove_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(only_the_value_changes),
        cmocka_unit_test(a_new_key_takes_the_spacing_of_its_neighbours),
        cmocka_unit_test(a_new_entry_goes_behind_the_last),
        cmocka_unit_test(a_place_that_does_not_exist_is_refused),
        cmocka_unit_test(what_is_missing_of_a_path_is_made),
        cmocka_unit_test(a_single_member_gets_a_neighbour_as_airy_as_the_file),
        cmocka_unit_test(a_value_goes_with_its_key_and_one_comma),
        cmocka_unit_test(a_word_becomes_the_json_that_its_key_holds),
        cmocka_unit_test(a_path_that_is_none_is_refused),
        cmocka_unit_test(a_new_value_that_is_not_json_is_refused),
        cmocka_unit_test(a_change_that_makes_a_bad_file_is_refused),
        cmocka_unit_test(edits_build_on_each_other),
        ON_DISK(a_link_stays_and_its_target_changes_with_its_permissions),
        ON_DISK(a_file_that_changed_meanwhile_is_left_alone),
        ON_DISK(two_that_change_at_once_lose_nothing),
        ON_DISK(a_new_file_never_takes_the_place_of_another),
        ON_DISK(standard_input_cannot_be_changed),
        ON_DISK(a_refused_change_leaves_the_file_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
