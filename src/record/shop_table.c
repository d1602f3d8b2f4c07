/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_table.c - what lies on the table: plate, cutter, target and slot of the next zero, the
 * things that stand in the way, and the journal of the zeros.
 */
#include "base/utf8.h"
#include "record/shop_form.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(table) (sizeof(table) / sizeof((table)[0]))
#define LENGTH_KINDS (TU_JSON_NUMBER | TU_JSON_STRING)

/* --- Things --- */

static tu_status fail_thing(tu_shop_reader *reader, size_t node, const char *key, tu_status status,
                            const char *message)
{
    return tu_json_fail(&reader->document, node, key, reader->error, status, "%s", message);
}

/* A thing has the keys of a block or those of a screw, and all of them. */
static tu_status check_keys(tu_shop_reader *reader, size_t node)
{
    static const char *const keys[] = {"from", "to", "at", "diameter", "top"};
    enum { BLOCK_KEYS = 2 };
    size_t there[COUNT(keys)], blocks = 0, screws = 0;
    for (size_t i = 0; i < COUNT(keys); i++) {
        there[i] = tu_json_member(&reader->document, node, keys[i]);
        if (there[i] != TU_JSON_NONE)
            *(i < BLOCK_KEYS ? &blocks : &screws) += 1;
    }
    for (size_t i = BLOCK_KEYS; i < COUNT(keys); i++)
        if (blocks && there[i] != TU_JSON_NONE)
            return fail_thing(reader, there[i], NULL, TU_DATA_CONFLICT,
                              "only a screw has this key, and \"from\" and \"to\" make a block; "
                              "describe them as two things");
    if (reader->partial)
        return TU_OK;
    if (!blocks && !screws)
        return fail_thing(reader, node, NULL, TU_DATA_MISSING,
                          "where it stands is missing: state a block's \"from\" and \"to\", or a "
                          "screw's \"at\", \"diameter\" and \"top\"");
    for (size_t i = blocks ? 0 : BLOCK_KEYS; i < (blocks ? BLOCK_KEYS : COUNT(keys)); i++)
        if (there[i] == TU_JSON_NONE)
            return fail_thing(reader, node, keys[i], TU_DATA_MISSING,
                              blocks ? "it is missing, and a block needs \"from\" and \"to\", each "
                                       "[x, y, z]"
                                     : "it is missing, and a screw needs \"at\", \"diameter\" and "
                                       "\"top\"");
    return TU_OK;
}

static tu_status check_thing(tu_shop_reader *reader, size_t node, const void *object)
{
    const tu_thing *thing = object;
    const double low[] = {thing->from.x, thing->from.y, thing->from.z};
    const double high[] = {thing->to.x, thing->to.y, thing->to.z};
    tu_status status = check_keys(reader, node);
    for (int axis = 0; !status && axis < TU_AXIS_COUNT; axis++)
        if (low[axis] >= high[axis]) /* false with NaN */
            status = tu_json_fail(&reader->document, tu_json_member(&reader->document, node, "to"),
                                  NULL, reader->error, TU_DATA_RANGE,
                                  "the block must reach from a lower to a higher %c; \"from\" is "
                                  "its lowest corner, \"to\" its highest",
                                  tu_axis_letter((tu_axis)axis));
    return status;
}

#define PLACE_3 "three lengths, as in [10, 20, 35]: x, y and z"
static const tu_shop_key thing_keys[] = {
    {"name", true, TU_JSON_STRING, tu_shop_take_name, offsetof(tu_thing, name), 0, NULL,
     "a name in quotes"},
    {"from", false, TU_JSON_ARRAY, tu_shop_take_place, offsetof(tu_thing, from), 3, NULL, PLACE_3},
    {"to", false, TU_JSON_ARRAY, tu_shop_take_place, offsetof(tu_thing, to), 3, NULL, PLACE_3},
    {"at", false, TU_JSON_ARRAY, tu_shop_take_place, offsetof(tu_thing, at), 2, NULL,
     "two lengths, as in [10, 20]: x and y"},
    {"diameter", false, LENGTH_KINDS, tu_shop_take_mm, offsetof(tu_thing, diameter_mm),
     TU_LENGTH_THING, NULL, "a length, as in 12"},
    {"top", false, LENGTH_KINDS, tu_shop_take_mm, offsetof(tu_thing, at.z), TU_LENGTH_PLACE, NULL,
     "a length, as in 4: the height of its highest point"},
    {"frame", false, TU_JSON_STRING, tu_shop_take_word, offsetof(tu_thing, frame), TU_WORDS_FRAME,
     NULL,
     "\"stock\" (measured from the stock's front left bottom corner) or \"machine\" (machine "
     "coordinates)"},
};
const tu_shop_form tu_shop_thing_form = {"a thing", thing_keys, COUNT(thing_keys), check_thing};
_Static_assert(sizeof(tu_thing_point) == 3 * sizeof(double), "a place is filled as an array");

/* A screw's own keys become the block around it. */
static void settle_thing(tu_thing *thing)
{
    double radius = thing->diameter_mm / 2;
    thing->round = !isnan(thing->at.x);
    if (!thing->round)
        return;
    thing->from = (tu_thing_point){thing->at.x - radius, thing->at.y - radius, NAN};
    thing->to = (tu_thing_point){thing->at.x + radius, thing->at.y + radius, thing->at.z};
}

static tu_status take_things(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member)
{
    static const tu_thing start = {
        .from = {NAN, NAN, NAN}, .to = {NAN, NAN, NAN}, .at = {NAN, NAN, NAN}, .diameter_mm = NAN};
    static const tu_thing none[1]; /* so that "there are none" is no NULL */
    tu_shop *shop = member;
    void *items = NULL;
    tu_status status = tu_shop_read_list(reader, node, key->form, &start, sizeof start, &items);
    shop->things = items;
    shop->table.thing_count = reader->document.nodes[node].count;
    for (size_t i = 0; !status && i < shop->table.thing_count; i++)
        settle_thing(&shop->things[i]);
    shop->table.things = shop->things ? shop->things : none;
    return status;
}

/* --- The table --- */

static tu_status take_slot(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                           void *member)
{
    (void)key;
    tu_error inner;
    if (!tu_slot_parse(tu_json_string(&reader->document, node), member, &inner))
        return TU_OK;
    return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_UNKNOWN, "%s",
                        inner.message);
}

static tu_status take_seat(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                           void *member)
{
    tu_table *table = member;
    table->seat_stated = true;
    return tu_shop_take_word(reader, node, key, &table->seat);
}

tu_status tu_shop_take_target(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member)
{
    (void)key;
    tu_error inner;
    tu_status status = tu_target_parse(tu_json_string(&reader->document, node), member, &inner);
    return status ? tu_json_fail(&reader->document, node, NULL, reader->error, status, "%s",
                                 inner.message)
                  : TU_OK;
}

/* A name, which the table then points to. */
#define NAME(name, what)                                                                           \
    {                                                                                              \
        name, false, TU_JSON_STRING, tu_shop_take_name, offsetof(tu_shop, table_##what), 0, NULL,  \
            "the name of a " #what " in quotes"                                                    \
    }
static const tu_shop_key table_keys[] = {
    NAME("plate", plate),
    NAME("cutter", cutter),
    {"target", false, TU_JSON_STRING, tu_shop_take_target, offsetof(tu_shop, table.target), 0, NULL,
     "where the zero is wanted, as in \"front-left-top\""},
    {"slot", false, TU_JSON_STRING, take_slot, offsetof(tu_shop, table.slot), 0, NULL,
     "the name of a work offset, as in \"G54\""},
    {"seat", false, TU_JSON_STRING, take_seat, offsetof(tu_shop, table), TU_WORDS_SEAT, NULL,
     "\"stock\" or \"bed\", what the plate lies on"},
    {"things", false, TU_JSON_ARRAY, take_things, 0, 0, &tu_shop_thing_form,
     "an array of things [...], or [] for none"},
};
const tu_shop_form tu_shop_table_form = {"what lies on the table", table_keys, COUNT(table_keys),
                                         NULL};

/* The plate and the cutter on the table must be in the file. */
tu_status tu_shop_check_table(tu_shop_reader *reader, size_t root, const tu_shop *shop)
{
    const tu_json_document *document = &reader->document;
    const tu_plate *plate;
    const tu_cutter *cutter;
    tu_error inner;
    size_t table = tu_json_member(document, root, "table");
    reader->shop->table.plate = *shop->table_plate ? shop->table_plate : NULL;
    reader->shop->table.cutter = *shop->table_cutter ? shop->table_cutter : NULL;
    if (shop->table.plate && tu_shop_find_plate(shop, shop->table.plate, &plate, &inner))
        return tu_json_fail(document, tu_json_member(document, table, "plate"), NULL, reader->error,
                            inner.status, "%s", inner.message);
    if (shop->table.cutter && tu_shop_find_cutter(shop, shop->table.cutter, &cutter, &inner))
        return tu_json_fail(document, tu_json_member(document, table, "cutter"), NULL,
                            reader->error, inner.status, "%s", inner.message);
    return TU_OK;
}

/* --- The journal --- */

tu_status tu_shop_take_journal(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member)
{
    (void)key;
    const char *name = tu_json_string(&reader->document, node);
    const char *shop = reader->shop->name;
    const char *slash = strrchr(shop, '/');
    size_t folder = slash && *name != '/' ? (size_t)(slash - shop) + 1 : 0;
    size_t length = strlen(name);
    if (!length || length > 255 || tu_utf8_has_control(name))
        return fail_thing(reader, node, NULL, TU_DATA_RANGE,
                          "a file's name has 1 to 255 bytes and no control characters");
    char *path = malloc(folder + length + 1);
    if (!path)
        return tu_fail(reader->error, TU_SYSTEM_MEMORY, reader->document.name,
                       "no memory left to read this file");
    memcpy(path, shop, folder);
    memcpy(path + folder, name, length + 1);
    *(char **)member = path;
    return TU_OK;
}
