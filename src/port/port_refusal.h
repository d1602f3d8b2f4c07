/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_refusal.h - why a port can't be opened, and what to do about it (internal).
 */
#ifndef TU_PORT_REFUSAL_H
#define TU_PORT_REFUSAL_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Whether another process has the device open, as far as this user may see. text: "in use by
 * process 812 (NAME); ...". Looks only, opens nothing.
 */
bool tu_port_refusal_in_use(const char *device, char *text, size_t size);

/* What opening the device with this errno means. */
void tu_port_refusal_explain(const char *device, int error_number, char *text, size_t size);

/* Whether opening would fail, for want of permission or because another has it. Opens nothing. */
bool tu_port_refusal_foresee(const char *device, char *text, size_t size);

#endif
