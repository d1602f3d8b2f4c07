/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_port_where.c - what the user writes to name a port, and how its line is set.
 */
#include "check.h"
#include "port/port_where.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static tu_port_where parse(const char *text)
{
    tu_port_where where;
    tu_error error = {0};
    check_status(tu_port_where_parse(text, &where, &error), TU_OK, &error);
    return where;
}

static void a_dash_is_standard_input(void **state)
{
    (void)state;
    assert_int_equal(parse("-").kind, TU_PORT_WHERE_STDIN);
}

static void a_path_is_taken_as_it_stands(void **state)
{
    (void)state;
    tu_port_where where = parse("/dev/serial/by-path/pci-0000:00:14.0-usb-0:2:1.0-port0");
    assert_int_equal(where.kind, TU_PORT_WHERE_NAME);
    assert_string_equal(where.name, "/dev/serial/by-path/pci-0000:00:14.0-usb-0:2:1.0-port0");
}

static void a_name_alone_is_looked_for_in_dev(void **state)
{
    (void)state;
    tu_port_where where = parse("ttyUSB0");
    assert_int_equal(where.kind, TU_PORT_WHERE_NAME);
    assert_string_equal(where.name, "/dev/ttyUSB0");
}

static void usb_ids_are_hex_in_either_case(void **state)
{
    (void)state;
    tu_port_where where = parse("1D50:00fe");
    assert_int_equal(where.kind, TU_PORT_WHERE_USB);
    assert_int_equal(where.vendor, 0x1d50);
    assert_int_equal(where.product, 0x00fe);
    assert_string_equal(where.serial, "");
}

static void a_serial_number_may_have_colons(void **state)
{
    (void)state;
    assert_string_equal(parse("1d50:0001:AB:cd").serial, "AB:cd");
}

static void malformed_names_are_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {
        "",          "1d5:0001", "1d50:1", "1d50:0001x", "1d50:0001:", "1d50::abc",   "0x1d50:0x1",
        "1d50:00g1", ":",        "a:",     "1d50:",      "1d50:000",   "1d50-0001:TP"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        tu_port_where where;
        tu_error error = {0};
        check_status(tu_port_where_parse(bad[i], &where, &error), TU_USAGE, &error);
        check_contains(error.message, strcmp(bad[i], "1d50:0001:") ? "trueup ports" : "leave out");
    }
}

static void a_name_that_does_not_fit_is_refused(void **state)
{
    (void)state;
    char name[2 * TU_PORT_TEXT_SIZE];
    memset(name, 'a', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    tu_port_where where;
    check_status(tu_port_where_parse(name, &where, NULL), TU_USAGE, NULL);
    memcpy(name, "1d50:0001:", 10);
    check_status(tu_port_where_parse(name, &where, NULL), TU_USAGE, NULL);
}

static void a_link_is_resolved(void **state)
{
    (void)state;
    char folder[] = "/tmp/port-where-XXXXXX", link[64], name[TU_PORT_TEXT_SIZE];
    assert_non_null(mkdtemp(folder));
    snprintf(link, sizeof link, "%s/probe", folder);
    assert_int_equal(symlink("/dev/null", link), 0);
    tu_error error = {0};
    tu_status status = tu_port_where_resolve(link, name, &error);
    unlink(link);
    rmdir(folder);
    check_status(status, TU_OK, &error);
    assert_string_equal(name, "/dev/null");
}

static void a_port_that_is_not_there_is_named(void **state)
{
    (void)state;
    char name[TU_PORT_TEXT_SIZE];
    tu_error error = {0};
    check_status(tu_port_where_resolve("/dev/ttyABSENT7", name, &error), TU_SYSTEM_IO, &error);
    assert_string_equal(error.where, "/dev/ttyABSENT7");
    check_contains(error.message, "there is no such port");
}

static void the_usual_line_is_115200_8n1(void **state)
{
    (void)state;
    tu_port_line line;
    check_status(tu_port_line_parse(0, NULL, &line, NULL), TU_OK, NULL);
    assert_int_equal(line.baud, 115200);
    assert_int_equal(line.data_bits, 8);
    assert_int_equal(line.parity, 'N');
    assert_int_equal(line.stop_bits, 1);
}

static void a_frame_is_taken_apart(void **state)
{
    (void)state;
    tu_port_line line;
    check_status(tu_port_line_parse(9600, "7e2", &line, NULL), TU_OK, NULL);
    assert_int_equal(line.baud, 9600);
    assert_int_equal(line.data_bits, 7);
    assert_int_equal(line.parity, 'E');
    assert_int_equal(line.stop_bits, 2);
}

static void malformed_lines_are_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {"", "8", "8N", "9N1", "8X1", "8N3", "8N1 ", "N81", "4N1"};
    tu_port_line line;
    tu_error error = {0};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        check_status(tu_port_line_parse(0, bad[i], &line, &error), TU_USAGE, &error);
        check_contains(error.message, "as in 8N1");
    }
    check_status(tu_port_line_parse(-9600, NULL, &line, &error), TU_USAGE, &error);
    check_contains(error.message, "-9600 is no baud rate");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_dash_is_standard_input),
        cmocka_unit_test(a_path_is_taken_as_it_stands),
        cmocka_unit_test(a_name_alone_is_looked_for_in_dev),
        cmocka_unit_test(usb_ids_are_hex_in_either_case),
        cmocka_unit_test(a_serial_number_may_have_colons),
        cmocka_unit_test(malformed_names_are_refused),
        cmocka_unit_test(a_name_that_does_not_fit_is_refused),
        cmocka_unit_test(a_link_is_resolved),
        cmocka_unit_test(a_port_that_is_not_there_is_named),
        cmocka_unit_test(the_usual_line_is_115200_8n1),
        cmocka_unit_test(a_frame_is_taken_apart),
        cmocka_unit_test(malformed_lines_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
