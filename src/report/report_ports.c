/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_ports.c - the list of serial ports.
 */
#include "report/report_ports.h"

#include "report/json_build.h"

size_t tu_report_port_ids(char *text, size_t size, const tu_port_listing *port)
{
    *text = '\0';
    if (port->vendor < 0 || port->product < 0)
        return 0;
    int length = snprintf(text, size, "%04x:%04x%s%s", (unsigned)port->vendor,
                          (unsigned)port->product, *port->serial ? ":" : "", port->serial);
    return length < 0 ? 0 : (size_t)length;
}

static bool add_usb(cJSON *item, const tu_port_listing *port)
{
    char vendor[16], product[16];
    if (port->vendor < 0 || port->product < 0)
        return true;
    cJSON *usb = tu_json_add(item, "usb", cJSON_CreateObject());
    snprintf(vendor, sizeof vendor, "%04x", (unsigned)port->vendor);
    snprintf(product, sizeof product, "%04x", (unsigned)port->product);
    return tu_json_add_text(usb, "vendor", vendor) && tu_json_add_text(usb, "product", product) &&
           (!*port->serial || tu_json_add_text(usb, "serial", port->serial));
}

static bool add_port(cJSON *list, const tu_port_listing *port)
{
    cJSON *item = tu_json_append(list, cJSON_CreateObject());
    return tu_json_add_text(item, "name", port->name) &&
           (!*port->description || tu_json_add_text(item, "description", port->description)) &&
           add_usb(item, port) && tu_json_add_bool(item, "can_open", port->can_open) &&
           (port->can_open || tu_json_add_text(item, "why_not", port->why_not));
}

tu_status tu_report_ports_json(FILE *out, const tu_port_listing *ports, size_t count,
                               tu_error *error)
{
    cJSON *root = cJSON_CreateObject();
    bool ok = tu_json_add_number(root, "schema", 1);
    cJSON *list = tu_json_add(root, "ports", cJSON_CreateArray());
    ok = ok && list != NULL;
    for (size_t i = 0; ok && i < count; i++)
        ok = add_port(list, &ports[i]);
    return tu_json_write(out, root, ok, error);
}
