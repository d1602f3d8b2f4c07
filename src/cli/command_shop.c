/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_shop.c - `trueup shop`: the shop file made, changed, shown and judged.
 */
#include "cli/command.h"
#include "cli/shop_ask.h"
#include "record/same_file.h"
#include "trueup/report_shop.h"
#include "trueup/task_shop.h"
#include "trueup/text.h"

#include <stdlib.h>
#include <string.h>

enum { WORDS_MAX = 48 };

typedef struct shop_options {
    tu_command_line common;
    const char *words[WORDS_MAX];
    size_t word_count;
    const char *shop, *svg;
    bool json;
} shop_options;

typedef enum verb { NEW, ADD, CHANGE, REMOVE, SHOW, CHECK, VERBS } verb;

typedef struct shop_run {
    shop_options options;
    verb verb;
    tu_task_shop_story story;
} shop_run;

static const char *const verb_names[VERBS] = {"new", "add", "change", "remove", "show", "check"};

#define AT(member) TU_AT(shop_options, member)

static const tu_option shop_option_table[] = {
    {"shop", "FILE", .take = tu_option_take_input, AT(shop),
     .help = "the shop file (default: the environment's TRUEUP_SHOP, else shop.json here)"},
    {"svg", "FILE", .take = tu_option_take_output, AT(svg),
     .help = "write a drawing of the table: stock, things in the way, travel"},
    {"json", NULL, .take = tu_option_take_flag, AT(json),
     .help = "the whole file as JSON, lengths in mm, with what it leaves open"},
};

static const tu_syntax shop_syntax = {
    .options = shop_option_table,
    .count = sizeof shop_option_table / sizeof *shop_option_table,
    .operand = {.argument = "WHAT [NAME] [KEY=VALUE...]",
                .take = tu_option_take_text,
                TU_LIST(shop_options, words, word_count, WORDS_MAX),
                .help = "new, add, change, remove, show, check, or what is stated: table, stock, "
                        "machine, file"},
};

/* --- Words --- */

/* A verb; or VERBS and a kind of which there is one: "table" and "stock" are changed by name. */
static tu_status find_verb(const char *word, verb *found, tu_shop_kind *kind, tu_error *error)
{
    const char *names[VERBS + TU_SHOP_KIND_COUNT];
    size_t count = 0;
    for (int i = 0; i < VERBS; i++) {
        names[count++] = verb_names[i];
        *found = (verb)i;
        if (!strcmp(word, verb_names[i]))
            return TU_OK;
    }
    *found = VERBS;
    for (int i = 0; i < TU_SHOP_KIND_COUNT; i++) {
        *kind = (tu_shop_kind)i;
        if (tu_shop_kind_is_named(*kind))
            continue;
        names[count++] = tu_shop_kind_name(*kind);
        if (!strcmp(word, tu_shop_kind_name(*kind)))
            return TU_OK;
    }
    const char *nearest = tu_text_nearest(word, names, count);
    return tu_fail(error, TU_USAGE, "WHAT",
                   "must be new, add, change, remove, show, check, table, stock, machine or file, "
                   "found \"%s\"%s%s%s",
                   word, nearest ? "; did you mean " : "", nearest ? nearest : "",
                   nearest ? "?" : "");
}

static tu_status change(shop_run *run, tu_task_shop_deed deed, tu_shop_kind kind, size_t used,
                        tu_error *error)
{
    const shop_options *options = &run->options;
    tu_task_shop_request request = {.shop = options->shop, .deed = deed, .kind = kind};
    const char *next = used < options->word_count ? options->words[used] : NULL;
    bool clear = deed == TU_SHOP_CHANGE && next && !strcmp(next, "clear") &&
                 !tu_shop_kind_is_named(kind) && used + 1 == options->word_count;
    if (tu_shop_kind_is_named(kind) && next && !strchr(next, '=')) {
        request.name = next;
        used++;
    }
    if (clear) {
        request.deed = TU_SHOP_REMOVE;
        used++;
    }
    request.words = options->words + used;
    request.word_count = options->word_count - used;
    run->verb = request.deed == TU_SHOP_REMOVE ? REMOVE : run->verb;
    return tu_task_shop_change(&request, &run->story, error);
}

/* "new", perhaps the file's name, perhaps what it states. */
static tu_status make_new(shop_run *run, tu_error *error)
{
    const shop_options *options = &run->options;
    tu_task_shop_new *made;
    size_t used = 1;
    const char *path = options->shop;
    if (used < options->word_count && !strchr(options->words[used], '=')) {
        if (path)
            return tu_fail(error, TU_USAGE, options->words[used],
                           "the file is named twice; leave out --shop or this");
        path = options->words[used++];
    }
    tu_status status = tu_task_shop_new_start(path, &made, error);
    if (!status && used == options->word_count)
        status = tu_shop_ask(made, error);
    for (; !status && used < options->word_count; used++)
        status = tu_task_shop_new_state(made, options->words[used], error);
    if (!status)
        status = tu_task_shop_new_finish(made, &run->story, error);
    tu_task_shop_new_destroy(made);
    return status;
}

/* "add cutter six ..." and its like. */
static tu_status change_kind(shop_run *run, tu_error *error)
{
    static const tu_task_shop_deed deeds[VERBS] = {
        [ADD] = TU_SHOP_ADD, [CHANGE] = TU_SHOP_CHANGE, [REMOVE] = TU_SHOP_REMOVE};
    const shop_options *options = &run->options;
    tu_shop_kind kind;
    if (options->word_count < 2)
        return tu_fail(error, TU_USAGE, "WHAT",
                       "what to %s is missing, as in trueup shop %s cutter eight%s",
                       verb_names[run->verb], verb_names[run->verb],
                       run->verb == REMOVE ? "" : " diameter=8+-0.01");
    tu_status status = tu_shop_kind_parse(options->words[1], &kind, error);
    return status ? status : change(run, deeds[run->verb], kind, 2, error);
}

static tu_status work(void *of, tu_error *error)
{
    shop_run *run = of;
    const shop_options *options = &run->options;
    tu_shop_kind kind = TU_SHOP_FILE;
    if (options->svg && tu_is_same_file(options->svg, tu_shop_locate(options->shop).path))
        return tu_fail(error, TU_USAGE, "--svg", "names the shop file; name another one");
    tu_status status =
        find_verb(options->word_count ? options->words[0] : "show", &run->verb, &kind, error);
    if (status)
        return status;
    if (run->verb == NEW)
        return make_new(run, error);
    if (run->verb == ADD || run->verb == CHANGE || run->verb == REMOVE)
        return change_kind(run, error);
    if (run->verb == VERBS && options->word_count > 1) {
        run->verb = CHANGE;
        return change(run, TU_SHOP_CHANGE, kind, 1, error);
    }
    if (run->verb == VERBS)
        run->verb = SHOW;
    if (options->word_count > 1)
        return tu_fail(error, TU_USAGE, options->words[1], "one word too many after %s",
                       verb_names[run->verb]);
    return tu_task_shop_look(options->shop, &run->story, error);
}

/* --- The answer --- */

static tu_status write_check(FILE *out, const tu_task_shop_story *story)
{
    size_t plates = tu_shop_plate_count(story->shop), cutters = tu_shop_cutter_count(story->shop);
    fprintf(out, "%s is in order: %zu plate%s, %zu cutter%s.%s\n", story->place.path, plates,
            plates == 1 ? "" : "s", cutters, cutters == 1 ? "" : "s",
            story->lacks.count ? "" : " Nothing is missing.");
    if (story->lacks.count)
        fputc('\n', out);
    tu_report_shop_lacks(out, &story->lacks);
    return TU_OK;
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    static const char *const heads[VERBS] = {[ADD] = "Added to", [CHANGE] = "Changed in"};
    const shop_run *run = of;
    const tu_task_shop_story *story = &run->story;
    if (run->options.json)
        return tu_report_shop_json(out, story->shop, story->place, &story->lacks, error);
    if (run->verb == CHECK)
        return write_check(out, story);
    if (run->verb == REMOVE) {
        bool named = tu_shop_kind_is_named(story->kind);
        fprintf(out, "Taken out of %s: %s%s%s\n", story->place.path, tu_shop_kind_name(story->kind),
                named ? " " : "", named ? run->options.words[2] : "");
        return TU_OK;
    }
    if (run->verb == ADD || run->verb == CHANGE) {
        fprintf(out, "%s %s, lengths in %s:\n", heads[run->verb], story->place.path,
                tu_shop_unit(story->shop) == TU_UNIT_INCH ? "inches" : "mm");
        return tu_report_shop_row(out, story->shop, story->kind, story->index, error);
    }
    tu_status status = tu_report_shop_text(out, story->shop, story->place, error);
    if (!status && run->verb == NEW)
        tu_options_write_wrapped(out,
                                 "\nThe file is written. What is wrong in it is put right with "
                                 "\"trueup shop change\", what lies on the table is said with "
                                 "\"trueup shop table target=back-right-top\", and \"trueup shop "
                                 "check\" tells what is still missing.",
                                 0, 0);
    return status;
}

static tu_status write_drawing(FILE *out, const void *of, tu_error *error)
{
    const shop_run *run = of;
    return tu_report_shop_svg(out, run->story.shop, error);
}

static void files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const shop_run *run = of;
    file[0] = (tu_output_file){run->options.svg, write_drawing};
}

static const char *kept(const void *of)
{
    const shop_run *run = of;
    return run->verb == SHOW || run->verb == CHECK ? ""
           : run->verb == NEW                      ? "; the shop file was written all the same"
                                                   : "; the shop file was changed all the same";
}

static void end(void *of)
{
    tu_task_shop_destroy(&((shop_run *)of)->story);
}

const tu_command tu_command_shop = {
    .name = "shop",
    .summary = "makes, changes, shows and checks the shop file",
    .about =
        "The shop file says once what need not be typed again. WHAT is one of:\n\n"
        "new: asks for machine, plate, cutter and stock, and writes the file; \"new NAME.json\" "
        "writes another one, \"new unit=mm\" asks nothing.\n\n"
        "add: a plate, cutter or thing (clamp, screw) with its name and what is known of it, as "
        "KEY=VALUE with the keys of the file (docs/shop-file.md), dots between them.\n\n"
        "change: the same for one that is there, and for stock, machine, table, file. KEY= takes "
        "a key out.\n\n"
        "remove: takes a plate, cutter or thing out.\n\n"
        "table: what lies on it now: plate, cutter, target, slot, seat; \"table clear\" forgets "
        "it. \"table things=none\" says that nothing stands in the way.\n\n"
        "stock: its size, as in x=300 y=200 z=18+-0.1. machine: travel and the like. file: unit, "
        "journal.\n\n"
        "show: all that the file says; also when nothing is said.\n\n"
        "check: judges it, and tells what is missing for what.\n\n"
        "What a person wrote into the file stays as it is, to the blank; a change is made in one "
        "step, or not at all.",
    .example = "  trueup shop new\n"
               "  trueup shop add cutter eight shape=flat diameter=8+-0.01 flutes=2\n"
               "  trueup shop change plate bracket walls.a.offset=9.15+-0.02\n"
               "  trueup shop add thing clamp from=-30,70,0 to=18,110,44\n"
               "  trueup shop table plate=bracket cutter=eight target=back-right-top slot=G55\n",
    .syntax = &shop_syntax,
    .size = sizeof(shop_run),
    .work = work,
    .files = files,
    .answer = write_answer,
    .kept = kept,
    .end = end,
};
