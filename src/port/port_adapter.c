/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_adapter.c - which adapter is behind a port, and which ports belong to one.
 */
#include "port/port_adapter.h"

#include "base/utf8.h"

#include <dirent.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const char tty_folder[] = "/sys/class/tty";

void tu_port_text_copy(char *out, size_t size, const char *text)
{
    size_t length = text ? strlen(text) : 0;
    if (length >= size)
        length = size - 1;
    if (length)
        memcpy(out, text, length);
    out[length] = '\0';
    tu_utf8_tidy(out);
}

/*
 * Where the tty's link in /sys leads, as in
 *   ../../devices/pci0000:00/0000:00:14.0/usb1/1-2/1-2:1.0/ttyUSB0/tty/ttyUSB0
 * up to and with the interface ("1-2:1.0"): what comes behind it changes with the name.
 */
static void read_socket(const char *device, char *socket, size_t size)
{
    char link[sizeof tty_folder + 256];
    *socket = '\0';
    snprintf(link, sizeof link, "%s/%s", tty_folder, device);
    ssize_t length = readlink(link, socket, size - 1);
    socket[length > 0 ? length : 0] = '\0';
    char *interface = strrchr(socket, ':');
    char *end = interface ? strchr(interface, '/') : NULL;
    if (end && strstr(socket, "/usb"))
        *end = '\0';
    else
        *socket = '\0';
}

static const char *interface_of(const tu_port_adapter *adapter)
{
    const char *colon = strrchr(adapter->socket, ':');
    return colon ? colon : "";
}

void tu_port_adapter_read(const struct sp_port *port, const char *name, tu_port_adapter *adapter)
{
    *adapter = (tu_port_adapter){.vendor = -1, .product = -1};
    /* For a moment after the plug was pulled a port is still listed, with nothing known of it. */
    if (sp_get_port_usb_vid_pid(port, &adapter->vendor, &adapter->product) != SP_OK) {
        *adapter = (tu_port_adapter){.vendor = -1, .product = -1};
        return;
    }
    adapter->usb = true;
    tu_port_text_copy(adapter->serial, sizeof adapter->serial, sp_get_port_usb_serial(port));
    read_socket(strrchr(name, '/') + 1, adapter->socket, sizeof adapter->socket);
}

bool tu_port_adapter_same_socket(const tu_port_adapter *a, const tu_port_adapter *b)
{
    return *a->socket && strcmp(a->socket, b->socket) == 0;
}

bool tu_port_adapter_alike(const tu_port_adapter *a, const tu_port_adapter *b)
{
    return a->usb && b->usb && a->vendor == b->vendor && a->product == b->product &&
           strcmp(a->serial, b->serial) == 0 && strcmp(interface_of(a), interface_of(b)) == 0;
}

/* libserialport's own list also opens the ports of the main board to see whether they exist, which
 * is too much for a look that is repeated many times a second. */
static bool visit_entry(const char *device, tu_port_adapter_visit *visit, void *context)
{
    char name[6 + 256], socket[512];
    if (device[0] == '.')
        return false;
    read_socket(device, socket, sizeof socket);
    if (!*socket)
        return false;
    snprintf(name, sizeof name, "/dev/%s", device);
    struct sp_port *port = NULL;
    if (sp_get_port_by_name(name, &port) != SP_OK)
        return false;
    tu_port_adapter adapter;
    tu_port_adapter_read(port, name, &adapter);
    sp_free_port(port);
    return adapter.usb && visit(context, name, &adapter);
}

void tu_port_adapter_each(tu_port_adapter_visit *visit, void *context)
{
    DIR *folder = opendir(tty_folder);
    if (!folder)
        return;
    for (const struct dirent *entry; (entry = readdir(folder));)
        if (visit_entry(entry->d_name, visit, context))
            break;
    closedir(folder);
}
