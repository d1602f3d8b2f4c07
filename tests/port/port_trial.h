/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_trial.h - what the tests of ports share: a bench, an adapter of the invented shop, clocks.
 */
#ifndef TRUEUP_TESTS_PORT_TRIAL_H
#define TRUEUP_TESTS_PORT_TRIAL_H

#include "check.h"
#include "fake_port.h"
#include "trueup/port.h"

#include <stdint.h>
#include <sys/types.h>

/* The one bench of a test program; every test gets it empty. */
extern fake_bench bench;
int trial_setup(void **state);
int trial_teardown(void **state);
#define trial(name) cmocka_unit_test_setup_teardown(name, trial_setup, trial_teardown)

/* ttyUSB0 in socket 1-2, 1d50:0001, serial number TP-0042. */
extern const fake_adapter probe_adapter;

/* Opens by `where`, 115200 8N1; the test fails where that fails. */
tu_port *trial_open(const char *where);
/* Opening is refused with this status; returns the message, valid until the next call. */
const char *trial_refused(const char *where, tu_status status);
/* Reads once; the text is valid until the next call. */
const char *trial_read(tu_port *port, int timeout_ms, tu_port_state expected);
void trial_write(int line, const char *text);

int64_t trial_now_us(void);
/* What this process has used of the processor. */
int64_t trial_cpu_us(void);

/*
 * Runs work in a child, as a user without rights where this is root's process, and returns what it
 * wrote with trial_say, valid until the next call.
 */
typedef void trial_work(void *context);
const char *trial_in_child(trial_work *work, void *context, bool without_rights);
void trial_say(const char *text);

/* A process that has /dev/ttyUSB0 open until it is released: a logger, or a program that locks
 * nothing. */
typedef struct trial_holder {
    pid_t process;
    int release;
} trial_holder;
trial_holder trial_hold(bool as_logger);
void trial_release(trial_holder *holder);

#endif
