/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_handle.h - an open port from inside (internal).
 */
#ifndef TU_PORT_HANDLE_H
#define TU_PORT_HANDLE_H

#include "port/port_adapter.h"
#include "port/port_where.h"
#include "trueup/port.h"

#include <libserialport.h>
#include <stdint.h>

enum { TU_PORT_OTHERS_MAX = 8 };

/* Adapters that can't be told from the one that went, and were there when it went. */
typedef struct tu_port_others {
    size_t count;
    bool overflow; /* more than fit */
    char socket[TU_PORT_OTHERS_MAX][512];
} tu_port_others;

/*
 *   serial     NULL: standard input, or not open now.
 *   lock       a second descriptor of the device, which holds the lock; -1: none.
 *   waiting    it went, and `others` was taken then.
 */
struct tu_port {
    bool is_stdin;
    int descriptor;
    struct sp_port *serial;
    int lock;
    char name[TU_PORT_TEXT_SIZE];
    tu_port_line line;
    tu_port_adapter adapter;
    char description[3 * TU_PORT_TEXT_SIZE];
    bool waiting;
    tu_port_others others;
};

/* Opens the device port->name; sets everything that belongs to it. On failure nothing stays open.
 */
tu_status tu_port_handle_open(tu_port *port, const char *name, tu_error *error);
void tu_port_handle_close(tu_port *port);
/* The port went: closes it, and notes which adapters like it are there at this moment. */
void tu_port_handle_lose(tu_port *port);

/* A monotonic clock. */
int64_t tu_port_now_ms(void);
/* What is left until the deadline, for poll; a deadline below 0 is never. */
int tu_port_left_ms(int64_t deadline_ms);
int64_t tu_port_deadline_ms(int timeout_ms);

#endif
