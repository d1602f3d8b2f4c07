/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * setup.c - the names of axes, corners, faces and work offsets; what things start
 * with.
 */
#include "base/started.h"

#include "base/show.h"
#include "trueup/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

tu_machine tu_machine_start(void)
{
    tu_machine machine = {
        .step_mm = NAN, .shoe_diameter_mm = NAN, .shoe_height_mm = NAN, .drives_mm = NAN};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        machine.travel_low_mm[axis] = machine.travel_high_mm[axis] = NAN;
        machine.repeatability[axis] = (tu_repeatability){NAN, 0};
        machine.steps_per_mm[axis] = machine.rate_mm_per_min[axis] = NAN;
        machine.acceleration_mm_per_s2[axis] = machine.reversal_mm[axis] = NAN;
    }
    return machine;
}

tu_plate tu_plate_start(void)
{
    const tu_quantity none = tu_quantity_none();
    const tu_wall wall = {false, none, TU_FACES_OUTWARD, none, none};
    return (tu_plate){.started = true,
                      .thickness = none,
                      .turned = true,
                      .wall = {wall, wall},
                      .bore = {false, none, {none, none}, none},
                      .extent = {{none, none}, {none, none}}};
}

tu_cutter tu_cutter_start(void)
{
    const tu_quantity none = tu_quantity_none();
    return (tu_cutter){.diameter = none,
                       .corner_radius = none,
                       .included_rad = NAN,
                       .tip = none,
                       .helix_rad = NAN,
                       .turned_within_rad = NAN,
                       .core = none,
                       .run_out = none,
                       .flute_length = none,
                       .shank = none,
                       .stick_out = none,
                       .nut = none,
                       .length = none};
}

tu_stock tu_stock_start(void)
{
    const tu_quantity none = tu_quantity_none();
    return (tu_stock){{none, none, none}};
}

tu_status tu_fail_not_started(tu_error *error, const char *where, const char *start)
{
    return tu_fail(error, TU_DATA_MISSING, where,
                   "was not begun with %s(): what an initialiser leaves out is 0, as if it were "
                   "stated",
                   start);
}

typedef struct named_target {
    const char *name;
    tu_target target;
} named_target;

#define F TU_TARGET_FACE
#define M TU_TARGET_MIDDLE
#define H TU_TARGET_HOLE
#define B TU_TARGET_BOSS

static const named_target targets[TU_TARGET_NAME_COUNT] = {
    {"front-left-top", {{-1, -1, +1}, {F, F, F}}},
    {"front-right-top", {{+1, -1, +1}, {F, F, F}}},
    {"back-left-top", {{-1, +1, +1}, {F, F, F}}},
    {"back-right-top", {{+1, +1, +1}, {F, F, F}}},
    {"front-left-bottom", {{-1, -1, -1}, {F, F, F}}},
    {"front-right-bottom", {{+1, -1, -1}, {F, F, F}}},
    {"back-left-bottom", {{-1, +1, -1}, {F, F, F}}},
    {"back-right-bottom", {{+1, +1, -1}, {F, F, F}}},
    {"left", {{-1, 0, 0}, {F, F, F}}},
    {"right", {{+1, 0, 0}, {F, F, F}}},
    {"front", {{0, -1, 0}, {F, F, F}}},
    {"back", {{0, +1, 0}, {F, F, F}}},
    {"top", {{0, 0, +1}, {F, F, F}}},
    {"bottom", {{0, 0, -1}, {F, F, F}}},
    {"front-middle-top", {{0, -1, +1}, {M, F, F}}},
    {"back-middle-top", {{0, +1, +1}, {M, F, F}}},
    {"middle-left-top", {{-1, 0, +1}, {F, M, F}}},
    {"middle-right-top", {{+1, 0, +1}, {F, M, F}}},
    {"middle-top", {{0, 0, +1}, {M, M, F}}},
    {"front-middle-bottom", {{0, -1, -1}, {M, F, F}}},
    {"back-middle-bottom", {{0, +1, -1}, {M, F, F}}},
    {"middle-left-bottom", {{-1, 0, -1}, {F, M, F}}},
    {"middle-right-bottom", {{+1, 0, -1}, {F, M, F}}},
    {"middle-bottom", {{0, 0, -1}, {M, M, F}}},
    {"hole", {{0, 0, 0}, {H, H, F}}},
    {"hole-top", {{0, 0, +1}, {H, H, F}}},
    {"hole-bottom", {{0, 0, -1}, {H, H, F}}},
    {"boss", {{0, 0, 0}, {B, B, F}}},
    {"boss-top", {{0, 0, +1}, {B, B, F}}},
    {"boss-bottom", {{0, 0, -1}, {B, B, F}}},
};
#undef F
#undef M
#undef H
#undef B

char tu_axis_letter(tu_axis axis)
{
    switch (axis) {
    case TU_AXIS_X:
        return 'X';
    case TU_AXIS_Y:
        return 'Y';
    case TU_AXIS_Z:
        return 'Z';
    case TU_AXIS_COUNT:
        break;
    }
    return '?';
}

const char *tu_target_name_at(size_t index)
{
    return index < TU_TARGET_NAME_COUNT ? targets[index].name : "";
}

/* The words of a name as bits, in any order; 0 when one of them is none of a target's. */
static unsigned words_of(const char *name)
{
    static const char *const words[] = {"front", "back",   "left", "right", "middle",
                                        "top",   "bottom", "hole", "boss"};
    unsigned bits = 0;
    while (*name != '\0') {
        size_t n = strcspn(name, "-"), i = 0;
        while (i < sizeof words / sizeof *words &&
               (strlen(words[i]) != n || memcmp(words[i], name, n) != 0))
            i++;
        if (i == sizeof words / sizeof *words)
            return 0;
        bits |= 1U << i;
        name += n + (name[n] == '-');
    }
    return bits;
}

/* Whether known has the typed words and just one more. A middle is offered to whoever says it. */
static bool completes(unsigned typed, unsigned known)
{
    unsigned more = known & ~typed, middle = words_of("middle");
    return typed != 0 && (typed & ~known) == 0 && more != 0 && (more & (more - 1)) == 0 &&
           more != middle;
}

/* The names that typed may stand for: one, or several to choose from. Returns how many. */
static size_t likely_targets(const char *typed, const char *likely[TU_TARGET_NAME_COUNT])
{
    const char *names[TU_TARGET_NAME_COUNT];
    unsigned words = words_of(typed);
    size_t count = 0;
    for (size_t i = 0; i < TU_TARGET_NAME_COUNT; i++) {
        names[i] = targets[i].name;
        if (words != 0 && words_of(names[i]) == words) {
            likely[0] = names[i];
            return 1;
        }
        if (completes(words, words_of(names[i])))
            likely[count++] = names[i];
    }
    if (count == 0 && (likely[0] = tu_text_nearest(typed, names, TU_TARGET_NAME_COUNT)) != NULL)
        count = 1;
    return count;
}

tu_status tu_target_parse(const char *name, tu_target *target, tu_error *error)
{
    for (size_t i = 0; i < TU_TARGET_NAME_COUNT; i++) {
        if (strcmp(name, targets[i].name) == 0) {
            *target = targets[i].target;
            return TU_OK;
        }
    }
    *target = (tu_target){.outward = {0}};
    const char *likely[TU_TARGET_NAME_COUNT];
    char meant[200] = ".";
    size_t count = likely_targets(name, likely);
    for (size_t i = 0, used = 0; i < count && used < sizeof meant; i++)
        used += (size_t)snprintf(meant + used, sizeof meant - used, "%s\"%s\"%s",
                                 i == 0          ? "; did you mean "
                                 : i + 1 < count ? ", "
                                                 : " or ",
                                 likely[i], i + 1 < count ? "" : "?");
    return tu_fail(error, TU_DATA_UNKNOWN, NULL,
                   "unknown target \"%s\"%s A target is a corner, such as front-left-top "
                   "(front or back, left or right, top or bottom, in this order), or one of these "
                   "words alone for a face.",
                   tu_show(name, strlen(name)).text, meant);
}

const char *tu_target_name(tu_target target)
{
    for (size_t i = 0; i < TU_TARGET_NAME_COUNT; i++)
        if (memcmp(target.outward, targets[i].target.outward, sizeof target.outward) == 0 &&
            memcmp(target.kind, targets[i].target.kind, sizeof target.kind) == 0)
            return targets[i].name;
    return "";
}

bool tu_target_asks(tu_target target, tu_axis axis)
{
    return target.outward[axis] != 0 || target.kind[axis] != TU_TARGET_FACE;
}

bool tu_target_is_face(tu_target target)
{
    int signs = 0;
    bool plain = true;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        signs += target.outward[axis] != 0;
        plain = plain && target.kind[axis] == TU_TARGET_FACE;
    }
    return plain && signs == 1;
}

tu_status tu_target_check(tu_target target, tu_error *error)
{
    const char *name = tu_target_name(target);
    if (*name == '\0')
        return tu_fail(error, TU_USAGE, "TARGET", "is none of the eight corners and six faces");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (target.kind[axis] != TU_TARGET_FACE)
            return tu_fail(
                error, TU_USAGE, "TARGET",
                "%s is %s, which this version does not work out yet; name a corner, such "
                "as front-left-top, or a face",
                name, target.kind[axis] == TU_TARGET_MIDDLE ? "a middle" : "a round");
    return TU_OK;
}

static const char *const slots[TU_SLOT_COUNT] = {"G54", "G55",   "G56",   "G57",  "G58",
                                                 "G59", "G59.1", "G59.2", "G59.3"};

tu_status tu_slot_parse(const char *name, int *p, tu_error *error)
{
    *p = 0;
    for (int i = 0; i < TU_SLOT_COUNT; i++) {
        if (strcasecmp(name, slots[i]) == 0) {
            *p = i + 1;
            return TU_OK;
        }
    }
    const char *nearest = tu_text_nearest(name, slots, TU_SLOT_COUNT);
    return tu_fail(error, TU_USAGE, "{slot}",
                   "no work offset is called \"%.32s\"%s%s%s; there are "
                   "G54 to G59, G59.1, G59.2 and G59.3",
                   name, nearest ? ", did you mean " : "", nearest ? nearest : "",
                   nearest ? "?" : "");
}

const char *tu_slot_name(int p)
{
    return p >= 1 && p <= TU_SLOT_COUNT ? slots[p - 1] : "";
}
