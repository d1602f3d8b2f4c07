/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * main.c - the program: finds the command, runs it, reports its failure, checks its output.
 */
#include "cli/command.h"
#include "cli/face.h"
#include "cli/output.h"
#include "trueup/text.h"
#include "trueup/version.h"

#include <errno.h>
#include <fcntl.h>
#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const tu_command *const commands[] = {
    &tu_command_zero,   &tu_command_plate, &tu_command_plan, &tu_command_rehearse,
    &tu_command_bed,    &tu_command_ports, &tu_command_log,  &tu_command_template,
    &tu_command_trials, &tu_command_shop,
};
enum { COMMAND_COUNT = sizeof commands / sizeof *commands };

static void write_program_help(FILE *out)
{
    fputs("Usage: trueup COMMAND [options]\n\n"
          "Works out where the work is from touches of a cutter on a touch plate: the work\n"
          "offset, how well it is known, and a drawing to hold against the table.\n\n"
          "Commands:\n",
          out);
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        fprintf(out, "  %-10s %s\n", commands[i]->name, commands[i]->summary);
    fputs("\n\"trueup help COMMAND\" or \"trueup COMMAND --help\" explains a command with an\n"
          "example; \"trueup --version\" prints the version.\n\n"
          "Exit status: 0 done, 1 a stated limit is exceeded, 2 usage, 3 bad data,\n"
          "4 device or system, 5 no solution.\n",
          out);
}

static tu_status fail_unknown_command(const char *word, tu_error *error)
{
    const char *names[COMMAND_COUNT + 3] = {"--help", "--version", "help"};
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        names[i + 3] = commands[i]->name;
    const char *nearest =
        strcmp(word, "-h") == 0 ? names[0] : tu_text_nearest(word, names, COMMAND_COUNT + 3);
    if (nearest && *word == '-')
        return tu_fail(error, TU_USAGE, word, "unknown option; did you mean %s?", nearest);
    if (nearest)
        return tu_fail(error, TU_USAGE, word, "unknown command; did you mean %s?", nearest);
    if (*word == '-')
        return tu_fail(error, TU_USAGE, word, "unknown option; the command comes first");
    return tu_fail(error, TU_USAGE, word, "unknown command");
}

static const tu_command *find_command(const char *name)
{
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        if (strcmp(commands[i]->name, name) == 0)
            return commands[i];
    return NULL;
}

/* "help", "--help" or "--version", and the command to explain behind the first two. */
static tu_status answer_about_itself(int argc, char **argv, tu_error *error)
{
    bool version = strcmp(argv[1], "--version") == 0;
    const tu_command *command = argc > 2 && !version ? find_command(argv[2]) : NULL;
    if (argc > 2 && !version && !command)
        return fail_unknown_command(argv[2], error);
    if (argc > (command ? 3 : 2))
        return tu_fail(error, TU_USAGE, argv[command ? 3 : 2], "one word too many after %s",
                       argv[command ? 2 : 1]);
    if (version)
        fputs("trueup " TRUEUP_VERSION "\n", stdout);
    else if (command)
        tu_command_write_help(stdout, command);
    else
        write_program_help(stdout);
    return TU_OK;
}

/* Runs what argv asks for. *command is the command, where one was found. */
static tu_status dispatch(int argc, char **argv, const tu_command **command, tu_error *error)
{
    static const char *const itself[] = {"help", "--help", "--version"};
    *command = NULL;
    if (argc < 2 || !*argv[1])
        return tu_fail(error, TU_USAGE, NULL, "a command is missing");
    for (size_t i = 0; i < sizeof itself / sizeof *itself; i++)
        if (strcmp(argv[1], itself[i]) == 0)
            return answer_about_itself(argc, argv, error);
    *command = find_command(argv[1]);
    if (!*command)
        return fail_unknown_command(argv[1], error);
    if (argc == 3 && strcmp(argv[2], "help") == 0)
        return tu_fail(error, TU_USAGE, "help",
                       "to have the command explained, write \"trueup help %s\" or \"trueup %s "
                       "--help\"; a file of this name is ./help",
                       argv[1], argv[1]);
    return tu_command_run(*command, argc - 1, argv + 1, error);
}

static void write_usage_hint(const tu_command *command)
{
    char usage[80] = "COMMAND [options]";
    if (command)
        tu_options_format_usage(usage, sizeof usage, command->syntax);
    fprintf(stderr, "Usage: trueup %s%s%s; see \"trueup %s%s--help\"\n",
            command ? command->name : "", command ? " " : "", usage, command ? command->name : "",
            command ? " " : "");
}

/*
 * Where a standard stream is closed, the next file that is opened would take its number, and a
 * warning would land in a hit log. What stands there instead fails: reading the first, writing the
 * others.
 */
static bool hold_standard_streams(void)
{
    for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; fd++) {
        if (fcntl(fd, F_GETFD) >= 0 || errno != EBADF)
            continue;
        if (open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY) != fd)
            return false;
    }
    return true;
}

int main(int argc, char **argv)
{
    if (!hold_standard_streams())
        return 4;                /* there is nowhere to say why */
    gsl_set_error_handler_off(); /* GSL's own handler aborts; every return is checked instead */
    tu_error error = {0};
    const tu_command *command;
    tu_status status = dispatch(argc, argv, &command, &error);
    if (!status || status == TU_LIMIT_EXCEEDED) {
        tu_status closed = tu_output_close(stdout, "standard output", &error);
        if (closed)
            status = closed;
    }
    if (status && *error.message) {
        tu_face_say_error(&tu_cli_face, &error);
        tu_output_write_error(stderr, command ? command->name : NULL, &error);
        if (tu_status_exit_code(status) == 2)
            write_usage_hint(command);
    }
    return tu_status_exit_code(status);
}
