/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_shop.h - the use cases of the shop file: making one by answering questions, changing it,
 * looking at it. Both faces call these; nothing here knows a terminal or a page.
 */
#ifndef TRUEUP_TASK_SHOP_H
#define TRUEUP_TASK_SHOP_H

#include "trueup/shop.h"
#include "trueup/shop_lacks.h"

TU_BEGIN_DECLS

/*
 * What came of a use case. Starts as {0}; release with tu_task_shop_destroy.
 *   place        where the shop file is, and who said so.
 *   shop         as it is now; NULL after a failure.
 *   kind, index  what was added or changed; gone: what was taken out, shop holds it no more.
 *   lacks        what is not stated, and what for.
 */
typedef struct tu_task_shop_story {
    tu_shop_place place;
    tu_shop *shop;
    tu_shop_kind kind;
    size_t index;
    bool gone;
    tu_shop_lacks lacks;
} tu_task_shop_story;

void tu_task_shop_destroy(tu_task_shop_story *story);

/*
 * Finds the shop file (tu_shop_locate) and reads it. stated: a path, or NULL.
 * Returns TU_OK; TU_DATA_MISSING where nobody names one and none is here; as tu_shop_read.
 */
tu_status tu_task_shop_open(const char *stated, tu_shop_place *place, tu_shop **shop,
                            tu_error *error);

/* Reads the shop file and judges what it leaves open. Statuses as tu_task_shop_open. */
tu_status tu_task_shop_look(const char *stated, tu_task_shop_story *story, tu_error *error);

typedef enum tu_task_shop_deed { TU_SHOP_ADD, TU_SHOP_CHANGE, TU_SHOP_REMOVE } tu_task_shop_deed;

/*
 *   shop   a path, or NULL to find it.
 *   name   of a kind that has several; NULL for the others.
 *   words  "key=value", with the keys of the file (tu_shop_edit_word); none to remove.
 */
typedef struct tu_task_shop_request {
    const char *shop;
    tu_task_shop_deed deed;
    tu_shop_kind kind;
    const char *name;
    const char *const *words;
    size_t word_count;
} tu_task_shop_request;

/*
 * Changes the shop file, in one step, and only if the result is a sound one. A name that the table
 * holds goes along when its plate or cutter is renamed, and keeps them from being removed.
 * Returns TU_OK; TU_USAGE; TU_DATA_CONFLICT (the name is taken, it lies on the table, another
 * program changed the file meanwhile); as tu_shop_write_edits.
 */
tu_status tu_task_shop_change(const tu_task_shop_request *request, tu_task_shop_story *story,
                              tu_error *error);

/* --- A new file --- */

/*
 * A question, as a person may be asked it.
 *   text      the question.
 *   why       what it is about, for someone who asks back.
 *   example   an answer.
 *   optional  an empty answer is one: it is not known, or there is none.
 */
typedef struct tu_task_shop_question {
    const char *text, *why, *example;
    bool optional;
} tu_task_shop_question;

typedef struct tu_task_shop_new tu_task_shop_new;

/*
 * Starts a new shop file, of which nothing is written before tu_task_shop_new_finish.
 *   stated  a path, or NULL to take the place where it would be looked for.
 *   made    out: NULL on failure.
 * Returns TU_OK; TU_DATA_CONFLICT: there is such a file; TU_SYSTEM_MEMORY.
 */
tu_status tu_task_shop_new_start(const char *stated, tu_task_shop_new **made, tu_error *error);
void tu_task_shop_new_destroy(tu_task_shop_new *made);

/* The question that is due; NULL: all were answered. */
const tu_task_shop_question *tu_task_shop_new_question(const tu_task_shop_new *made);

/*
 * Takes the answer to it, in the words of the shop file. On failure the message says why, nothing
 * of it is kept, and the same question is due.
 */
tu_status tu_task_shop_new_answer(tu_task_shop_new *made, const char *text, tu_error *error);

/* Without questions: a word of the file's own, "unit=mm", "machine.travel.x=0,720". Failures as of
 * an answer. */
tu_status tu_task_shop_new_state(tu_task_shop_new *made, const char *word, tu_error *error);

/* Writes the file in one step. made can only be destroyed afterwards. */
tu_status tu_task_shop_new_finish(tu_task_shop_new *made, tu_task_shop_story *story,
                                  tu_error *error);

TU_END_DECLS

#endif
