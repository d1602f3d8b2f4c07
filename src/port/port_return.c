/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_return.c - waiting for an adapter that was unplugged.
 *
 * The old descriptors are closed first: with one open, Linux gives the adapter another name.
 */
#include "port/port_handle.h"

#include <errno.h>
#include <poll.h>
#include <string.h>

enum { LOOK_EVERY_MS = 50 };

static bool is_other(const tu_port_others *others, const tu_port_adapter *adapter)
{
    for (size_t i = 0; i < others->count; i++)
        if (strcmp(others->socket[i], adapter->socket) == 0)
            return true;
    return others->overflow;
}

static bool visit_other(void *context, const char *name, const tu_port_adapter *adapter)
{
    (void)name;
    tu_port *port = context;
    tu_port_others *others = &port->others;
    if (!tu_port_adapter_alike(adapter, &port->adapter) ||
        tu_port_adapter_same_socket(adapter, &port->adapter))
        return false;
    others->overflow = others->count == TU_PORT_OTHERS_MAX;
    if (others->overflow)
        return true;
    memcpy(others->socket[others->count++], adapter->socket, sizeof adapter->socket);
    return false;
}

/* Cheap adapters share one serial number or have none. One that hung there all the while, for
 * another machine perhaps, must not be taken for the one that comes back. */
void tu_port_handle_lose(tu_port *port)
{
    if (port->waiting)
        return;
    tu_port_handle_close(port);
    port->others = (tu_port_others){0};
    port->waiting = true;
    if (port->adapter.usb)
        tu_port_adapter_each(visit_other, port);
}

typedef struct return_search {
    const tu_port *port;
    bool same_socket;
    size_t found;
    char name[TU_PORT_TEXT_SIZE];
} return_search;

static bool visit_return(void *context, const char *name, const tu_port_adapter *adapter)
{
    return_search *search = context;
    if (!tu_port_adapter_alike(adapter, &search->port->adapter))
        return false;
    search->same_socket = tu_port_adapter_same_socket(adapter, &search->port->adapter);
    if (!search->same_socket && is_other(&search->port->others, adapter))
        return false;
    search->found++;
    tu_port_text_copy(search->name, sizeof search->name, name);
    return search->same_socket;
}

/* Where the adapter is now. */
static tu_status find_again(const tu_port *port, char name[TU_PORT_TEXT_SIZE], tu_error *refusal)
{
    return_search search = {.port = port};
    if (port->adapter.usb) {
        tu_port_adapter_each(visit_return, &search);
    } else {
        memcpy(search.name, port->name, sizeof search.name);
        struct sp_port *there = NULL;
        search.found = sp_get_port_by_name(port->name, &there) == SP_OK;
        if (search.found)
            sp_free_port(there);
    }
    memcpy(name, search.name, sizeof search.name);
    if (search.same_socket || search.found == 1)
        return TU_OK;
    if (search.found == 0)
        return TU_SYSTEM_IO;
    return tu_fail(refusal, TU_SYSTEM_IO, port->description,
                   "more than one such adapter was put in, none where it was: leave only one, or "
                   "use the old socket");
}

/* One look. A port that was just made has no rights yet, and the dead one may still be listed: a
 * refusal is no reason to give up, only to be told when time is up. */
static bool try_again(tu_port *port, tu_error *refusal)
{
    char name[TU_PORT_TEXT_SIZE];
    *refusal = (tu_error){0};
    return !find_again(port, name, refusal) && !tu_port_handle_open(port, name, refusal);
}

tu_status tu_port_wait_return(tu_port *port, int timeout_ms, int wake_fd, tu_port_state *state,
                              tu_error *error)
{
    *state = TU_PORT_END;
    if (port->is_stdin)
        return TU_OK;
    tu_port_handle_lose(port);
    int64_t deadline = tu_port_deadline_ms(timeout_ms);
    tu_error refusal;
    for (;;) {
        *state = TU_PORT_BACK;
        if (try_again(port, &refusal))
            return TU_OK;
        int left = tu_port_left_ms(deadline);
        struct pollfd wake = {.fd = wake_fd, .events = POLLIN};
        int ready = poll(&wake, 1, left < 0 || left > LOOK_EVERY_MS ? LOOK_EVERY_MS : left);
        if (ready < 0 && errno != EINTR)
            return tu_fail(error, TU_SYSTEM_IO, port->description, "can't be waited for: %s",
                           strerror(errno));
        *state = ready > 0 ? TU_PORT_INTERRUPTED : TU_PORT_QUIET;
        if (ready > 0 || tu_port_left_ms(deadline) == 0) {
            if (error)
                *error = refusal;
            return TU_OK;
        }
    }
}
