/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_shop_new.c - a shop file from the answers to a table of questions. Each answer is a change
 * of a draft, which the reader of shop files judges, except for what is still to come.
 */
#include "record/shop_edit.h"
#include "trueup/task_shop.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef enum question_id {
    UNIT,
    TRAVEL_X,
    TRAVEL_Y,
    TRAVEL_Z,
    STEP,
    PLATE,
    THICKNESS,
    WALL_A,
    FACES_A,
    DEPTH_A,
    WALL_B,
    FACES_B,
    DEPTH_B,
    BORE,
    BORE_A,
    BORE_B,
    CUTTER,
    DIAMETER,
    SHAPE,
    CORNER_RADIUS,
    INCLUDED,
    FLUTES,
    STOCK_X,
    STOCK_Y,
    STOCK_Z,
    QUESTIONS,
    ALWAYS = -1
} question_id;

/*
 *   after   the question that must have been answered before, with the word `when` unless NULL.
 *   unless_walls  asked only where neither of the two walls was answered.
 */
typedef struct question {
    tu_task_shop_question shown;
    tu_shop_kind kind;
    const char *key;
    int after;
    const char *when;
    bool unless_walls;
} question;

#define OFFSET_WHY                                                                                 \
    "Lay the plate on the stock's front left corner. Measure from the stock's edge to the face "   \
    "that the cutter will touch, square to the edge: above 0 where the face lies outside the "     \
    "stock, below 0 where it stands over the stock. Empty: there is no such wall."
#define FACES_WHY                                                                                  \
    "outward: the face looks away from the stock, and the cutter comes from outside. inward: it "  \
    "looks back over the stock, and the cutter comes from there. The wrong one is off by the "     \
    "cutter's diameter."
#define DEPTH_WHY                                                                                  \
    "How far the tip is below the wall's top edge when it touches. Ball, bull nose and vee "       \
    "cutters "                                                                                     \
    "need it; for flat ones leave it empty."
#define TRAVEL_WHY                                                                                 \
    "The lowest and the highest machine coordinate, after homing. With it a touch that the "       \
    "machine cannot reach, or in the wrong unit, is noticed. Empty: not known."
#define CENTRE_WHY                                                                                 \
    "From the stock's edge to the middle of the bore, with the plate on the front left corner: "   \
    "above 0 outside the stock, below 0 over it."

static const question questions[QUESTIONS] = {
    [UNIT] = {{"Do you measure in mm or in (inches)?",
               "The unit of every number that names none. 1/4in or 6mm may be typed anyway.", "mm",
               false},
              TU_SHOP_FILE,
              "unit",
              ALWAYS,
              NULL,
              false},
    [TRAVEL_X] = {{"From where to where does the machine go in X?", TRAVEL_WHY, "0,720", true},
                  TU_SHOP_MACHINE,
                  "travel.x",
                  ALWAYS,
                  NULL,
                  false},
    [TRAVEL_Y] = {{"And in Y?", TRAVEL_WHY, "0,540", true},
                  TU_SHOP_MACHINE,
                  "travel.y",
                  ALWAYS,
                  NULL,
                  false},
    [TRAVEL_Z] = {{"And in Z?", TRAVEL_WHY, "-95,0", true},
                  TU_SHOP_MACHINE,
                  "travel.z",
                  ALWAYS,
                  NULL,
                  false},
    [STEP] =
        {{"In which steps does the controller count positions?",
          "The smallest change of a position that it shows, a length: not steps per mm. Empty: "
          "not known.",
          "0.01", true},
         TU_SHOP_MACHINE,
         "step",
         ALWAYS,
         NULL,
         false},
    [PLATE] = {{"What do you call your touch plate?",
                "A name to tell it from others. Empty: no plate for now.", "bracket", true},
               TU_SHOP_PLATE,
               "name",
               ALWAYS,
               NULL,
               false},
    [THICKNESS] = {{"How thick is it, and how well do you know that?",
                    "From what it lies on up to the face that the tip touches, measured, with what "
                    "the measurement may be off by.",
                    "12.04+-0.01", false},
                   TU_SHOP_PLATE,
                   "thickness",
                   PLATE,
                   NULL,
                   false},
    [WALL_A] = {{"How far is its left wall from the stock's left edge?", OFFSET_WHY, "9.15+-0.02",
                 true},
                TU_SHOP_PLATE,
                "walls.a.offset",
                PLATE,
                NULL,
                false},
    [FACES_A] = {{"Does that wall's touched face look outward or inward?", FACES_WHY, "outward",
                  false},
                 TU_SHOP_PLATE,
                 "walls.a.faces",
                 WALL_A,
                 NULL,
                 false},
    [DEPTH_A] = {{"How deep does the tip stand beside it?", DEPTH_WHY, "6", true},
                 TU_SHOP_PLATE,
                 "walls.a.touch_depth",
                 WALL_A,
                 NULL,
                 false},
    [WALL_B] = {{"How far is its front wall from the stock's front edge?", OFFSET_WHY, "9.22+-0.02",
                 true},
                TU_SHOP_PLATE,
                "walls.b.offset",
                PLATE,
                NULL,
                false},
    [FACES_B] = {{"Does that wall's touched face look outward or inward?", FACES_WHY, "outward",
                  false},
                 TU_SHOP_PLATE,
                 "walls.b.faces",
                 WALL_B,
                 NULL,
                 false},
    [DEPTH_B] = {{"How deep does the tip stand beside it?", DEPTH_WHY, "6", true},
                 TU_SHOP_PLATE,
                 "walls.b.touch_depth",
                 WALL_B,
                 NULL,
                 false},
    [BORE] = {{"Has it a bore to touch from inside? Its diameter:",
               "A round hole that the cutter goes down into. Empty: no bore, it is for Z alone.",
               "25+-0.02", true},
              TU_SHOP_PLATE,
              "bore.diameter",
              PLATE,
              NULL,
              true},
    [BORE_A] = {{"How far is the bore's middle from the stock's left edge?", CENTRE_WHY,
                 "-20+-0.03", false},
                TU_SHOP_PLATE,
                "bore.a",
                BORE,
                NULL,
                false},
    [BORE_B] = {{"And from the stock's front edge?", CENTRE_WHY, "-20+-0.03", false},
                TU_SHOP_PLATE,
                "bore.b",
                BORE,
                NULL,
                false},
    [CUTTER] = {{"What do you call the cutter that will touch?",
                 "A name to tell it from others. Empty: no cutter for now.", "eight", true},
                TU_SHOP_CUTTER,
                "name",
                ALWAYS,
                NULL,
                false},
    [DIAMETER] = {{"What is its diameter, and how well do you know that?",
                   "Measured rather than nominal: half of an error is an error of the zero.",
                   "8+-0.01", false},
                  TU_SHOP_CUTTER,
                  "diameter",
                  CUTTER,
                  NULL,
                  false},
    [SHAPE] = {{"Which shape: flat, ball, bull (flat with rounded corners) or vee?",
                "The shape of its end.", "flat", false},
               TU_SHOP_CUTTER,
               "shape",
               CUTTER,
               NULL,
               false},
    [CORNER_RADIUS] = {{"What is the radius of its corners?", "Of the rounding at its end.", "1",
                        false},
                       TU_SHOP_CUTTER,
                       "corner_radius",
                       SHAPE,
                       "bull",
                       false},
    [INCLUDED] = {{"What is the full angle of its point, in degrees?",
                   "From flank to flank, not from the axis.", "60", false},
                  TU_SHOP_CUTTER,
                  "included_deg",
                  SHAPE,
                  "vee",
                  false},
    [FLUTES] = {{"How many cutting edges has it?",
                 "Empty: none, a plain pin or dowel that is round all the way.", "2", true},
                TU_SHOP_CUTTER,
                "flutes",
                CUTTER,
                NULL,
                false},
    [STOCK_X] = {{"How wide is the stock, from left to right?", "Empty: not known, or changing.",
                  "280", true},
                 TU_SHOP_STOCK,
                 "x",
                 ALWAYS,
                 NULL,
                 false},
    [STOCK_Y] = {{"And from front to back?", "Empty: not known, or changing.", "190", true},
                 TU_SHOP_STOCK,
                 "y",
                 ALWAYS,
                 NULL,
                 false},
    [STOCK_Z] =
        {{"How thick is it?",
          "A zero on the other side of the stock than the plate needs it. Empty: not known, "
          "or changing.",
          "21+-0.15", true},
         TU_SHOP_STOCK,
         "z",
         ALWAYS,
         NULL,
         false},
};

struct tu_task_shop_new {
    tu_shop_place place;
    tu_shop *draft;
    int due;
    bool answered[QUESTIONS];
    char shape[TU_NAME_SIZE];
};

/* Empty braces on two lines: what is added then stands on lines of its own. */
static const char nothing_yet[] = "{\n}\n";

tu_status tu_task_shop_new_start(const char *stated, tu_task_shop_new **made, tu_error *error)
{
    *made = NULL;
    tu_shop_place place = tu_shop_locate(stated);
    FILE *there = fopen(place.path, "r");
    if (there) {
        fclose(there);
        return tu_fail(error, TU_DATA_CONFLICT, place.path,
                       "there is such a file already; it stays as it is. Change it, or name "
                       "another one");
    }
    tu_task_shop_new *new = calloc(1, sizeof *new);
    if (!new)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    new->place = place;
    tu_status status =
        tu_shop_parse_part(place.path, nothing_yet, sizeof nothing_yet - 1, &new->draft, error);
    if (status)
        free(new);
    else
        *made = new;
    return status;
}

void tu_task_shop_new_destroy(tu_task_shop_new *made)
{
    if (!made)
        return;
    tu_shop_destroy(made->draft);
    free(made);
}

const tu_task_shop_question *tu_task_shop_new_question(const tu_task_shop_new *made)
{
    return made->due < QUESTIONS ? &questions[made->due].shown : NULL;
}

/* Moves on to the next question that makes sense after the answers so far. */
static void move_on(tu_task_shop_new *made)
{
    while (++made->due < QUESTIONS) {
        const question *next = &questions[made->due];
        bool walls = made->answered[WALL_A] || made->answered[WALL_B];
        bool before = next->after == ALWAYS || made->answered[next->after];
        bool fits = !next->when || !strcmp(next->when, made->shape);
        if (before && fits && !(next->unless_walls && walls))
            return;
    }
}

/* The draft with the word in it, judged. */
static tu_status change_draft(tu_task_shop_new *made, tu_shop_kind kind, const char *word,
                              tu_error *error)
{
    char base[40];
    tu_shop_edit edit;
    tu_shop *changed = NULL;
    char *text = NULL;
    size_t length;
    tu_shop_kind_path(kind, 0, base, sizeof base);
    tu_status status = tu_shop_edit_word(kind, base, word, &edit, error);
    if (!status)
        status = tu_shop_edit_text(made->draft, &edit, 1, &text, &length, error);
    if (!status)
        status = tu_shop_parse_part(made->place.path, text, length, &changed, error);
    free(text);
    if (status)
        return status;
    tu_shop_destroy(made->draft);
    made->draft = changed;
    return TU_OK;
}

tu_status tu_task_shop_new_state(tu_task_shop_new *made, const char *word, tu_error *error)
{
    return change_draft(made, TU_SHOP_FILE, word, error);
}

tu_status tu_task_shop_new_answer(tu_task_shop_new *made, const char *text, tu_error *error)
{
    const question *q = &questions[made->due];
    if (!*text && !q->shown.optional)
        return tu_fail(error, TU_DATA_MISSING, NULL, "this has to be known; an answer is %s",
                       q->shown.example);
    char word[sizeof(((tu_shop_edit *)0)->new_json)];
    int length = snprintf(word, sizeof word, "%s=%s", q->key, text);
    if (length < 0 || (size_t)length >= sizeof word)
        return tu_fail(error, TU_DATA_RANGE, NULL, "this answer is too long");
    tu_status status = *text ? change_draft(made, q->kind, word, error) : TU_OK;
    if (status)
        return status;
    made->answered[made->due] = *text != '\0';
    if (made->due == SHAPE)
        snprintf(made->shape, sizeof made->shape, "%s", text);
    move_on(made);
    return TU_OK;
}

tu_status tu_task_shop_new_finish(tu_task_shop_new *made, tu_task_shop_story *story,
                                  tu_error *error)
{
    size_t length;
    const char *text = tu_shop_text(made->draft, &length);
    story->place = made->place;
    story->kind = TU_SHOP_FILE;
    tu_status status = tu_shop_parse(made->place.path, text, length, &story->shop, error);
    if (!status)
        status = tu_shop_write_new(made->place.path, text, length, error);
    if (!status)
        tu_shop_judge(story->shop, &story->lacks);
    return status;
}
