/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_shop.c - libFuzzer target: the shop file, read and changed.
 *
 * Beyond not crashing it demands: what is refused leaves nothing but a message of one line with its
 * place; what is accepted holds finite numbers only and means the same when read again; a change
 * either fails with a message, or gives a good file that differs in the changed bytes alone.
 */
#include "demand.h"

#include "record/json_text.h"
#include "record/shop_edit.h"
#include "trueup/shop.h"
#include "trueup/text.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand_failure(tu_status status, const tu_error *error)
{
    DEMAND(tu_status_exit_code(status) == 3);
    DEMAND(error->status == status);
    demand_words(error->where);
    demand_words(error->message);
    DEMAND(strncmp(error->where, "fuzz.json:", 10) == 0);
}

static void demand_length(tu_quantity a, tu_quantity b)
{
    DEMAND(!isinf(a.value_mm) && !isinf(a.tolerance_mm) && !(a.tolerance_mm < 0));
    DEMAND(isnan(a.value_mm) ? isnan(b.value_mm) : a.value_mm == b.value_mm);
    DEMAND(isnan(a.tolerance_mm) ? isnan(b.tolerance_mm) : a.tolerance_mm == b.tolerance_mm);
}

static void demand_number(double a, double b)
{
    demand_length((tu_quantity){a, NAN, false}, (tu_quantity){b, NAN, false});
}

static void demand_plate(const tu_plate *a, const tu_plate *b)
{
    demand_words(a->name);
    DEMAND(strcmp(a->name, b->name) == 0 && a->turned == b->turned);
    DEMAND(a->thickness.value_mm > 0);
    demand_length(a->thickness, b->thickness);
    for (int i = 0; i < 2; i++) {
        DEMAND(!a->wall[i].present || tu_quantity_is_stated(a->wall[i].offset));
        demand_length(a->wall[i].offset, b->wall[i].offset);
        demand_length(a->wall[i].touch_depth, b->wall[i].touch_depth);
        demand_length(a->wall[i].rise, b->wall[i].rise);
        DEMAND(!(a->wall[i].rise.value_mm < 0));
        demand_length(a->extent[i][0], b->extent[i][0]);
        demand_length(a->extent[i][1], b->extent[i][1]);
        DEMAND(!a->bore.present || tu_quantity_is_stated(a->bore.centre[i]));
        demand_length(a->bore.centre[i], b->bore.centre[i]);
    }
    DEMAND(!a->bore.present || a->bore.diameter.value_mm > 0);
    demand_length(a->bore.diameter, b->bore.diameter);
}

static void demand_cutter(const tu_cutter *a, const tu_cutter *b)
{
    demand_words(a->name);
    DEMAND(strcmp(a->name, b->name) == 0 && a->shape == b->shape && a->flutes == b->flutes);
    DEMAND(a->diameter.value_mm > 0 && a->flutes >= 0 && a->flutes <= 12);
    demand_length(a->diameter, b->diameter);
    demand_length(a->corner_radius, b->corner_radius);
    demand_length(a->tip, b->tip);
    demand_length(a->core, b->core);
    demand_length(a->run_out, b->run_out);
    demand_number(a->included_rad, b->included_rad);
    demand_number(a->helix_rad, b->helix_rad);
    demand_number(a->turned_within_rad, b->turned_within_rad);
    DEMAND(a->shape != TU_CUTTER_BULL || a->corner_radius.value_mm <= a->diameter.value_mm / 2);
    DEMAND(a->shape != TU_CUTTER_VEE || (a->included_rad > 0 && a->included_rad < 3.1415927));
}

static void demand_same(const tu_shop *a, const tu_shop *b)
{
    tu_machine machine = tu_shop_machine(a), other = tu_shop_machine(b);
    DEMAND(tu_shop_unit(a) == tu_shop_unit(b));
    DEMAND(tu_shop_plate_count(a) == tu_shop_plate_count(b));
    DEMAND(tu_shop_cutter_count(a) == tu_shop_cutter_count(b));
    for (size_t i = 0; i < tu_shop_plate_count(a); i++)
        demand_plate(tu_shop_plate_at(a, i), tu_shop_plate_at(b, i));
    for (size_t i = 0; i < tu_shop_cutter_count(a); i++)
        demand_cutter(tu_shop_cutter_at(a, i), tu_shop_cutter_at(b, i));
    const tu_table *table = tu_shop_table(a);
    DEMAND(table->thing_count == tu_shop_table(b)->thing_count);
    for (size_t i = 0; i < table->thing_count; i++) {
        const tu_thing *thing = &table->things[i];
        demand_words(thing->name);
        DEMAND(isfinite(thing->from.x) && thing->from.x < thing->to.x && isfinite(thing->to.z));
    }
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        DEMAND(!(machine.travel_low_mm[axis] >= machine.travel_high_mm[axis]));
        demand_number(machine.travel_low_mm[axis], other.travel_low_mm[axis]);
        demand_number(machine.travel_high_mm[axis], other.travel_high_mm[axis]);
        demand_number(machine.repeatability[axis].sd_mm, other.repeatability[axis].sd_mm);
        demand_length(tu_shop_stock(a).size[axis], tu_shop_stock(b).size[axis]);
    }
}

/* The bytes around the changed value are the old ones. */
static void demand_surgery(const char *old, size_t size, const char *text, size_t length,
                           const char *value)
{
    tu_json_document document = {0};
    DEMAND(!tu_json_read(&document, "fuzz.json", 1, old, size, NULL));
    size_t plates = tu_json_member(&document, 0, "plates");
    size_t node = tu_json_member(&document, document.nodes[plates].first, "thickness");
    size_t start = document.nodes[node].start, end = document.nodes[node].end;
    DEMAND(length == size - (end - start) + strlen(value));
    DEMAND(memcmp(text, old, start) == 0);
    DEMAND(memcmp(text + start, value, strlen(value)) == 0);
    DEMAND(memcmp(text + start + strlen(value), old + end, size - end) == 0);
    tu_json_close(&document);
}

/* One change; the new shop if it was made. */
static tu_shop *change(const tu_shop *shop, const char *path, const char *value, char **text,
                       size_t *length)
{
    tu_shop_edit edit;
    tu_error error = {0};
    tu_shop *changed = NULL;
    snprintf(edit.path, sizeof edit.path, "%s", path);
    snprintf(edit.new_json, sizeof edit.new_json, "%s", value ? value : TU_SHOP_TAKE_OUT);
    tu_status status = tu_shop_edit_text(shop, &edit, 1, text, length, &error);
    if (status) {
        DEMAND(!*text);
        demand_failure(status, &error);
        return NULL;
    }
    DEMAND(!tu_shop_parse("fuzz.json", *text, *length, &changed, NULL));
    return changed;
}

static void try_changes(const tu_shop *shop, const char *old, size_t size)
{
    static const char value[] = "\"7.25mm+-0.01mm\"";
    char *text = NULL;
    char path[40];
    size_t length;
    tu_shop *changed = change(shop, "notes", "\"changed\"", &text, &length);
    DEMAND(changed || tu_shop_plate_count(shop) + tu_shop_cutter_count(shop) < 1000);
    if (changed)
        demand_same(shop, changed);
    tu_shop_destroy(changed);
    free(text);
    snprintf(path, sizeof path, "plates[%zu]", tu_shop_plate_count(shop));
    changed = change(shop, path, "{\"name\":\"~\",\"thickness\":\"9mm\"}", &text, &length);
    DEMAND(!changed || tu_shop_plate_count(changed) == tu_shop_plate_count(shop) + 1);
    tu_shop_destroy(changed);
    free(text);
    changed =
        change(shop, "table.things[0]",
               "{\"name\":\"~\",\"at\":[1,2],\"diameter\":\"5mm\",\"top\":3}", &text, &length);
    DEMAND(!changed || tu_shop_table(changed)->thing_count >= 1);
    tu_shop_destroy(changed);
    free(text);
    changed = change(shop, "machine", NULL, &text, &length);
    DEMAND(!changed || isnan(tu_shop_machine(changed).step_mm));
    tu_shop_destroy(changed);
    free(text);
    if (tu_shop_plate_count(shop) == 0)
        return;
    changed = change(shop, "plates[0]", NULL, &text, &length);
    DEMAND(!changed || tu_shop_plate_count(changed) + 1 == tu_shop_plate_count(shop));
    tu_shop_destroy(changed);
    free(text);
    changed = change(shop, "plates[0].thickness", value, &text, &length);
    DEMAND(changed); /* a stated unit and a sound value can't be refused */
    demand_surgery(old, size, text, length, value);
    DEMAND(tu_shop_plate_at(changed, 0)->thickness.value_mm == 7.25);
    tu_shop_destroy(changed);
    free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    tu_shop *shop, *again;
    tu_error error = {0};
    const char *text = (const char *)data;
    tu_status status = tu_shop_parse("fuzz.json", text, size, &shop, &error);
    if (status) {
        DEMAND(!shop);
        demand_failure(status, &error);
        return 0;
    }
    DEMAND(!tu_shop_parse("fuzz.json", text, size, &again, NULL));
    demand_same(shop, again);
    tu_shop_destroy(again);
    try_changes(shop, text, size);
    tu_shop_destroy(shop);
    return 0;
}
