/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port.c - opening, reading and closing a source of bytes.
 */
#include "trueup/port.h"

#include "port/port_handle.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The port with the ids that were asked for. */
typedef struct usb_search {
    const tu_port_where *where;
    size_t found;
    char name[TU_PORT_TEXT_SIZE];
    char names[TU_ERROR_MESSAGE_SIZE / 2]; /* all of them, for the message */
} usb_search;

static bool visit_usb(void *context, const char *name, const tu_port_adapter *adapter)
{
    usb_search *search = context;
    const tu_port_where *where = search->where;
    if (adapter->vendor != where->vendor || adapter->product != where->product ||
        (*where->serial && strcmp(adapter->serial, where->serial) != 0))
        return false;
    tu_port_text_copy(search->name, sizeof search->name, name);
    size_t length = strlen(search->names);
    snprintf(search->names + length, sizeof search->names - length, "%s%s%s%s%s",
             search->found++ ? ", " : "", name, *adapter->serial ? " (serial " : "",
             adapter->serial, *adapter->serial ? ")" : "");
    return false;
}

static tu_status find_usb(const tu_port_where *where, const char *text, char *name, tu_error *error)
{
    usb_search search = {.where = where};
    tu_port_adapter_each(visit_usb, &search);
    if (search.found == 0)
        return tu_fail(error, TU_SYSTEM_IO, text,
                       "no port with these USB ids%s: is it plugged in? \"trueup ports\" lists "
                       "those that are there",
                       *where->serial ? " and this serial number" : "");
    if (search.found > 1)
        return tu_fail(error, TU_USAGE, text,
                       "these USB ids fit more than one port: %s; add the serial number, or name "
                       "the port",
                       search.names);
    memcpy(name, search.name, sizeof search.name);
    return TU_OK;
}

static tu_status open_stdin(tu_port *port, tu_error *error)
{
    port->is_stdin = true;
    port->descriptor = STDIN_FILENO;
    snprintf(port->description, sizeof port->description, "standard input");
    int flags = fcntl(STDIN_FILENO, F_GETFL);
    if (flags < 0 || (flags & O_ACCMODE) == O_WRONLY) /* the latter: held by the program's start */
        return tu_fail(error, TU_SYSTEM_IO, "standard input", "is closed");
    return TU_OK;
}

tu_status tu_port_open(const tu_port_request *request, tu_port **port, tu_error *error)
{
    *port = NULL;
    tu_port_where where;
    char name[TU_PORT_TEXT_SIZE];
    tu_port *new = calloc(1, sizeof *new);
    if (!new)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    new->descriptor = new->lock = -1;
    tu_status status = tu_port_where_parse(request->where, &where, error);
    if (!status)
        status = tu_port_line_parse(request->baud, request->frame, &new->line, error);
    if (status)
        goto cleanup;
    if (where.kind == TU_PORT_WHERE_STDIN) {
        status = open_stdin(new, error);
        goto cleanup;
    }
    status = where.kind == TU_PORT_WHERE_USB ? find_usb(&where, request->where, name, error)
                                             : tu_port_where_resolve(where.name, name, error);
    if (!status)
        status = tu_port_handle_open(new, name, error);
cleanup:
    if (status)
        tu_port_close(new);
    else
        *port = new;
    return status;
}

void tu_port_close(tu_port *port)
{
    if (!port)
        return;
    tu_port_handle_close(port);
    free(port);
}

const char *tu_port_description(const tu_port *port)
{
    return port->description;
}

/* What poll said of standard input. *again: nothing after all. */
static tu_status take_stdin(char *bytes, size_t size, short events, size_t *got,
                            tu_port_state *state, bool *again, tu_error *error)
{
    ssize_t count = read(STDIN_FILENO, bytes, size);
    if (count > 0) {
        *got = (size_t)count;
        *state = TU_PORT_BYTES;
        return TU_OK;
    }
    /* A terminal whose other side has gone gives EIO where a pipe gives an end. */
    if (count == 0 || (errno == EIO && (events & POLLHUP))) {
        *state = TU_PORT_END;
        return TU_OK;
    }
    *again = errno == EAGAIN || errno == EINTR;
    if (*again)
        return TU_OK;
    return tu_fail(error, TU_SYSTEM_IO, "standard input", "can't be read: %s", strerror(errno));
}

/*
 * What poll said of the port. A port that is gone reads as 0 bytes, which also a port that has
 * nothing to say does: only asking how much is waiting tells them apart.
 */
static void take_serial(tu_port *port, char *bytes, size_t size, short events, size_t *got,
                        tu_port_state *state, bool *again)
{
    bool gone = sp_input_waiting(port->serial) < 0;
    int count = gone ? 0 : (int)sp_nonblocking_read(port->serial, bytes, size);
    if (count > 0) {
        *got = (size_t)count;
        *state = TU_PORT_BYTES;
        return;
    }
    *again = !gone && count == 0 && !(events & (POLLHUP | POLLERR | POLLNVAL));
    if (!*again) {
        *state = TU_PORT_GONE;
        tu_port_handle_lose(port);
    }
}

/* A driver that says "readable" and has nothing must not cost a whole core. */
static void pause_shortly(int wake_fd)
{
    struct pollfd wake = {.fd = wake_fd, .events = POLLIN};
    poll(&wake, 1, 1);
}

tu_status tu_port_read(tu_port *port, char *bytes, size_t size, int timeout_ms, int wake_fd,
                       size_t *got, tu_port_state *state, tu_error *error)
{
    *got = 0;
    *state = TU_PORT_GONE;
    if (!port->is_stdin && !port->serial)
        return TU_OK;
    int64_t deadline = tu_port_deadline_ms(timeout_ms);
    for (;;) {
        struct pollfd on[2] = {{.fd = port->descriptor, .events = POLLIN},
                               {.fd = wake_fd, .events = POLLIN}};
        int ready = poll(on, 2, tu_port_left_ms(deadline));
        if (ready < 0 && errno != EINTR)
            return tu_fail(error, TU_SYSTEM_IO, port->description, "can't be waited for: %s",
                           strerror(errno));
        if (ready < 0)
            continue;
        *state = on[1].revents ? TU_PORT_INTERRUPTED : TU_PORT_QUIET;
        if (on[1].revents || ready == 0)
            return TU_OK;
        bool again = false;
        tu_status status = TU_OK;
        if (port->is_stdin)
            status = take_stdin(bytes, size, on[0].revents, got, state, &again, error);
        else
            take_serial(port, bytes, size, on[0].revents, got, state, &again);
        if (!again)
            return status;
        pause_shortly(wake_fd);
    }
}
