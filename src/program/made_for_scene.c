/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * made_for_scene.c - what lies in the scene, beside what a program is made for; in words of what a
 * person would see.
 */
#include "program/made_for.h"
#include "program/scene_solids.h"

#include "base/c_locale.h"
#include "trueup/number.h"
#include "trueup/zero.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Last bits of doubles. */
static const double whisker_mm = 1e-6;
static const double whisker_rad = 1e-4; /* of an angle in hundredths of a degree */

typedef struct comparison {
    const tu_made_for *made;
    const tu_scene *scene;
    const bool *sideways;
    tu_rehearsal *result;
} comparison;

typedef struct shown_length {
    char text[TU_NUMBER_TEXT_SIZE + 8];
} shown_length;

typedef struct shown {
    char text[160];
} shown;

/* In the unit of the program's head. */
static shown_length show(const comparison *c, double length_mm)
{
    shown_length s;
    char number[TU_NUMBER_TEXT_SIZE];
    tu_number_format(number, sizeof number, tu_unit_from_mm(c->made->unit, length_mm),
                     c->made->unit == TU_UNIT_INCH ? 4 : 3);
    snprintf(s.text, sizeof s.text, "%s %s", number, tu_unit_name(c->made->unit));
    return s;
}

/* "9.530 mm", or "9.530 mm (+-0.020 mm)" */
static shown show_planned(const comparison *c, tu_made_for_size which)
{
    tu_quantity size = c->made->size[which];
    shown s;
    if (size.tolerance_mm > 0.0)
        snprintf(s.text, sizeof s.text, "%s (+-%s)", show(c, size.value_mm).text,
                 show(c, size.tolerance_mm).text);
    else
        snprintf(s.text, sizeof s.text, "%s", show(c, size.value_mm).text);
    return s;
}

static void add(const comparison *c, const char *what, double planned_mm, double found_mm,
                const char *format, ...) TU_PRINTF(5, 6);

static void add(const comparison *c, const char *what, double planned_mm, double found_mm,
                const char *format, ...)
{
    tu_rehearsal *result = c->result;
    if (result->mismatch_count == TU_MISMATCHES_MAX)
        return;
    tu_mismatch *mismatch = &result->mismatch[result->mismatch_count++];
    *mismatch = (tu_mismatch){.what = what, .made_for_mm = planned_mm, .found_mm = found_mm};
    va_list arguments;
    va_start(arguments, format);
    tu_c_locale_format(mismatch->text, sizeof mismatch->text, format, arguments);
    va_end(arguments);
}

static bool agrees(const comparison *c, tu_made_for_size which, double found_mm)
{
    tu_quantity size = c->made->size[which];
    double allowed = c->made->rounding_mm[which] + whisker_mm;
    if (size.tolerance_mm > 0.0)
        allowed += size.tolerance_mm;
    return fabs(size.value_mm - found_mm) <= allowed;
}

/* Where both are known and differ. */
static bool differs(const comparison *c, tu_made_for_size which, double found_mm)
{
    return tu_quantity_is_stated(c->made->size[which]) && !isnan(found_mm) &&
           !agrees(c, which, found_mm);
}

static double off_mm(const comparison *c, tu_made_for_size which, double found_mm)
{
    return fabs(found_mm - c->made->size[which].value_mm);
}

/* --- What it would do --- */

/* "X", "Y", "X and Y", of what was touched; "each side" where the run ended before. */
static const char *touched_axes(const comparison *c)
{
    if (c->sideways[0] && c->sideways[1])
        return "X and Y";
    return c->sideways[0] ? "X" : c->sideways[1] ? "Y" : "each side";
}

static bool only_height(const comparison *c)
{
    return c->result->fault == TU_FAULT_NONE && !c->sideways[0] && !c->sideways[1];
}

static shown effect_of_cutter(const comparison *c, double off)
{
    shown s;
    bool round = c->made->has_shape && c->made->shape != TU_CUTTER_FLAT;
    round = round || c->scene->cutter.shape != TU_CUTTER_FLAT;
    if (only_height(c))
        snprintf(s.text, sizeof s.text, "Z is found all the same");
    else if (tu_quantity_is_stated(c->made->size[TU_MADE_FOR_BORE]))
        snprintf(s.text, sizeof s.text,
                 "the bore's middle is found all the same, but it would measure %s%s wrong",
                 round ? "up to " : "", show(c, off).text);
    else
        snprintf(s.text, sizeof s.text, "%s would be %s%s off", touched_axes(c),
                 round ? "up to " : "", show(c, off / 2.0).text);
    return s;
}

/* The axis that a wall serves where the plate is meant to lie. */
static char axis_of_wall(const comparison *c, int wall)
{
    bool told = c->made->corner.outward[TU_AXIS_X] != 0;
    tu_target corner = told ? c->made->corner : c->scene->plate_corner;
    return tu_axis_letter(
        tu_plate_wall_for(&c->scene->plate, corner, TU_AXIS_X) == wall ? TU_AXIS_X : TU_AXIS_Y);
}

/* --- The cutter --- */

static const char *shape_name(tu_cutter_shape shape)
{
    static const char *const names[] = {[TU_CUTTER_FLAT] = "a flat cutter",
                                        [TU_CUTTER_BALL] = "a ball cutter",
                                        [TU_CUTTER_BULL] = "a bull nose",
                                        [TU_CUTTER_VEE] = "a vee"};
    return names[shape];
}

static void compare_shape(const comparison *c)
{
    const tu_made_for *made = c->made;
    const tu_cutter *cutter = &c->scene->cutter;
    if (made->has_shape && made->shape != cutter->shape) {
        add(c, "cutter_shape", NAN, NAN, "the program is made for %s; in the scene it is %s: %s",
            shape_name(made->shape), shape_name(cutter->shape),
            only_height(c) ? "Z is found all the same" : "it touches a side with another radius");
        return;
    }
    if (!isnan(made->included_rad) && cutter->shape == TU_CUTTER_VEE &&
        !(fabs(made->included_rad - cutter->included_rad) <= whisker_rad))
        add(c, "cutter_angle", NAN, NAN,
            "the program is made for a vee of %.2f degrees; the one in the scene has %.2f: it "
            "touches a side with another radius",
            made->included_rad * 180.0 / M_PI, cutter->included_rad * 180.0 / M_PI);
    if (cutter->shape == TU_CUTTER_BULL &&
        differs(c, TU_MADE_FOR_CUTTER_CORNER, cutter->corner_radius.value_mm))
        add(c, "cutter_corner", made->size[TU_MADE_FOR_CUTTER_CORNER].value_mm,
            cutter->corner_radius.value_mm,
            "the program is made for a bull nose with a corner of %s; in the scene it is %s",
            show_planned(c, TU_MADE_FOR_CUTTER_CORNER).text,
            show(c, cutter->corner_radius.value_mm).text);
    double tip = isnan(cutter->tip.value_mm) ? 0.0 : cutter->tip.value_mm;
    if (cutter->shape == TU_CUTTER_VEE && differs(c, TU_MADE_FOR_CUTTER_TIP, tip))
        add(c, "cutter_tip", made->size[TU_MADE_FOR_CUTTER_TIP].value_mm, tip,
            "the program is made for a vee whose tip is %s; in the scene it is %s: %s",
            show_planned(c, TU_MADE_FOR_CUTTER_TIP).text, show(c, tip).text,
            effect_of_cutter(c, off_mm(c, TU_MADE_FOR_CUTTER_TIP, tip)).text);
}

static void compare_cutter(const comparison *c)
{
    double found = c->scene->cutter.diameter.value_mm;
    if (differs(c, TU_MADE_FOR_CUTTER, found))
        add(c, "cutter", c->made->size[TU_MADE_FOR_CUTTER].value_mm, found,
            "the program is made for a cutter of %s; the one in the scene is %s: %s",
            show_planned(c, TU_MADE_FOR_CUTTER).text, show(c, found).text,
            effect_of_cutter(c, off_mm(c, TU_MADE_FOR_CUTTER, found)).text);
    compare_shape(c);
}

/* --- The plate --- */

static double wall_offset(const tu_plate *plate, int wall)
{
    return plate->wall[wall].present ? plate->wall[wall].offset.value_mm : NAN;
}

/* "X would be 0.062 mm off" */
static shown effect_along(const comparison *c, char axis, double off)
{
    shown s;
    if (c->result->fault == TU_FAULT_NONE && !c->sideways[axis == 'X' ? 0 : 1])
        snprintf(s.text, sizeof s.text, "no touch of %c counts here", axis);
    else
        snprintf(s.text, sizeof s.text, "%c would be %s off", axis, show(c, off).text);
    return s;
}

static void compare_wall(const comparison *c, int wall)
{
    static const char *const names[] = {"wall_a", "wall_b"};
    tu_made_for_size which = wall == 0 ? TU_MADE_FOR_WALL_A : TU_MADE_FOR_WALL_B;
    double found = wall_offset(&c->scene->plate, wall);
    if (differs(c, which, found))
        add(c, names[wall], c->made->size[which].value_mm, found,
            "the program is made for wall %c at %s; on the plate in the scene it stands at %s: %s",
            'a' + wall, show_planned(c, which).text, show(c, found).text,
            effect_along(c, axis_of_wall(c, wall), off_mm(c, which, found)).text);
    else if (tu_quantity_is_stated(c->made->size[which]) && isnan(found))
        add(c, names[wall], c->made->size[which].value_mm, NAN,
            "the program is made for a plate with wall %c; the one in the scene has none",
            'a' + wall);
}

/* Turned wrong and slid back against the edges, a plate has wall a where b should be. */
static void compare_walls(const comparison *c)
{
    double a = wall_offset(&c->scene->plate, 0), b = wall_offset(&c->scene->plate, 1);
    bool wrong = differs(c, TU_MADE_FOR_WALL_A, a) && differs(c, TU_MADE_FOR_WALL_B, b);
    if (!wrong || !agrees(c, TU_MADE_FOR_WALL_A, b) || !agrees(c, TU_MADE_FOR_WALL_B, a)) {
        compare_wall(c, 0);
        compare_wall(c, 1);
        return;
    }
    add(c, "walls", NAN, NAN,
        "the plate in the scene has its walls exchanged, as one that is turned wrong and slid back "
        "against the edges: the program is made for a at %s and b at %s, and they stand at %s and "
        "%s: X and Y would be %s off",
        show(c, c->made->size[TU_MADE_FOR_WALL_A].value_mm).text,
        show(c, c->made->size[TU_MADE_FOR_WALL_B].value_mm).text, show(c, a).text, show(c, b).text,
        show(c, off_mm(c, TU_MADE_FOR_WALL_A, a)).text);
}

static void compare_bore(const comparison *c)
{
    static const char *const names[] = {"bore_a", "bore_b"};
    const tu_bore *bore = &c->scene->plate.bore;
    if (!tu_quantity_is_stated(c->made->size[TU_MADE_FOR_BORE]))
        return;
    if (!bore->present) {
        add(c, "bore", c->made->size[TU_MADE_FOR_BORE].value_mm, NAN,
            "the program is made for a plate with a bore; the one in the scene has none");
        return;
    }
    if (differs(c, TU_MADE_FOR_BORE, bore->diameter.value_mm))
        add(c, "bore", c->made->size[TU_MADE_FOR_BORE].value_mm, bore->diameter.value_mm,
            "the program is made for a bore of %s; the one in the scene is %s: its middle is found "
            "all the same, the cutter would measure %s wrong",
            show_planned(c, TU_MADE_FOR_BORE).text, show(c, bore->diameter.value_mm).text,
            show(c, off_mm(c, TU_MADE_FOR_BORE, bore->diameter.value_mm)).text);
    for (int edge = 0; edge < 2; edge++) {
        tu_made_for_size which = edge == 0 ? TU_MADE_FOR_BORE_A : TU_MADE_FOR_BORE_B;
        double found = bore->centre[edge].value_mm;
        if (differs(c, which, found))
            add(c, names[edge], c->made->size[which].value_mm, found,
                "the program is made for a bore centred at %s from edge %c; in the scene it is at "
                "%s: %s",
                show_planned(c, which).text, 'a' + edge, show(c, found).text,
                effect_along(c, axis_of_wall(c, edge), off_mm(c, which, found)).text);
    }
}

static shown corner_words(tu_target corner)
{
    shown s;
    corner.outward[TU_AXIS_Z] = 1;
    snprintf(s.text, sizeof s.text, "%s", tu_target_name(corner));
    char *top = strstr(s.text, "-top");
    if (top != NULL)
        *top = '\0';
    return s;
}

static void compare_place(const comparison *c)
{
    const tu_scene *scene = c->scene;
    const int *planned = c->made->corner.outward, *found = scene->plate_corner.outward;
    bool told = planned[TU_AXIS_X] != 0;
    if (told && (planned[TU_AXIS_X] != found[TU_AXIS_X] || planned[TU_AXIS_Y] != found[TU_AXIS_Y]))
        add(c, "plate_corner", NAN, NAN,
            "the program is made for the plate on the %s corner; in the scene it lies on the %s "
            "one: it would touch the wrong sides",
            corner_words(c->made->corner).text, corner_words(scene->plate_corner).text);
    if (told && c->made->seat != scene->seat)
        add(c, "seat", NAN, NAN,
            "the program is made for a plate on the %s; in the scene it lies on the %s: Z would be "
            "off by the stock's thickness",
            c->made->seat == TU_SEAT_BED ? "bed" : "stock",
            scene->seat == TU_SEAT_BED ? "bed" : "stock");
    int turns = ((scene->wrong_turns % 4) + 4) % 4;
    if (turns != 0)
        add(c, "plate_turned", NAN, NAN,
            "the plate in the scene lies %s round from where the program wants it",
            turns == 2 ? "half a turn" : "a quarter turn");
}

/* From the stock's corner, or from the plate's face. Measured along the edges of a stock that is
 * turned, the window's middle lies elsewhere than along the machine's axes; either may be meant. */
static double start_found(const comparison *c, int axis, bool along_edges)
{
    const tu_scene *scene = c->scene;
    if (axis == TU_AXIS_Z)
        return scene->start.z - tu_scene_plate_seat(scene) - scene->plate.thickness.value_mm;
    tu_machine_plane_point corner = tu_scene_stock_corner(scene, scene->plate_corner);
    double found[] = {scene->start.x - corner.x, scene->start.y - corner.y};
    double x = c->made->size[TU_MADE_FOR_START_X].value_mm;
    double y = c->made->size[TU_MADE_FOR_START_Y].value_mm;
    if (!along_edges || isnan(x) || isnan(y))
        return found[axis];
    double cosine = cos(scene->stock_angle_rad), sine = sin(scene->stock_angle_rad);
    const double shift[] = {cosine * x - sine * y - x, sine * x + cosine * y - y};
    return found[axis] - shift[axis];
}

static tu_made_for_size start_size(int axis)
{
    return (tu_made_for_size)(TU_MADE_FOR_START_X + axis);
}

/* What the window is measured from is known to its tolerance. */
static double start_slack_mm(const comparison *c)
{
    static const tu_made_for_size from[] = {TU_MADE_FOR_WALL_A, TU_MADE_FOR_WALL_B,
                                            TU_MADE_FOR_BORE_A, TU_MADE_FOR_BORE_B};
    double slack = 0.0;
    for (size_t i = 0; i < sizeof from / sizeof from[0]; i++)
        slack = fmax(slack, c->made->size[from[i]].tolerance_mm); /* leaves NaN out */
    return slack * sqrt(2.0);                                     /* of two axes, turned */
}

static bool starts_outside(const comparison *c, int axis, bool along_edges)
{
    double found = start_found(c, axis, along_edges);
    double planned = c->made->size[start_size(axis)].value_mm;
    double slack = axis == TU_AXIS_Z ? 0.0 : start_slack_mm(c);
    /* brought nearer by the slack, and not past it */
    found += copysign(fmin(slack, fabs(planned - found)), planned - found);
    return differs(c, start_size(axis), found);
}

/* Outside the window no length of the program is sure any more, though it may run well here. */
static void compare_start(const comparison *c)
{
    static const char *const names[] = {"start_x", "start_y", "start_z"};
    const int *planned = c->made->corner.outward, *lies = c->scene->plate_corner.outward;
    bool same = planned[TU_AXIS_X] == lies[TU_AXIS_X] && planned[TU_AXIS_Y] == lies[TU_AXIS_Y];
    bool along_edges = !starts_outside(c, TU_AXIS_X, true) && !starts_outside(c, TU_AXIS_Y, true);
    for (int axis = same ? TU_AXIS_X : TU_AXIS_Z; axis < TU_AXIS_COUNT; axis++) {
        double found = start_found(c, axis, along_edges);
        if (starts_outside(c, axis, along_edges))
            add(c, names[axis], c->made->size[start_size(axis)].value_mm, found,
                "the tip starts outside the window that the program is made for: %c %s from the "
                "%s; in the scene it is at %s, and what the program keeps clear of is not sure "
                "any more",
                tu_axis_letter((tu_axis)axis), show_planned(c, start_size(axis)).text,
                axis == TU_AXIS_Z ? "plate's face" : "stock's corner", show(c, found).text);
    }
}

static void compare_plate(const comparison *c)
{
    double found = c->scene->plate.thickness.value_mm;
    if (!tu_quantity_is_stated(c->made->size[TU_MADE_FOR_PLATE]))
        return;
    if (!c->scene->plate_present) {
        add(c, "plate", c->made->size[TU_MADE_FOR_PLATE].value_mm, NAN,
            "the program is made for a plate; none lies in the scene");
        return;
    }
    if (differs(c, TU_MADE_FOR_PLATE, found))
        add(c, "plate", c->made->size[TU_MADE_FOR_PLATE].value_mm, found,
            "the program is made for a plate %s thick; the one in the scene is %s: Z would be %s "
            "off",
            show_planned(c, TU_MADE_FOR_PLATE).text, show(c, found).text,
            show(c, off_mm(c, TU_MADE_FOR_PLATE, found)).text);
    compare_place(c);
    compare_walls(c);
    compare_bore(c);
    compare_start(c);
}

/* --- The stock, the unit --- */

static void compare_stock(const comparison *c)
{
    double found = c->scene->stock_present ? c->scene->stock_size_mm[TU_AXIS_Z] : NAN;
    if (differs(c, TU_MADE_FOR_STOCK, found))
        add(c, "stock", c->made->size[TU_MADE_FOR_STOCK].value_mm, found,
            "the program is made for a stock %s thick; the one in the scene is %s: a zero at the "
            "face that the plate does not lie on, and every cut that goes through, would be %s off",
            show_planned(c, TU_MADE_FOR_STOCK).text, show(c, found).text,
            show(c, off_mm(c, TU_MADE_FOR_STOCK, found)).text);
}

static void compare_unit(const comparison *c, int units)
{
    if (units != 0 && (units == 20) != (c->made->unit == TU_UNIT_INCH))
        add(c, "unit", NAN, NAN,
            "the program's head is in %s and its moves are in %s (G%d): somebody changed it by "
            "hand, and every distance in it is wrong; plan it anew",
            c->made->unit == TU_UNIT_INCH ? "inches" : "mm", units == 20 ? "inches" : "mm", units);
}

void tu_made_for_compare(const tu_made_for *made, const tu_scene *scene, const bool sideways[2],
                         int units, tu_rehearsal *result)
{
    const comparison c = {made, scene, sideways, result};
    if (!made->stated)
        return;
    compare_plate(&c);
    compare_cutter(&c);
    compare_stock(&c);
    compare_unit(&c, units);
}
