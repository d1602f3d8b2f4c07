/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_ask.c - see shop_ask.h.
 */
#include "cli/shop_ask.h"
#include "cli/face.h"
#include "cli/options.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static tu_status fail_no_terminal(tu_error *error)
{
    return tu_fail(error, TU_USAGE, "new",
                   "it asks questions, which takes a terminal. Without one: \"trueup shop new "
                   "unit=mm\", then \"trueup shop add cutter eight shape=flat diameter=8+-0.01\" "
                   "and the like; or write the file, as small as {\"unit\": \"mm\", \"cutters\": "
                   "[{\"name\": \"eight\", \"shape\": \"flat\", \"diameter\": \"8+-0.01\"}]}");
}

/* Without the blanks around it; in place. */
static char *trimmed(char *line)
{
    line += strspn(line, " \t");
    size_t length = strlen(line);
    while (length > 0 && strchr(" \t\r\n", line[length - 1]))
        line[--length] = '\0';
    return line;
}

static void write_question(const tu_task_shop_question *question)
{
    fprintf(stderr, "%s\n  (as in %s%s) > ", question->text, question->example,
            question->optional ? "; empty: skip" : "");
    fflush(stderr);
}

/* Takes one answer; a wrong one is told why. */
static tu_status take_answer(tu_task_shop_new *made, const char *text, tu_error *error)
{
    tu_error why = {0};
    if (!strcmp(text, "?")) {
        tu_options_write_wrapped(stderr, tu_task_shop_new_question(made)->why, 2, 0);
        return TU_OK;
    }
    tu_status status = tu_task_shop_new_answer(made, text, &why);
    if (!status)
        return TU_OK;
    if (status == TU_SYSTEM_MEMORY)
        return tu_fail(error, status, why.where, "%s", why.message);
    tu_face_say_error(&tu_cli_face, &why);
    tu_options_write_wrapped(stderr, why.message, 2, 0);
    return TU_OK;
}

tu_status tu_shop_ask(tu_task_shop_new *made, tu_error *error)
{
    char *line = NULL;
    size_t size = 0;
    tu_status status = TU_OK;
    if (!isatty(STDIN_FILENO) || !isatty(STDERR_FILENO))
        return fail_no_terminal(error);
    tu_options_write_wrapped(stderr,
                             "A question at a time; ? explains it, an empty answer skips what is "
                             "not known. Nothing is written before the last one; Ctrl-C leaves "
                             "everything as it is.\n",
                             0, 0);
    while (!status && tu_task_shop_new_question(made)) {
        write_question(tu_task_shop_new_question(made));
        errno = 0;
        if (getline(&line, &size, stdin) < 0) {
            fputc('\n', stderr);
            status = errno == ENOMEM
                         ? tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory")
                         : tu_fail(error, TU_DATA_MISSING, "new",
                                   "the answers ended before the questions; nothing was written");
        } else {
            status = take_answer(made, trimmed(line), error);
        }
    }
    free(line);
    return status;
}
