/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port.h - a serial port, or standard input, as a source of bytes.
 */
#ifndef TRUEUP_PORT_H
#define TRUEUP_PORT_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

enum { TU_PORT_TEXT_SIZE = 160 };

/* A port as the system lists it. */
typedef struct tu_port_listing {
    char name[TU_PORT_TEXT_SIZE];
    char description[TU_PORT_TEXT_SIZE];
    bool usb;
    int vendor, product; /* -1: not known */
    char serial[TU_PORT_TEXT_SIZE];
    bool can_open;
    char why_not[2 * TU_PORT_TEXT_SIZE]; /* and what to do: which group to join, who holds it */
} tu_port_listing;

typedef void tu_port_sink(void *context, const tu_port_listing *listing);
tu_status tu_port_list(tu_port_sink *sink, void *context, tu_error *error);

/*
 * Which port, and how.
 *   where      "/dev/ttyUSB0", a link to one, "VVVV:PPPP" or "VVVV:PPPP:SERIAL" (hex USB ids), or
 * "-" for standard input. baud       0: 115200. frame      "8N1" and so on; NULL: "8N1".
 */
typedef struct tu_port_request {
    const char *where;
    int baud;
    const char *frame;
} tu_port_request;

typedef struct tu_port tu_port;

typedef enum tu_port_state {
    TU_PORT_BYTES,       /* *got bytes were read, at least one */
    TU_PORT_QUIET,       /* nothing within the time */
    TU_PORT_INTERRUPTED, /* wake_fd became readable */
    TU_PORT_GONE,        /* unplugged */
    TU_PORT_END          /* standard input ended */
} tu_port_state;

/* *port is NULL on failure. TU_SYSTEM_IO says why and what to do; TU_USAGE for a malformed request.
 */
tu_status tu_port_open(const tu_port_request *request, tu_port **port, tu_error *error);
void tu_port_close(tu_port *port);
/* Reads what is there; waits up to timeout_ms. wake_fd -1: none. */
tu_status tu_port_read(tu_port *port, char *bytes, size_t size, int timeout_ms, int wake_fd,
                       size_t *got, tu_port_state *state, tu_error *error);
/* Closes, then waits for the same adapter (by USB ids and serial, else by name) and opens it again.
 */
tu_status tu_port_wait_return(tu_port *port, int timeout_ms, int wake_fd, tu_port_state *state,
                              tu_error *error);
/* "ttyUSB0, USB 1d50:0001 serial 0001": what was opened. */
const char *tu_port_description(const tu_port *port);

#endif
