/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_shop.c - looking at the shop file and changing it.
 */
#include "trueup/task_shop.h"
#include "record/shop_edit.h"
#include "trueup/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATH_SIZE = sizeof(((tu_shop_edit *)0)->path) };

void tu_task_shop_destroy(tu_task_shop_story *story)
{
    tu_shop_destroy(story->shop);
    *story = (tu_task_shop_story){0};
}

tu_status tu_task_shop_open(const char *stated, tu_shop_place *place, tu_shop **shop,
                            tu_error *error)
{
    *shop = NULL;
    *place = tu_shop_locate(stated);
    if (place->origin == TU_SHOP_NOWHERE)
        return tu_fail(error, TU_DATA_MISSING, "{shop}",
                       "is not given, TRUEUP_SHOP is not set, and there is no shop.json in this "
                       "folder; make one with {shop.new}");
    return tu_shop_read(place->path, shop, error);
}

tu_status tu_task_shop_look(const char *stated, tu_task_shop_story *story, tu_error *error)
{
    tu_status status = tu_task_shop_open(stated, &story->place, &story->shop, error);
    if (!status)
        tu_shop_judge(story->shop, &story->lacks);
    return status;
}

/* --- Changes --- */

typedef struct change {
    const tu_task_shop_request *request;
    tu_task_shop_story *story;
    char base[PATH_SIZE];
    tu_shop_edit *edits;
    size_t count;
} change;

/* What the table calls a plate or a cutter by; "" for another kind. */
static const char *table_key(tu_shop_kind kind)
{
    return kind == TU_SHOP_PLATE ? "table.plate" : kind == TU_SHOP_CUTTER ? "table.cutter" : "";
}

static bool lies_on_table(const change *c)
{
    const tu_table *table = tu_shop_table(c->story->shop);
    const char *there = c->request->kind == TU_SHOP_PLATE    ? table->plate
                        : c->request->kind == TU_SHOP_CUTTER ? table->cutter
                                                             : NULL;
    return there && !strcmp(there, c->request->name);
}

static tu_status check_name(const change *c, tu_error *error)
{
    const tu_task_shop_request *request = c->request;
    const char *what = tu_shop_kind_name(request->kind);
    if (tu_shop_kind_is_named(request->kind) && !request->name)
        return tu_fail(error, TU_USAGE, NULL, "the name of the %s is missing", what);
    if (!tu_shop_kind_is_named(request->kind) && request->name)
        return tu_fail(error, TU_USAGE, NULL, "a shop has one %s, without a name: leave out \"%s\"",
                       what, request->name);
    if (request->deed != TU_SHOP_REMOVE && request->deed != TU_SHOP_ADD && !request->word_count)
        return tu_fail(error, TU_USAGE, NULL, "what is to change is missing, as in notes=\"new\"");
    if (request->deed == TU_SHOP_REMOVE && request->word_count)
        return tu_fail(error, TU_USAGE, NULL,
                       "one word too many, \"%s\"; a key alone is taken out by a change to nothing",
                       request->words[0]);
    return TU_OK;
}

/* Finds the place, or the one where a new entry goes. */
static tu_status find_place(change *c, tu_error *error)
{
    const tu_task_shop_request *request = c->request;
    tu_task_shop_story *story = c->story;
    tu_status status = TU_OK;
    story->kind = request->kind;
    story->index = tu_shop_count(story->shop, request->kind);
    if (tu_shop_kind_is_named(request->kind) && request->deed != TU_SHOP_ADD)
        status =
            tu_shop_find_index(story->shop, request->kind, request->name, &story->index, error);
    for (size_t i = 0; request->deed == TU_SHOP_ADD && i < story->index; i++)
        if (!strcmp(tu_shop_name_at(story->shop, request->kind, i), request->name))
            return tu_fail(error, TU_DATA_CONFLICT, story->place.path,
                           "there is a %s \"%s\" already; change it, or choose another name",
                           tu_shop_kind_name(request->kind), request->name);
    tu_shop_kind_path(request->kind, story->index, c->base, sizeof c->base);
    return status;
}

static tu_status add_word(change *c, const char *word, tu_error *error)
{
    tu_shop_edit *edit = &c->edits[c->count];
    tu_status status = tu_shop_edit_word(c->request->kind, c->base, word, edit, error);
    for (size_t i = 0; !status && i < c->count; i++)
        if (!strcmp(c->edits[i].path, edit->path))
            return tu_fail(error, TU_USAGE, edit->path, "stated twice; keep one of them");
    c->count += !status;
    return status;
}

/* The edits of a request, at most two more than its words. */
static tu_status list_edits(change *c, tu_error *error)
{
    const tu_task_shop_request *request = c->request;
    tu_shop_edit *first = &c->edits[0];
    tu_status status = TU_OK;
    if (request->deed == TU_SHOP_REMOVE) {
        if (lies_on_table(c))
            return tu_fail(error, TU_DATA_CONFLICT, c->story->place.path,
                           "the %s \"%s\" lies on the table (%s); put another one there first",
                           tu_shop_kind_name(request->kind), request->name,
                           table_key(request->kind));
        snprintf(first->new_json, sizeof first->new_json, TU_SHOP_TAKE_OUT);
        snprintf(first->path, sizeof first->path, "%s", c->base);
        c->count = 1;
        return TU_OK;
    }
    if (request->deed == TU_SHOP_ADD && request->name) {
        snprintf(first->path, sizeof first->path, "%s.name", c->base);
        if (!tu_text_to_json(first->new_json, sizeof first->new_json, request->name))
            return tu_fail(error, TU_DATA_RANGE, NULL, "this name is too long");
        c->count = 1;
    }
    bool follows = request->deed == TU_SHOP_CHANGE && lies_on_table(c);
    for (size_t i = 0; !status && i < request->word_count; i++) {
        status = add_word(c, request->words[i], error);
        if (status || !follows || strncmp(request->words[i], "name=", 5) != 0)
            continue;
        c->edits[c->count] = c->edits[c->count - 1];
        snprintf(c->edits[c->count++].path, PATH_SIZE, "%s", table_key(request->kind));
    }
    return status;
}

/* Puts the changed shop into the story, then writes it: what is shown is what was written. */
static tu_status make(change *c, tu_error *error)
{
    tu_shop *now = NULL;
    char *text = NULL;
    size_t length;
    const char *path = c->story->place.path;
    tu_status status = tu_shop_edit_text(c->story->shop, c->edits, c->count, &text, &length, error);
    if (!status)
        status = tu_shop_parse(path, text, length, &now, error);
    if (!status)
        status = tu_shop_write_edits(c->story->shop, path, c->edits, c->count, error);
    free(text);
    if (status) {
        tu_shop_destroy(now);
        return status;
    }
    tu_shop_destroy(c->story->shop);
    c->story->shop = now;
    c->story->gone = c->request->deed == TU_SHOP_REMOVE;
    tu_shop_judge(now, &c->story->lacks);
    return TU_OK;
}

tu_status tu_task_shop_change(const tu_task_shop_request *request, tu_task_shop_story *story,
                              tu_error *error)
{
    change c = {.request = request, .story = story};
    tu_status status = check_name(&c, error);
    if (!status)
        status = tu_task_shop_open(request->shop, &story->place, &story->shop, error);
    if (!status)
        status = find_place(&c, error);
    if (status)
        return status;
    c.edits = calloc(request->word_count + 2, sizeof *c.edits);
    if (!c.edits)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    status = list_edits(&c, error);
    if (!status)
        status = make(&c, error);
    free(c.edits);
    return status;
}
