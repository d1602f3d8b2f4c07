/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_ports.c - the list of serial ports.
 */
#include "report/report_ports.h"

#include "report/json.h"

size_t tu_report_port_ids(char *text, size_t size, const tu_port_listing *port)
{
    *text = '\0';
    if (port->vendor < 0 || port->product < 0)
        return 0;
    int length = snprintf(text, size, "%04x:%04x%s%s", (unsigned)port->vendor,
                          (unsigned)port->product, *port->serial ? ":" : "", port->serial);
    return length < 0 ? 0 : (size_t)length;
}

static void put_usb(tu_json *json, const tu_port_listing *port)
{
    char vendor[16], product[16];
    if (port->vendor < 0 || port->product < 0)
        return;
    snprintf(vendor, sizeof vendor, "%04x", (unsigned)port->vendor);
    snprintf(product, sizeof product, "%04x", (unsigned)port->product);
    tu_json_object(json, "usb");
    tu_json_text(json, "vendor", vendor);
    tu_json_text(json, "product", product);
    tu_json_text_if_any(json, "serial", port->serial);
    tu_json_end(json);
}

tu_status tu_report_ports_json(FILE *out, const tu_port_listing *ports, size_t count,
                               tu_error *error)
{
    tu_json json = tu_json_begin(out);
    TU_JSON_NUMBERS(&json, {"schema", 1});
    tu_json_array(&json, "ports");
    for (size_t i = 0; i < count; i++) {
        tu_json_object(&json, NULL);
        tu_json_text(&json, "name", ports[i].name);
        tu_json_text_if_any(&json, "description", ports[i].description);
        put_usb(&json, &ports[i]);
        tu_json_bool(&json, "can_open", ports[i].can_open);
        if (!ports[i].can_open)
            tu_json_text(&json, "why_not", ports[i].why_not);
        tu_json_end(&json);
    }
    tu_json_end(&json);
    return tu_json_finish(&json, error);
}
