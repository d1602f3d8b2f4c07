/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * setup.c - the names of axes, corners, faces and work offsets; what things start
 * with.
 */
#include "base/started.h"

#include "base/show.h"
#include "trueup/text.h"

#include <math.h>
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

static const named_target targets[TU_TARGET_COUNT] = {
    {"front-left-top", {{-1, -1, +1}}},
    {"front-right-top", {{+1, -1, +1}}},
    {"back-left-top", {{-1, +1, +1}}},
    {"back-right-top", {{+1, +1, +1}}},
    {"front-left-bottom", {{-1, -1, -1}}},
    {"front-right-bottom", {{+1, -1, -1}}},
    {"back-left-bottom", {{-1, +1, -1}}},
    {"back-right-bottom", {{+1, +1, -1}}},
    {"left", {{-1, 0, 0}}},
    {"right", {{+1, 0, 0}}},
    {"front", {{0, -1, 0}}},
    {"back", {{0, +1, 0}}},
    {"top", {{0, 0, +1}}},
    {"bottom", {{0, 0, -1}}},
};

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
    return index < TU_TARGET_COUNT ? targets[index].name : "";
}

/* Whether both names are made of the same words, in any order. */
static bool same_words(const char *typed, const char *known)
{
    if (strlen(typed) != strlen(known))
        return false;
    while (*typed != '\0') {
        char word[TU_NAME_SIZE];
        size_t n = strcspn(typed, "-");
        if (n == 0 || n >= sizeof word)
            return false;
        memcpy(word, typed, n);
        word[n] = '\0';
        if (strstr(known, word) == NULL)
            return false;
        typed += n + (typed[n] == '-');
    }
    return true;
}

static const char *nearest_target(const char *typed)
{
    const char *names[TU_TARGET_COUNT];
    for (size_t i = 0; i < TU_TARGET_COUNT; i++) {
        names[i] = targets[i].name;
        if (same_words(typed, names[i]))
            return names[i];
    }
    return tu_text_nearest(typed, names, TU_TARGET_COUNT);
}

tu_status tu_target_parse(const char *name, tu_target *target, tu_error *error)
{
    for (size_t i = 0; i < TU_TARGET_COUNT; i++) {
        if (strcmp(name, targets[i].name) == 0) {
            *target = targets[i].target;
            return TU_OK;
        }
    }
    *target = (tu_target){{0, 0, 0}};
    const char *nearest = nearest_target(name);
    return tu_fail(error, TU_DATA_UNKNOWN, NULL,
                   "unknown target \"%s\"%s%s%s A target is a corner, such as front-left-top "
                   "(front or back, left or right, top or bottom, in this order), or one of these "
                   "words alone for a face.",
                   tu_show(name, strlen(name)).text, nearest != NULL ? "; did you mean \"" : ".",
                   nearest != NULL ? nearest : "", nearest != NULL ? "\"?" : "");
}

const char *tu_target_name(tu_target target)
{
    for (size_t i = 0; i < TU_TARGET_COUNT; i++)
        if (memcmp(target.outward, targets[i].target.outward, sizeof target.outward) == 0)
            return targets[i].name;
    return "";
}

bool tu_target_is_face(tu_target target)
{
    int signs = 0;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        signs += target.outward[axis] != 0;
    return signs == 1;
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
