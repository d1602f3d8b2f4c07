/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_port_list.c - the list of ports.
 */
#include "port_trial.h"

#include <stdio.h>
#include <string.h>
#include <sys/inotify.h>
#include <unistd.h>

enum { LISTED_MAX = 8 };

typedef struct listed {
    size_t count;
    tu_port_listing port[LISTED_MAX];
} listed;

static void keep(void *context, const tu_port_listing *listing)
{
    listed *all = context;
    assert_true(all->count < LISTED_MAX);
    all->port[all->count++] = *listing;
}

static listed list_all(void)
{
    listed all = {0};
    tu_error error = {0};
    check_status(tu_port_list(keep, &all, &error), TU_OK, &error);
    return all;
}

static void a_usb_adapter_is_listed_with_all_that_is_known_of_it(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    listed all = list_all();
    assert_int_equal(all.count, 1);
    assert_string_equal(all.port[0].name, "/dev/ttyUSB0");
    assert_string_equal(all.port[0].description, "Touch box");
    assert_true(all.port[0].usb);
    assert_int_equal(all.port[0].vendor, 0x1d50);
    assert_int_equal(all.port[0].product, 0x0001);
    assert_string_equal(all.port[0].serial, "TP-0042");
    assert_true(all.port[0].can_open);
    assert_string_equal(all.port[0].why_not, "");
    close(line);
}

static void no_port_gives_an_empty_list(void **state)
{
    (void)state;
    assert_int_equal(list_all().count, 0);
}

static void ports_are_listed_by_name_with_numbers_in_order(void **state)
{
    (void)state;
    static const char *const names[] = {"ttyUSB10", "ttyACM0", "ttyUSB2"};
    static const char *const sockets[] = {"1-1", "1-2", "1-3"};
    int line[3];
    for (size_t i = 0; i < 3; i++) {
        fake_adapter adapter = probe_adapter;
        adapter.name = names[i], adapter.socket = sockets[i], adapter.serial = NULL;
        line[i] = fake_port_plug(&bench, &adapter);
    }
    listed all = list_all();
    assert_int_equal(all.count, 3);
    assert_string_equal(all.port[0].name, "/dev/ttyACM0");
    assert_string_equal(all.port[1].name, "/dev/ttyUSB2");
    assert_string_equal(all.port[2].name, "/dev/ttyUSB10");
    assert_string_equal(all.port[0].serial, "");
    for (size_t i = 0; i < 3; i++)
        close(line[i]);
}

static void a_dead_port_that_is_still_listed_has_no_ids(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    fake_port_forget_ids(&bench, &probe_adapter);
    listed all = list_all();
    assert_int_equal(all.count, 1);
    assert_true(all.port[0].usb);
    assert_int_equal(all.port[0].vendor, -1);
    assert_int_equal(all.port[0].product, -1);
    close(line);
}

static void what_an_adapter_calls_itself_is_fit_to_be_shown(void **state)
{
    (void)state;
    fake_adapter adapter = probe_adapter;
    char words[400];
    memset(words, 'w', sizeof words - 1);
    words[sizeof words - 1] = '\0';
    memcpy(words, "a\x1b[2Jb\xff", 7);
    adapter.words = words;
    int line = fake_port_plug(&bench, &adapter);
    listed all = list_all();
    assert_memory_equal(all.port[0].description, "a?[2Jb?ww", 9);
    check_between((double)strlen(all.port[0].description), 100, TU_PORT_TEXT_SIZE - 1, "bytes");
    close(line);
}

/* Whether the terminal was opened since the watch began. */
static bool was_opened(int watch)
{
    char events[512];
    return read(watch, events, sizeof events) > 0;
}

/* Opening raises DTR, which resets many boards. */
static void listing_opens_no_usb_port(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    char terminal[64];
    fake_port_terminal(&bench, &probe_adapter, terminal, sizeof terminal);
    int watch = inotify_init1(IN_NONBLOCK | IN_CLOEXEC);
    assert_true(inotify_add_watch(watch, terminal, IN_OPEN) >= 0);
    assert_int_equal(list_all().count, 1);
    assert_false(was_opened(watch));
    tu_port_close(trial_open("/dev/ttyUSB0"));
    assert_true(was_opened(watch)); /* the watch does see it */
    close(watch);
    close(line);
}

static void a_port_in_use_is_listed_with_the_process_that_has_it(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    trial_holder held = trial_hold(true);
    char expected[64];
    listed all = list_all();
    trial_release(&held);
    assert_int_equal(all.count, 1);
    assert_false(all.port[0].can_open);
    snprintf(expected, sizeof expected, "in use by process %d (", (int)held.process);
    check_contains(all.port[0].why_not, expected);
    close(line);
}

static void a_port_without_a_device_file_cannot_be_opened(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    char link[128];
    snprintf(link, sizeof link, "%s/dev/ttyUSB0", bench.root);
    assert_int_equal(unlink(link), 0);
    listed all = list_all();
    assert_int_equal(all.count, 1);
    assert_false(all.port[0].can_open);
    check_contains(all.port[0].why_not, "its device file is missing");
    close(line);
}

static void without_the_systems_list_that_is_said(void **state)
{
    (void)state;
    char path[128];
    snprintf(path, sizeof path, "%s/sys/class/tty", bench.root);
    assert_int_equal(rmdir(path), 0);
    listed all = {0};
    tu_error error = {0};
    check_status(tu_port_list(keep, &all, &error), TU_SYSTEM_IO, &error);
    assert_string_equal(error.where, "/sys/class/tty");
    assert_int_equal(all.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        trial(a_usb_adapter_is_listed_with_all_that_is_known_of_it),
        trial(no_port_gives_an_empty_list),
        trial(ports_are_listed_by_name_with_numbers_in_order),
        trial(a_dead_port_that_is_still_listed_has_no_ids),
        trial(what_an_adapter_calls_itself_is_fit_to_be_shown),
        trial(listing_opens_no_usb_port),
        trial(a_port_in_use_is_listed_with_the_process_that_has_it),
        trial(a_port_without_a_device_file_cannot_be_opened),
        trial(without_the_systems_list_that_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
