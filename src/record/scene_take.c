/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene_take.c - takes the values of a scene file that a shop file does not have.
 */
#include "record/scene_form.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define RADIANS_PER_DEGREE (3.14159265358979323846 / 180.0)

/* Ends included. scale: of what is taken over what is written. */
static const struct {
    double low, high, scale;
    bool whole;
    const char *range;
} figures[] = {
    /* a metre in five is a ramp, and no bed that anyone would touch */
    [TU_FIGURE_TILT] = {-200, 200, 1e-3, false, "a tilt is in mm per metre, from -200 to 200"},
    [TU_FIGURE_STOCK_ANGLE] = {-45, 45, RADIANS_PER_DEGREE, false,
                               "the stock is turned by -45 to 45 degrees; turned further, another "
                               "of its sides is the front"},
    [TU_FIGURE_CUTTER_ANGLE] = {-360, 360, RADIANS_PER_DEGREE, false,
                                "the angle of an edge lies between -360 and 360 degrees"},
    [TU_FIGURE_SECONDS] = {0, 1, 1, false, "the time is in seconds, from 0 to 1"},
    [TU_FIGURE_DRIFT] = {-1000, 1000, 1e-3 / 60, false,
                         "a drift is in micrometres per minute, from -1000 to 1000"},
    [TU_FIGURE_WARM_UP] = {-1000, 1000, 1e-3, false,
                           "a warming up is in micrometres, from -1000 to 1000"},
    [TU_FIGURE_TAU] = {1, 100000, 1, false, "the time is in seconds, from 1 to 100000"},
    [TU_FIGURE_WRONG_TURNS] = {-3, 3, 1, true, "a whole number of quarter turns, from -3 to 3"},
    /* what every reader of JSON holds exactly, RFC 8259 section 6 */
    [TU_FIGURE_SEED] = {0, 9007199254740991.0, 1, true,
                        "a seed is a whole number from 0 to 9007199254740991"},
};

tu_status tu_scene_take_figure(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member)
{
    double value;
    char show[TU_JSON_SHOW_SIZE];
    tu_status status = tu_json_number(&reader->document, node, &value, reader->error);
    if (status)
        return status;
    if (!(value >= figures[key->rule].low && value <= figures[key->rule].high) ||
        (figures[key->rule].whole && value != floor(value)))
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "%s; found %s", figures[key->rule].range,
                            tu_json_found(&reader->document, node, show));
    *(double *)member = value * figures[key->rule].scale;
    return TU_OK;
}

tu_status tu_scene_take_turns(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member)
{
    double value = 0;
    tu_status status = tu_scene_take_figure(reader, node, key, &value);
    *(int *)member = (int)value;
    return status;
}

tu_status tu_scene_take_seed(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member)
{
    double value = 0;
    tu_status status = tu_scene_take_figure(reader, node, key, &value);
    *(uint64_t *)member = (uint64_t)value;
    return status;
}

tu_status tu_scene_take_corner(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member)
{
    tu_target target;
    tu_status status = tu_shop_take_target(reader, node, key, &target);
    if (status)
        return status;
    tu_error unknown;
    if (tu_target_check(target, &unknown))
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE, "%s",
                            unknown.message);
    if (tu_target_is_face(target))
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "\"%s\" is a face; a plate lies on a corner, as in "
                            "\"front-left-top\"",
                            tu_json_string(&reader->document, node));
    memcpy(member, &target, sizeof target);
    return TU_OK;
}

/* --- The map of the bed --- */

static const tu_shop_key height_key = {.rule = TU_LENGTH_HEIGHT};

static tu_status take_row(tu_shop_reader *reader, size_t row, tu_bed_surface *bed)
{
    const tu_json_document *document = &reader->document;
    const tu_json_node *nodes = document->nodes;
    char show[TU_JSON_SHOW_SIZE];
    if (nodes[row].kind != TU_JSON_ARRAY)
        return tu_json_fail(document, row, NULL, reader->error, TU_DATA_SYNTAX,
                            "expected a row of heights [...], from left to right; found %s",
                            tu_json_found(document, row, show));
    if (nodes[row].count != bed->columns)
        return tu_json_fail(document, row, NULL, reader->error, TU_DATA_CONFLICT,
                            "this row has %zu heights and the first has %zu; a map has a height "
                            "at every place",
                            nodes[row].count, bed->columns);
    double *height = &bed->map_mm[nodes[row].index * bed->columns];
    for (size_t child = nodes[row].first; child != TU_JSON_NONE; child = nodes[child].next) {
        if (!(nodes[child].kind & (TU_JSON_NUMBER | TU_JSON_STRING)))
            return tu_json_fail(document, child, NULL, reader->error, TU_DATA_SYNTAX,
                                "expected a height, as in 0.12 or \"0.005in\"; found %s",
                                tu_json_found(document, child, show));
        tu_status status = tu_shop_take_mm(reader, child, &height_key, height++);
        if (status)
            return status;
    }
    return TU_OK;
}

tu_status tu_scene_take_rows(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member)
{
    (void)key;
    const tu_json_node *nodes = reader->document.nodes;
    tu_bed_surface *bed = member;
    size_t rows = nodes[node].count;
    size_t columns = rows ? nodes[nodes[node].first].count : 0;
    if (rows < 2 || columns < 2 || columns > TU_BED_MAP_MAX / rows)
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "%zu rows of %zu heights; a map has at least 2 rows of 2 and at most "
                            "%d heights",
                            rows, columns, TU_BED_MAP_MAX);
    bed->rows = rows;
    bed->columns = columns;
    tu_status status = TU_OK;
    for (size_t row = nodes[node].first; !status && row != TU_JSON_NONE; row = nodes[row].next)
        status = take_row(reader, row, bed);
    return status;
}

/* --- Blocks --- */

tu_status tu_scene_take_blocks(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member)
{
    const tu_json_document *document = &reader->document;
    const tu_json_node *nodes = document->nodes;
    tu_scene *scene = member;
    char show[TU_JSON_SHOW_SIZE];
    if (nodes[node].count > TU_SCENE_BLOCKS)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                            "%zu blocks, and at most %d are allowed; leave out those that nothing "
                            "comes near",
                            nodes[node].count, TU_SCENE_BLOCKS);
    scene->block_count = nodes[node].count;
    for (size_t child = nodes[node].first; child != TU_JSON_NONE; child = nodes[child].next) {
        if (nodes[child].kind != TU_JSON_OBJECT)
            return tu_json_fail(document, child, NULL, reader->error, TU_DATA_SYNTAX,
                                "expected %s in braces {...}, found %s", key->form->what,
                                tu_json_found(document, child, show));
        tu_status status =
            tu_shop_read_form(reader, child, key->form, &scene->block[nodes[child].index]);
        if (status)
            return status;
    }
    return tu_shop_check_names(reader, node, scene->block, sizeof scene->block[0]);
}

tu_status tu_scene_check_block(tu_shop_reader *reader, size_t node, const void *object)
{
    static const char *const taken[] = {"plate", "stock", "bed"};
    const tu_scene_block *block = object;
    const tu_json_document *document = &reader->document;
    const double low[] = {block->low.x, block->low.y, block->low.z};
    const double high[] = {block->high.x, block->high.y, block->high.z};
    for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++)
        if (!strcmp(block->name, taken[i]))
            return tu_json_fail(document, tu_json_member(document, node, "name"), NULL,
                                reader->error, TU_DATA_CONFLICT,
                                "the %s itself is called so in the answers; choose another name",
                                taken[i]);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (!(low[axis] < high[axis]))
            return tu_json_fail(document, tu_json_member(document, node, "to"), NULL, reader->error,
                                TU_DATA_RANGE, "a block reaches from a lower to a higher %c",
                                tu_axis_letter((tu_axis)axis));
    return TU_OK;
}

/* --- One thing against another --- */

static bool has(const tu_shop_reader *reader, size_t node, const char *key)
{
    return tu_json_member(&reader->document, node, key) != TU_JSON_NONE;
}

static tu_status check_plate(tu_shop_reader *reader, size_t node, const tu_scene *scene)
{
    const tu_json_document *document = &reader->document;
    bool plate = has(reader, node, "plate"), lies = has(reader, node, "plate_lies");
    if (plate && !lies)
        return tu_json_fail(document, node, "plate_lies", reader->error, TU_DATA_MISSING,
                            "\"plate_lies\" is missing, and a plate needs it: say where it lies, "
                            "as in {\"corner\": \"front-left-top\"}");
    if (lies && !plate)
        return tu_json_fail(document, node, "plate", reader->error, TU_DATA_MISSING,
                            "\"plate\" is missing: \"plate_lies\" says where it lies");
    if (plate && scene->seat == TU_SEAT_STOCK && !scene->stock_present)
        return tu_json_fail(document, tu_json_member(document, node, "plate_lies"), NULL,
                            reader->error, TU_DATA_CONFLICT,
                            "the plate lies on the stock, and there is no \"stock\"; describe it, "
                            "or state \"seat\": \"bed\"");
    return TU_OK;
}

static tu_status check_start(tu_shop_reader *reader, size_t node, const tu_scene *scene)
{
    static const char *const names[] = {"x", "y", "z"};
    const tu_json_document *document = &reader->document;
    const double start[] = {scene->start.x, scene->start.y, scene->start.z};
    tu_unit unit = reader->shop->unit;
    char at[TU_SHOP_NUMBER_SIZE], low[TU_SHOP_NUMBER_SIZE], high[TU_SHOP_NUMBER_SIZE];
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double from = scene->machine.travel_low_mm[axis], to = scene->machine.travel_high_mm[axis];
        if (!(start[axis] < from || start[axis] > to)) /* false with NaN */
            continue;
        size_t place = tu_json_member(document, node, "start");
        return tu_json_fail(
            document, tu_json_member(document, place, names[axis]), NULL, reader->error,
            TU_DATA_RANGE, "the start at %s %s lies outside the machine's travel, %s to %s %s",
            tu_shop_number(at, unit, start[axis]), tu_unit_name(unit),
            tu_shop_number(low, unit, from), tu_shop_number(high, unit, to), tu_unit_name(unit));
    }
    return TU_OK;
}

tu_status tu_scene_check_root(tu_shop_reader *reader, size_t node, const void *object)
{
    const tu_scene *scene = object;
    const tu_json_document *document = &reader->document;
    if (has(reader, node, "cutter_angle_deg") && !scene->cutter.flutes)
        return tu_json_fail(document, tu_json_member(document, node, "cutter_angle_deg"), NULL,
                            reader->error, TU_DATA_CONFLICT,
                            "this is the angle of a cutting edge, and the cutter has none; state "
                            "its \"flutes\", or take the key out");
    tu_status status = check_plate(reader, node, scene);
    return status ? status : check_start(reader, node, scene);
}
