/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * options.c - reading a command line by its table.
 *
 * Two passes: the first collects options and operands with getopt_long and judges their names, the
 * second hands the arguments to the takes, early ones first. So a value may be read in a unit that
 * is stated further right.
 */
#include "cli/options.h"

#include "cli/option_checks.h"
#include "trueup/shop.h"
#include "trueup/text.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>

enum {
    CODE_OPERAND = 1,    /* getopt_long's own code, asked for by "-" in the short options */
    CODE_OPTION = 0x100, /* plus the index in the table */
    CODE_HELP = CODE_OPTION + TU_OPTIONS_MAX
};

typedef struct pass {
    const tu_syntax *syntax;
    struct option getopt_table[TU_OPTIONS_MAX + 2];
    tu_found *list; /* room for argc of them */
    size_t count;
    bool help;
} pass;

static void build_getopt_table(pass *first)
{
    const tu_syntax *syntax = first->syntax;
    size_t i = 0;
    for (; i < syntax->count && i < TU_OPTIONS_MAX; i++)
        first->getopt_table[i] = (struct option){
            .name = syntax->options[i].name,
            .has_arg = syntax->options[i].argument ? required_argument : no_argument,
            .val = CODE_OPTION + (int)i};
    first->getopt_table[i++] = (struct option){"help", no_argument, NULL, CODE_HELP};
    first->getopt_table[i] = (struct option){0};
}

/* The option of exactly this name, or NULL: getopt_long would also take an abbreviation. */
static const struct option *exact_option(const pass *first, const char *name, size_t length)
{
    for (const struct option *o = first->getopt_table; o->name; o++)
        if (strlen(o->name) == length && strncmp(o->name, name, length) == 0)
            return o;
    return NULL;
}

/* The option that an unknown name may stand for: the only one that starts so, else the nearest. */
static const char *likely_option(const pass *first, const char *name)
{
    const char *names[TU_OPTIONS_MAX + 1];
    const char *starts_so = NULL;
    size_t count = 0, matches = 0;
    for (const struct option *o = first->getopt_table; o->name; o++) {
        names[count++] = o->name;
        if (strncmp(o->name, name, strlen(name)) == 0) {
            starts_so = o->name;
            matches++;
        }
    }
    return matches == 1 ? starts_so : tu_text_nearest(name, names, count);
}

static tu_status fail_unknown(const pass *first, const char *name, size_t length, tu_error *error)
{
    char word[64];
    if (length >= sizeof word)
        length = sizeof word - 1;
    memcpy(word, name, length);
    word[length] = '\0';
    char where[80];
    snprintf(where, sizeof where, "--%s", word);
    const char *nearest = likely_option(first, word);
    if (nearest)
        return tu_fail(error, TU_USAGE, where, "unknown option; did you mean --%s?", nearest);
    return tu_fail(error, TU_USAGE, where, "unknown option");
}

/* A word that starts with one dash: a misplaced negative number, or a short option. */
static tu_status fail_single_dash(const char *word, tu_error *error)
{
    if (strchr("0123456789.", word[1]))
        return tu_fail(error, TU_USAGE, word, "a number without its option; write it as in --z %s",
                       word);
    if (strcmp(word, "-h") == 0)
        return tu_fail(error, TU_USAGE, word, "options have two dashes; did you mean --help?");
    return tu_fail(error, TU_USAGE, word, "unknown option; options have two dashes");
}

/* Judges the word argv[index] where getopt_long saw something wrong with it. */
static tu_status fail_word(const pass *first, const char *word, tu_error *error)
{
    if (strncmp(word, "--", 2) != 0)
        return fail_single_dash(word, error);
    size_t length = strcspn(word + 2, "=");
    const struct option *option = exact_option(first, word + 2, length);
    if (!option)
        return fail_unknown(first, word + 2, length, error);
    char where[80];
    snprintf(where, sizeof where, "--%s", option->name);
    if (option->has_arg == no_argument)
        return tu_fail(error, TU_USAGE, where, "takes no value; leave out \"%s\"",
                       word + 2 + length);
    return tu_fail(error, TU_USAGE, where, "needs a value: --%s %s", option->name,
                   first->syntax->options[option->val - CODE_OPTION].argument);
}

static tu_status add_option(pass *first, const tu_option *option, const char *argument,
                            tu_error *error)
{
    char where[80];
    snprintf(where, sizeof where, "--%s", option->name);
    for (size_t i = 0; i < first->count && !option->repeatable; i++)
        if (first->list[i].option == option)
            return tu_fail(error, TU_USAGE, where, "given twice; keep one of them");
    first->list[first->count++] = (tu_found){option, argument};
    return TU_OK;
}

static tu_status add_operand(pass *first, const char *word, tu_error *error)
{
    const tu_option *operand = &first->syntax->operand;
    bool have = false;
    for (size_t i = 0; i < first->count; i++)
        have = have || first->list[i].option == operand;
    if (!operand->take || (have && !operand->repeatable))
        return tu_fail(error, TU_USAGE, word, "one word too many; %s",
                       operand->take ? "an option is missing before it, or its value has a space"
                                     : "this command takes options only");
    first->list[first->count++] = (tu_found){operand, word};
    return TU_OK;
}

/* One word, or an option with its argument, that getopt_long has just read; it began at word. */
static tu_status take_word(pass *first, int code, const char *word, const char *last_word,
                           tu_error *error)
{
    if (code == CODE_OPERAND)
        return add_operand(first, optarg, error);
    if (code < CODE_OPTION || !exact_option(first, word + 2, strcspn(word + 2, "=")))
        return fail_word(first, word, error);
    if (code == CODE_HELP) {
        first->help = true;
        return TU_OK;
    }
    const tu_option *option = &first->syntax->options[code - CODE_OPTION];
    if (option->argument && optarg == last_word && strncmp(optarg, "--", 2) == 0)
        return fail_word(first, word, error);
    return add_option(first, option, optarg, error);
}

static tu_status collect(pass *first, int argc, char **argv, tu_error *error)
{
    optind = 0; /* glibc: start afresh */
    opterr = 0;
    while (!first->help) {
        int begin = optind ? optind : 1;
        int code = getopt_long(argc, argv, "-:", first->getopt_table, NULL);
        if (code == -1)
            break;
        tu_status status = take_word(first, code, argv[begin], argv[optind - 1], error);
        if (status)
            return status;
    }
    for (int i = optind; i < argc && !first->help; i++) {
        tu_status status = add_operand(first, argv[i], error);
        if (status)
            return status;
    }
    return TU_OK;
}

/* Takes one; a list has room for it, and grows by it when it was taken. */
static tu_status take(const tu_syntax *syntax, const tu_found *found, void *request,
                      tu_error *error)
{
    const tu_option *option = found->option;
    char *base = request;
    size_t *count = option->most ? (size_t *)(void *)(base + option->counter) : NULL;
    if (count && *count == option->most)
        return tu_fail(error, TU_USAGE, NULL, "given more than %zu times", option->most);
    tu_met met = {.request = request,
                  .common = request,
                  .option = option,
                  .argument = found->argument,
                  .at = base + option->offset + (count ? *count * option->size : 0)};
    if (option->name)
        met.common->given |= UINT64_C(1) << (option - syntax->options);
    tu_status status = option->take(&met, error);
    if (!status && count)
        ++*count;
    return status;
}

static tu_status take_all(const pass *first, bool early, void *request, tu_error *error)
{
    for (size_t i = 0; i < first->count; i++) {
        const tu_option *option = first->list[i].option;
        if (option->early != early)
            continue;
        tu_error detail = {0};
        tu_status status = take(first->syntax, &first->list[i], request, &detail);
        if (!status)
            continue;
        if (error) {
            *error = detail;
            if (!*error->where)
                snprintf(error->where, sizeof error->where, "%s%s", option->name ? "--" : "",
                         option->name ? option->name : option->argument);
        }
        return status;
    }
    return TU_OK;
}

/* Where nobody states the unit of bare numbers, it is the shop file's. */
static tu_status take_unit_of_shop(const pass *first, void *request, tu_error *error)
{
    const tu_option *unit = NULL;
    const char *stated = NULL;
    tu_command_line *common = request;
    for (size_t i = 0; i < first->syntax->count; i++)
        if (first->syntax->options[i].of_shop)
            unit = &first->syntax->options[i];
    for (size_t i = 0; i < first->count; i++) {
        const char *name = first->list[i].option->name;
        if (name && strcmp(name, "shop") == 0)
            stated = first->list[i].argument;
    }
    if (!unit || common->typed.stated)
        return TU_OK;
    tu_status status = tu_shop_peek_unit(tu_shop_locate(stated).path, &common->unit,
                                         &common->typed.of_shop, error);
    if (common->typed.of_shop)
        *(tu_unit *)(void *)((char *)request + unit->offset) = common->unit;
    return status;
}

static tu_status check_operand(const pass *first, tu_error *error)
{
    const tu_syntax *syntax = first->syntax;
    for (size_t i = 0; i < first->count; i++)
        if (first->list[i].option == &syntax->operand)
            return TU_OK;
    if (!syntax->operand.take || !syntax->operand_required)
        return TU_OK;
    return tu_fail(error, TU_USAGE, syntax->operand.argument, "missing: %s", syntax->operand.help);
}

tu_status tu_options_parse(const tu_syntax *syntax, int argc, char **argv, void *request,
                           bool *help, tu_error *error)
{
    pass first = {.syntax = syntax};
    *help = false;
    build_getopt_table(&first);
    first.list = calloc((size_t)argc + 1, sizeof *first.list);
    if (!first.list)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");

    tu_status status = collect(&first, argc, argv, error);
    *help = !status && first.help;
    if (!status && !first.help)
        status = check_operand(&first, error);
    if (!status && !first.help)
        status = take_all(&first, true, request, error);
    if (!status && !first.help)
        status = take_unit_of_shop(&first, request, error);
    if (!status && !first.help)
        status = take_all(&first, false, request, error);
    if (!status && !first.help)
        status = tu_options_check(first.list, first.count, error);
    free(first.list);
    return status;
}
