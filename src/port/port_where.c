/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_where.c - what the user writes to name a port, and how its line is set.
 */
#include "port/port_where.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { USB_ID_DIGITS = 4 };

/* Four hex digits; the character behind them is the caller's business. */
static bool read_usb_id(const char *text, int *id)
{
    int value = 0;
    for (int i = 0; i < USB_ID_DIGITS; i++) {
        static const char digits[] = "0123456789abcdef0123456789ABCDEF";
        const char *digit = text[i] ? strchr(digits, text[i]) : NULL;
        if (!digit)
            return false;
        value = value * 16 + (int)((digit - digits) % 16);
    }
    *id = value;
    return true;
}

static tu_status parse_usb(const char *text, tu_port_where *where, tu_error *error)
{
    const char *second = text + USB_ID_DIGITS + 1;
    const char *serial = second + USB_ID_DIGITS;
    bool good = read_usb_id(text, &where->vendor) && text[USB_ID_DIGITS] == ':' &&
                read_usb_id(second, &where->product) && (*serial == '\0' || *serial == ':');
    if (!good)
        return tu_fail(error, TU_USAGE, text,
                       "USB ids are four hex digits each, VVVV:PPPP or VVVV:PPPP:SERIAL; \"trueup "
                       "ports\" shows them");
    if (*serial == ':' && serial[1] == '\0')
        return tu_fail(error, TU_USAGE, text,
                       "the serial number behind the second \":\" is missing; leave out the \":\" "
                       "for any");
    where->kind = TU_PORT_WHERE_USB;
    if (*serial == ':')
        memcpy(where->serial, serial + 1, strlen(serial + 1) + 1);
    return TU_OK;
}

tu_status tu_port_where_parse(const char *text, tu_port_where *where, tu_error *error)
{
    *where = (tu_port_where){.vendor = -1, .product = -1};
    if (!text || !*text)
        return tu_fail(error, TU_USAGE, NULL,
                       "no port is named; \"trueup ports\" lists those that are there");
    if (strcmp(text, "-") == 0) {
        where->kind = TU_PORT_WHERE_STDIN;
        return TU_OK;
    }
    static const char folder[] = "/dev/";
    if (strlen(text) + sizeof folder > sizeof where->name)
        return tu_fail(error, TU_USAGE, text, "too long for the name of a port");
    if (!strchr(text, '/') && strchr(text, ':'))
        return parse_usb(text, where, error);
    where->kind = TU_PORT_WHERE_NAME;
    snprintf(where->name, sizeof where->name, "%s%s", strchr(text, '/') ? "" : folder, text);
    return TU_OK;
}

tu_status tu_port_where_resolve(const char *path, char name[TU_PORT_TEXT_SIZE], tu_error *error)
{
    char *resolved = realpath(path, NULL);
    if (!resolved && errno == ENOMEM)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    if (!resolved && (errno == ENOENT || errno == ENOTDIR))
        return tu_fail(error, TU_SYSTEM_IO, path,
                       "there is no such port: is it plugged in? \"trueup ports\" lists those that "
                       "are there");
    if (!resolved)
        return tu_fail(error, TU_SYSTEM_IO, path, "%s", strerror(errno));
    bool fits = strlen(resolved) < TU_PORT_TEXT_SIZE;
    if (fits)
        memcpy(name, resolved, strlen(resolved) + 1);
    free(resolved);
    return fits ? TU_OK : tu_fail(error, TU_SYSTEM_IO, path, "leads to a path that is too long");
}

tu_status tu_port_line_parse(int baud, const char *frame, tu_port_line *line, tu_error *error)
{
    if (baud < 0)
        return tu_fail(error, TU_USAGE, NULL, "%d is no baud rate; 115200 is the usual one", baud);
    const char *text = frame ? frame : "8N1";
    bool good = strlen(text) == 3 && strchr("5678", text[0]) && strchr("NEOneo", text[1]) &&
                strchr("12", text[2]);
    if (!good)
        return tu_fail(error, TU_USAGE, text,
                       "a frame is data bits 5 to 8, parity N, E or O, and stop bits 1 or 2, as in "
                       "8N1");
    line->baud = baud ? baud : 115200;
    line->data_bits = text[0] - '0';
    line->parity = (char)(text[1] & ~0x20);
    line->stop_bits = text[2] - '0';
    return TU_OK;
}
