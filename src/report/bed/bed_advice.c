/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_advice.c - what to do about a bed, in sentences, and why not yet.
 */
#include "report/bed/bed_words.h"

#include "report/figure.h"

#include <math.h>
#include <string.h>

/* Deeper than beds are surfaced at once: rather something else was touched. Common practice, no
 * source. */
static const double surfacing_deep_mm = 3;

tu_bed_words tu_bed_say_doubt(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {""};
    const tu_bed_answer *without = answer->without;
    if (answer->seam_mm > 0) { /* which makes suspects along it, and shims for it */
        tu_bed_add_words(&words,
                         "Series put together here stand %s apart where they adjoin: as one map "
                         "they are no bed, so nothing is advised.",
                         tu_bed_show(unit, answer->seam_mm).text);
        return words;
    }
    if (answer->suspect)
        tu_bed_add_words(&words,
                         "What follows rests on a suspect place at X %s Y %s: look and touch it "
                         "again (%s). ",
                         tu_figure_place(unit, answer->suspect->x_mm).text,
                         tu_figure_place(unit, answer->suspect->y_mm).text,
                         tu_face_word(answer->face, "re_touch"));
    if (answer->suspect && without)
        tu_bed_add_words(&words, "Without the suspects it is %s from the highest to the lowest, ",
                         tu_bed_show(unit, without->range_mm).text);
    if (answer->suspect && without)
        tu_bed_add_words(&words, "%s of it warp. ", tu_bed_show(unit, without->zone.FLTt_mm).text);
    if (answer->parted_mm > 0)
        tu_bed_add_words(
            &words,
            "The heights fall into two groups %s apart, of %zu and %zu places: touches on a "
            "plate, or of another series? Find out before anything is shimmed or "
            "surfaced. ",
            tu_bed_show(unit, answer->parted_mm).text, answer->parted_low, answer->parted_high);
    else if (answer->surfacing.depth_mm > surfacing_deep_mm)
        tu_bed_add_words(&words,
                         "%s to surface is more than a bed is out by: touches on a plate, or of "
                         "another series? ",
                         tu_bed_show(unit, answer->surfacing.depth_mm).text);
    size_t length = strlen(words.text);
    if (length > 0)
        words.text[length - 1] = '\0';
    return words;
}

static size_t count_shims(const tu_bed_answer *answer)
{
    size_t shims = 0;
    for (size_t i = 0; i < answer->supports; i++)
        shims += answer->add_mm[i] >= tu_bed_shim_least_mm;
    return shims;
}

static void say_shims(tu_bed_words *words, const tu_bed_answer *answer, tu_unit unit)
{
    size_t shims = count_shims(answer), said = 0;
    for (size_t i = 0; i < answer->supports; i++) {
        if (answer->add_mm[i] < tu_bed_shim_least_mm)
            continue;
        tu_bed_add_words(words, "%s%s %s by %s",
                         said == 0           ? "shim "
                         : said + 1 == shims ? " and "
                                             : ", ",
                         answer->corners ? "the" : "the support at",
                         tu_bed_say_support(answer, i, unit).text,
                         tu_bed_show(unit, answer->add_mm[i]).text);
        said++;
    }
}

static void say_surfacing(tu_bed_words *words, const tu_bed_answer *answer, tu_unit unit)
{
    const tu_surfacing *surfacing = &answer->surfacing;
    tu_bed_length depth = tu_bed_show(unit, surfacing->depth_mm);
    if (isnan(answer->depth_of_cut_mm))
        tu_bed_add_words(words, "surface %s to make it flat (%s tells in how many passes)",
                         depth.text, tu_face_word(answer->face, "depth_of_cut"));
    else
        tu_bed_add_words(words, "surface %s in %zu pass%s to make it flat", depth.text,
                         surfacing->passes, surfacing->passes == 1 ? "" : "es");
}

/* Without a capital and a full stop. */
static void say_advice(tu_bed_words *words, const tu_bed_answer *answer, tu_unit unit)
{
    size_t shims = answer->tilt_hidden ? 0 : count_shims(answer);
    bool tilted = answer->zone.FLTt_mm < 0.95 * answer->range_mm;
    const char *level = answer->job ? "to level the job" : "to take out the tilt";
    if (tu_bed_is_flat(answer)) {
        tu_bed_add_words(words, "nothing to level or to surface");
        return;
    }
    if (shims > 0 && shims <= 4 && tilted) {
        say_shims(words, answer, unit);
        tu_bed_add_words(words, " %s, or ", level);
    } else if (shims > 4 && tilted) {
        tu_bed_add_words(words, "shim the supports as listed below %s, or ", level);
    }
    say_surfacing(words, answer, unit);
}

/* Suspects decide: both ways, so that nobody cuts for a chip. */
static tu_bed_words say_both(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {"Look before you shim or surface."};
    if (answer->parted_mm > 0 && (!answer->without || answer->without->parted_mm > 0))
        return words;
    if (!(answer->parted_mm > 0)) {
        tu_bed_add_words(&words, " As touched: ");
        say_advice(&words, answer, unit);
        tu_bed_add_words(&words, ".");
    }
    if (answer->without) {
        tu_bed_add_words(&words, " Without the suspects: ");
        say_advice(&words, answer->without, unit);
        tu_bed_add_words(&words, ".");
    }
    return words;
}

tu_bed_words tu_bed_say_remedy(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {""};
    if (answer->seam_mm > 0)
        return words;
    if (answer->suspect)
        return say_both(answer, unit);
    if (tu_bed_is_flat(answer) || answer->parted_mm > 0)
        return words;
    if (tu_bed_is_within(answer))
        tu_bed_add_words(&words, "To have it flatter still: ");
    size_t start = strlen(words.text);
    say_advice(&words, answer, unit);
    tu_bed_add_words(&words, ".");
    if (start == 0)
        words.text[0] = (char)(words.text[0] - 'a' + 'A');
    return words;
}

/* --- through cuts --- */

static double known_reserve(const tu_bed_answer *answer)
{
    return answer->reserve_mm >= 0.0005 ? answer->reserve_mm : 0; /* not NaN */
}

/* The overcut to take, and what of it is reserve. */
static void say_needed(tu_bed_words *words, const tu_bed_answer *answer, tu_unit unit)
{
    const double reserve = known_reserve(answer);
    tu_bed_add_words(words, "%s",
                     tu_bed_show(unit, answer->through.overcut_needed_mm + reserve).text);
    if (reserve > 0)
        tu_bed_add_words(words, " (with a reserve of %s)", tu_bed_show(unit, reserve).text);
    else if (isnan(answer->reserve_mm))
        tu_bed_add_words(words, " (no reserve in it: nothing tells how heights scatter)");
}

static void say_cut(tu_bed_words *words, const tu_bed_answer *answer, tu_unit unit)
{
    const tu_through_cut *cut = &answer->through;
    const double reserve = known_reserve(answer), needed = cut->overcut_needed_mm + reserve;
    const char *all_over = tu_bed_is_patchy(answer) ? "everywhere that was touched" : "everywhere";
    if (cut->worst_skin_mm > 0) {
        tu_bed_add_words(words, ", and leaves a skin of up to %s; ",
                         tu_bed_show(unit, cut->worst_skin_mm).text);
        say_needed(words, answer, unit);
        tu_bed_add_words(words, " would cut through %s, with a bite of up to %s.", all_over,
                         tu_bed_show(unit, cut->bite_then_mm + reserve).text);
    } else if (answer->overcut_mm < needed && reserve > 0) {
        tu_bed_add_words(words, ", and cuts through by less than heights scatter, so a skin may "
                                "stay; ");
        say_needed(words, answer, unit);
        tu_bed_add_words(words, " would cut through %s.", all_over);
    } else if (needed < 0) {
        tu_bed_add_words(words, ", and cuts through %s, even if it ended %s above the underside.",
                         all_over, tu_bed_show(unit, -needed).text);
    } else {
        tu_bed_add_words(words, ", and cuts through %s; ", all_over);
        say_needed(words, answer, unit);
        tu_bed_add_words(words, " would be enough.");
    }
}

static void say_cut_doubt(tu_bed_words *words, const tu_bed_answer *answer, tu_unit unit)
{
    const tu_bed_point *at = answer->reference_suspect;
    if (at)
        tu_bed_add_words(words,
                         " The height of the bed where the stock was zeroed rests on a suspect "
                         "place, X %s Y %s%s%s.",
                         tu_figure_place(unit, at->x_mm).text, tu_figure_place(unit, at->y_mm).text,
                         answer->reference_stated ? "" : ": state ",
                         answer->reference_stated ? "" : tu_face_word(answer->face, "zeroed_at"));
    const tu_bed_answer *without = answer->without;
    if (without && without->through_asked &&
        fabs(without->through.overcut_needed_mm - answer->through.overcut_needed_mm) >= 0.0005) {
        tu_bed_add_words(words, " Without the suspects, ");
        say_needed(words, without, unit);
        tu_bed_add_words(words, " would be enough.");
    }
}

tu_bed_words tu_bed_say_through_cut(const tu_bed_answer *answer, tu_unit unit)
{
    tu_bed_words words = {""};
    const tu_through_cut *cut = &answer->through;
    if (!answer->through_asked)
        return words;
    tu_bed_add_words(&words, "A cut programmed %s %s the stock's underside, zeroed %s: ",
                     tu_bed_show(unit, fabs(answer->overcut_mm)).text,
                     answer->overcut_mm < 0 ? "above" : "below",
                     answer->reference_stated ? "where stated" : "in the middle");
    if (cut->worst_bite_mm > 0)
        tu_bed_add_words(&words, "it bites up to %s into the bed",
                         tu_bed_show(unit, cut->worst_bite_mm).text);
    else
        tu_bed_add_words(&words, "it never reaches the bed");
    say_cut(&words, answer, unit);
    say_cut_doubt(&words, answer, unit);
    return words;
}
