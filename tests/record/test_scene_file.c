/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_scene_file.c - what a good scene file means. Bad ones are in fixtures/bad/scene.
 */
#include "check.h"

#include "trueup/scene_file.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DEGREE (3.14159265358979323846 / 180)

static tu_scene scene; /* too large for the stack of a test */

static void parse(const char *text)
{
    tu_error error = {0};
    check_status(tu_scene_parse("t.json", text, strlen(text), &scene, &error), TU_OK, &error);
}

static void read_fixture(const char *name)
{
    char path[512];
    tu_error error = {0};
    check_fixture_path(name, path, sizeof path);
    check_status(tu_scene_read(path, &scene, &error), TU_OK, &error);
}

/* Expected values: the text of fixtures/scenes/front-left.json. */
static void the_sample_scene_means_what_it_says(void **state)
{
    (void)state;
    read_fixture("scenes/front-left.json");
    check_same(scene.machine.travel_high_mm[TU_AXIS_X], 1200, "travel, mm");
    check_same(scene.machine.step_mm, 0.0125, "step, mm");
    check_same(scene.rapid_mm_per_min, 3000, "traverse rate, mm/min");
    check_same(scene.bed.height_mm, -80, "bed, mm");
    check_close(scene.bed.slope_x, 0.2e-3, 1e-18, "0.2 mm per m, as mm per mm");
    check_close(scene.bed.slope_y, -0.1e-3, 1e-18, "-0.1 mm per m");
    assert_false(scene.bed_conducts);
    assert_true(scene.stock_present && scene.plate_present && scene.clip_on);
    check_same(scene.stock_corner.y, 300, "corner y, mm");
    check_same(scene.stock_size_mm[TU_AXIS_Z], 18.04, "thickness, mm");
    check_same(scene.plate.thickness.value_mm, 9.537, "plate, mm");
    check_same(scene.plate.wall[1].offset.value_mm, 6.412, "offset b, mm");
    assert_string_equal(tu_target_name(scene.plate_corner), "front-left-top");
    assert_int_equal(scene.seat, TU_SEAT_STOCK);
    assert_int_equal(scene.cutter.flutes, 2);
    check_close(scene.cutter_angle_rad, 40 * DEGREE, 1e-15, "first edge, rad");
    check_close(scene.turned_within_rad, 5 * DEGREE, 1e-15, "the cutter's turned_within, rad");
    check_same(scene.noise_mm, 0.003, "noise, mm");
    check_same(scene.latch_delay_s, 0.0005, "latch delay, s");
    check_same(scene.bounce_s, 0.001, "bounce, s");
    check_same(scene.start.z, -47.5, "start z, mm");
}

static void an_almost_empty_scene_is_the_empty_table(void **state)
{
    (void)state;
    static tu_scene empty;
    empty = tu_scene_start();
    parse("{\"unit\":\"mm\",\"start\":{\"x\":1,\"y\":2,\"z\":3},"
          "\"cutter\":{\"name\":\"p\",\"shape\":\"flat\",\"diameter\":6}}");
    check_nan(scene.machine.travel_low_mm[TU_AXIS_Z], "travel");
    check_nan(scene.machine.step_mm, "step");
    check_nan(scene.turned_within_rad, "turned within");
    check_same(scene.rapid_mm_per_min, empty.rapid_mm_per_min, "traverse rate, mm/min");
    assert_int_equal(scene.seed, empty.seed);
    assert_false(scene.stock_present || scene.plate_present);
    assert_int_equal(scene.block_count + scene.bed.columns, 0);
    assert_true(scene.clip_on);
    check_same(scene.start.y, 2, "start y, mm");
}

/* 1 in is 25.4 mm exactly. */
static void a_scene_in_inches_is_read_in_inches(void **state)
{
    (void)state;
    parse("{\"start\":{\"x\":10,\"y\":\"100mm\",\"z\":-1},\"traverse_rate\":100,"
          "\"bed\":{\"height\":-3,\"tilt_x\":1},\"offsets\":{\"G59.3\":{\"y\":2}},"
          "\"cutter\":{\"name\":\"p\",\"shape\":\"flat\",\"diameter\":\"1/4\"},\"unit\":\"in\"}");
    check_close(scene.start.x, 254, 1e-12, "10 in, mm");
    check_same(scene.start.y, 100, "100 mm, mm");
    check_close(scene.rapid_mm_per_min, 2540, 1e-9, "100 in/min, mm/min");
    check_close(scene.bed.height_mm, -76.2, 1e-12, "-3 in, mm");
    check_same(scene.bed.slope_x, 1e-3, "a tilt is in mm per m in either unit");
    check_close(scene.slot_mm[8][TU_AXIS_Y], 50.8, 1e-12, "2 in, mm");
    check_same(scene.slot_mm[0][TU_AXIS_Y], 0, "G54, not stated, mm");
    check_close(scene.cutter.diameter.value_mm, 6.35, 1e-12, "1/4 in, mm");
}

/* 6 um/min is 0.0001 mm/s, in whatever unit the scene is. */
static void wandering_is_in_micrometres_in_either_unit(void **state)
{
    (void)state;
    parse("{\"unit\":\"in\",\"start\":{\"x\":1,\"y\":2,\"z\":3},\"cutter\":{\"name\":\"p\","
          "\"shape\":\"flat\",\"diameter\":0.25},\"contact\":{\"drift_um_per_min\":{\"x\":-3,"
          "\"z\":6},\"warm_up\":{\"y_um\":25,\"tau_s\":600}}}");
    check_close(scene.drift_mm_per_s[TU_AXIS_X], -0.00005, 1e-18, "drift x, mm/s");
    check_same(scene.drift_mm_per_s[TU_AXIS_Y], 0, "drift y, mm/s");
    check_close(scene.drift_mm_per_s[TU_AXIS_Z], 0.0001, 1e-18, "drift z, mm/s");
    check_close(scene.warm_up_mm[TU_AXIS_Y], 0.025, 1e-16, "rise y, mm");
    check_same(scene.warm_up_mm[TU_AXIS_Z], 0, "rise z, mm");
    check_same(scene.warm_up_tau_s, 600, "tau, s");
}

/* Heights by hand, bilinear: at (25, 20) a quarter of the way right and half of the way back:
 * front 0 + 0.25 x 0.4 = 0.1, back 0.2 + 0.25 x 0.8 = 0.4, between them 0.25. */
static void a_map_lies_where_it_says_rows_from_the_front(void **state)
{
    (void)state;
    parse("{\"unit\":\"mm\",\"start\":{\"x\":1,\"y\":2,\"z\":3},\"cutter\":{\"name\":\"p\","
          "\"shape\":\"flat\",\"diameter\":6},\"bed\":{\"height\":-50,\"conducts\":true,\"map\":{"
          "\"from\":{\"x\":0,\"y\":0},\"step\":{\"x\":100,\"y\":40},"
          "\"rows\":[[0,0.4,9],[0.2,\"1mm\",9]]}}}");
    assert_true(scene.bed_conducts);
    assert_int_equal(scene.bed.columns, 3);
    assert_int_equal(scene.bed.rows, 2);
    check_close(tu_bed_surface_height(&scene.bed, 25, 20), -49.75, 1e-12, "height, mm");
    check_close(tu_bed_surface_height(&scene.bed, 200, 40), -41, 1e-12, "last height, mm");
    check_close(tu_bed_surface_height(&scene.bed, 201, 40), -50, 1e-12, "outside the map, mm");
}

static void blocks_and_wrong_turns_are_taken(void **state)
{
    (void)state;
    read_fixture("scenes/bed.json");
    assert_int_equal(scene.block_count, 2);
    assert_string_equal(scene.block[1].name, "clamp right");
    check_same(scene.block[1].high.y, 500, "its far side, mm");
    read_fixture("scenes/plate-turned.json");
    assert_int_equal(scene.wrong_turns, 1);
    read_fixture("scenes/clip-off.json");
    assert_false(scene.clip_on);
    read_fixture("scenes/hook-back-right.json");
    check_close(scene.stock_angle_rad, 0.7 * DEGREE, 1e-16, "stock, rad");
    assert_string_equal(tu_target_name(scene.plate_corner), "back-right-top");
}

static void the_extent_of_an_own_side_is_its_wall(void **state)
{
    (void)state;
    parse(
        "{\"unit\":\"mm\",\"start\":{\"x\":1,\"y\":2,\"z\":3},\"cutter\":{\"name\":\"p\","
        "\"shape\":\"flat\",\"diameter\":6},\"stock\":{\"x\":90,\"y\":90,\"z\":9,\"corner\":"
        "{\"x\":0,\"y\":0}},\"plate\":{\"name\":\"p\",\"thickness\":9,\"walls\":{\"a\":{\"offset\":"
        "6.35,\"faces\":\"outward\"}},\"extent\":{\"a\":[-60,6]}},\"plate_lies\":{\"corner\":"
        "\"front-left-top\"}}");
    check_same(scene.plate.extent[0][1].value_mm, 6.35, "the wall's offset, mm");
}

#define START  "\"start\":{\"x\":1,\"y\":2,\"z\":3}"
#define CUTTER "\"cutter\":{\"name\":\"p\",\"shape\":\"flat\",\"diameter\":6,\"flutes\":2}"
#define TRAVEL "\"machine\":{\"travel\":{\"x\":[0,900],\"y\":[0,600],\"z\":[-90,0]}}"

/* Each limit itself is taken; what lies just beyond is in fixtures/bad/scene. */
static void a_value_at_its_limit_is_taken(void **state)
{
    (void)state;
    static const char *const most[] = {
        "\"bed\":{\"height\":0,\"tilt_x\":200,\"tilt_y\":-200}," START,
        "\"cutter_angle_deg\":360," START,
        "\"cutter_angle_deg\":-360," START,
        "\"contact\":{\"latch_delay_s\":1,\"bounce_s\":0}," START,
        "\"seed\":0," START,
        TRAVEL ",\"start\":{\"x\":0,\"y\":0,\"z\":-90}",
        TRAVEL ",\"start\":{\"x\":900,\"y\":600,\"z\":0}",
        "\"seed\":9007199254740991," START,
    };
    for (size_t i = 0; i < sizeof most / sizeof most[0]; i++) {
        char text[400];
        snprintf(text, sizeof text, "{\"unit\":\"mm\"," CUTTER ",%s}", most[i]);
        parse(text);
    }
    assert_true(scene.seed == (UINT64_C(1) << 53) - 1); /* of the last one */
}

/* 50 rows of 50 heights, and 16 blocks. */
static void as_many_heights_and_blocks_as_there_is_room_for_are_taken(void **state)
{
    (void)state;
    static char text[20000];
    size_t length =
        (size_t)snprintf(text, sizeof text, "{\"unit\":\"mm\"," CUTTER "," START ",\"blocks\":[");
    for (int i = 0; i < TU_SCENE_BLOCKS; i++)
        length += (size_t)snprintf(text + length, sizeof text - length,
                                   "%s{\"name\":\"b%d\",\"from\":{\"x\":0,\"y\":0,\"z\":0},"
                                   "\"to\":{\"x\":1,\"y\":1,\"z\":1}}",
                                   i > 0 ? "," : "", i);
    length += (size_t)snprintf(text + length, sizeof text - length,
                               "],\"bed\":{\"height\":0,\"map\":{\"from\":{\"x\":0,\"y\":0},"
                               "\"step\":{\"x\":10,\"y\":10},\"rows\":[");
    for (int i = 0; i < TU_BED_MAP_MAX; i++)
        length += (size_t)snprintf(text + length, sizeof text - length, "%s0.%04d%s",
                                   i % 50 > 0 ? ","
                                   : i > 0    ? ",["
                                              : "[",
                                   i, i % 50 == 49 ? "]" : "");
    snprintf(text + length, sizeof text - length, "]}}}");
    parse(text);
    assert_int_equal(scene.block_count, 16);
    assert_int_equal(scene.bed.rows * scene.bed.columns, 2500);
    check_close(tu_bed_surface_height(&scene.bed, 490, 490), 0.2499, 1e-12, "last height, mm");
}

static void a_scene_that_fails_leaves_an_empty_table(void **state)
{
    (void)state;
    static const char text[] = "{\"unit\":\"mm\",\"bed\":{\"height\":-50},\"start\":3}";
    tu_error error = {0};
    check_status(tu_scene_parse("t.json", text, strlen(text), &scene, &error), TU_DATA_SYNTAX,
                 &error);
    assert_string_equal(error.where, "t.json:1: start");
    check_same(scene.bed.height_mm, 0, "bed, mm");
    assert_int_equal(tu_scene_read("/nowhere/at/all.json", &scene, &error), TU_SYSTEM_IO);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sample_scene_means_what_it_says),
        cmocka_unit_test(an_almost_empty_scene_is_the_empty_table),
        cmocka_unit_test(a_scene_in_inches_is_read_in_inches),
        cmocka_unit_test(wandering_is_in_micrometres_in_either_unit),
        cmocka_unit_test(a_map_lies_where_it_says_rows_from_the_front),
        cmocka_unit_test(blocks_and_wrong_turns_are_taken),
        cmocka_unit_test(the_extent_of_an_own_side_is_its_wall),
        cmocka_unit_test(a_value_at_its_limit_is_taken),
        cmocka_unit_test(as_many_heights_and_blocks_as_there_is_room_for_are_taken),
        cmocka_unit_test(a_scene_that_fails_leaves_an_empty_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
