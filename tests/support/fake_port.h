/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fake_port.h - serial ports of USB adapters, played by pseudo-terminals through port_shim.c.
 *
 * A bench is a folder that the shim shows to this program; plugging puts an adapter into it. Each
 * call fails the test where it cannot do as asked.
 */
#ifndef TRUEUP_TESTS_FAKE_PORT_H
#define TRUEUP_TESTS_FAKE_PORT_H

#include <stdbool.h>
#include <stddef.h>

typedef struct fake_bench {
    char root[64];
} fake_bench;

/* Sets PORT_SHIM_ROOT. */
void fake_bench_open(fake_bench *bench);
void fake_bench_close(fake_bench *bench);

/*
 *   name     "ttyUSB0"
 *   socket   the way to it: "1-2", the second socket of the first bus
 *   serial   NULL: the adapter has none
 */
typedef struct fake_adapter {
    const char *name, *socket;
    int vendor, product, interface;
    const char *serial, *words; /* words: its product string */
} fake_adapter;

/* Plugs in; returns the other end of the line. */
int fake_port_plug(const fake_bench *bench, const fake_adapter *adapter);
/* Pulls out: closes the other end, and the system forgets the port. */
void fake_port_pull(const fake_bench *bench, const fake_adapter *adapter, int line);
/* As for a moment after the plug was pulled: the port is still listed, with nothing known of it. */
void fake_port_forget_ids(const fake_bench *bench, const fake_adapter *adapter);
/* The pseudo-terminal itself, "/dev/pts/7". */
void fake_port_terminal(const fake_bench *bench, const fake_adapter *adapter, char *path,
                        size_t size);

#endif
