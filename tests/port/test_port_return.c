/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_port_return.c - waiting for an adapter that was pulled out.
 */
#include "port_trial.h"

#include <pthread.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A hand that puts an adapter in after a while. */
typedef struct hand {
    pthread_t thread;
    const fake_adapter *adapter;
    int after_ms, line;
    int64_t plugged_us;
} hand;

static void *plug_later(void *context)
{
    hand *self = context;
    usleep((unsigned)self->after_ms * 1000);
    self->line = fake_port_plug(&bench, self->adapter);
    self->plugged_us = trial_now_us();
    return NULL;
}

static tu_port_state wait_for(tu_port *port, int timeout_ms, tu_error *error)
{
    tu_port_state found;
    check_status(tu_port_wait_return(port, timeout_ms, -1, &found, error), TU_OK, error);
    return found;
}

/* Opens and pulls out. */
static tu_port *open_and_lose(const char *where, const fake_adapter *adapter)
{
    int line = fake_port_plug(&bench, adapter);
    tu_port *port = trial_open(where);
    fake_port_pull(&bench, adapter, line);
    trial_read(port, 1000, TU_PORT_GONE);
    return port;
}

static void check_reads(tu_port *port, int line)
{
    trial_write(line, "again\n");
    assert_string_equal(trial_read(port, 1000, TU_PORT_BYTES), "again\n");
}

static void the_same_adapter_is_found_again_and_read(void **state)
{
    (void)state;
    tu_port *port = open_and_lose("/dev/ttyUSB0", &probe_adapter);
    hand later = {.adapter = &probe_adapter, .after_ms = 200};
    pthread_create(&later.thread, NULL, plug_later, &later);
    int64_t cpu = trial_cpu_us();
    assert_int_equal(wait_for(port, 10000, NULL), TU_PORT_BACK);
    int64_t now = trial_now_us();
    pthread_join(later.thread, NULL);
    print_message("# back %.0f ms after it was put in\n", (double)(now - later.plugged_us) / 1000);
    check_between((double)(now - later.plugged_us) / 1000, -50, 500, "time to return, ms");
    check_between((double)(trial_cpu_us() - cpu) / 1000, 0, 60, "processor time, ms");
    check_reads(port, later.line);
    tu_port_close(port);
    close(later.line);
}

static void it_is_found_under_another_name_and_in_another_socket(void **state)
{
    (void)state;
    tu_port *port = open_and_lose("/dev/ttyUSB0", &probe_adapter);
    fake_adapter moved = probe_adapter;
    moved.name = "ttyUSB3", moved.socket = "1-4";
    int line = fake_port_plug(&bench, &moved);
    assert_int_equal(wait_for(port, 1000, NULL), TU_PORT_BACK);
    assert_string_equal(tu_port_description(port), "ttyUSB3, USB 1d50:0001 serial TP-0042");
    check_reads(port, line);
    tu_port_close(port);
    close(line);
}

static void it_can_go_and_return_many_times(void **state)
{
    (void)state;
    tu_port *port = open_and_lose("1d50:0001", &probe_adapter);
    for (int i = 0; i < 50; i++) {
        int line = fake_port_plug(&bench, &probe_adapter);
        assert_int_equal(wait_for(port, 1000, NULL), TU_PORT_BACK);
        check_reads(port, line);
        fake_port_pull(&bench, &probe_adapter, line);
        trial_read(port, 1000, TU_PORT_GONE);
    }
    tu_port_close(port);
    assert_true(dup(0) < 32); /* no descriptor stayed open on the way */
}

static void another_adapter_in_its_place_is_not_taken(void **state)
{
    (void)state;
    tu_port *port = open_and_lose("/dev/ttyUSB0", &probe_adapter);
    fake_adapter other = probe_adapter;
    other.serial = "TP-0043";
    int line = fake_port_plug(&bench, &other);
    tu_error error = {0};
    assert_int_equal(wait_for(port, 150, &error), TU_PORT_QUIET);
    assert_string_equal(error.message, "");
    trial_read(port, 0, TU_PORT_GONE);
    tu_port_close(port);
    close(line);
}

static void a_twin_that_hung_there_all_the_while_is_not_taken(void **state)
{
    (void)state;
    fake_adapter plain = probe_adapter, twin = probe_adapter;
    plain.serial = twin.serial = NULL;
    twin.name = "ttyUSB1", twin.socket = "1-3";
    int line = fake_port_plug(&bench, &twin);
    tu_port *port = open_and_lose("/dev/ttyUSB0", &plain);
    assert_int_equal(wait_for(port, 150, NULL), TU_PORT_QUIET);
    int back = fake_port_plug(&bench, &plain);
    assert_int_equal(wait_for(port, 1000, NULL), TU_PORT_BACK);
    check_reads(port, back);
    tu_port_close(port);
    close(line), close(back);
}

static void of_two_new_twins_the_one_in_the_old_socket_is_taken(void **state)
{
    (void)state;
    fake_adapter plain = probe_adapter, twin = probe_adapter;
    plain.serial = twin.serial = NULL;
    twin.name = "ttyUSB0", twin.socket = "1-3";
    tu_port *port = open_and_lose("/dev/ttyUSB0", &plain);
    plain.name = "ttyUSB1";
    int other = fake_port_plug(&bench, &twin), line = fake_port_plug(&bench, &plain);
    assert_int_equal(wait_for(port, 1000, NULL), TU_PORT_BACK);
    assert_string_equal(tu_port_description(port), "ttyUSB1, USB 1d50:0001");
    check_reads(port, line);
    tu_port_close(port);
    close(line), close(other);
}

static void two_new_twins_in_other_sockets_are_no_guess(void **state)
{
    (void)state;
    fake_adapter first = probe_adapter, second = probe_adapter;
    tu_port *port = open_and_lose("/dev/ttyUSB0", &probe_adapter);
    first.socket = "1-5", second.name = "ttyUSB1", second.socket = "1-6";
    int line = fake_port_plug(&bench, &first), other = fake_port_plug(&bench, &second);
    tu_error error = {0};
    assert_int_equal(wait_for(port, 150, &error), TU_PORT_QUIET);
    check_contains(error.message, "more than one");
    tu_port_close(port);
    close(line), close(other);
}

static void the_other_port_of_the_same_adapter_is_not_taken(void **state)
{
    (void)state;
    fake_adapter second = probe_adapter;
    tu_port *port = open_and_lose("/dev/ttyUSB0", &probe_adapter);
    second.name = "ttyUSB1", second.interface = 1;
    int line = fake_port_plug(&bench, &second);
    assert_int_equal(wait_for(port, 150, NULL), TU_PORT_QUIET);
    tu_port_close(port);
    close(line);
}

static void a_dead_port_that_is_still_listed_does_not_disturb(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port = trial_open("/dev/ttyUSB0");
    close(line); /* the list still has it, first with its ids */
    trial_read(port, 1000, TU_PORT_GONE);
    tu_error error = {0};
    assert_int_equal(wait_for(port, 100, &error), TU_PORT_QUIET);
    fake_port_forget_ids(&bench, &probe_adapter);
    assert_int_equal(wait_for(port, 100, &error), TU_PORT_QUIET);
    fake_port_pull(&bench, &probe_adapter, -1);
    line = fake_port_plug(&bench, &probe_adapter);
    assert_int_equal(wait_for(port, 1000, NULL), TU_PORT_BACK);
    check_reads(port, line);
    tu_port_close(port);
    close(line);
}

static void say_wait(void *context)
{
    tu_port_state found;
    tu_error error = {0};
    tu_port_wait_return(context, 120, -1, &found, &error);
    trial_say(found == TU_PORT_QUIET ? "quiet: " : "another state: ");
    trial_say(error.message);
}

static void an_adapter_that_refuses_is_tried_again_and_its_reason_told(void **state)
{
    (void)state;
    char terminal[64];
    tu_port *port = open_and_lose("/dev/ttyUSB0", &probe_adapter);
    int line = fake_port_plug(&bench, &probe_adapter);
    fake_port_terminal(&bench, &probe_adapter, terminal, sizeof terminal);
    assert_int_equal(chmod(terminal, 0), 0);
    check_contains(trial_in_child(say_wait, port, true), "quiet: permission denied");
    assert_int_equal(chmod(terminal, 0600), 0);
    assert_int_equal(wait_for(port, 1000, NULL), TU_PORT_BACK);
    tu_port_close(port);
    close(line);
}

static void the_wait_can_be_interrupted_and_taken_up_again(void **state)
{
    (void)state;
    int wake[2];
    tu_port_state found;
    assert_int_equal(pipe(wake), 0);
    tu_port *port = open_and_lose("/dev/ttyUSB0", &probe_adapter);
    trial_write(wake[1], "!");
    int64_t start = trial_now_us();
    check_status(tu_port_wait_return(port, 10000, wake[0], &found, NULL), TU_OK, NULL);
    assert_int_equal(found, TU_PORT_INTERRUPTED);
    check_between((double)(trial_now_us() - start) / 1000, 0, 200, "time to wake, ms");
    int line = fake_port_plug(&bench, &probe_adapter);
    assert_int_equal(wait_for(port, 1000, NULL), TU_PORT_BACK);
    check_reads(port, line);
    tu_port_close(port);
    close(wake[0]), close(wake[1]), close(line);
}

static void a_port_that_is_open_can_be_closed_and_opened_anew(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port = trial_open("/dev/ttyUSB0");
    assert_int_equal(wait_for(port, 1000, NULL), TU_PORT_BACK);
    check_reads(port, line);
    tu_port_close(port);
    close(line);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        trial(the_same_adapter_is_found_again_and_read),
        trial(it_is_found_under_another_name_and_in_another_socket),
        trial(it_can_go_and_return_many_times),
        trial(another_adapter_in_its_place_is_not_taken),
        trial(a_twin_that_hung_there_all_the_while_is_not_taken),
        trial(of_two_new_twins_the_one_in_the_old_socket_is_taken),
        trial(two_new_twins_in_other_sockets_are_no_guess),
        trial(the_other_port_of_the_same_adapter_is_not_taken),
        trial(a_dead_port_that_is_still_listed_does_not_disturb),
        trial(an_adapter_that_refuses_is_tried_again_and_its_reason_told),
        trial(the_wait_can_be_interrupted_and_taken_up_again),
        trial(a_port_that_is_open_can_be_closed_and_opened_anew),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
