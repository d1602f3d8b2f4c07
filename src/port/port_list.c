/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_list.c - the ports of this computer, and why one can't be opened.
 */
#define _GNU_SOURCE /* strverscmp */
#include "port/port_adapter.h"
#include "port/port_refusal.h"
#include "trueup/port.h"

#include <libserialport.h>
#include <stdlib.h>
#include <string.h>

static int compare_names(const void *a, const void *b)
{
    const struct sp_port *const *left = a, *const *right = b;
    return strverscmp(sp_get_port_name(*left), sp_get_port_name(*right));
}

static void fill_listing(const struct sp_port *port, tu_port_listing *listing)
{
    const char *name = sp_get_port_name(port);
    tu_port_adapter adapter;
    tu_port_adapter_read(port, name, &adapter);
    *listing = (tu_port_listing){.usb = sp_get_port_transport(port) == SP_TRANSPORT_USB,
                                 .vendor = adapter.vendor,
                                 .product = adapter.product};
    tu_port_text_copy(listing->name, sizeof listing->name, name);
    tu_port_text_copy(listing->serial, sizeof listing->serial, adapter.serial);
    const char *product = sp_get_port_usb_product(port);
    tu_port_text_copy(listing->description, sizeof listing->description,
                      product ? product : sp_get_port_description(port));
    char why[sizeof listing->why_not];
    listing->can_open = !tu_port_refusal_foresee(name, why, sizeof why);
    if (!listing->can_open)
        tu_port_text_copy(listing->why_not, sizeof listing->why_not, why);
}

tu_status tu_port_list(tu_port_sink *sink, void *context, tu_error *error)
{
    struct sp_port **ports = NULL;
    enum sp_return result = sp_list_ports(&ports);
    /* Out of memory in the middle of the list it says SP_OK, and gives none. */
    if (result == SP_ERR_MEM || (result == SP_OK && !ports))
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    if (result != SP_OK)
        return tu_fail(error, TU_SYSTEM_IO, "/sys/class/tty",
                       "the system's list of ports can't be read: %s",
                       strerror(sp_last_error_code()));
    size_t count = 0;
    while (ports[count])
        count++;
    qsort(ports, count, sizeof *ports, compare_names);
    for (size_t i = 0; i < count; i++) {
        tu_port_listing listing;
        fill_listing(ports[i], &listing);
        sink(context, &listing);
    }
    sp_free_port_list(ports);
    return TU_OK;
}
