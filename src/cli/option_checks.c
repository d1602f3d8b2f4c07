/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * option_checks.c - which options go together, and which files.
 */
#include "cli/option_checks.h"

#include "record/same_file.h"

#include <string.h>

/* The first of the names, parted by spaces, that was met; NULL: none. */
static const tu_option *first_met(const char *names, const tu_found *list, size_t count)
{
    for (const char *name = names; *name; name += strspn(name, " ")) {
        size_t length = strcspn(name, " ");
        for (size_t i = 0; i < count; i++) {
            const char *met = list[i].option->name;
            if (met && strlen(met) == length && memcmp(met, name, length) == 0)
                return list[i].option;
        }
        name += length;
    }
    return NULL;
}

static tu_status check_ties(const tu_found *list, size_t count, tu_error *error)
{
    for (size_t i = 0; i < count; i++) {
        const tu_option *option = list[i].option;
        const tu_option_tie *needs = &option->needs, *excludes = &option->excludes;
        const tu_option *other = excludes->names ? first_met(excludes->names, list, count) : NULL;
        char where[80];
        snprintf(where, sizeof where, "--%s", option->name ? option->name : "");
        if (needs->names && !first_met(needs->names, list, count))
            return tu_fail(error, TU_USAGE, where, "%s: give --%s too", needs->why, needs->names);
        if (other)
            return tu_fail(error, TU_USAGE, where, "%s; leave out --%s or --%s", excludes->why,
                           other->name, option->name);
    }
    return TU_OK;
}

/* Two of which the first has a name: it is written, or both are standard input. */
static tu_status check_pair(const tu_found *one, const tu_found *other, tu_error *error)
{
    char where[80], beside[80];
    snprintf(where, sizeof where, "--%s", one->option->name);
    snprintf(beside, sizeof beside, "%s%s", other->option->name ? "--" : "",
             other->option->name ? other->option->name : other->option->argument);
    const char *path = one->argument;
    bool writes = one->option->take == tu_option_take_output;
    bool read = other->option->take == tu_option_take_input;
    bool same_name = strcmp(path, other->argument) == 0;
    if (read && one->option->take == tu_option_take_input && same_name && strcmp(path, "-") == 0)
        return tu_fail(error, TU_USAGE, where, "standard input can't be both this and %s", beside);
    if (!writes || (!same_name && !tu_is_same_file(path, other->argument)))
        return TU_OK;
    if (read)
        return tu_fail(error, TU_USAGE, where,
                       "%s is read as %s, and would be replaced; name another file", path, beside);
    if (other->option->take == tu_option_take_output)
        return tu_fail(error, TU_USAGE, where, "%s is the file of %s; name another file", path,
                       beside);
    return TU_OK;
}

static tu_status check_files(const tu_found *list, size_t count, tu_error *error)
{
    tu_status status = TU_OK;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < count && !status; j++)
            if (i != j && list[i].option->name && list[i].argument && list[j].argument)
                status = check_pair(&list[i], &list[j], error);
    return status;
}

tu_status tu_options_check(const tu_found *list, size_t count, tu_error *error)
{
    tu_status status = check_ties(list, count, error);
    return status ? status : check_files(list, count, error);
}

bool tu_option_is_given(const tu_syntax *syntax, const tu_command_line *line, const char *name)
{
    for (size_t i = 0; i < syntax->count; i++)
        if (strcmp(syntax->options[i].name, name) == 0)
            return line->given >> i & 1;
    return false;
}
