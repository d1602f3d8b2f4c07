/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_shop_device.c - what a shop file says of the device that sends touches.
 */
#include "check.h"
#include "trueup/shop.h"

#include <string.h>

static tu_shop *parse(const char *text)
{
    tu_shop *shop;
    tu_error error = {0};
    check_status(tu_shop_parse("t.json", text, strlen(text), &shop, &error), TU_OK, &error);
    return shop;
}

/* Expected values: those of the text. */
static void steps_per_mm_are_the_same_in_an_inch_file(void **state)
{
    (void)state;
    tu_shop *shop =
        parse("{\"unit\":\"in\",\"machine\":{\"steps_per_mm\":{\"x\":80,\"z\":403.2}}}");
    tu_machine machine = tu_shop_machine(shop);
    check_same(machine.steps_per_mm[TU_AXIS_X], 80, "steps per mm, x");
    check_same(machine.steps_per_mm[TU_AXIS_Z], 403.2, "steps per mm, z");
    check_nan(machine.steps_per_mm[TU_AXIS_Y], "steps per mm that the file leaves out");
    tu_shop_destroy(shop);
}

static void a_file_without_steps_states_none(void **state)
{
    (void)state;
    tu_shop *shop = parse("{\"unit\":\"mm\",\"machine\":{\"step\":0.0125}}");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        check_nan(tu_shop_machine(shop).steps_per_mm[axis], "steps per mm");
    size_t count = 7;
    assert_null(tu_shop_templates(shop, &count));
    assert_int_equal(count, 0);
    assert_null(tu_shop_template_name_at(shop, 0));
    tu_shop_destroy(shop);
}

static void templates_keep_the_order_of_the_file(void **state)
{
    (void)state;
    tu_shop *shop = parse("{\"unit\":\"mm\",\"templates\":{\"late\":\"b {x} {y} {z}\","
                          "\"an earlier one\":\"a {x}, {y}, {z} n{n}\"}}");
    size_t count = 0;
    const tu_template *templates = tu_shop_templates(shop, &count);
    assert_int_equal(count, 2);
    assert_string_equal(templates[0].text, "b {x} {y} {z}");
    assert_string_equal(templates[1].text, "a {x}, {y}, {z} n{n}");
    assert_int_equal(templates[1].field_count, 4);
    assert_string_equal(tu_shop_template_name_at(shop, 0), "late");
    assert_string_equal(tu_shop_template_name_at(shop, 1), "an earlier one");
    assert_null(tu_shop_template_name_at(shop, 2));
    tu_shop_destroy(shop);
}

static void a_template_that_cannot_be_names_its_place(void **state)
{
    (void)state;
    const char *text = "{\"unit\":\"mm\",\n\"templates\":{\"touch\":\"x={x} y={y}\"}}";
    tu_shop *shop;
    tu_error error = {0};
    check_status(tu_shop_parse("t.json", text, strlen(text), &shop, &error), TU_DATA_MISSING,
                 &error);
    assert_null(shop);
    assert_string_equal(error.where, "t.json:2: templates.touch");
    check_contains(error.message, "{z}");
}

static void a_template_may_state_its_unit_in_either_order(void **state)
{
    (void)state;
    tu_shop *shop =
        parse("{\"unit\":\"mm\",\"templates\":{\"a\":{\"unit\":\"in\",\"text\":\"a {x} {y} {z}\"},"
              "\"b\":{\"text\":\"b {x} {y} {z}\",\"unit\":\"mm\"},\"c\":\"c {x} {y} {z}\"}}");
    size_t count = 0;
    const tu_template *templates = tu_shop_templates(shop, &count);
    assert_int_equal(count, 3);
    assert_string_equal(templates[0].text, "a {x} {y} {z}");
    assert_true(templates[0].unit_stated);
    assert_int_equal(templates[0].unit, TU_UNIT_INCH);
    assert_string_equal(templates[1].text, "b {x} {y} {z}");
    assert_true(templates[1].unit_stated);
    assert_int_equal(templates[1].unit, TU_UNIT_MM);
    assert_int_equal(templates[2].field_count, 3);
    assert_false(templates[2].unit_stated);
    tu_shop_destroy(shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steps_per_mm_are_the_same_in_an_inch_file),
        cmocka_unit_test(a_file_without_steps_states_none),
        cmocka_unit_test(templates_keep_the_order_of_the_file),
        cmocka_unit_test(a_template_that_cannot_be_names_its_place),
        cmocka_unit_test(a_template_may_state_its_unit_in_either_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
