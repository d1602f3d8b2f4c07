/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_handle.c - opening a device for this program alone, and setting its line.
 */
#include "port/port_handle.h"

#include "port/port_refusal.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/ioctl.h>
#include <time.h>
#include <unistd.h>

int64_t tu_port_now_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

int64_t tu_port_deadline_ms(int timeout_ms)
{
    return timeout_ms < 0 ? -1 : tu_port_now_ms() + timeout_ms;
}

int tu_port_left_ms(int64_t deadline_ms)
{
    if (deadline_ms < 0)
        return -1;
    int64_t left = deadline_ms - tu_port_now_ms();
    return left < 0 ? 0 : left > INT_MAX ? INT_MAX : (int)left;
}

static tu_status refuse(const char *name, int error_number, tu_error *error)
{
    char why[TU_ERROR_MESSAGE_SIZE];
    tu_port_refusal_explain(name, error_number, why, sizeof why);
    return tu_fail(error, TU_SYSTEM_IO, name, "%s", why);
}

/*
 * A descriptor of our own comes first, since it tells why (libserialport opens a port twice without
 * a word), and since the line of a port that another program uses must not be touched. The lock
 * stops a second logger, also one of root's; TIOCEXCL, later, any other program but root's.
 */
static tu_status take_lock(tu_port *port, const char *name, tu_error *error)
{
    port->lock = open(name, O_RDWR | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    if (port->lock < 0)
        return refuse(name, errno, error);
    if (flock(port->lock, LOCK_EX | LOCK_NB) != 0)
        return refuse(name, errno, error);
    char why[TU_ERROR_MESSAGE_SIZE];
    if (tu_port_refusal_in_use(name, why, sizeof why))
        return tu_fail(error, TU_SYSTEM_IO, name, "%s", why);
    return TU_OK;
}

static tu_status find_serial(tu_port *port, const char *name, tu_error *error)
{
    enum sp_return result = sp_get_port_by_name(name, &port->serial);
    if (result == SP_OK)
        return TU_OK;
    port->serial = NULL;
    if (result == SP_ERR_MEM)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    return tu_fail(
        error, TU_SYSTEM_IO, name,
        "is no serial port that the system lists (\"trueup ports\" does); a pipe, a file "
        "or a terminal is read as standard input: {port} - < %s",
        name);
}

/* Adapters divide a clock down to the rate; 3 % off, and the last bit of a byte is at risk. */
static tu_status check_baud(const tu_port *port, const char *name, tu_error *error)
{
    struct sp_port_config *config = NULL;
    int baud = -1;
    if (sp_new_config(&config) != SP_OK)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    if (sp_get_config(port->serial, config) != SP_OK ||
        sp_get_config_baudrate(config, &baud) != SP_OK)
        baud = -1;
    sp_free_config(config);
    double off = baud > 0 ? (double)baud / port->line.baud - 1 : 0;
    if (off > 0.03 || off < -0.03)
        return tu_fail(error, TU_SYSTEM_IO, name, "the adapter can't do %d baud; it offers %d",
                       port->line.baud, baud);
    return TU_OK;
}

static tu_status set_line(const tu_port *port, const char *name, tu_error *error)
{
    const tu_port_line *line = &port->line;
    enum sp_parity parity = line->parity == 'N'   ? SP_PARITY_NONE
                            : line->parity == 'E' ? SP_PARITY_EVEN
                                                  : SP_PARITY_ODD;
    if (sp_set_bits(port->serial, line->data_bits) != SP_OK ||
        sp_set_parity(port->serial, parity) != SP_OK ||
        sp_set_stopbits(port->serial, line->stop_bits) != SP_OK ||
        sp_set_flowcontrol(port->serial, SP_FLOWCONTROL_NONE) != SP_OK ||
        sp_set_baudrate(port->serial, line->baud) != SP_OK)
        return tu_fail(error, TU_SYSTEM_IO, name, "the adapter refuses %d baud, %d%c%d", line->baud,
                       line->data_bits, line->parity, line->stop_bits);
    return check_baud(port, name, error);
}

static void describe(tu_port *port)
{
    const char *slash = strrchr(port->name, '/');
    const char *name = slash ? slash + 1 : port->name;
    const tu_port_adapter *adapter = &port->adapter;
    if (adapter->usb)
        snprintf(port->description, sizeof port->description, "%s, USB %04x:%04x%s%s", name,
                 (unsigned)adapter->vendor, (unsigned)adapter->product,
                 *adapter->serial ? " serial " : "", adapter->serial);
    else
        snprintf(port->description, sizeof port->description, "%s", name);
}

static tu_status open_serial(tu_port *port, const char *name, tu_error *error)
{
    if (sp_open(port->serial, SP_MODE_READ_WRITE) != SP_OK) {
        int reason = sp_last_error_code();
        sp_free_port(port->serial);
        port->serial = NULL;
        return refuse(name, reason, error);
    }
    tu_status status = set_line(port, name, error);
    if (status)
        return status;
    if (sp_get_port_handle(port->serial, &port->descriptor) != SP_OK)
        return tu_fail(error, TU_SYSTEM_IO, name, "the port has no descriptor to wait on");
    ioctl(port->descriptor, TIOCEXCL); /* a driver that can't: the lock still holds */
    return TU_OK;
}

tu_status tu_port_handle_open(tu_port *port, const char *name, tu_error *error)
{
    tu_status status = find_serial(port, name, error);
    if (!status)
        status = take_lock(port, name, error);
    if (!status)
        status = open_serial(port, name, error);
    if (status) {
        tu_port_handle_close(port);
        return status;
    }
    tu_port_adapter_read(port->serial, name, &port->adapter);
    memmove(port->name, name, strlen(name) + 1);
    describe(port);
    port->waiting = false;
    return TU_OK;
}

void tu_port_handle_close(tu_port *port)
{
    if (port->serial && port->descriptor >= 0)
        ioctl(port->descriptor, TIOCNXCL);
    if (port->serial && sp_get_port_handle(port->serial, &port->descriptor) == SP_OK)
        sp_close(port->serial);
    if (port->serial)
        sp_free_port(port->serial);
    if (port->lock >= 0)
        close(port->lock);
    port->serial = NULL;
    port->lock = -1;
    port->descriptor = -1;
}
