/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_ports.c - `trueup ports`: which serial ports there are, and why one can't be opened.
 */
#include "cli/command.h"
#include "report/report_ports.h"
#include "trueup/port.h"

#include <stdlib.h>
#include <string.h>

/* The ports, kept until all is known. */
typedef struct ports_run {
    tu_command_line common;
    bool json;
    tu_port_listing *ports;
    size_t count;
    bool no_memory;
} ports_run;

static void keep_port(void *context, const tu_port_listing *listing)
{
    ports_run *array = context;
    tu_port_listing *grown =
        realloc(array->ports, (array->count + 1) * sizeof *array->ports); /* a handful at most */
    if (!grown) {
        array->no_memory = true;
        return;
    }
    array->ports = grown;
    array->ports[array->count++] = *listing;
}

static const char none_found[] =
    "No serial port was found. Check:\n"
    "  [ ] The USB cable is in at both ends, and is one that carries data:\n"
    "      some only charge.\n"
    "  [ ] The board or the adapter has power.\n"
    "  [ ] What the system says when you plug it in: sudo dmesg --follow\n"
    "  [ ] In a virtual machine or a container: the port has to be passed through.\n"
    "Lines may also come through a pipe, with --port -\n";

static void write_port(FILE *out, const tu_port_listing *port, int name_width, int text_width)
{
    char ids[2 * TU_PORT_TEXT_SIZE];
    tu_report_port_ids(ids, sizeof ids, port);
    fprintf(out, "%-*s  %-*s%s%s\n", name_width, port->name, *ids ? text_width : 0,
            port->description, *ids ? "  " : "", ids);
    if (port->can_open)
        return;
    static const char lead[] = "  can't be opened: ";
    fputs(lead, out);
    tu_options_write_wrapped(out, port->why_not, 4, (int)sizeof lead - 1);
}

static void write_ports(FILE *out, const ports_run *array)
{
    int name_width = 0, text_width = 0;
    for (size_t i = 0; i < array->count; i++) {
        int name = (int)strlen(array->ports[i].name);
        int text = (int)strlen(array->ports[i].description);
        name_width = name > name_width ? name : name_width;
        text_width = text > text_width ? text : text_width;
    }
    for (size_t i = 0; i < array->count; i++)
        write_port(out, &array->ports[i], name_width, text_width);
    if (array->count == 0)
        fputs(none_found, out);
}

static tu_status work(void *of, tu_error *error)
{
    ports_run *run = of;
    tu_status status = tu_port_list(keep_port, run, error);
    if (!status && run->no_memory)
        status = tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    return status;
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const ports_run *run = of;
    if (run->json)
        return tu_report_ports_json(out, run->ports, run->count, error);
    write_ports(out, run);
    return TU_OK;
}

static void end(void *of)
{
    ports_run *run = of;
    free(run->ports);
}

static const tu_option options[] = {
    {.name = "json",
     .help = "write the list as JSON",
     .take = tu_option_take_flag,
     TU_AT(ports_run, json)},
};
static const tu_syntax syntax = {.options = options, .count = sizeof options / sizeof *options};

const tu_command tu_command_ports = {
    .name = "ports",
    .summary = "lists serial ports",
    .about =
        "Lists the serial ports of this computer: name, description, and the USB ids in the "
        "form that --port takes. Says of a port that can't be opened why, and what to do: which "
        "group to join, which process has it. No USB port is opened for it, since opening "
        "resets many boards.\n\n"
        "A name such as /dev/ttyUSB0 may be another after the next plugging in; USB ids with "
        "the serial number stay with the adapter.",
    .example = "  trueup ports\n",
    .syntax = &syntax,
    .size = sizeof(ports_run),
    .work = work,
    .answer = write_answer,
    .end = end,
};
