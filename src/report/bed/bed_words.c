/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_words.c - what a bed's figures mean, in sentences.
 */
#include "report/bed/bed_words.h"

#include "report/figure.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

const char tu_bed_sag_note[] = "This is the bed against the machine's own motion: a sagging beam "
                               "and a warped board look alike "
                               "until a straightedge is laid on the bed.";

const double tu_bed_shim_least_mm = 0.02; /* thinner than any paper */

void tu_bed_add_words(tu_bed_words *words, const char *format, ...)
{
    size_t used = strlen(words->text);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(words->text + used, sizeof words->text - used, format, arguments);
    va_end(arguments);
}

tu_bed_length tu_bed_show(tu_unit unit, double length_mm)
{
    tu_bed_length shown;
    double least = unit == TU_UNIT_MM ? 0.0005 : 0.00005 * TU_MM_PER_INCH;
    double value = fabs(length_mm) < least ? 0 : length_mm;
    snprintf(shown.text, sizeof shown.text, "%s %s", tu_figure_place(unit, value).text,
             tu_unit_name(unit));
    return shown;
}

/* Less than a shim can mend: no advice would make it better. */
bool tu_bed_is_flat(const tu_bed_answer *answer)
{
    return answer->range_mm < tu_bed_shim_least_mm && !(answer->range_mm > answer->limit_mm);
}

tu_bed_words tu_bed_say_verdict(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {""};
    double warp = answer->zone.FLTt_mm;
    tu_bed_add_words(&words, "%s from the highest to the lowest ",
                     tu_bed_show(unit, answer->range_mm).text);
    if (answer->job)
        tu_bed_add_words(&words, "place of the job");
    else
        tu_bed_add_words(&words, "of %zu places", answer->places.count);
    if (tu_bed_is_flat(answer))
        tu_bed_add_words(&words, ": nothing to level or to surface.");
    else if (warp < answer->range_mm * 0.95)
        tu_bed_add_words(&words, "; %s of it is warp, the rest is tilt.",
                         tu_bed_show(unit, warp).text);
    else
        tu_bed_add_words(&words, ", nearly all of it warp (%s)%s.", tu_bed_show(unit, warp).text,
                         answer->suspect ? "" : ": levelling does not help");
    return words;
}

tu_bed_words tu_bed_say_support(const tu_bed_answer *answer, size_t support, tu_unit unit)
{
    static const char *const corner[] = {"front left corner", "front right corner",
                                         "back left corner", "back right corner"};
    tu_bed_words words = {""};
    if (answer->corners)
        tu_bed_add_words(&words, "%s", corner[support]);
    else
        tu_bed_add_words(&words, "X %s Y %s",
                         tu_figure_place(unit, answer->support[support].x).text,
                         tu_figure_place(unit, answer->support[support].y).text);
    return words;
}

/* Whether the limit holds all over: nobody can say so of a job that was only touched in part. By a
 * hundredth the touches may miss its edges. */
bool tu_bed_is_within(const tu_bed_answer *answer)
{
    const tu_surfacing *surfacing = &answer->surfacing;
    double all = surfacing->area_mm2 + surfacing->unknown_mm2;
    bool covered = !answer->job || surfacing->unknown_mm2 <= 0.01 * all;
    return answer->range_mm <= answer->limit_mm && covered;
}

tu_bed_words tu_bed_say_limit(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {""};
    if (isnan(answer->limit_mm))
        return words;
    tu_bed_length limit = tu_bed_show(unit, answer->limit_mm);
    if (tu_bed_is_within(answer))
        tu_bed_add_words(&words, "Within the limit of %s%s.", limit.text,
                         tu_bed_is_patchy(answer) && !answer->job ? " where it was touched" : "");
    else if (answer->range_mm <= answer->limit_mm)
        tu_bed_add_words(
            &words, "What was touched of the job is within the limit of %s; the rest is not known.",
            limit.text);
    else if (answer->zone.FLTt_mm <= answer->limit_mm)
        tu_bed_add_words(&words, "Over the limit of %s; without the tilt it would be within.",
                         limit.text);
    else
        tu_bed_add_words(&words, "Over the limit of %s; without the tilt it would be over it, too.",
                         limit.text);
    return words;
}

bool tu_bed_is_patchy(const tu_bed_answer *answer)
{
    const tu_surfacing *surfacing = &answer->surfacing;
    return answer->surfaced && surfacing->unknown_mm2 > 0.001 * surfacing->area_mm2;
}

tu_bed_words tu_bed_say_cover(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {""};
    const tu_bed_model *model = &answer->model;
    const tu_surfacing *surfacing = &answer->surfacing;
    if (model->kind == TU_BED_GRID && model->filled)
        tu_bed_add_words(&words,
                         "%zu crossing%s of the grid %s not touched, and %s filled in between %s "
                         "neighbours. ",
                         model->filled, model->filled == 1 ? "" : "s",
                         model->filled == 1 ? "was" : "were", model->filled == 1 ? "is" : "are",
                         model->filled == 1 ? "its" : "their");
    if (!tu_bed_is_patchy(answer))
        return words;
    double all = surfacing->area_mm2 + surfacing->unknown_mm2;
    bool inch = unit == TU_UNIT_INCH;
    tu_bed_add_words(
        &words, "Of the %s, %s %s (%s %%) are not known: nobody touched there",
        answer->job ? "job" : "rectangle around the touches",
        tu_figure_number(surfacing->unknown_mm2 / (inch ? TU_MM_PER_INCH * TU_MM_PER_INCH : 100), 0)
            .text,
        inch ? "in2" : "cm2",
        tu_figure_number(fmin(99.9, 100 * surfacing->unknown_mm2 / all), 1).text);
    if (model->kind == TU_BED_MESH && model->bridges)
        tu_bed_add_words(&words,
                         ", or places are further apart than %s, four times the usual distance",
                         tu_bed_show(unit, model->longest_edge_mm).text);
    tu_bed_add_words(&words, ".");
    return words;
}

tu_bed_words tu_bed_say_renewed(const tu_bed_answer *answer)
{
    tu_bed_words words = {""};
    const tu_bed_places *places = &answer->places;
    if (places->replaced)
        tu_bed_add_words(
            &words, "%zu place%s touched again: the later touches count, %zu earlier one%s not.",
            places->renewed, places->renewed == 1 ? " was" : "s were", places->replaced,
            places->replaced == 1 ? " does" : "s do");
    return words;
}

tu_bed_words tu_bed_say_noise(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {""};
    const tu_inflation *inflation = &answer->inflation;
    if (!answer->inflated)
        return words;
    tu_bed_add_words(&words, "A touch repeats to %s (standard deviation, from %s). ",
                     tu_bed_show(unit, answer->sd_mm).text, answer->sd_source);
    if (inflation->inflation_mm < 0.0005)
        tu_bed_add_words(&words, "That adds next to nothing to the warp");
    else
        tu_bed_add_words(&words, "That makes the warp look larger by about %s",
                         tu_bed_show(unit, inflation->inflation_mm).text);
    if (inflation->low_mm < 0.0005)
        tu_bed_add_words(&words, ": it is truly %s at most, perhaps none (95 %%).",
                         tu_bed_show(unit, inflation->high_mm).text);
    else
        tu_bed_add_words(&words, ": it is truly between %s and %s (95 %%).",
                         tu_bed_show(unit, inflation->low_mm).text,
                         tu_bed_show(unit, inflation->high_mm).text);
    return words;
}

static tu_bed_words say_shift(tu_unit unit, double shift_mm)
{
    tu_bed_words words = {""};
    tu_bed_add_words(&words, "%s %s", tu_bed_show(unit, fabs(shift_mm)).text,
                     shift_mm < 0 ? "lower" : "higher");
    return words;
}

/* What all places changed by alike says nothing of the bed unless the tool stayed in its collet. */
static void say_common(tu_bed_words *words, const tu_bed_comparison *change, tu_unit unit)
{
    if (fabs(change->mean_mm) < tu_bed_shim_least_mm)
        return;
    tu_bed_add_words(words,
                     " The %s on average may come from another tool length or another homing, and "
                     "not from the bed; without it, places are from ",
                     say_shift(unit, change->mean_mm).text);
    tu_bed_add_words(words, "%s to ", say_shift(unit, change->fall.z_mm - change->mean_mm).text);
    tu_bed_add_words(words, "%s.", say_shift(unit, change->rise.z_mm - change->mean_mm).text);
}

tu_bed_words tu_bed_say_change(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {""};
    const tu_bed_comparison *change = &answer->comparison;
    if (!answer->against)
        return words;
    /* a path too long for a sentence would push the figures out */
    const char *since = strlen(answer->against) > 200 ? "the earlier map" : answer->against;
    tu_bed_add_words(&words, "Since %s, at %zu place%s: %s on average, ", since, change->points,
                     change->points == 1 ? "" : "s", say_shift(unit, change->mean_mm).text);
    tu_bed_add_words(&words, "from %s to %s; ", say_shift(unit, change->fall.z_mm).text,
                     say_shift(unit, change->rise.z_mm).text);
    tu_bed_add_words(&words, "highest to lowest was %s there, and is %s now.",
                     tu_bed_show(unit, change->range_before_mm).text,
                     tu_bed_show(unit, change->range_now_mm).text);
    say_common(&words, change, unit);
    return words;
}
