/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_form.c - the keys of every object in a shop file, and the reader that walks by them.
 */
#include "record/shop_form.h"
#include "trueup/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LENGTH_KINDS (TU_JSON_NUMBER | TU_JSON_STRING)
#define LENGTH_TEXT  "a length, as in 9.53 or \"9.53mm+-0.02mm\" or \"1/4in\""
#define COUNT(table) (sizeof(table) / sizeof((table)[0]))

/* A key that takes a quantity into a member of the struct. */
#define QUANTITY(name, required, type, member, length)                                             \
    {                                                                                              \
        name, required, LENGTH_KINDS, tu_shop_take_quantity, offsetof(type, member), length, NULL, \
            LENGTH_TEXT                                                                            \
    }

/* Every object may hold remarks. */
static const tu_shop_key notes_key = {"notes", false, TU_JSON_STRING, tu_shop_take_nothing,
                                      0,       0,     NULL,           "text in quotes"};

static const tu_shop_key wall_keys[] = {
    QUANTITY("offset", true, tu_wall, offset, TU_LENGTH_WALL_OFFSET),
    {"faces", true, TU_JSON_STRING, tu_shop_take_word, offsetof(tu_wall, facing), TU_WORDS_FACES,
     NULL,
     "\"outward\" (the touched face looks away from the stock) or \"inward\" (it looks back over "
     "the stock)"},
    QUANTITY("touch_depth", false, tu_wall, touch_depth, TU_LENGTH_TOUCH_DEPTH),
    QUANTITY("rise", false, tu_wall, rise, TU_LENGTH_RISE),
};
static const tu_shop_form wall_form = {"a wall", wall_keys, COUNT(wall_keys), tu_shop_check_wall};

/* Marks the wall or the bore as there, then reads it. */
static tu_status take_wall(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                           void *member)
{
    tu_wall *wall = member;
    wall->present = true;
    return tu_shop_read_form(reader, node, key->form, wall);
}

static tu_status take_bore(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                           void *member)
{
    tu_bore *bore = member;
    bore->present = true;
    return tu_shop_read_form(reader, node, key->form, bore);
}

tu_status tu_shop_take_object(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member)
{
    return tu_shop_read_form(reader, node, key->form, member);
}

static const tu_shop_key walls_keys[] = {
    {"a", false, TU_JSON_OBJECT, take_wall, offsetof(tu_plate, wall[0]), 0, &wall_form,
     "a wall, as in {\"offset\": \"6.35+-0.02\", \"faces\": \"outward\"}"},
    {"b", false, TU_JSON_OBJECT, take_wall, offsetof(tu_plate, wall[1]), 0, &wall_form,
     "a wall, as in {\"offset\": \"6.35+-0.02\", \"faces\": \"outward\"}"},
};
static const tu_shop_form walls_form = {"the walls", walls_keys, COUNT(walls_keys),
                                        tu_shop_check_walls};

static const tu_shop_key bore_keys[] = {
    QUANTITY("diameter", true, tu_bore, diameter, TU_LENGTH_BORE),
    QUANTITY("a", true, tu_bore, centre[0], TU_LENGTH_BORE_CENTRE),
    QUANTITY("b", true, tu_bore, centre[1], TU_LENGTH_BORE_CENTRE),
    QUANTITY("touch_depth", false, tu_bore, touch_depth, TU_LENGTH_TOUCH_DEPTH),
};
static const tu_shop_form bore_form = {"a bore", bore_keys, COUNT(bore_keys), NULL};

#define EXTENT(name, edge)                                                                         \
    {                                                                                              \
        name, false, TU_JSON_ARRAY, tu_shop_take_extent, offsetof(tu_plate, extent[edge]), 0,      \
            NULL,                                                                                  \
            "two lengths, as in [-60, 6.35]: from and to, along the edge's outward direction"      \
    }
static const tu_shop_key extent_keys[] = {EXTENT("a", 0), EXTENT("b", 1)};
static const tu_shop_form extent_form = {"the extent", extent_keys, COUNT(extent_keys),
                                         tu_shop_check_extent};

static const tu_shop_key plate_keys[] = {
    {"name", true, TU_JSON_STRING, tu_shop_take_name, offsetof(tu_plate, name), 0, NULL,
     "a name in quotes"},
    QUANTITY("thickness", true, tu_plate, thickness, TU_LENGTH_THICKNESS),
    {"turned", false, TU_JSON_BOOLEAN, tu_shop_take_flag, offsetof(tu_plate, turned), 0, NULL,
     "true (the plate is turned to serve other corners) or false"},
    {"walls", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &walls_form,
     "an object with \"a\", \"b\" or both"},
    {"bore", false, TU_JSON_OBJECT, take_bore, offsetof(tu_plate, bore), 0, &bore_form,
     "a bore, as in {\"diameter\": \"25+-0.02\", \"a\": \"-20+-0.03\", \"b\": \"-20+-0.03\"}"},
    {"extent", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &extent_form,
     "an object, as in {\"a\": [-60, 6.35], \"b\": [-60, 6.35]}"},
};
const tu_shop_form tu_shop_plate_form = {"a plate", plate_keys, COUNT(plate_keys),
                                         tu_shop_check_plate};

static const tu_shop_key cutter_keys[] = {
    {"name", true, TU_JSON_STRING, tu_shop_take_name, offsetof(tu_cutter, name), 0, NULL,
     "a name in quotes"},
    {"shape", true, TU_JSON_STRING, tu_shop_take_word, offsetof(tu_cutter, shape), TU_WORDS_SHAPE,
     NULL, "\"flat\", \"ball\", \"bull\" or \"vee\""},
    QUANTITY("diameter", true, tu_cutter, diameter, TU_LENGTH_CUTTER),
    QUANTITY("corner_radius", false, tu_cutter, corner_radius, TU_LENGTH_CORNER_RADIUS),
    {"included_deg", false, TU_JSON_NUMBER, tu_shop_take_angle, offsetof(tu_cutter, included_rad),
     TU_ANGLE_INCLUDED, NULL, "an angle in degrees, as in 60"},
    QUANTITY("tip", false, tu_cutter, tip, TU_LENGTH_TIP),
    {"flutes", false, TU_JSON_NUMBER, tu_shop_take_count, offsetof(tu_cutter, flutes),
     TU_COUNT_FLUTES, NULL, "a whole number from 1 to 12"},
    {"helix_deg", false, TU_JSON_NUMBER, tu_shop_take_angle, offsetof(tu_cutter, helix_rad),
     TU_ANGLE_HELIX, NULL, "an angle in degrees, as in 30"},
    {"turned_within_deg", false, TU_JSON_NUMBER, tu_shop_take_angle,
     offsetof(tu_cutter, turned_within_rad), TU_ANGLE_TURNED, NULL, "an angle in degrees, as in 5"},
    QUANTITY("core", false, tu_cutter, core, TU_LENGTH_CORE),
    QUANTITY("run_out", false, tu_cutter, run_out, TU_LENGTH_RUN_OUT),
    {"number", false, TU_JSON_NUMBER, tu_shop_take_count, offsetof(tu_cutter, number),
     TU_COUNT_NUMBER, NULL, "a whole number from 1 to 99999, the T word of programs"},
    QUANTITY("flute_length", false, tu_cutter, flute_length, TU_LENGTH_FLUTE),
    QUANTITY("shank", false, tu_cutter, shank, TU_LENGTH_SHANK),
    QUANTITY("stick_out", false, tu_cutter, stick_out, TU_LENGTH_STICK_OUT),
    QUANTITY("nut", false, tu_cutter, nut, TU_LENGTH_NUT),
    QUANTITY("length", false, tu_cutter, length, TU_LENGTH_TOOL),
};
const tu_shop_form tu_shop_cutter_form = {"a cutter", cutter_keys, COUNT(cutter_keys),
                                          tu_shop_check_cutter};

#define TRAVEL_TEXT "two numbers, as in [0, 1200]: the lowest and the highest machine coordinate"
#define TRAVEL(name, axis)                                                                         \
    {                                                                                              \
        name, false, TU_JSON_ARRAY, tu_shop_take_travel, 0, axis, NULL, TRAVEL_TEXT                \
    }
static const tu_shop_key travel_keys[] = {TRAVEL("x", TU_AXIS_X), TRAVEL("y", TU_AXIS_Y),
                                          TRAVEL("z", TU_AXIS_Z)};
static const tu_shop_form travel_form = {"the travel", travel_keys, COUNT(travel_keys), NULL};

static const tu_shop_key spread_keys[] = {
    {"sd", true, LENGTH_KINDS, tu_shop_take_length, offsetof(tu_repeatability, sd_mm), TU_LENGTH_SD,
     NULL, "the standard deviation of one touch, as in 0.004"},
    {"dof", true, TU_JSON_NUMBER, tu_shop_take_dof, offsetof(tu_repeatability, dof), 0, NULL,
     "the degrees of freedom of the trial series: its number of touches less one"},
};
static const tu_shop_form spread_form = {"a repeatability", spread_keys, COUNT(spread_keys), NULL};

#define SPREAD(name, axis)                                                                         \
    {                                                                                              \
        name, false, TU_JSON_OBJECT, tu_shop_take_object,                                          \
            offsetof(tu_machine, repeatability[axis]), 0, &spread_form,                            \
            "an object, as in {\"sd\": 0.004, \"dof\": 19}"                                        \
    }
static const tu_shop_key repeatability_keys[] = {SPREAD("x", TU_AXIS_X), SPREAD("y", TU_AXIS_Y),
                                                 SPREAD("z", TU_AXIS_Z)};
static const tu_shop_form repeatability_form = {"the repeatability", repeatability_keys,
                                                COUNT(repeatability_keys), NULL};

/* A form with a value for each axis, which go to a member of tu_machine. */
#define PER_AXIS(name, what, kinds, take, member, rule, expected)                                  \
    static const tu_shop_key name##_keys[] = {                                                     \
        {"x", false, kinds, take, offsetof(tu_machine, member[TU_AXIS_X]), rule, NULL, expected},  \
        {"y", false, kinds, take, offsetof(tu_machine, member[TU_AXIS_Y]), rule, NULL, expected},  \
        {"z", false, kinds, take, offsetof(tu_machine, member[TU_AXIS_Z]), rule, NULL, expected}}; \
    static const tu_shop_form name##_form = {what, name##_keys, COUNT(name##_keys), NULL}

PER_AXIS(steps, "steps_per_mm", TU_JSON_NUMBER, tu_shop_take_steps, steps_per_mm, 0,
         "a number, as in 80: STEP pulses for one millimetre");
PER_AXIS(rates, "the rates", LENGTH_KINDS, tu_shop_take_mm, rate_mm_per_min, TU_LENGTH_RATE,
         "a length in a minute, as in 5000: the fastest that the axis moves");
PER_AXIS(accelerations, "the accelerations", LENGTH_KINDS, tu_shop_take_mm, acceleration_mm_per_s2,
         TU_LENGTH_ACCELERATION, "a length in a second, each second, as in 400");
PER_AXIS(reversal, "the reversal", LENGTH_KINDS, tu_shop_take_length, reversal_mm,
         TU_LENGTH_REVERSAL, "a length, as in 0.03: how far the axis stays behind when it turns");

#define MACHINE_MM(name, required, member, length, expected)                                       \
    {                                                                                              \
        name, required, LENGTH_KINDS, tu_shop_take_mm, offsetof(tu_machine, member), length, NULL, \
            expected                                                                               \
    }
static const tu_shop_key shoe_keys[] = {
    MACHINE_MM("diameter", true, shoe_diameter_mm, TU_LENGTH_SHOE, "a length, as in 90"),
    MACHINE_MM("height", true, shoe_height_mm, TU_LENGTH_SHOE_HEIGHT, "a length, as in 40"),
};
static const tu_shop_form shoe_form = {"a dust shoe", shoe_keys, COUNT(shoe_keys), NULL};

static const tu_shop_key machine_keys[] = {
    {"travel", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &travel_form,
     "an object, as in {\"x\": [0, 1200], \"y\": [0, 800], \"z\": [-120, 0]}"},
    {"step", false, LENGTH_KINDS, tu_shop_take_length, offsetof(tu_machine, step_mm),
     TU_LENGTH_STEP, NULL, "the smallest step of a position, as in 0.0125"},
    {"repeatability", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &repeatability_form,
     "an object with \"x\", \"y\", \"z\""},
    {"steps_per_mm", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &steps_form,
     "an object, as in {\"x\": 80, \"y\": 80, \"z\": 400}"},
    {"rates", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &rates_form,
     "an object, as in {\"x\": 5000, \"y\": 5000, \"z\": 1500}"},
    {"accelerations", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &accelerations_form,
     "an object, as in {\"x\": 400, \"y\": 400, \"z\": 200}"},
    {"reversal", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &reversal_form,
     "an object, as in {\"x\": 0.03, \"y\": 0.04}"},
    {"shoe", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &shoe_form,
     "a dust shoe, as in {\"diameter\": 90, \"height\": 40}"},
    MACHINE_MM("drives", false, drives_mm, TU_LENGTH_DRIVES,
               "a length, as in 900: from one side of the gantry's drive to the other"),
};
const tu_shop_form tu_shop_machine_form = {"the machine", machine_keys, COUNT(machine_keys), NULL};

static const tu_shop_key stock_keys[] = {
    QUANTITY("x", false, tu_stock, size[TU_AXIS_X], TU_LENGTH_STOCK_PLANE),
    QUANTITY("y", false, tu_stock, size[TU_AXIS_Y], TU_LENGTH_STOCK_PLANE),
    QUANTITY("z", false, tu_stock, size[TU_AXIS_Z], TU_LENGTH_STOCK_DEPTH),
};
const tu_shop_form tu_shop_stock_form = {"the stock", stock_keys, COUNT(stock_keys), NULL};

tu_status tu_shop_check_names(tu_shop_reader *reader, size_t node, const void *list, size_t size)
{
    const char *items = list;
    const tu_json_node *nodes = reader->document.nodes;
    for (size_t child = nodes[node].first; child != TU_JSON_NONE; child = nodes[child].next) {
        const char *name = items + nodes[child].index * size;
        for (size_t i = 0; i < nodes[child].index; i++)
            if (!strcmp(items + i * size, name))
                return tu_json_fail(
                    &reader->document, tu_json_member(&reader->document, child, "name"), NULL,
                    reader->error, TU_DATA_CONFLICT,
                    "the name \"%s\" is taken by entry [%zu] of this list; choose another", name,
                    i);
    }
    return TU_OK;
}

/* Reads an array of objects of one form into *items, each starting as a copy of start. */
tu_status tu_shop_read_list(tu_shop_reader *reader, size_t node, const tu_shop_form *form,
                            const void *start, size_t size, void **items)
{
    const tu_json_node *nodes = reader->document.nodes;
    char show[TU_JSON_SHOW_SIZE];
    if (nodes[node].count > TU_SHOP_LIST_MAX)
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "%zu entries, and at most %d are allowed; split the file",
                            nodes[node].count, TU_SHOP_LIST_MAX);
    if (!nodes[node].count)
        return TU_OK;
    *items = calloc(nodes[node].count, size);
    if (!*items)
        return tu_fail(reader->error, TU_SYSTEM_MEMORY, reader->document.name,
                       "no memory left to read this file");
    for (size_t child = nodes[node].first; child != TU_JSON_NONE; child = nodes[child].next) {
        char *item = (char *)*items + nodes[child].index * size;
        memcpy(item, start, size);
        if (nodes[child].kind != TU_JSON_OBJECT)
            return tu_json_fail(&reader->document, child, NULL, reader->error, TU_DATA_SYNTAX,
                                "expected %s in braces {...}, found %s", form->what,
                                tu_json_found(&reader->document, child, show));
        tu_status status = tu_shop_read_form(reader, child, form, item);
        if (status)
            return status;
    }
    return tu_shop_check_names(reader, node, *items, size);
}

static tu_status take_plates(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member)
{
    tu_shop *shop = member;
    const tu_plate start = tu_plate_start();
    void *items = NULL;
    tu_status status = tu_shop_read_list(reader, node, key->form, &start, sizeof start, &items);
    shop->plates = items;
    shop->plate_count = reader->document.nodes[node].count;
    for (size_t i = 0; !status && i < shop->plate_count; i++)
        tu_shop_settle_plate(&shop->plates[i]);
    return status;
}

static tu_status take_cutters(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member)
{
    tu_shop *shop = member;
    const tu_cutter start = tu_cutter_start();
    void *items = NULL;
    tu_status status = tu_shop_read_list(reader, node, key->form, &start, sizeof start, &items);
    shop->cutters = items;
    shop->cutter_count = reader->document.nodes[node].count;
    return status;
}

static const tu_shop_key root_keys[] = {
    {"unit", true, TU_JSON_STRING, tu_shop_take_unit, 0, TU_WORDS_UNIT, NULL,
     "\"mm\" or \"in\", the unit of every number that names none"},
    {"machine", false, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_shop, machine), 0,
     &tu_shop_machine_form, "an object with \"travel\", \"step\", \"repeatability\""},
    {"plates", false, TU_JSON_ARRAY, take_plates, 0, 0, &tu_shop_plate_form,
     "an array of plates [...]"},
    {"cutters", false, TU_JSON_ARRAY, take_cutters, 0, 0, &tu_shop_cutter_form,
     "an array of cutters [...]"},
    {"stock", false, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_shop, stock), 0,
     &tu_shop_stock_form, "an object, as in {\"x\": 300, \"y\": 200, \"z\": \"18+-0.1\"}"},
    {"templates", false, TU_JSON_OBJECT, tu_shop_take_templates, 0, 0, NULL,
     "an object of line templates, each a text in quotes, or with its unit"},
    {"table", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &tu_shop_table_form,
     "an object, as in {\"plate\": \"offcut\", \"target\": \"back-right-top\", \"things\": []}"},
    {"journal", false, TU_JSON_STRING, tu_shop_take_journal, offsetof(tu_shop, journal), 0, NULL,
     "the name of a file in quotes"},
};
const tu_shop_form tu_shop_root_form = {"a shop file", root_keys, COUNT(root_keys),
                                        tu_shop_check_root};

tu_status tu_shop_fail_key(const tu_shop_form *form, const char *where, const char *key,
                           tu_error *error)
{
    enum { KEYS_MAX = 24 };
    const char *names[KEYS_MAX];
    char list[320] = "";
    char show[TU_JSON_SHOW_SIZE];
    char hint[100] = ".";
    size_t count = 0;
    for (; count <= form->count && count < KEYS_MAX; count++) {
        size_t used = strlen(list);
        names[count] = count < form->count ? form->keys[count].name : notes_key.name;
        snprintf(list + used, sizeof list - used, "%s%s", count ? ", " : "", names[count]);
    }
    const char *nearest = tu_text_nearest(key, names, count);
    if (nearest)
        snprintf(hint, sizeof hint, "; did you mean \"%s\"?", nearest);
    return tu_fail(error, TU_DATA_UNKNOWN, where, "unknown key %s%s Known here: %s",
                   tu_json_quote(show, key, strlen(key)), hint, list);
}

static tu_status fail_unknown_key(tu_shop_reader *reader, size_t node, const tu_shop_form *form)
{
    tu_error inner;
    tu_shop_fail_key(form, NULL, tu_json_key(&reader->document, node), &inner);
    return tu_json_fail(&reader->document, node, NULL, reader->error, inner.status, "%s",
                        inner.message);
}

const tu_shop_key *tu_shop_find_key(const tu_shop_form *form, const char *name)
{
    for (size_t i = 0; i < form->count; i++)
        if (!strcmp(form->keys[i].name, name))
            return &form->keys[i];
    return strcmp(name, notes_key.name) ? NULL : &notes_key;
}

static const tu_shop_key *find_key(const tu_shop_reader *reader, size_t node,
                                   const tu_shop_form *form)
{
    return tu_shop_find_key(form, tu_json_key(&reader->document, node));
}

/* Names and kinds of the members that are there, then the members that must be there. */
static tu_status check_members(tu_shop_reader *reader, size_t node, const tu_shop_form *form)
{
    const tu_json_document *document = &reader->document;
    const tu_json_node *nodes = document->nodes;
    char show[TU_JSON_SHOW_SIZE];
    for (size_t child = nodes[node].first; child != TU_JSON_NONE; child = nodes[child].next) {
        const tu_shop_key *key = find_key(reader, child, form);
        if (!key)
            return fail_unknown_key(reader, child, form);
        if (!((int)nodes[child].kind & key->kinds))
            return tu_json_fail(document, child, NULL, reader->error, TU_DATA_SYNTAX,
                                "expected %s; found %s", key->expected,
                                tu_json_found(document, child, show));
    }
    for (size_t i = 0; i < form->count && !reader->partial; i++) {
        const tu_shop_key *key = &form->keys[i];
        if (key->required && tu_json_member(document, node, key->name) == TU_JSON_NONE)
            return tu_json_fail(document, node, key->name, reader->error, TU_DATA_MISSING,
                                "\"%s\" is missing, and %s needs it: %s", key->name, form->what,
                                key->expected);
    }
    return TU_OK;
}

tu_status tu_shop_read_form(tu_shop_reader *reader, size_t node, const tu_shop_form *form,
                            void *object)
{
    tu_status status = check_members(reader, node, form);
    if (status)
        return status;
    for (size_t child = reader->document.nodes[node].first; child != TU_JSON_NONE;
         child = reader->document.nodes[child].next) {
        const tu_shop_key *key = find_key(reader, child, form);
        status = key->take(reader, child, key, (char *)object + key->offset);
        if (status)
            return status;
    }
    return form->check ? form->check(reader, node, object) : TU_OK;
}

tu_status tu_shop_take_unit(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member)
{
    (void)member;
    return tu_shop_take_word(reader, node, key, &reader->shop->unit);
}

/* The unit bears on every number, wherever in the file it stands. */
static tu_status read_unit_first(tu_shop_reader *reader, const tu_shop_form *form)
{
    size_t node = tu_json_member(&reader->document, 0, "unit");
    if (node == TU_JSON_NONE || reader->document.nodes[node].kind != TU_JSON_STRING)
        return TU_OK; /* the form says so */
    const tu_shop_key *key = find_key(reader, node, form);
    return key ? key->take(reader, node, key, NULL) : TU_OK;
}

tu_status tu_shop_read_root(tu_shop_reader *reader, const tu_shop_form *form, void *object)
{
    char show[TU_JSON_SHOW_SIZE];
    const tu_json_document *document = &reader->document;
    if (document->nodes[0].kind != TU_JSON_OBJECT)
        return tu_json_fail(document, 0, NULL, reader->error, TU_DATA_SYNTAX,
                            "%s is one object in braces {...}; found %s", form->what,
                            tu_json_found(document, 0, show));
    tu_status status = read_unit_first(reader, form);
    return status ? status : tu_shop_read_form(reader, 0, form, object);
}
