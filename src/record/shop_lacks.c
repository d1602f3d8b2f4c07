/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_lacks.c - see shop_lacks.h. The conditions are those under which zero, plan and the check of
 * a program refuse or warn; each stands beside its reason.
 */
#include "trueup/shop_lacks.h"

#include <math.h>
#include <stdio.h>

typedef struct judge {
    const tu_shop *shop;
    tu_shop_lacks *lacks;
    tu_shop_purpose purpose;
    bool needed; /* what is looked for in this round */
    tu_shop_kind kind;
    const char *name;
} judge;

static void add(const judge *j, bool lacking, bool needed, const char *key, const char *why)
{
    tu_shop_lacks *lacks = j->lacks;
    if (!lacking || needed != j->needed)
        return;
    if (lacks->count == TU_SHOP_LACKS_MAX) {
        lacks->more++;
        return;
    }
    tu_shop_lack *lack = &lacks->lack[lacks->count++];
    *lack = (tu_shop_lack){j->purpose, needed, j->kind, "", key, why};
    snprintf(lack->name, sizeof lack->name, "%s", j->name ? j->name : "");
}

static void add_tolerance(const judge *j, tu_quantity quantity, const char *key)
{
    bool exact = tu_quantity_is_stated(quantity) && isnan(quantity.tolerance_mm);
    add(j, exact, false, key, "without a tolerance it counts as exact, as in 9.53+-0.02");
}

/* Whether a cutter of the shop touches a wall at another radius further up. */
static bool has_round_cutter(const tu_shop *shop)
{
    for (size_t i = 0; i < tu_shop_cutter_count(shop); i++)
        if (tu_shop_cutter_at(shop, i)->shape != TU_CUTTER_FLAT)
            return true;
    return false;
}

static void judge_plate(judge j, const tu_plate *plate)
{
    static const char *const offsets[] = {"walls.a.offset", "walls.b.offset"};
    static const char *const depths[] = {"walls.a.touch_depth", "walls.b.touch_depth"};
    static const char *const centres[] = {"bore.a", "bore.b"};
    static const char deep[] = "a cutter that is not flat is wider further up: how deep its tip is "
                               "decides where it touches";
    bool round = has_round_cutter(j.shop);
    j.kind = TU_SHOP_PLATE;
    j.name = plate->name;
    add_tolerance(&j, plate->thickness, "thickness");
    for (int i = 0; i < 2; i++) {
        const tu_wall *wall = &plate->wall[i];
        bool shallow = wall->present && round && !tu_quantity_is_stated(wall->touch_depth);
        add(&j, shallow, true, depths[i], deep);
        add_tolerance(&j, wall->offset, offsets[i]);
        add_tolerance(&j, plate->bore.centre[i], centres[i]);
    }
    add(&j, plate->bore.present && round && !tu_quantity_is_stated(plate->bore.touch_depth), false,
        "bore.touch_depth", deep);
    add_tolerance(&j, plate->bore.diameter, "bore.diameter");
}

static void judge_cutter(judge j, const tu_cutter *cutter)
{
    j.kind = TU_SHOP_CUTTER;
    j.name = cutter->name;
    add_tolerance(&j, cutter->diameter, "diameter");
    add(&j, !cutter->flutes, false, "flutes",
        "left out, it counts as a pin that is round all the way");
    add(&j, cutter->flutes && isnan(cutter->turned_within_rad), false, "turned_within_deg",
        "an edge that is not turned to the wall may reach less than the radius");
}

static void judge_for_zero(judge j)
{
    tu_machine machine = tu_shop_machine(j.shop);
    tu_stock stock = tu_shop_stock(j.shop);
    const tu_table *table = tu_shop_table(j.shop);
    bool repeats = false;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        repeats = repeats || !isnan(machine.repeatability[axis].sd_mm);
    j.kind = TU_SHOP_PLATE;
    add(&j, !tu_shop_plate_count(j.shop), true, "", "a touch is read through the plate");
    j.kind = TU_SHOP_CUTTER;
    add(&j, !tu_shop_cutter_count(j.shop), true, "", "its radius is part of X and Y");
    for (size_t i = 0; i < tu_shop_plate_count(j.shop); i++)
        judge_plate(j, tu_shop_plate_at(j.shop, i));
    for (size_t i = 0; i < tu_shop_cutter_count(j.shop); i++)
        judge_cutter(j, tu_shop_cutter_at(j.shop, i));
    j.kind = TU_SHOP_STOCK;
    bool through = (table->target.outward[TU_AXIS_Z] > 0 && table->seat == TU_SEAT_BED) ||
                   (table->target.outward[TU_AXIS_Z] < 0 && table->seat == TU_SEAT_STOCK);
    add(&j, !tu_quantity_is_stated(stock.size[TU_AXIS_Z]), through, "z",
        through ? "the plate lies on one side of the stock and the zero on the other"
                : "a zero on the other side of the stock than the plate needs it");
    j.kind = TU_SHOP_MACHINE;
    add(&j, isnan(machine.travel_low_mm[TU_AXIS_X]), false, "travel",
        "a touch that the machine can't reach, or in the wrong unit, is not noticed");
    add(&j, isnan(machine.step_mm), false, "step", "the rounding of positions is left out");
    add(&j, !repeats, false, "repeatability",
        "a single touch says nothing of how well it repeats; a trial series does");
    j.kind = TU_SHOP_TABLE;
    add(&j, !*tu_target_name(table->target), false, "target", "it has to be said each time");
    add(&j, !table->plate && tu_shop_plate_count(j.shop) > 1, false, "plate",
        "it has to be said each time");
    add(&j, !table->cutter && tu_shop_cutter_count(j.shop) > 1, false, "cutter",
        "it has to be said each time");
}

static void judge_for_plan(judge j)
{
    tu_machine machine = tu_shop_machine(j.shop);
    static const char *const extents[] = {"extent.a", "extent.b"};
    for (size_t i = 0; i < tu_shop_plate_count(j.shop); i++) {
        const tu_plate *plate = tu_shop_plate_at(j.shop, i);
        j.kind = TU_SHOP_PLATE;
        j.name = plate->name;
        for (int k = 0; k < 2; k++)
            add(&j, !tu_quantity_is_stated(plate->extent[k][0]), false, extents[k],
                "how far the plate's body reaches is guessed");
    }
    j.name = NULL;
    j.kind = TU_SHOP_MACHINE;
    add(&j, isnan(machine.travel_low_mm[TU_AXIS_Z]), false, "travel",
        "nobody can tell whether the machine reaches all of the program");
}

static void judge_for_job(judge j)
{
    tu_machine machine = tu_shop_machine(j.shop);
    tu_stock stock = tu_shop_stock(j.shop);
    static const char *const axes[] = {"x", "y", "z"};
    j.kind = TU_SHOP_STOCK;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        add(&j, !tu_quantity_is_stated(stock.size[axis]), true, axes[axis],
            "nobody can tell whether the program stays in the stock");
    j.kind = TU_SHOP_TABLE;
    add(&j, !tu_shop_table(j.shop)->things, true, "things",
        "clamps and screws are not known; say none where there are none");
    j.kind = TU_SHOP_MACHINE;
    add(&j, isnan(machine.travel_low_mm[TU_AXIS_X]), true, "travel",
        "nobody can tell whether the machine reaches all of the program");
    add(&j, isnan(machine.rate_mm_per_min[TU_AXIS_X]), false, "rates", "the time is a lower bound");
    static const char *const keys[] = {"number", "flute_length", "stick_out"};
    static const char *const whys[] = {"a T word of a program is not told to be this one",
                                       "a cut deeper than the edges reach is not noticed",
                                       "a nut that runs into the stock is not noticed"};
    j.kind = TU_SHOP_CUTTER;
    for (size_t key = 0; key < sizeof keys / sizeof keys[0]; key++)
        for (size_t i = 0; i < tu_shop_cutter_count(j.shop); i++) {
            const tu_cutter *cutter = tu_shop_cutter_at(j.shop, i);
            const bool lacking[] = {!cutter->number, !tu_quantity_is_stated(cutter->flute_length),
                                    !tu_quantity_is_stated(cutter->stick_out)};
            j.name = cutter->name;
            add(&j, lacking[key], false, keys[key], whys[key]);
        }
}

const char *tu_shop_purpose_name(tu_shop_purpose purpose)
{
    static const char *const names[] = {
        [TU_PURPOSE_ZERO] = "zero", [TU_PURPOSE_PLAN] = "plan", [TU_PURPOSE_JOB] = "job"};
    return names[purpose];
}

void tu_shop_judge(const tu_shop *shop, tu_shop_lacks *lacks)
{
    static void (*const judges[])(judge) = {[TU_PURPOSE_ZERO] = judge_for_zero,
                                            [TU_PURPOSE_PLAN] = judge_for_plan,
                                            [TU_PURPOSE_JOB] = judge_for_job};
    *lacks = (tu_shop_lacks){0};
    for (int purpose = 0; purpose < TU_PURPOSE_COUNT; purpose++)
        for (int needed = 1; needed >= 0; needed--)
            judges[purpose]((judge){.shop = shop,
                                    .lacks = lacks,
                                    .purpose = (tu_shop_purpose)purpose,
                                    .needed = needed});
}
