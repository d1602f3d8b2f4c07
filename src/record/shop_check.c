/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_check.c - values of a shop file that can't stand beside each other.
 */
#include "record/shop_form.h"

#include <math.h>

/* Fails at the member `key` of an object. */
#define FAIL_AT(reader, node, key, ...)                                                            \
    tu_json_fail(&(reader)->document, tu_json_member(&(reader)->document, node, key), NULL,        \
                 (reader)->error, TU_DATA_CONFLICT, __VA_ARGS__)

static bool has(const tu_shop_reader *reader, size_t node, const char *key)
{
    return tu_json_member(&reader->document, node, key) != TU_JSON_NONE;
}

/* An object with two optional members must have one; remarks are none. */
static tu_status check_not_empty(tu_shop_reader *reader, size_t node, const char *message)
{
    if (reader->document.nodes[node].count > has(reader, node, "notes") || reader->partial)
        return TU_OK;
    return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_MISSING, "%s",
                        message);
}

tu_status tu_shop_check_walls(tu_shop_reader *reader, size_t node, const void *plate)
{
    (void)plate;
    return check_not_empty(reader, node,
                           "there is no wall in it; state \"a\", \"b\" or both, or leave "
                           "\"walls\" out for a plate without walls");
}

/* Deeper than the wall is high, the tip would be inside the plate. */
tu_status tu_shop_check_wall(tu_shop_reader *reader, size_t node, const void *object)
{
    const tu_wall *wall = object;
    tu_unit unit = reader->shop->unit;
    char one[TU_SHOP_NUMBER_SIZE], two[TU_SHOP_NUMBER_SIZE];
    if (!(wall->rise.value_mm > 0) || !(wall->touch_depth.value_mm > wall->rise.value_mm))
        return TU_OK;
    return FAIL_AT(reader, node, "touch_depth",
                   "a touch %s %s below the wall's top edge ends below the plate's face, which is "
                   "only %s %s down (\"rise\"); touch higher, or correct the rise",
                   tu_shop_number(one, unit, wall->touch_depth.value_mm), tu_unit_name(unit),
                   tu_shop_number(two, unit, wall->rise.value_mm), tu_unit_name(unit));
}

tu_status tu_shop_check_extent(tu_shop_reader *reader, size_t node, const void *plate)
{
    (void)plate;
    return check_not_empty(reader, node,
                           "there is nothing in it; state \"a\", \"b\" or both, or leave "
                           "\"extent\" out");
}

static bool is_own_side(const tu_wall *wall)
{
    return wall->present && wall->facing == TU_FACES_OUTWARD && !(wall->rise.value_mm > 0);
}

/* An extent is measured with a rule, an offset with a micrometer: they agree to this. */
#define EXTENT_AGREES_MM 0.5

/* The body must reach as far as the face that is its own side, and no further; and around a bore.
 */
static tu_status check_extent(tu_shop_reader *reader, size_t node, const tu_plate *plate)
{
    static const char *const names[] = {"a", "b"};
    size_t extent = tu_json_member(&reader->document, node, "extent");
    tu_unit unit = reader->shop->unit;
    const char *in = tu_unit_name(unit);
    char one[TU_SHOP_NUMBER_SIZE], two[TU_SHOP_NUMBER_SIZE];
    for (int i = 0; i < 2; i++) {
        const tu_wall *wall = &plate->wall[i];
        double from = plate->extent[i][0].value_mm, to = plate->extent[i][1].value_mm;
        double centre = plate->bore.centre[i].value_mm, radius = plate->bore.diameter.value_mm / 2;
        if (is_own_side(wall) && fabs(wall->offset.value_mm - to) > EXTENT_AGREES_MM)
            return FAIL_AT(reader, extent, names[i],
                           "wall %s has no \"rise\", so it is the plate's own side, %s %s from the "
                           "edge, and the plate can't reach to %s %s; state the wall's rise, or "
                           "correct the extent",
                           names[i], tu_shop_number(one, unit, wall->offset.value_mm), in,
                           tu_shop_number(two, unit, to), in);
        if (plate->bore.present && (centre - radius <= from || centre + radius >= to))
            return FAIL_AT(reader, extent, names[i],
                           "the bore reaches from %s to %s %s, beyond the plate; correct the "
                           "extent or the bore",
                           tu_shop_number(one, unit, centre - radius),
                           tu_shop_number(two, unit, centre + radius), in);
    }
    return TU_OK;
}

void tu_shop_settle_plate(tu_plate *plate)
{
    for (int i = 0; i < 2; i++)
        if (is_own_side(&plate->wall[i]) && tu_quantity_is_stated(plate->extent[i][1]))
            plate->extent[i][1].value_mm = plate->wall[i].offset.value_mm;
}

tu_status tu_shop_check_plate(tu_shop_reader *reader, size_t node, const void *plate)
{
    if (has(reader, node, "walls") && has(reader, node, "bore"))
        return FAIL_AT(reader, node, "bore",
                       "a plate has walls or a bore, not both; describe them as two plates");
    return check_extent(reader, node, plate);
}

/* Keys that only one shape has. */
static tu_status check_shape_keys(tu_shop_reader *reader, size_t node, const tu_cutter *cutter)
{
    static const struct {
        const char *key;
        tu_cutter_shape shape;
        const char *name;
        bool required;
        const char *example;
    } keys[] = {
        {"corner_radius", TU_CUTTER_BULL, "bull", true, "\"corner_radius\": 1"},
        {"included_deg", TU_CUTTER_VEE, "vee", true, "\"included_deg\": 60"},
        {"tip", TU_CUTTER_VEE, "vee", false, ""},
    };
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        bool given = has(reader, node, keys[i].key);
        if (given && cutter->shape != keys[i].shape)
            return FAIL_AT(reader, node, keys[i].key,
                           "only a cutter of shape \"%s\" has this key; correct the shape, or take "
                           "the key out",
                           keys[i].name);
        if (!given && keys[i].required && cutter->shape == keys[i].shape && !reader->partial)
            return tu_json_fail(&reader->document, node, keys[i].key, reader->error,
                                TU_DATA_MISSING,
                                "a cutter of shape \"%s\" needs it, and it is missing; add it, as "
                                "in %s",
                                keys[i].name, keys[i].example);
    }
    return TU_OK;
}

/* What is said of flutes says nothing on a cutter without any. */
static tu_status check_flute_keys(tu_shop_reader *reader, size_t node, const tu_cutter *cutter)
{
    static const char *const keys[] = {"helix_deg", "turned_within_deg", "core"};
    if (cutter->flutes || reader->partial)
        return TU_OK;
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        if (has(reader, node, keys[i]))
            return FAIL_AT(reader, node, keys[i],
                           "this key says how the flutes are, and \"flutes\" is missing; add it, "
                           "as in \"flutes\": 2");
    return TU_OK;
}

/* One size of a cutter that another one bounds. */
typedef struct bound {
    const char *key;
    double value_mm, share, of_mm;
    bool equal; /* it may be as large */
    const char *a, *is;
} bound;

tu_status tu_shop_check_cutter(tu_shop_reader *reader, size_t node, const void *object)
{
    const tu_cutter *c = object;
    double diameter = c->diameter.value_mm;
    const bound bounds[] = {
        {"corner_radius", c->corner_radius.value_mm, 0.5, diameter, true, "a corner radius",
         "more than half the diameter"},
        {"tip", c->tip.value_mm, 1, diameter, false, "a tip", "not smaller than the diameter"},
        {"core", c->core.value_mm, 1, diameter, false, "a core", "not smaller than the diameter"},
        {"run_out", c->run_out.value_mm, 1, diameter, false, "a run-out",
         "not smaller than the diameter"},
        {"flute_length", c->flute_length.value_mm, 1, c->stick_out.value_mm, true, "a flute length",
         "more than the stick-out"},
        {"shank", c->shank.value_mm, 1, c->nut.value_mm, false, "a shank",
         "not smaller than the nut"},
    };
    tu_unit unit = reader->shop->unit;
    const char *in = tu_unit_name(unit);
    char one[TU_SHOP_NUMBER_SIZE], two[TU_SHOP_NUMBER_SIZE];
    tu_status status = check_shape_keys(reader, node, c);
    if (!status)
        status = check_flute_keys(reader, node, c);
    for (size_t i = 0; !status && i < sizeof bounds / sizeof bounds[0]; i++) {
        const bound *b = &bounds[i];
        double most = b->share * b->of_mm;
        if (b->value_mm > most || (!b->equal && b->value_mm >= most))
            status = FAIL_AT(reader, node, b->key, "%s of %s %s is %s of %s %s", b->a,
                             tu_shop_number(one, unit, b->value_mm), in, b->is,
                             tu_shop_number(two, unit, b->of_mm), in);
    }
    return status;
}

/* A program calls its cutters by number, so a number is one cutter. */
static tu_status check_numbers(tu_shop_reader *reader, size_t root, const tu_shop *shop)
{
    const tu_json_document *document = &reader->document;
    size_t list = tu_json_member(document, root, "cutters");
    size_t node = list == TU_JSON_NONE ? TU_JSON_NONE : document->nodes[list].first;
    for (size_t i = 0; i < shop->cutter_count; i++, node = document->nodes[node].next)
        for (size_t j = 0; j < i; j++)
            if (shop->cutters[i].number && shop->cutters[i].number == shop->cutters[j].number)
                return FAIL_AT(reader, node, "number",
                               "the number %d is that of \"%s\" already; a T word calls one cutter",
                               shop->cutters[i].number, shop->cutters[j].name);
    return TU_OK;
}

/* A bore that no cutter of the file enters can't be touched. */
static tu_status check_bores(tu_shop_reader *reader, size_t root, const tu_shop *shop)
{
    const tu_json_document *document = &reader->document;
    const tu_cutter *smallest = NULL;
    for (size_t i = 0; i < shop->cutter_count; i++)
        if (!smallest || shop->cutters[i].diameter.value_mm < smallest->diameter.value_mm)
            smallest = &shop->cutters[i];
    if (!smallest)
        return TU_OK;
    size_t plates = tu_json_member(document, root, "plates");
    size_t plate = plates == TU_JSON_NONE ? TU_JSON_NONE : document->nodes[plates].first;
    for (size_t i = 0; i < shop->plate_count; i++, plate = document->nodes[plate].next) {
        const tu_bore *bore = &shop->plates[i].bore;
        char one[TU_SHOP_NUMBER_SIZE], two[TU_SHOP_NUMBER_SIZE];
        if (!bore->present || !(bore->diameter.value_mm <= smallest->diameter.value_mm))
            continue;
        return FAIL_AT(reader, tu_json_member(document, plate, "bore"), "diameter",
                       "no cutter of this file enters a bore of %s mm: the smallest, \"%s\", "
                       "measures %s mm; correct the diameter or add the cutter",
                       tu_shop_number(one, TU_UNIT_MM, bore->diameter.value_mm), smallest->name,
                       tu_shop_number(two, TU_UNIT_MM, smallest->diameter.value_mm));
    }
    return TU_OK;
}

/*
 * 12 x 8 in a millimetre file is possible as a size and still far more likely 12 x 8 in: both sides
 * small, and both within the travel when read as inches, so far below it as millimetres. A bare
 * thickness must go along: 40 x 30 x 12 in is no stock. Common practice, no source. (In an inch
 * file the usual range of each side alone finds the reverse.)
 */
static tu_status check_stock_unit(tu_shop_reader *reader, size_t root, const tu_shop *shop)
{
    const double small_mm = 50, over = 1.1;
    if (shop->unit != TU_UNIT_MM)
        return TU_OK;
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        const tu_quantity *size = &shop->stock.size[axis];
        double travel = shop->machine.travel_high_mm[axis] - shop->machine.travel_low_mm[axis];
        bool slip = !size->unit_stated && size->value_mm < small_mm &&
                    size->value_mm * TU_MM_PER_INCH <= travel * over; /* false with NaN */
        if (!slip)
            return TU_OK;
    }
    const tu_quantity *thickness = &shop->stock.size[TU_AXIS_Z];
    if (!thickness->unit_stated &&
        thickness->value_mm * TU_MM_PER_INCH >
            tu_length_rule_of(TU_LENGTH_STOCK_DEPTH)->usual_high_mm) /* false with NaN */
        return TU_OK;
    char x[TU_SHOP_NUMBER_SIZE], y[TU_SHOP_NUMBER_SIZE];
    tu_shop_number(x, TU_UNIT_MM, shop->stock.size[TU_AXIS_X].value_mm);
    tu_shop_number(y, TU_UNIT_MM, shop->stock.size[TU_AXIS_Y].value_mm);
    return tu_json_fail(&reader->document, tu_json_member(&reader->document, root, "stock"), NULL,
                        reader->error, TU_DATA_RANGE,
                        "%s by %s mm is small for this machine, and %s by %s in is a usual stock, "
                        "so the unit is probably wrong; write \"%sin\" and \"%sin\", or \"%smm\" "
                        "and \"%smm\" if it really is so",
                        x, y, x, y, x, y, x, y);
}

tu_status tu_shop_check_root(tu_shop_reader *reader, size_t node, const void *object)
{
    const tu_shop *shop = object;
    tu_status status = check_bores(reader, node, shop);
    if (!status)
        status = check_numbers(reader, node, shop);
    if (!status)
        status = tu_shop_check_table(reader, node, shop);
    return status ? status : check_stock_unit(reader, node, shop);
}
