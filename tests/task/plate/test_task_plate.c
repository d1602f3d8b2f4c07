/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_task_plate.c - the use case "plate", called as a page would call it: through its public
 * header, by contacts and fields. The figures themselves are in tests/touch/test_calibrate.c.
 *
 * By hand, of calibrate.h's model: a wall that faces outward, the block 60 mm wide, touched at
 * 100.001 and 178.701: o + r = (178.701 - 100.001 - 60)/2 = 9.35; the block's left edge is then at
 * 109.351 and the bare touch at 106.351 leaves r = 3, so that o = 6.35.
 */
#include "check.h"

#include "trueup/task_plate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define SHOP                                                                                       \
    "{\"unit\": \"mm\",\n"                                                                         \
    " \"plates\": [{\"name\": \"offcut\", \"thickness\": \"9.53+-0.02\",\n"                        \
    "  \"walls\": {\"a\": {\"offset\": \"6.34+-0.02\", \"faces\": \"outward\"}}}],\n"              \
    " \"cutters\": [{\"name\": \"pin\", \"shape\": \"flat\", \"diameter\": \"6+-0.3\"}]}\n"

static const double left_mm[] = {100, 100.001, 100.002}, right_mm[] = {178.7, 178.701, 178.702},
                    bare_mm[] = {106.35, 106.351, 106.352};

typedef struct folder {
    char path[64], shop[96];
} folder;

static int make_folder(void **state)
{
    static folder made;
    snprintf(made.path, sizeof made.path, "/tmp/task_plate.XXXXXX");
    if (!mkdtemp(made.path))
        return -1;
    snprintf(made.shop, sizeof made.shop, "%s/shop.json", made.path);
    FILE *file = fopen(made.shop, "w");
    if (!file || fputs(SHOP, file) < 0 || fclose(file))
        return -1;
    *state = &made;
    return 0;
}

/* rmdir fails when a temporary file was left, and with it the test. */
static int remove_folder(void **state)
{
    folder *made = *state;
    unlink(made->shop);
    return rmdir(made->path);
}

static tu_plate_contact contact_of(tu_contact contact, int outward, const double *position_mm)
{
    return (tu_plate_contact){.touch = {.contact = contact, .axis = TU_AXIS_X, .outward = outward},
                              .name = "left/a/pin",
                              .cutter = "pin",
                              .position_mm = position_mm,
                              .count = 3};
}

/* The wall on both edges, and the bare block last. */
static tu_task_plate_request request_for(const folder *made, tu_plate_contact contact[3])
{
    tu_task_plate_request request = tu_task_plate_request_start();
    contact[0] = contact_of(TU_CONTACT_WALL, -1, left_mm);
    contact[1] = contact_of(TU_CONTACT_WALL, +1, right_mm);
    contact[2] = contact_of(TU_CONTACT_BARE, -1, bare_mm);
    request.shop = made->shop;
    request.block[0] = (tu_quantity){.value_mm = 60, .tolerance_mm = 0.01};
    request.contact = contact;
    request.contact_count = 3;
    return request;
}

static double figure_mm(const tu_task_plate_story *story, tu_calibrated_kind kind)
{
    for (size_t k = 0; k < story->result->count; k++)
        if (story->result->figure[k].kind == kind && story->result->figure[k].determined)
            return story->result->figure[k].value_mm;
    return -1;
}

static void contacts_become_figures_that_the_shop_file_takes(void **state)
{
    const folder *made = *state;
    tu_plate_contact contact[3];
    tu_task_plate_request request = request_for(made, contact);
    tu_task_plate_story story;
    tu_error error = {0};
    request.save = true;
    check_status(tu_task_plate(&request, &story, &error), TU_OK, &error);
    check_close(figure_mm(&story, TU_CALIBRATED_WALL), 6.35, 1e-9, "offset of wall a, mm");
    check_close(figure_mm(&story, TU_CALIBRATED_CUTTER), 6, 1e-9, "diameter of pin, mm");
    check_status(tu_task_plate_verdict(&story, &error), TU_OK, &error);
    check_status(tu_task_plate_save(&story, &error), TU_OK, &error);
    assert_true(story.saved_count > 0);
    tu_task_plate_end(&story);
    char text[600] = "";
    FILE *file = fopen(made->shop, "r");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    assert_non_null(strstr(text, "\"offset\": \"6.35"));
}

static void a_new_plate_has_the_walls_that_were_said(void **state)
{
    tu_plate_contact contact[3];
    tu_task_plate_request request = request_for(*state, contact);
    tu_task_plate_story story;
    tu_error error = {0};
    request.new_plate = "slab";
    request.facing[0] = TU_FACES_OUTWARD;
    check_status(tu_task_plate(&request, &story, &error), TU_OK, &error);
    assert_string_equal(story.asked->plate->name, "slab");
    assert_false(story.asked->plate->wall[1].present);
    check_close(figure_mm(&story, TU_CALIBRATED_WALL), 6.35, 1e-9, "offset of wall a, mm");
    tu_task_plate_end(&story);
}

static void without_the_bare_block_the_verdict_is_open(void **state)
{
    tu_plate_contact contact[3];
    tu_task_plate_request request = request_for(*state, contact);
    tu_task_plate_story story;
    tu_error error = {0};
    request.contact_count = 2;
    check_status(tu_task_plate(&request, &story, &error), TU_OK, &error);
    assert_int_equal(tu_task_plate_verdict(&story, &error), TU_UNDETERMINED);
    tu_task_plate_end(&story);
}

/* Each: what is wrong, and the field that is told. */
static void a_refusal_names_the_field_and_no_option(void **state)
{
    static const struct {
        const char *shop, *new_plate, *series, *log, *field;
        size_t contacts;
        bool save;
    } cases[] = {{NULL, NULL, NULL, NULL, "shop", 3, false},
                 {"-", NULL, NULL, NULL, "save", 3, true},
                 {"shop.json", NULL, NULL, NULL, "touch", 0, false},
                 {"shop.json", NULL, "wall", NULL, "log", 3, false},
                 {"shop.json", NULL, NULL, "a.hits.jsonl", "log", 3, false},
                 {"shop.json", "a/b", NULL, NULL, "new", 3, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tu_plate_contact contact[3];
        tu_task_plate_request request = request_for(*state, contact);
        tu_task_plate_story story;
        tu_error error = {0};
        request.shop = cases[i].shop;
        request.new_plate = cases[i].new_plate;
        request.log = cases[i].log;
        request.contact_count = cases[i].contacts;
        request.save = cases[i].save;
        contact[0].series = cases[i].series;
        assert_int_equal(tu_task_plate(&request, &story, &error), TU_USAGE);
        assert_string_equal(error.field, cases[i].field);
        assert_null(strstr(error.message, "--"));
        tu_task_plate_end(&story);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(contacts_become_figures_that_the_shop_file_takes),
        cmocka_unit_test(a_new_plate_has_the_walls_that_were_said),
        cmocka_unit_test(without_the_bare_block_the_verdict_is_open),
        cmocka_unit_test(a_refusal_names_the_field_and_no_option),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
