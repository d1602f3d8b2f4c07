/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_where.h - what the user writes to name a port, and how its line is set (internal).
 */
#ifndef TU_PORT_WHERE_H
#define TU_PORT_WHERE_H

#include "trueup/port.h"

typedef enum tu_port_where_kind {
    TU_PORT_WHERE_STDIN,
    TU_PORT_WHERE_NAME, /* a device or a link to one */
    TU_PORT_WHERE_USB   /* USB ids */
} tu_port_where_kind;

typedef struct tu_port_where {
    tu_port_where_kind kind;
    char name[TU_PORT_TEXT_SIZE];   /* NAME: the path, not yet resolved */
    int vendor, product;            /* USB */
    char serial[TU_PORT_TEXT_SIZE]; /* USB; "": any */
} tu_port_where;

/* Takes "/dev/ttyUSB0", "ttyUSB0", "VVVV:PPPP[:SERIAL]" or "-" apart. TU_USAGE. */
tu_status tu_port_where_parse(const char *text, tu_port_where *where, tu_error *error);

/*
 * The device's own path: links are followed, since libserialport refuses them. size is that of
 * name. TU_SYSTEM_IO: there is nothing under this path.
 */
tu_status tu_port_where_resolve(const char *path, char name[TU_PORT_TEXT_SIZE], tu_error *error);

typedef struct tu_port_line {
    int baud, data_bits, stop_bits;
    char parity; /* N, E or O */
} tu_port_line;

/* baud 0 and frame NULL are the usual ones, 115200 and "8N1". TU_USAGE. */
tu_status tu_port_line_parse(int baud, const char *frame, tu_port_line *line, tu_error *error);

#endif
