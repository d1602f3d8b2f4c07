/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_trial.c - what the tests of ports share.
 */
#define _GNU_SOURCE /* setgroups */
#include "port_trial.h"

#include <fcntl.h>
#include <grp.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

fake_bench bench;

const fake_adapter probe_adapter = {.name = "ttyUSB0",
                                    .socket = "1-2",
                                    .vendor = 0x1d50,
                                    .product = 0x0001,
                                    .serial = "TP-0042",
                                    .words = "Touch box"};

int trial_setup(void **state)
{
    (void)state;
    fake_bench_open(&bench);
    return 0;
}

int trial_teardown(void **state)
{
    (void)state;
    fake_bench_close(&bench);
    return 0;
}

tu_port *trial_open(const char *where)
{
    tu_port *port;
    tu_error error = {0};
    check_status(tu_port_open(&(tu_port_request){.where = where}, &port, &error), TU_OK, &error);
    return port;
}

const char *trial_refused(const char *where, tu_status status)
{
    static tu_error error;
    tu_port *port = (tu_port *)&error;
    error = (tu_error){0};
    check_status(tu_port_open(&(tu_port_request){.where = where}, &port, &error), status, &error);
    assert_null(port);
    return error.message;
}

const char *trial_read(tu_port *port, int timeout_ms, tu_port_state expected)
{
    static char text[4096];
    size_t got;
    tu_port_state found;
    tu_error error = {0};
    check_status(tu_port_read(port, text, sizeof text - 1, timeout_ms, -1, &got, &found, &error),
                 TU_OK, &error);
    assert_int_equal(found, expected);
    assert_int_equal(got > 0, expected == TU_PORT_BYTES);
    text[got] = '\0';
    return text;
}

void trial_write(int line, const char *text)
{
    assert_int_equal(write(line, text, strlen(text)), strlen(text));
}

static int64_t microseconds(clockid_t clock)
{
    struct timespec now;
    clock_gettime(clock, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

int64_t trial_now_us(void)
{
    return microseconds(CLOCK_MONOTONIC);
}

int64_t trial_cpu_us(void)
{
    return microseconds(CLOCK_PROCESS_CPUTIME_ID);
}

static int say_to = -1;

void trial_say(const char *text)
{
    if (write(say_to, text, strlen(text)) < 0)
        _exit(2);
}

static void give_up_rights(void)
{
    enum { NOBODY = 65534 };
    if (geteuid() != 0)
        return;
    if (setgroups(0, NULL) != 0 || setgid(NOBODY) != 0 || setuid(NOBODY) != 0)
        _exit(3);
}

const char *trial_in_child(trial_work *work, void *context, bool without_rights)
{
    static char text[2048];
    int ends[2], result;
    size_t length = 0;
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        close(ends[0]);
        say_to = ends[1];
        if (without_rights)
            give_up_rights();
        work(context);
        _exit(0);
    }
    close(ends[1]);
    for (ssize_t got; (got = read(ends[0], text + length, sizeof text - 1 - length)) > 0;)
        length += (size_t)got;
    close(ends[0]);
    text[length] = '\0';
    assert_int_equal(waitpid(child, &result, 0), child);
    assert_int_equal(result, 0);
    return text;
}

/* No check of cmocka's here: one that fails would go on with the tests, in the child. */
static void open_and_wait(bool as_logger, int ready, int release)
{
    char byte = '!';
    tu_port *port;
    const tu_port_request request = {.where = "/dev/ttyUSB0"};
    bool open_now = as_logger ? !tu_port_open(&request, &port, NULL)
                              : open("/dev/ttyUSB0", O_RDWR | O_NOCTTY) >= 0;
    if (!open_now || write(ready, &byte, 1) != 1)
        _exit(1);
    _exit(read(release, &byte, 1) != 0);
}

trial_holder trial_hold(bool as_logger)
{
    int ready[2], release[2];
    char byte;
    assert_int_equal(pipe(ready), 0);
    assert_int_equal(pipe(release), 0);
    trial_holder holder = {.process = fork(), .release = release[1]};
    if (holder.process == 0) {
        close(release[1]);
        open_and_wait(as_logger, ready[1], release[0]);
    }
    close(ready[1]), close(release[0]);
    assert_int_equal(read(ready[0], &byte, 1), 1);
    close(ready[0]);
    return holder;
}

void trial_release(trial_holder *holder)
{
    int result;
    close(holder->release);
    assert_int_equal(waitpid(holder->process, &result, 0), holder->process);
    assert_int_equal(result, 0);
}
