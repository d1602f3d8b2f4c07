/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_adapter.h - which adapter is behind a port, and which ports belong to one (internal).
 */
#ifndef TU_PORT_ADAPTER_H
#define TU_PORT_ADAPTER_H

#include "trueup/port.h"

#include <libserialport.h>

/* What stays with an adapter when it is pulled out and put back. */
typedef struct tu_port_adapter {
    bool usb;
    int vendor, product;
    char serial[TU_PORT_TEXT_SIZE]; /* "": it has none */
    char socket[512];               /* the way from the computer to it; "": not known */
} tu_port_adapter;

/* name  the device's path. Where the system no longer knows enough, usb is false. */
void tu_port_adapter_read(const struct sp_port *port, const char *name, tu_port_adapter *adapter);

bool tu_port_adapter_same_socket(const tu_port_adapter *a, const tu_port_adapter *b);

/* Equal ids, serial number and interface (an adapter with two ports has two interfaces). */
bool tu_port_adapter_alike(const tu_port_adapter *a, const tu_port_adapter *b);

/* Copies text (may be NULL) fit to be shown in a line. */
void tu_port_text_copy(char *out, size_t size, const char *text);

/* Calls visit for each USB port there is now; opens none. Stops when visit returns true. */
typedef bool tu_port_adapter_visit(void *context, const char *name, const tu_port_adapter *adapter);
void tu_port_adapter_each(tu_port_adapter_visit *visit, void *context);

#endif
