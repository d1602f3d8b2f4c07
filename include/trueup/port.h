/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port.h - a serial port, or standard input, as a source of bytes.
 *
 * A port that is open is open for this program alone: two programs that read one port would each
 * get a part of the bytes. docs/ports.md is the user's side.
 */
#ifndef TRUEUP_PORT_H
#define TRUEUP_PORT_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

enum { TU_PORT_TEXT_SIZE = 160 };

/* A port as the system lists it. Text that is not known is "". */
typedef struct tu_port_listing {
    char name[TU_PORT_TEXT_SIZE]; /* "/dev/ttyUSB0" */
    char description[TU_PORT_TEXT_SIZE];
    bool usb;
    int vendor, product; /* -1: not known */
    char serial[TU_PORT_TEXT_SIZE];
    bool can_open;
    char why_not[2 * TU_PORT_TEXT_SIZE]; /* and what to do: which group to join, who holds it */
} tu_port_listing;

typedef void tu_port_sink(void *context, const tu_port_listing *listing);
/*
 * Calls sink for each port, by name; the listing is valid during the call. USB ports are not opened
 * for it, since that resets many boards. TU_SYSTEM_IO, TU_SYSTEM_MEMORY.
 */
tu_status tu_port_list(tu_port_sink *sink, void *context, tu_error *error);

/*
 * Which port, and how.
 *   where  "/dev/ttyUSB0" or "ttyUSB0", a link to one, "VVVV:PPPP" or "VVVV:PPPP:SERIAL" (hex USB
 *          ids; the serial number compares byte for byte), or "-" for standard input.
 *   baud   0: 115200.
 *   frame  data bits 5 to 8, parity N, E or O, stop bits 1 or 2; NULL: "8N1".
 * Standard input takes no notice of baud and frame.
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
    TU_PORT_END,         /* standard input ended */
    TU_PORT_BACK         /* the adapter is there again and open (tu_port_wait_return only) */
} tu_port_state;

/*
 * *port is NULL on failure. TU_SYSTEM_IO: why, and what to do (absent, permission, in use);
 * TU_USAGE for a malformed request and for USB ids that fit more than one port; TU_SYSTEM_MEMORY.
 * Opening a board's port resets many boards: expect a hello, or a line that was cut.
 */
tu_status tu_port_open(const tu_port_request *request, tu_port **port, tu_error *error);

/* NULL is fine. Standard input stays open. */
void tu_port_close(tu_port *port);

/*
 * Reads what is there; waits up to timeout_ms for the first byte.
 *   size        at least 1.
 *   timeout_ms  0: does not wait; negative: for ever.
 *   wake_fd     readable: TU_PORT_INTERRUPTED at once, before any byte is read, so that a flood
 *               cannot keep a program from ending. The caller empties it. -1: none.
 *   got         0 unless the state is TU_PORT_BYTES.
 * An unplugged port is TU_OK with TU_PORT_GONE, at once and from then on until it was waited for.
 * TU_SYSTEM_IO: standard input can't be read, or the system has no way to wait.
 */
tu_status tu_port_read(tu_port *port, char *bytes, size_t size, int timeout_ms, int wake_fd,
                       size_t *got, tu_port_state *state, tu_error *error);

/*
 * Closes the port, then waits for the same adapter and opens it again as it was, under whatever
 * name it has now. The same: equal USB ids, serial number and interface; in the same socket, or
 * else the only one that was not there when the old one went. A port without USB ids: the same
 * name. state  TU_PORT_BACK; TU_PORT_QUIET after timeout_ms (negative: for ever): error->message is
 * then
 *          "" when no such adapter is there, or says why it can't be opened; TU_PORT_INTERRUPTED;
 *          TU_PORT_END for standard input, which never returns.
 * May be called again after TU_PORT_QUIET or TU_PORT_INTERRUPTED.
 */
tu_status tu_port_wait_return(tu_port *port, int timeout_ms, int wake_fd, tu_port_state *state,
                              tu_error *error);

/* "ttyUSB0, USB 1d50:0001 serial 0001", or "standard input": what was opened last. */
const char *tu_port_description(const tu_port *port);

TU_END_DECLS

#endif
