/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_ports.c - `trueup ports`: which serial ports there are, and why one can't be opened.
 */
#include "cli/command.h"
#include "cli/output.h"
#include "report/report_ports.h"
#include "trueup/port.h"

#include <stdlib.h>
#include <string.h>

typedef struct ports_request {
    tu_command_line common;
    bool json;
} ports_request;

/* The ports, kept until all is known. */
typedef struct port_array {
    tu_port_listing *ports;
    size_t count;
    bool no_memory;
} port_array;

static void keep_port(void *context, const tu_port_listing *listing)
{
    port_array *array = context;
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

static void write_ports(FILE *out, const port_array *array)
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

static tu_status answer(const port_array *array, bool json, tu_error *error)
{
    tu_sheet sheet;
    tu_status status = tu_sheet_open(&sheet, error);
    if (status)
        return status;
    if (json)
        status = tu_report_ports_json(sheet.stream, array->ports, array->count, error);
    else
        write_ports(sheet.stream, array);
    if (!status)
        status = tu_sheet_finish(&sheet, error);
    if (!status)
        status = tu_output_write(sheet.text, sheet.length, error);
    tu_sheet_destroy(&sheet);
    return status;
}

static tu_status run_ports(const tu_command *command, int argc, char **argv, tu_error *error)
{
    ports_request request = {0};
    port_array array = {0};
    bool help = false;
    tu_status status = tu_command_parse(command, argc, argv, &request, &help, error);
    if (status || help)
        return status;
    status = tu_port_list(keep_port, &array, error);
    if (!status && array.no_memory)
        status = tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    if (!status)
        status = answer(&array, request.json, error);
    free(array.ports);
    return status;
}

static const tu_option options[] = {
    {.name = "json",
     .help = "write the list as JSON",
     .take = tu_option_take_flag,
     TU_AT(ports_request, json)},
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
    .run = run_ports,
};
