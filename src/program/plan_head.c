/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_head.c - the head of a touch program, its end, and the two goes of writing it.
 */
#include "base/duration.h"
#include "program/made_for.h"
#include "program/plan_write.h"

#include <math.h>
#include <string.h>

static const char *const cautions[] = {
    "BEFORE THE START. The machine's manual, the rules of the place and trained people come first.",
    "1. The spindle cannot start: its power is off or locked out.",
    ("2. The clip is on the cutter. Touch plate or foil and cutter together by hand: the input "
     "changes, and changes back."),
    "3. A hand is at the stop, the eyes are on the cutter. Stop if a touch does not come.",
    "4. Afterwards take off plate, clip and wire, before anything cuts.",
};

static void write_space(tu_plan_writer *writer)
{
    const tu_plan_summary *summary = writer->summary;
    char text[200];
    int used = 0;
    text[0] = '\0';
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const double *space = summary->space_mm[axis];
        char part[64];
        tu_plan_format(part, sizeof part, "%s %c %s to +%s", axis == 0 ? "" : ",",
                       tu_axis_letter((tu_axis)axis), tu_plan_words(writer->style, space[0]).text,
                       tu_plan_words(writer->style, space[1]).text);
        size_t length = strlen(part);
        memcpy(text + used, part, length + 1);
        used += (int)length;
    }
    tu_plan_comment(writer, "SPACE from the start, a dead circuit included:%s.", text);
}

static void write_press(tu_plan_writer *writer)
{
    const double *worst = writer->summary->worst_press_mm;
    const tu_plan_style *style = writer->style;
    if (isnan(worst[0]))
        tu_plan_comment(writer, "A circuit that is dead lets the cutter press on, at most %s down.",
                        tu_plan_words(style, worst[1]).text);
    else
        tu_plan_comment(writer,
                        "A circuit that is dead lets the cutter press on, at most %s sideways and "
                        "%s down.",
                        tu_plan_words(style, worst[0]).text, tu_plan_words(style, worst[1]).text);
}

static void write_head(tu_plan_writer *writer)
{
    const tu_plan_summary *summary = writer->summary;
    const tu_plan_style *style = writer->style;
    bool inch = style->unit == TU_UNIT_INCH;
    tu_plan_comment(writer, "%s", summary->title);
    if (summary->made_for[0] != '\0')
        tu_plan_comment(writer, "%s%s%s", TU_MADE_FOR_START, summary->made_for, TU_MADE_FOR_END);
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
        tu_plan_comment(writer, "%s", cautions[i]);
    tu_plan_comment(writer, "START: %s", summary->start);
    if (!isnan(summary->start_mm[0]) && isnan(summary->path_mm))
        tu_plan_comment(writer, "Plate and stock may be turned against the axes by %.1f degrees.",
                        style->skew_rad * 180.0 / M_PI);
    write_space(writer);
    write_press(writer);
    tu_plan_comment(writer, "%zu touch%s; %zu pause%s; about %s, pauses left out.",
                    summary->touches, summary->touches == 1 ? " that counts" : "es that count",
                    summary->pauses, summary->pauses == 1 ? "" : "s",
                    tu_duration_about(summary->seconds).text);
    if (summary->pauses > 0)
        tu_plan_comment(writer,
                        "At a pause turn a cutting edge by hand, without loosening the "
                        "collet, to where its message says: the edge where it stands widest "
                        "beside the wall, which on a helix is not its tip.");
    if (style->set)
        tu_plan_comment(writer,
                        "It sets %s by itself, with parameters 1 to 3. No tool length offset and "
                        "no other shift of the axes may be in force, and the offsets that the "
                        "controller stores must be in %s, too: compare parameter %d with its "
                        "display first.",
                        tu_plan_slot(style).text, inch ? "inches" : "mm",
                        5221 + 20 * (style->slot - 1));
    tu_plan_comment(writer, "It leaves the machine in %s.", inch ? "inches, G20" : "mm, G21");
    tu_plan_block(writer, "M5 M9");
    tu_plan_block(writer, "G17 %s G80 G94", inch ? "G20" : "G21");
    tu_plan_block(writer, "G91 %s", tu_plan_slot(style).text);
    writer->distance = 91;
}

static tu_status check_travel(const tu_plan_writer *writer, const tu_machine *machine)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const double *space = writer->summary->space_mm[axis];
        double needed = space[1] - space[0];
        double travel = machine->travel_high_mm[axis] - machine->travel_low_mm[axis];
        if (needed > travel)
            return tu_fail(writer->error, TU_DATA_RANGE, "machine",
                           "the program may need %.1f mm of %c, and the machine's travel is %.1f "
                           "mm: use a smaller {window}, {height} or {clearance}, or fewer columns",
                           needed, tu_axis_letter((tu_axis)axis), travel);
    }
    return TU_OK;
}

static void start_summary(tu_plan_summary *summary)
{
    memset(summary->space_mm, 0, sizeof summary->space_mm);
    summary->touches = summary->pauses = 0;
    summary->seconds = 0.0;
    summary->worst_press_mm[0] = summary->worst_press_mm[1] = NAN;
}

tu_status tu_plan_run(FILE *out, tu_plan_writer *writer, const tu_machine *machine,
                      tu_plan_body *body, const void *context)
{
    tu_plan_writer dry = *writer;
    dry.out = NULL;
    dry.status = TU_OK;
    start_summary(dry.summary);
    body(&dry, context);
    if (!dry.status)
        dry.status = check_travel(&dry, machine);
    if (dry.status)
        return dry.status;
    tu_plan_writer wet = *writer;
    wet.out = out;
    wet.status = TU_OK;
    write_head(&wet);
    start_summary(wet.summary);
    body(&wet, context);
    /* M2 goes back to absolute by the standard; not every controller does. */
    tu_plan_distance(&wet, 90);
    tu_plan_block(&wet, "M2");
    if (!wet.status && (fflush(out) != 0 || ferror(out)))
        tu_plan_fail(&wet, TU_SYSTEM_IO, NULL, "the program cannot be written");
    return wet.status;
}
