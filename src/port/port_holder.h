/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_holder.h - which other process has a device open (internal; Linux, by /proc).
 */
#ifndef TU_PORT_HOLDER_H
#define TU_PORT_HOLDER_H

#include <stdbool.h>

typedef struct tu_port_holder {
    long process;
    char name[32]; /* "": not known */
} tu_port_holder;

/*
 * Another process that has the device open, under any name, or holds a lock on it. Of other users'
 * processes only those that hold a lock can be seen. false: none, or no /proc.
 */
bool tu_port_holder_find(const char *device, tu_port_holder *holder);

#endif
