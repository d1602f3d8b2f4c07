/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_ports.h - the list of serial ports, for people and for programs (internal).
 */
#ifndef TU_REPORT_PORTS_H
#define TU_REPORT_PORTS_H

#include "trueup/port.h"

#include <stdio.h>

/*
 * {"schema":1,"ports":[{"name":..,"description":..,"usb":{"vendor":"1d50","product":"0001",
 * "serial":..},"can_open":..,"why_not":..}]}; the ids are hex as in --port. A member that is not
 * known is absent, "why_not" where the port can be opened. TU_SYSTEM_MEMORY, TU_SYSTEM_IO.
 */
tu_status tu_report_ports_json(FILE *out, const tu_port_listing *ports, size_t count,
                               tu_error *error);

/* "1d50:0001:TP-0042", as --port takes it; "" where there are no ids. */
size_t tu_report_port_ids(char *text, size_t size, const tu_port_listing *port);

#endif
