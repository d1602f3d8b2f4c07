/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command.c - the frame around each command: an answer and the files that go with it stand or fall
 * together, and warnings come after both.
 */
#include "cli/command.h"

#include "base/sheet.h"
#include "cli/face.h"
#include "cli/output.h"

#include <stdlib.h>

void tu_command_write_help(FILE *out, const tu_command *command)
{
    char usage[80];
    tu_options_format_usage(usage, sizeof usage, command->syntax);
    fprintf(out, "Usage: trueup %s %s\n\n", command->name, usage);
    tu_options_write_wrapped(out, command->about, 0, 0);
    fprintf(out, "\nExample:\n%s\nOptions:\n", command->example);
    tu_options_write_help(out, command->syntax);
}

/* The answer is written whole in memory before a file is touched; it is shown once all files are
 * there. */
static tu_status write_all(const tu_command *command, const void *run, tu_error *error)
{
    tu_output_file file[TU_OUTPUT_FILES] = {{NULL, NULL}};
    tu_atomic_file *made[TU_OUTPUT_FILES] = {NULL};
    tu_sheet sheet;
    tu_status status = tu_sheet_open(&sheet, error);
    if (status)
        return status;
    status = command->answer(sheet.stream, run, error);
    if (!status)
        status = tu_sheet_finish(&sheet, error);
    if (command->files)
        command->files(run, file);
    for (int i = 0; !status && i < TU_OUTPUT_FILES; i++)
        if (file[i].path)
            status = tu_atomic_make(file[i].path, file[i].write, run, &made[i], error);
    if (!status)
        status = tu_output_write(sheet.text, sheet.length, error);
    for (int i = TU_OUTPUT_FILES; i-- > 0;)
        (status ? tu_atomic_undo : tu_atomic_keep)(made[i]);
    tu_sheet_destroy(&sheet);
    return status;
}

static tu_status tell(const tu_command *command, void *run, tu_error *error)
{
    tu_warnings *warnings = command->warnings ? command->warnings(run) : NULL;
    tu_error writing = {0};
    if (warnings)
        tu_face_say_warnings(&tu_cli_face, warnings);
    tu_status status = command->answer ? write_all(command, run, &writing) : TU_OK;
    if (status)
        return tu_fail(error, status, writing.where, "%s%s", writing.message,
                       command->kept ? command->kept(run) : "");
    if (command->verdict)
        status = command->verdict(run, error);
    if (warnings)
        tu_output_write_warnings(warnings);
    return status;
}

tu_status tu_command_run(const tu_command *command, int argc, char **argv, tu_error *error)
{
    bool help = false;
    void *run = calloc(1, command->size);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    if (command->start)
        command->start(run);
    tu_status status = tu_options_parse(command->syntax, argc, argv, run, &help, error);
    if (!status && help)
        tu_command_write_help(stdout, command);
    if (!status && !help)
        status = command->work(run, error);
    if (!status && !help)
        status = tell(command, run, error);
    if (command->end)
        command->end(run);
    free(run);
    return status;
}
