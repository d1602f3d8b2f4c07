/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_rehearsal_text.c - a rehearsed program as text: the verdict first, then the touches, then
 * the offset that the program set and the truth beside it.
 */
#include "report/answer.h"
#include "report/figure.h"
#include "report/rehearsal/rehearsal_words.h"
#include "report/word_rows.h"
#include "trueup/report.h"

#include <math.h>
#include <string.h>

enum { ROWS_MAX = 40 };

static void write_counts(FILE *out, const tu_rehearsal_story *story, const char *before)
{
    char text[256], searched[80] = "";
    size_t searches = tu_story_searches(story);
    if (searches)
        snprintf(searched, sizeof searched, " (%zu of them fast ones, which only search)",
                 searches);
    snprintf(text, sizeof text, "%s%zu touch%s%s, %zu pause%s, %s of motion.", before,
             story->touch_count, story->touch_count == 1 ? "" : "es", searched, story->pause_count,
             story->pause_count == 1 ? "" : "s", tu_story_duration(story->result.seconds).text);
    tu_word_rows_write(out, text, 0, 2);
}

/* What is in the scene and not what the program is made for, each a sentence of its own. */
static void write_mismatches(FILE *out, const tu_rehearsal *result)
{
    for (size_t i = 0; i < result->mismatch_count; i++) {
        fputs("  ", out);
        tu_word_rows_write(out, result->mismatch[i].text, 2, 4);
    }
}

/* "Clean" would be read as "good": what is wrong comes first. */
static void write_clean(FILE *out, const tu_rehearsal_story *story, tu_unit unit)
{
    if (tu_story_is_mismatched(story)) {
        fputs("Refused: what is in the scene is not what the program is made for.\n\n", out);
        write_mismatches(out, &story->result);
        fputc('\n', out);
    }
    if (tu_story_is_off(story))
        fprintf(out,
                "The offset that the program set is off by more than %s %s.\n"
                "It ran clean otherwise: every touch met something, nothing was struck.\n",
                tu_figure_place(unit, story->within_mm).text, tu_unit_name(unit));
    else if (tu_story_is_mismatched(story))
        fputs("It ran clean otherwise: every touch met something, nothing was struck.\n", out);
    else if (story->touch_count)
        fputs("Clean: every touch met what it looked for, nothing was struck.\n", out);
    else
        fputs("Clean: nothing was struck. The program touches nothing.\n", out);
}

static void write_verdict(FILE *out, const tu_rehearsal_story *story, tu_unit unit)
{
    const tu_rehearsal *result = &story->result;
    char text[TU_FAULT_TEXT_SIZE + 16];
    if (result->fault == TU_FAULT_NONE) {
        write_clean(out, story, unit);
        write_counts(out, story, "");
        return;
    }
    snprintf(text, sizeof text, "Fault, %s.", result->text);
    tu_word_rows_write(out, text, 0, 2);
    if (result->mismatch_count) {
        fputs("\nWhat is in the scene is not what the program is made for:\n\n", out);
        write_mismatches(out, result);
    }
    fputc('\n', out);
    write_counts(out, story, "Up to there: ");
    fputs("What comes after it was not rehearsed.\n", out);
}

/* The width of the longest series name, in columns. */
static int series_width(const tu_rehearsal_story *story)
{
    int width = (int)strlen("series");
    for (size_t i = 0; i < story->touch_count; i++) {
        int own = tu_word_rows_columns(story->touches[i].hit.series);
        width = own > width ? own : width;
    }
    return width;
}

static void write_touch(FILE *out, const tu_rehearsal_touch *touch, int width, tu_unit unit)
{
    const tu_hit *hit = &touch->hit;
    int pad = width - tu_word_rows_columns(hit->series);
    fprintf(out, "  %5zu  %s%*s  %c%c", touch->line, hit->series, pad, "",
            tu_axis_letter(hit->axis), hit->direction < 0 ? '-' : '+');
    fprintf(out, " %10s", tu_figure_place(unit, hit->position.x).text);
    fprintf(out, " %10s", tu_figure_place(unit, hit->position.y).text);
    fprintf(out, " %10s\n", tu_figure_place(unit, hit->position.z).text);
}

static void write_touches(FILE *out, const tu_rehearsal_story *story, tu_unit unit)
{
    size_t counting = story->touch_count - tu_story_searches(story), written = 0;
    int width = series_width(story);
    if (!counting)
        return;
    fprintf(out, "\nTouches that count, the tip in machine coordinates (%s):\n\n",
            tu_unit_name(unit));
    fprintf(out, "  %5s  %s%*s  %-2s %10s %10s %10s\n", "line", "series",
            width - (int)strlen("series"), "", "", "X", "Y", "Z");
    for (size_t i = 0; i < story->touch_count && written < ROWS_MAX; i++) {
        if (!story->touches[i].hit.ok)
            continue;
        write_touch(out, &story->touches[i], width, unit);
        written++;
    }
    if (written < counting)
        fprintf(out, "  and %zu more; %s and %s have all of them\n", counting - written,
                tu_face_word(story->face, "json"), tu_face_word(story->face, "log"));
}

static void write_pauses(FILE *out, const tu_rehearsal_story *story)
{
    char text[TU_RS274_MESSAGE_SIZE + 64];
    if (!story->pause_count)
        return;
    fputs("\nPauses for the person beside the machine:\n\n", out);
    for (size_t i = 0; i < story->pause_count && i < ROWS_MAX; i++) {
        const tu_rehearsal_pause *pause = &story->pauses[i];
        snprintf(text, sizeof text, "line %zu: %s", pause->line,
                 *pause->message ? pause->message : "(the program does not say what for)");
        fputs("  ", out);
        tu_word_rows_write(out, text, 2, 4);
    }
    if (story->pause_count > ROWS_MAX)
        fprintf(out, "  and %zu more\n", story->pause_count - ROWS_MAX);
}

static void write_offset(FILE *out, const tu_rehearsal_story *story, int slot, tu_unit unit)
{
    fprintf(out, "\n  %-5s %9s", tu_slot_name(slot + 1), "set");
    if (*tu_target_name(story->target))
        fprintf(out, " %12s %12s", "true", "difference");
    fputc('\n', out);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double set = story->result.slot_mm[slot][axis];
        double difference = tu_story_difference(story, slot, (tu_axis)axis);
        if (!story->result.slot_set[slot][axis])
            continue;
        fprintf(out, "  %c %13s", tu_axis_letter((tu_axis)axis), tu_figure_place(unit, set).text);
        if (isnan(difference)) {
            fputc('\n', out);
            continue;
        }
        fprintf(out, " %12s", tu_figure_place(unit, set - difference).text);
        fprintf(out, " %12s%s\n", tu_figure_place(unit, difference).text,
                tu_story_axis_is_off(story, slot, (tu_axis)axis) ? "  off" : "");
    }
}

static void write_offsets(FILE *out, const tu_rehearsal_story *story, tu_unit unit)
{
    const char *target = tu_target_name(story->target);
    const char *name = tu_unit_name(unit);
    if (!tu_story_sets_offset(story)) {
        if (story->touch_count && story->result.fault == TU_FAULT_NONE)
            fprintf(out, "\nThe program sets no offset. %s FILE keeps its touches, for %s.\n",
                    tu_face_word(story->face, "log"), tu_face_word(story->face, "zero.log"));
        return;
    }
    if (*target)
        fprintf(out, "\nOffset set by the program, and the true %s (%s):\n", target, name);
    else
        fprintf(out, "\nOffset set by the program (%s):\n", name);
    for (int slot = 0; slot < 9; slot++)
        if (tu_story_sets_slot(story, slot))
            write_offset(out, story, slot, unit);
}

tu_status tu_report_rehearsal_text(FILE *out, const tu_rehearsal_story *story, tu_unit unit,
                                   tu_error *error)
{
    write_verdict(out, story, unit);
    write_touches(out, story, unit);
    write_pauses(out, story);
    write_offsets(out, story, unit);
    return tu_answer_finish(out, error);
}
