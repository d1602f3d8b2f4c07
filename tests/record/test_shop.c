/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_shop.c - what a good shop file means. Bad ones are in fixtures/bad/shop.
 */
#include "check.h"

#include "trueup/shop.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define DEGREE (3.14159265358979323846 / 180)

static tu_shop *read_fixture(const char *name)
{
    char path[512];
    tu_shop *shop;
    tu_error error = {0};
    check_fixture_path(name, path, sizeof path);
    check_status(tu_shop_read(path, &shop, &error), TU_OK, &error);
    return shop;
}

static tu_status parse(const char *text, tu_shop **shop, tu_error *error)
{
    return tu_shop_parse("t.json", text, strlen(text), shop, error);
}

/* Expected values: the text of fixtures/shop/shop.json; 1 in is 25.4 mm exactly, so nothing is
 * rounded but degrees to radians. */
static void the_sample_shop_means_what_it_says(void **state)
{
    (void)state;
    tu_shop *shop = read_fixture("shop/shop.json");
    tu_machine machine = tu_shop_machine(shop);
    assert_int_equal(tu_shop_unit(shop), TU_UNIT_MM);
    check_same(machine.travel_low_mm[TU_AXIS_Z], -120, "travel z low, mm");
    check_same(machine.travel_high_mm[TU_AXIS_Y], 800, "travel y high, mm");
    check_same(machine.step_mm, 0.0125, "step, mm");
    check_same(machine.repeatability[TU_AXIS_Z].sd_mm, 0.004, "sd z, mm");
    check_same(machine.repeatability[TU_AXIS_Z].dof, 29, "dof z");
    check_same(tu_shop_stock(shop).size[TU_AXIS_Z].tolerance_mm, 0.1, "stock tolerance, mm");
    const tu_plate *plate;
    check_status(tu_shop_find_plate(shop, "offcut", &plate, NULL), TU_OK, NULL);
    check_same(plate->thickness.value_mm, 9.53, "thickness, mm");
    check_same(plate->thickness.tolerance_mm, 0.02, "tolerance, mm");
    check_same(plate->wall[1].offset.value_mm, 6.40, "offset b, mm");
    check_same(plate->wall[0].touch_depth.value_mm, 5, "touch depth, mm");
    check_nan(plate->wall[0].touch_depth.tolerance_mm, "tolerance of the touch depth");
    assert_true(plate->turned && plate->wall[0].present && !plate->bore.present);
    assert_int_equal(plate->wall[0].facing, TU_FACES_OUTWARD);
    check_status(tu_shop_find_plate(shop, "hook", &plate, NULL), TU_OK, NULL);
    assert_true(plate->turned); /* by default */
    check_status(tu_shop_find_plate(shop, "fence", &plate, NULL), TU_OK, NULL);
    assert_false(plate->turned);
    check_same(plate->thickness.value_mm, 9.525, "3/8 in, mm");
    check_same(plate->thickness.tolerance_mm, 0.03, "tolerance with its own unit, mm");
    check_same(plate->wall[0].offset.value_mm, -12.70, "offset over the stock, mm");
    assert_int_equal(plate->wall[1].facing, TU_FACES_INWARD);
    check_same(plate->wall[1].rise.value_mm, 6, "rise, mm");
    check_same(plate->extent[1][0].value_mm, -80, "extent over the stock, mm");
    check_same(plate->extent[0][1].value_mm, 20, "extent outside, mm");
    tu_shop_destroy(shop);
}

/* Expected values: the text of fixtures/shop/bench.json. */
static void the_bench_has_a_table_things_and_a_journal(void **state)
{
    (void)state;
    tu_shop *shop = read_fixture("shop/bench.json");
    tu_machine machine = tu_shop_machine(shop);
    check_same(machine.rate_mm_per_min[TU_AXIS_Z], 1200, "rate z, mm/min");
    check_same(machine.acceleration_mm_per_s2[TU_AXIS_Y], 350, "acceleration y, mm/s2");
    check_same(machine.reversal_mm[TU_AXIS_Y], 0.045, "reversal y, mm");
    check_same(machine.shoe_diameter_mm, 95, "shoe, mm");
    check_same(machine.shoe_height_mm, 42, "height of the shoe, mm");
    check_same(machine.drives_mm, 610, "drives, mm");
    const tu_cutter *cutter = tu_shop_cutter_at(shop, 0);
    assert_int_equal(cutter->number, 3);
    check_same(cutter->flute_length.value_mm, 25, "flute length, mm");
    check_same(cutter->stick_out.value_mm, 38, "stick-out, mm");
    check_same(cutter->nut.value_mm, 34, "nut, mm");
    check_same(cutter->length.value_mm, 81.4, "tool length, mm");
    assert_int_equal(tu_shop_cutter_at(shop, 1)->number, 4);
    check_nan(tu_shop_cutter_at(shop, 1)->shank.value_mm, "shank, not stated");
    const tu_table *table = tu_shop_table(shop);
    assert_string_equal(table->plate, "bracket");
    assert_string_equal(table->cutter, "eight");
    assert_string_equal(tu_target_name(table->target), "back-right-top");
    assert_int_equal(table->slot, 2);
    assert_true(table->seat_stated && table->seat == TU_SEAT_STOCK);
    assert_int_equal(table->thing_count, 4);
    assert_string_equal(table->things[1].name, "clamp right");
    check_same(table->things[1].to.x, 12.25 * 25.4, "a stated inch, mm");
    assert_true(table->things[2].round && table->things[2].frame == TU_FRAME_STOCK);
    check_same(table->things[2].from.x, 134.5, "left of the screw, mm");
    check_same(table->things[2].to.y, 19.5, "behind the screw, mm");
    check_same(table->things[2].to.z, 24, "top of the screw, mm");
    check_nan(table->things[2].from.z, "a screw's lower end");
    assert_int_equal(table->things[3].frame, TU_FRAME_MACHINE);
    check_contains(tu_shop_journal(shop), "fixtures/shop/zeros.jsonl"); /* beside the shop file */
    tu_shop_destroy(shop);
}

static void nothing_said_of_the_table_is_not_nothing_on_it(void **state)
{
    (void)state;
    tu_shop *shop;
    tu_error error = {0};
    check_status(parse("{\"unit\":\"mm\"}", &shop, &error), TU_OK, &error);
    assert_null(tu_shop_table(shop)->things);
    assert_null(tu_shop_table(shop)->plate);
    assert_int_equal(tu_shop_table(shop)->slot, 0);
    assert_string_equal(tu_target_name(tu_shop_table(shop)->target), "");
    assert_false(tu_shop_table(shop)->seat_stated);
    assert_null(tu_shop_journal(shop));
    tu_shop_destroy(shop);
    check_status(parse("{\"unit\":\"mm\",\"table\":{\"things\":[]}}", &shop, &error), TU_OK,
                 &error);
    assert_non_null(tu_shop_table(shop)->things);
    assert_int_equal(tu_shop_table(shop)->thing_count, 0);
    tu_shop_destroy(shop);
}

static void a_journal_with_a_slash_in_front_is_where_it_says(void **state)
{
    (void)state;
    static const char text[] = "{\"unit\":\"mm\",\"journal\":\"/var/zeros.jsonl\"}";
    tu_shop *shop;
    tu_error error = {0};
    check_status(tu_shop_parse("deep/shop.json", text, strlen(text), &shop, &error), TU_OK, &error);
    assert_string_equal(tu_shop_journal(shop), "/var/zeros.jsonl");
    tu_shop_destroy(shop);
}

static void a_plate_reaches_to_the_wall_that_is_its_own_side(void **state)
{
    (void)state;
    static const char text[] =
        "{\"unit\":\"mm\",\"plates\":[{\"name\":\"p\",\"thickness\":9,\"walls\":{\"a\":{\"offset\":"
        "6.35,\"faces\":\"outward\"},\"b\":{\"offset\":6.35,\"faces\":\"outward\",\"rise\":8}},"
        "\"extent\":{\"a\":[-60,6],\"b\":[-60,20]}}]}";
    tu_shop *shop;
    tu_error error = {0};
    check_status(parse(text, &shop, &error), TU_OK, &error);
    const tu_plate *plate = tu_shop_plate_at(shop, 0);
    check_same(plate->extent[0][1].value_mm, 6.35, "the own side: the wall's offset, mm");
    check_same(plate->extent[1][1].value_mm, 20, "a wall that rises: as stated, mm");
    check_nan(plate->wall[0].rise.value_mm, "rise, not stated");
    tu_shop_destroy(shop);
}

static void the_sample_cutters_have_every_shape(void **state)
{
    (void)state;
    tu_shop *shop = read_fixture("shop/shop.json");
    const tu_cutter *cutter;
    const tu_plate *ring;
    assert_int_equal(tu_shop_cutter_count(shop), 5);
    check_status(tu_shop_find_cutter(shop, "quarter", &cutter, NULL), TU_OK, NULL);
    check_same(cutter->diameter.value_mm, 6.35, "1/4 in, mm");
    check_same(cutter->diameter.tolerance_mm, 0.01, "tolerance, mm");
    assert_int_equal(cutter->flutes, 2);
    check_close(cutter->helix_rad, 30 * DEGREE, 1e-15, "helix, rad");
    check_close(cutter->turned_within_rad, 5 * DEGREE, 1e-15, "turned within, rad");
    check_nan(cutter->core.value_mm, "core");
    check_status(tu_shop_find_cutter(shop, "bull8", &cutter, NULL), TU_OK, NULL);
    assert_int_equal(cutter->shape, TU_CUTTER_BULL);
    check_same(cutter->corner_radius.value_mm, 1, "corner radius, mm");
    check_nan(cutter->turned_within_rad, "not turned");
    check_status(tu_shop_find_cutter(shop, "vee60", &cutter, NULL), TU_OK, NULL);
    check_close(cutter->included_rad, 60 * DEGREE, 1e-15, "included angle, rad");
    check_same(cutter->tip.value_mm, 0.1, "tip, mm");
    check_status(tu_shop_find_cutter(shop, "pin", &cutter, NULL), TU_OK, NULL);
    assert_int_equal(cutter->flutes, 0);
    check_nan(cutter->helix_rad, "helix of a pin");
    check_status(tu_shop_find_plate(shop, "ring", &ring, NULL), TU_OK, NULL);
    assert_true(ring->bore.present && !ring->wall[0].present && !ring->wall[1].present);
    check_same(ring->bore.centre[1].value_mm, -20, "bore centre b, mm");
    tu_shop_destroy(shop);
}

static void the_smallest_useful_file_is_read(void **state)
{
    (void)state;
    tu_shop *shop = read_fixture("shop/smallest.json");
    const tu_cutter *only;
    assert_int_equal(tu_shop_plate_count(shop), 2);
    check_status(tu_shop_find_cutter(shop, NULL, &only, NULL), TU_OK, NULL);
    assert_string_equal(only->name, "quarter");
    check_nan(tu_shop_machine(shop).repeatability[0].sd_mm, "repeatability");
    assert_ptr_equal(tu_shop_plate_at(shop, 2), NULL);
    assert_ptr_equal(tu_shop_cutter_at(shop, 1), NULL);
    tu_shop_destroy(shop);
}

/* 48 in = 1219.2 mm, 4 3/4 in = 120.65 mm, by 1 in = 25.4 mm. */
static void an_inch_file_is_read_in_inches(void **state)
{
    (void)state;
    tu_shop *shop = read_fixture("shop/inch.json");
    const tu_cutter *metric;
    const tu_plate *plate;
    assert_int_equal(tu_shop_unit(shop), TU_UNIT_INCH);
    check_same(tu_shop_machine(shop).travel_high_mm[TU_AXIS_X], 1219.2, "travel x, mm");
    check_same(tu_shop_machine(shop).travel_low_mm[TU_AXIS_Z], -120.65, "travel z, mm");
    check_status(tu_shop_find_plate(shop, NULL, &plate, NULL), TU_OK, NULL);
    check_same(plate->wall[0].offset.value_mm, 6.35, "offset a, mm");
    check_close(plate->thickness.tolerance_mm, 0.0254, 1e-18, "tolerance, mm");
    check_status(tu_shop_find_cutter(shop, "metric6", &metric, NULL), TU_OK, NULL);
    check_same(metric->diameter.value_mm, 6, "diameter in mm");
    tu_shop_destroy(shop);
}

static void the_unit_counts_also_for_what_stands_before_it(void **state)
{
    (void)state;
    tu_shop *shop;
    tu_error error = {0};
    check_status(parse("{\"stock\":{\"x\":12},\"unit\":\"in\"}", &shop, &error), TU_OK, &error);
    check_close(tu_shop_stock(shop).size[TU_AXIS_X].value_mm, 304.8, 1e-12, "stock x, mm");
    tu_shop_destroy(shop);
}

static void what_a_file_leaves_out_is_not_stated(void **state)
{
    (void)state;
    tu_shop *shop;
    check_status(parse("{\"unit\":\"mm\"}", &shop, NULL), TU_OK, NULL);
    tu_machine machine = tu_shop_machine(shop);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        check_nan(machine.travel_low_mm[axis], "travel");
        check_nan(machine.travel_high_mm[axis], "travel");
        check_nan(machine.repeatability[axis].sd_mm, "repeatability");
        assert_false(tu_quantity_is_stated(tu_shop_stock(shop).size[axis]));
    }
    check_nan(machine.step_mm, "step");
    assert_int_equal(tu_shop_plate_count(shop) + tu_shop_cutter_count(shop), 0);
    tu_shop_destroy(shop);
}

/* The same size with its unit stated is nobody's slip. */
/* Sizes that just fit each other, and just do not; the refusals' messages are in fixtures/bad. */
static void what_just_fits_is_taken_and_what_just_does_not_is_refused(void **state)
{
    (void)state;
#define CUTTER(shape, more)                                                                        \
    "\"cutters\":[{\"name\":\"c\",\"shape\":\"" shape "\",\"diameter\":6," more "}]"
#define PLATE(more) "\"plates\":[{\"name\":\"p\",\"thickness\":9," more "}]"
#define BORE(low, high)                                                                            \
    PLATE("\"bore\":{\"diameter\":20,\"a\":-30,\"b\":-30},\"extent\":{\"a\":[" low "," high "]}")
#define WALL(more, extent)                                                                         \
    PLATE("\"walls\":{\"a\":{\"offset\":6.5,\"faces\":\"outward\"" more "}}" extent)
    static const struct {
        const char *text;
        tu_status status;
    } cases[] = {
        {CUTTER("bull", "\"corner_radius\":3"), TU_OK}, /* a ball */
        {CUTTER("bull", "\"corner_radius\":3.01"), TU_DATA_CONFLICT},
        {CUTTER("vee", "\"included_deg\":60,\"tip\":5.99"), TU_OK},
        {CUTTER("vee", "\"included_deg\":60,\"tip\":6"), TU_DATA_CONFLICT},
        {CUTTER("flat", "\"flutes\":2,\"core\":5.99"), TU_OK},
        {CUTTER("flat", "\"flutes\":2,\"core\":6"), TU_DATA_CONFLICT},
        {CUTTER("flat", "\"run_out\":6"), TU_DATA_CONFLICT},
        {CUTTER("flat", "\"flutes\":2") "," PLATE("\"bore\":{\"diameter\":6,\"a\":-30,\"b\":-30}"),
         TU_DATA_CONFLICT},
        {CUTTER("flat",
                "\"flutes\":2") "," PLATE("\"bore\":{\"diameter\":6.01,\"a\":-30,\"b\":-30}"),
         TU_OK},
        {BORE("-40.01", "-19.99"), TU_OK},
        {BORE("-40", "-19.99"), TU_DATA_CONFLICT},
        {BORE("-40.01", "-20"), TU_DATA_CONFLICT},
        {WALL(",\"rise\":5,\"touch_depth\":5", ""), TU_OK},
        {WALL(",\"rise\":5,\"touch_depth\":5.01", ""), TU_DATA_CONFLICT},
        {WALL("", ",\"extent\":{\"a\":[-60,7]}"), TU_OK}, /* within half a millimetre */
        {WALL("", ",\"extent\":{\"a\":[-60,7.01]}"), TU_DATA_CONFLICT},
    };
#undef CUTTER
#undef PLATE
#undef BORE
#undef WALL
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[400];
        tu_shop *shop;
        tu_error error = {0};
        snprintf(text, sizeof text, "{\"unit\":\"mm\",%s}", cases[i].text);
        check_status(parse(text, &shop, &error), cases[i].status, &error);
        tu_shop_destroy(shop);
    }
}

static void stating_the_unit_silences_the_doubt(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "{\"unit\":\"mm\",\"plates\":[{\"name\":\"p\",\"thickness\":\"0.375mm\"}]}",
        "{\"unit\":\"mm\",\"plates\":[{\"name\":\"p\",\"thickness\":\"0.375in\"}]}",
        "{\"unit\":\"mm\",\"machine\":{\"travel\":{\"x\":[0,\"48mm\"]}}}",
        "{\"unit\":\"in\",\"cutters\":[{\"name\":\"c\",\"shape\":\"flat\",\"diameter\":\"6.35in\"}]"
        "}",
        "{\"unit\":\"mm\",\"machine\":{\"travel\":{\"x\":[0,1200],\"y\":[0,800]}},"
        "\"stock\":{\"x\":\"24mm\",\"y\":12}}",
        /* a small stock on a small machine: 40 in would not fit */
        "{\"unit\":\"mm\",\"machine\":{\"travel\":{\"x\":[0,300],\"y\":[0,300]}},"
        "\"stock\":{\"x\":40,\"y\":40}}",
        /* out of the usual range in both units: no slip between them */
        "{\"unit\":\"mm\",\"plates\":[{\"name\":\"p\",\"thickness\":0.01}]}",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        tu_shop *shop;
        tu_error error = {0};
        check_status(parse(texts[i], &shop, &error), TU_OK, &error);
        tu_shop_destroy(shop);
    }
}

static void the_nearest_name_is_offered(void **state)
{
    (void)state;
    tu_shop *shop = read_fixture("shop/shop.json");
    const tu_plate *plate;
    const tu_cutter *cutter;
    tu_error error = {0};
    check_status(tu_shop_find_plate(shop, "ofcut", &plate, &error), TU_DATA_UNKNOWN, &error);
    check_contains(error.message, "did you mean \"offcut\"?");
    check_contains(error.message, "\"slab\"");
    assert_null(plate);
    check_status(tu_shop_find_cutter(shop, "drill", &cutter, &error), TU_DATA_UNKNOWN, &error);
    check_lacks(error.message, "did you mean");
    check_contains(error.message, "\"ball6\"");
    assert_null(cutter);
    tu_shop_destroy(shop);
}

static void no_name_will_do_only_where_there_is_one(void **state)
{
    (void)state;
    tu_shop *shop = read_fixture("shop/shop.json");
    const tu_plate *plate;
    tu_error error = {0};
    check_status(tu_shop_find_plate(shop, NULL, &plate, &error), TU_DATA_MISSING, &error);
    check_contains(error.message, "\"offcut\", \"ring\", \"hook\", \"fence\", \"slab\"");
    tu_shop_destroy(shop);
    check_status(parse("{\"unit\":\"mm\"}", &shop, NULL), TU_OK, NULL);
    check_status(tu_shop_find_plate(shop, NULL, &plate, &error), TU_DATA_MISSING, &error);
    check_contains(error.message, "has no plate");
    tu_shop_destroy(shop);
}

static void a_file_that_is_not_there_is_a_system_error(void **state)
{
    (void)state;
    tu_shop *shop;
    tu_error error = {0};
    check_status(tu_shop_read("/nowhere/shop.json", &shop, &error), TU_SYSTEM_IO, &error);
    assert_string_equal(error.where, "/nowhere/shop.json");
    check_contains(error.message, "No such file");
    assert_null(shop);
    check_status(tu_shop_read("/", &shop, &error), TU_SYSTEM_IO, &error);
    assert_null(shop);
}

static void a_comma_locale_changes_nothing(void **state)
{
    (void)state;
    check_comma_locale();
    tu_shop *shop = read_fixture("shop/shop.json");
    const tu_plate *plate;
    check_status(tu_shop_find_plate(shop, "offcut", &plate, NULL), TU_OK, NULL);
    check_same(plate->thickness.value_mm, 9.53, "thickness, mm");
    tu_shop_destroy(shop);
    tu_error error = {0};
    check_status(
        parse("{\"unit\":\"mm\",\"plates\":[{\"name\":\"p\",\"thickness\":0.375}]}", &shop, &error),
        TU_DATA_RANGE, &error);
    check_contains(error.message, "0.375 mm would be");
    check_contains(error.message, "usual: 0.5 to 100 mm");
}

/* The ranges are those of docs/shop-file.md; common practice, no source. */
static void a_bare_length_is_doubted_by_what_it_is_for(void **state)
{
    (void)state;
    static const struct {
        tu_length_use use;
        tu_unit unit;
        double number; /* as typed, in the unit */
        bool doubtful;
    } lengths[] = {
        {TU_USE_PLATE_THICKNESS, TU_UNIT_MM, 0.375, true},
        {TU_USE_PLATE_THICKNESS, TU_UNIT_MM, 9.525, false},
        {TU_USE_PLATE_THICKNESS, TU_UNIT_INCH, 9.525, true},
        {TU_USE_WALL_OFFSET, TU_UNIT_INCH, -12.7, true},
        {TU_USE_WALL_OFFSET, TU_UNIT_MM, 0.25, false}, /* cannot be told */
        {TU_USE_BORE_DIAMETER, TU_UNIT_MM, 1, true},
        {TU_USE_BORE_CENTRE, TU_UNIT_INCH, -20, true},
        {TU_USE_TOUCH_DEPTH, TU_UNIT_MM, 0.2, true},
        {TU_USE_TOUCH_DEPTH, TU_UNIT_INCH, 5, true},
        {TU_USE_CUTTER_DIAMETER, TU_UNIT_MM, 0.25, true},
        {TU_USE_STOCK_THICKNESS, TU_UNIT_MM, 0.75, true},
        {TU_USE_STOCK_THICKNESS, TU_UNIT_INCH, 18, true},
        {TU_USE_STOCK_THICKNESS, TU_UNIT_MM, 18, false},
        {TU_USE_BLOCK_WIDTH, TU_UNIT_MM, 2.5, true},
        {TU_USE_BLOCK_WIDTH, TU_UNIT_INCH, 60, true},
        {TU_USE_BLOCK_WIDTH, TU_UNIT_INCH, 2.5, false},
        {TU_USE_SLOT_WIDTH, TU_UNIT_MM, 0.75, true},
        {TU_USE_SLOT_WIDTH, TU_UNIT_INCH, 20, true},
        {TU_USE_SLOT_WIDTH, TU_UNIT_MM, 20, false},
    };
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        double mm = lengths[i].number * (lengths[i].unit == TU_UNIT_INCH ? 25.4 : 1);
        char doubt[TU_DOUBT_SIZE];
        bool found = tu_shop_doubt_unit(lengths[i].use, lengths[i].unit, mm, doubt);
        if (found != lengths[i].doubtful || (*doubt != '\0') != found)
            fail_msg("use %d, %g: %s", (int)lengths[i].use, lengths[i].number, doubt);
    }
    char doubt[TU_DOUBT_SIZE];
    assert_true(tu_shop_doubt_unit(TU_USE_PLATE_THICKNESS, TU_UNIT_MM, 0.375, doubt));
    assert_string_equal(doubt,
                        "0.375 mm would be an unusual plate thickness (usual: 0.5 to 100 mm), and "
                        "0.375 in a usual one, so the unit is probably wrong");
}

/* 12 in is no usual thickness, so 40 x 30 x 12 is millimetres; 12 x 8 x 0.75 is inches. */
static void a_small_stock_is_doubted_only_if_its_thickness_goes_along(void **state)
{
    (void)state;
    static const struct {
        const char *stock;
        tu_status status;
    } stocks[] = {
        {"\"x\": 40, \"y\": 30, \"z\": 12", TU_OK},
        {"\"x\": 40, \"y\": 30, \"z\": 8", TU_OK},
        {"\"x\": 40, \"y\": 30, \"z\": 7", TU_DATA_RANGE},
        {"\"x\": 40, \"y\": 30, \"z\": \"12mm\"", TU_DATA_RANGE},
        {"\"x\": 40, \"y\": 30", TU_DATA_RANGE},
        {"\"x\": \"40mm\", \"y\": 30", TU_OK},
    };
    for (size_t i = 0; i < sizeof stocks / sizeof stocks[0]; i++) {
        char text[300];
        tu_shop *shop;
        tu_error error = {0};
        snprintf(text, sizeof text,
                 "{\"unit\": \"mm\", \"machine\": {\"travel\": {\"x\": [0, 1200], "
                 "\"y\": [0, 800], \"z\": [-120, 0]}}, \"stock\": {%s}}",
                 stocks[i].stock);
        tu_status status = parse(text, &shop, &error);
        if (status != stocks[i].status)
            fail_msg("%s: %s", stocks[i].stock, error.message);
        tu_shop_destroy(shop);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sample_shop_means_what_it_says),
        cmocka_unit_test(the_bench_has_a_table_things_and_a_journal),
        cmocka_unit_test(nothing_said_of_the_table_is_not_nothing_on_it),
        cmocka_unit_test(a_journal_with_a_slash_in_front_is_where_it_says),
        cmocka_unit_test(a_plate_reaches_to_the_wall_that_is_its_own_side),
        cmocka_unit_test(the_sample_cutters_have_every_shape),
        cmocka_unit_test(the_smallest_useful_file_is_read),
        cmocka_unit_test(an_inch_file_is_read_in_inches),
        cmocka_unit_test(the_unit_counts_also_for_what_stands_before_it),
        cmocka_unit_test(what_a_file_leaves_out_is_not_stated),
        cmocka_unit_test(what_just_fits_is_taken_and_what_just_does_not_is_refused),
        cmocka_unit_test(stating_the_unit_silences_the_doubt),
        cmocka_unit_test(the_nearest_name_is_offered),
        cmocka_unit_test(no_name_will_do_only_where_there_is_one),
        cmocka_unit_test(a_file_that_is_not_there_is_a_system_error),
        cmocka_unit_test_teardown(a_comma_locale_changes_nothing, check_plain_locale),
        cmocka_unit_test(a_bare_length_is_doubted_by_what_it_is_for),
        cmocka_unit_test(a_small_stock_is_doubted_only_if_its_thickness_goes_along),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
