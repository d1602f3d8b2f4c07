/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_length.c - what each length in a shop file may be, and what it usually is.
 */
#include "base/scan.h"
#include "record/shop_form.h"
#include "trueup/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* No length on such a machine reaches 100 m; larger numbers are damage, not sizes. */
#define LARGEST_MM 1e5

/*
 * The last two columns are the usual range in mm, of the magnitude (0: no limit there). Common
 * practice on hobby and small-shop routers, no source. They only serve to tell an inch from a
 * millimetre: a bare number outside its range that would lie inside in the other unit is refused,
 * and stating the unit settles it. They are wide, so that a real size seldom needs that.
 */
static const tu_length_rule rules[] = {
    [TU_LENGTH_THICKNESS] = {"plate thickness", TU_LENGTH_POSITIVE, false, 0.5, 100},
    [TU_LENGTH_WALL_OFFSET] = {"wall offset", TU_LENGTH_SIGNED, false, 0, 200},
    [TU_LENGTH_TOUCH_DEPTH] = {"touch depth", TU_LENGTH_POSITIVE, false, 0.3, 50},
    [TU_LENGTH_RISE] = {"wall rise", TU_LENGTH_NOT_NEGATIVE, false, 0.5, 100},
    [TU_LENGTH_EXTENT_END] = {"plate extent", TU_LENGTH_SIGNED, true, 0, 0},
    [TU_LENGTH_EXTENT] = {"plate extent", TU_LENGTH_POSITIVE, true, 10, 500},
    [TU_LENGTH_BORE] = {"bore diameter", TU_LENGTH_POSITIVE, false, 2, 200},
    [TU_LENGTH_BORE_CENTRE] = {"bore centre", TU_LENGTH_SIGNED, false, 0, 200},
    [TU_LENGTH_CUTTER] = {"cutter diameter", TU_LENGTH_POSITIVE, false, 0.5, 100},
    [TU_LENGTH_CORNER_RADIUS] = {"corner radius", TU_LENGTH_POSITIVE, false, 0.1, 25},
    [TU_LENGTH_TIP] = {"tip", TU_LENGTH_NOT_NEGATIVE, false, 0, 0},
    [TU_LENGTH_CORE] = {"core", TU_LENGTH_POSITIVE, false, 0, 0},
    [TU_LENGTH_RUN_OUT] = {"run-out", TU_LENGTH_NOT_NEGATIVE, false, 0, 0},
    [TU_LENGTH_FLUTE] = {"flute length", TU_LENGTH_POSITIVE, false, 1, 200},
    [TU_LENGTH_SHANK] = {"shank", TU_LENGTH_POSITIVE, false, 1, 50},
    [TU_LENGTH_STICK_OUT] = {"stick-out", TU_LENGTH_POSITIVE, false, 4, 300},
    [TU_LENGTH_NUT] = {"nut", TU_LENGTH_POSITIVE, false, 4, 120},
    [TU_LENGTH_TOOL] = {"tool length", TU_LENGTH_SIGNED, false, 0, 0},
    [TU_LENGTH_TRAVEL_END] = {"end of travel", TU_LENGTH_SIGNED, true, 0, 0},
    [TU_LENGTH_TRAVEL_PLANE] = {"travel", TU_LENGTH_POSITIVE, true, 100, 10000},
    [TU_LENGTH_TRAVEL_DEPTH] = {"travel", TU_LENGTH_POSITIVE, true, 20, 2000},
    [TU_LENGTH_STEP] = {"step", TU_LENGTH_POSITIVE, true, 0.0008, 0.2},
    [TU_LENGTH_SD] = {"standard deviation", TU_LENGTH_POSITIVE, true, 0, 0},
    [TU_LENGTH_STOCK_PLANE] = {"stock size", TU_LENGTH_POSITIVE, false, 10, 3000},
    [TU_LENGTH_STOCK_DEPTH] = {"stock thickness", TU_LENGTH_POSITIVE, false, 1, 200},
    [TU_LENGTH_BLOCK] = {"block width", TU_LENGTH_POSITIVE, false, 10, 500},
    [TU_LENGTH_SLOT] = {"slot width", TU_LENGTH_POSITIVE, false, 2, 200},
    [TU_LENGTH_PLACE] = {"coordinate", TU_LENGTH_SIGNED, true, 0, 0},
    [TU_LENGTH_HEIGHT] = {"height", TU_LENGTH_SIGNED, true, 0, 0},
    [TU_LENGTH_MAP_STEP] = {"step of the map", TU_LENGTH_POSITIVE, true, 0, 0},
    [TU_LENGTH_TRAVERSE] = {"traverse rate", TU_LENGTH_POSITIVE, true, 200, 60000},
    [TU_LENGTH_NOISE] = {"noise", TU_LENGTH_NOT_NEGATIVE, true, 0, 0},
    [TU_LENGTH_RATE] = {"rate", TU_LENGTH_POSITIVE, true, 200, 60000},
    [TU_LENGTH_ACCELERATION] = {"acceleration", TU_LENGTH_POSITIVE, true, 20, 10000},
    [TU_LENGTH_REVERSAL] = {"reversal", TU_LENGTH_NOT_NEGATIVE, true, 0, 0},
    [TU_LENGTH_SHOE] = {"diameter of the shoe", TU_LENGTH_POSITIVE, true, 15, 400},
    [TU_LENGTH_SHOE_HEIGHT] = {"height of the shoe", TU_LENGTH_POSITIVE, true, 5, 300},
    [TU_LENGTH_DRIVES] = {"distance of the drives", TU_LENGTH_POSITIVE, true, 100, 10000},
    [TU_LENGTH_THING] = {"diameter", TU_LENGTH_POSITIVE, true, 2, 200},
};

const tu_length_rule *tu_length_rule_of(tu_length length)
{
    return &rules[length];
}

static const char *format_length(char text[TU_SHOP_NUMBER_SIZE], tu_unit unit, double value_mm,
                                 int decimals)
{
    size_t length =
        tu_number_format(text, TU_SHOP_NUMBER_SIZE, tu_unit_from_mm(unit, value_mm), decimals);
    if (!strchr(text, '.'))
        return text;
    while (length > 1 && text[length - 1] == '0')
        text[--length] = '\0';
    if (length > 1 && text[length - 1] == '.')
        text[--length] = '\0';
    return text;
}

const char *tu_shop_number(char text[TU_SHOP_NUMBER_SIZE], tu_unit unit, double value_mm)
{
    return format_length(text, unit, value_mm, 6);
}

/* An end of a usual range, which is round in mm and need not be exact in inches. */
static const char *usual_number(char text[TU_SHOP_NUMBER_SIZE], tu_unit unit, double value_mm)
{
    return format_length(text, unit, value_mm, value_mm < 0.05 ? 5 : 2);
}

static bool is_usual(const tu_length_rule *rule, double value_mm)
{
    double size = fabs(value_mm);
    return size >= rule->usual_low_mm && (rule->usual_high_mm <= 0 || size <= rule->usual_high_mm);
}

bool tu_shop_is_other_unit(tu_unit unit, tu_length length, double value_mm)
{
    double other = unit == TU_UNIT_MM ? value_mm * TU_MM_PER_INCH : value_mm / TU_MM_PER_INCH;
    return !is_usual(&rules[length], value_mm) && is_usual(&rules[length], other);
}

static tu_status check_sign(tu_shop_reader *reader, size_t node, const tu_length_rule *rule,
                            const tu_quantity *quantity)
{
    const tu_json_document *document = &reader->document;
    char show[TU_JSON_SHOW_SIZE];
    const char *found = tu_json_found(document, node, show);
    if (rule->sign == TU_LENGTH_POSITIVE && !(quantity->value_mm > 0))
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                            "the %s must be above zero; found %s", rule->what, found);
    if (rule->sign == TU_LENGTH_NOT_NEGATIVE && !(quantity->value_mm >= 0))
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                            "the %s can't be below zero; found %s", rule->what, found);
    if (!(fabs(quantity->value_mm) <= LARGEST_MM) || quantity->tolerance_mm > LARGEST_MM)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                            "the %s can't be more than 100 m; found %s", rule->what, found);
    return TU_OK;
}

static tu_status check_tolerance(tu_shop_reader *reader, size_t node, const tu_length_rule *rule,
                                 const tu_quantity *quantity)
{
    const tu_json_document *document = &reader->document;
    char show[TU_JSON_SHOW_SIZE];
    if (isnan(quantity->tolerance_mm))
        return TU_OK;
    const char *found = tu_json_found(document, node, show);
    if (rule->exact)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                            "the %s takes no tolerance; found %s, write the value alone",
                            rule->what, found);
    if (rule->sign == TU_LENGTH_POSITIVE && quantity->tolerance_mm >= quantity->value_mm)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                            "the tolerance is as large as the %s itself; found %s, write both "
                            "with their units, as in \"9.53mm+-0.02mm\"",
                            rule->what, found);
    return TU_OK;
}

tu_status tu_shop_read_length(tu_shop_reader *reader, size_t node, tu_length length,
                              tu_quantity *quantity)
{
    const tu_json_document *document = &reader->document;
    const tu_json_node *n = &document->nodes[node];
    const tu_length_rule *rule = &rules[length];
    const char *text = tu_json_string(document, node);
    size_t size = text ? strlen(text) : n->end - n->start;
    char show[TU_JSON_SHOW_SIZE];
    tu_error inner;
    tu_status status = tu_quantity_parse(text ? text : document->text + n->start, size,
                                         reader->shop->unit, quantity, &inner);
    if (status && text)
        return tu_json_fail(document, node, NULL, reader->error, status, "%s", inner.message);
    if (status)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                            "the number %s is too large to be held; write a smaller one",
                            tu_json_found(document, node, show));
    status = check_sign(reader, node, rule, quantity);
    if (!status)
        status = check_tolerance(reader, node, rule, quantity);
    if (status)
        *quantity = tu_quantity_none();
    return status;
}

/* "0.375 mm would be an unusual plate thickness (usual: 0.5 to 100 mm), and 0.375 in a usual one,
 * so the unit is probably wrong" */
static void format_doubt(char doubt[TU_DOUBT_SIZE], tu_length length, tu_unit unit, double value_mm)
{
    const tu_length_rule *rule = &rules[length];
    char number[TU_SHOP_NUMBER_SIZE], low[TU_SHOP_NUMBER_SIZE], high[TU_SHOP_NUMBER_SIZE];
    const char *mine = tu_unit_name(unit);
    const char *theirs = tu_unit_name(unit == TU_UNIT_MM ? TU_UNIT_INCH : TU_UNIT_MM);
    char from[TU_SHOP_NUMBER_SIZE + 4];
    snprintf(from, sizeof from, "%s to", usual_number(low, unit, rule->usual_low_mm));
    tu_shop_number(number, unit, value_mm);
    snprintf(doubt, TU_DOUBT_SIZE,
             "%.30s %s would be an unusual %s (usual: %s %s %s), and %.30s %s a usual one, so the "
             "unit is probably wrong",
             number, mine, rule->what, rule->usual_low_mm > 0 ? from : "up to",
             usual_number(high, unit, rule->usual_high_mm), mine, number, theirs);
}

bool tu_shop_doubt_unit(tu_length_use use, tu_unit unit, double value_mm, char doubt[TU_DOUBT_SIZE])
{
    static const tu_length lengths[] = {
        [TU_USE_PLATE_THICKNESS] = TU_LENGTH_THICKNESS,
        [TU_USE_WALL_OFFSET] = TU_LENGTH_WALL_OFFSET,
        [TU_USE_BORE_DIAMETER] = TU_LENGTH_BORE,
        [TU_USE_BORE_CENTRE] = TU_LENGTH_BORE_CENTRE,
        [TU_USE_TOUCH_DEPTH] = TU_LENGTH_TOUCH_DEPTH,
        [TU_USE_CUTTER_DIAMETER] = TU_LENGTH_CUTTER,
        [TU_USE_STOCK_THICKNESS] = TU_LENGTH_STOCK_DEPTH,
        [TU_USE_BLOCK_WIDTH] = TU_LENGTH_BLOCK,
        [TU_USE_SLOT_WIDTH] = TU_LENGTH_SLOT,
    };
    bool doubtful = tu_shop_is_other_unit(unit, lengths[use], value_mm);
    doubt[0] = '\0';
    if (doubtful)
        format_doubt(doubt, lengths[use], unit, value_mm);
    return doubtful;
}

/* A bare number that fits its place only in the other unit. */
static tu_status fail_unit(tu_shop_reader *reader, size_t node, tu_length length, double value_mm)
{
    const tu_json_document *document = &reader->document;
    const tu_json_node *n = &document->nodes[node];
    tu_unit unit = reader->shop->unit;
    const char *mine = tu_unit_name(unit);
    const char *theirs = tu_unit_name(unit == TU_UNIT_MM ? TU_UNIT_INCH : TU_UNIT_MM);
    char doubt[TU_DOUBT_SIZE];
    const char *text = tu_json_string(document, node);
    size_t size = n->end - n->start - (text ? 2 : 0);
    const char *raw = document->text + n->start + (text ? 1 : 0);
    char other[60], same[60];
    tu_quantity_write_with_unit(other, sizeof other, raw, size, theirs);
    tu_quantity_write_with_unit(same, sizeof same, raw, size, mine);
    format_doubt(doubt, length, unit, value_mm);
    return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                        "%s; write \"%s\", or \"%s\" if it really is so", doubt, other, same);
}

static tu_status check_unit(tu_shop_reader *reader, size_t node, tu_length length,
                            const tu_quantity *quantity)
{
    bool slip = !quantity->unit_stated &&
                tu_shop_is_other_unit(reader->shop->unit, length, quantity->value_mm);
    return slip ? fail_unit(reader, node, length, quantity->value_mm) : TU_OK;
}

tu_status tu_shop_take_quantity(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                                void *member)
{
    tu_quantity *quantity = member;
    tu_length length = (tu_length)key->rule;
    tu_status status = tu_shop_read_length(reader, node, length, quantity);
    return status ? status : check_unit(reader, node, length, quantity);
}

tu_status tu_shop_take_mm(tu_shop_reader *reader, size_t node, const tu_shop_key *key, void *member)
{
    tu_quantity quantity;
    tu_status status = tu_shop_take_quantity(reader, node, key, &quantity);
    *(double *)member = quantity.value_mm;
    return status;
}

tu_status tu_shop_take_place(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member)
{
    const tu_json_document *document = &reader->document;
    const tu_json_node *n = &document->nodes[node];
    double *coordinate = member;
    char show[TU_JSON_SHOW_SIZE];
    if (n->count != (size_t)key->rule)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_SYNTAX,
                            "expected %s; found an array of %zu", key->expected, n->count);
    for (size_t child = n->first; child != TU_JSON_NONE; child = document->nodes[child].next) {
        tu_quantity quantity;
        if (!(document->nodes[child].kind & (TU_JSON_NUMBER | TU_JSON_STRING)))
            return tu_json_fail(document, child, NULL, reader->error, TU_DATA_SYNTAX,
                                "expected a length, as in 40 or \"1.5in\"; found %s",
                                tu_json_found(document, child, show));
        tu_status status = tu_shop_read_length(reader, child, TU_LENGTH_PLACE, &quantity);
        if (status)
            return status;
        *coordinate++ = quantity.value_mm;
    }
    return TU_OK;
}

/* The coarsest step that a position could sensibly have; beyond it the number is something else. */
#define COARSEST_STEP_MM 1.0

tu_status tu_shop_take_length(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member)
{
    tu_quantity quantity;
    char show[TU_JSON_SHOW_SIZE];
    tu_length length = (tu_length)key->rule;
    tu_status status = tu_shop_read_length(reader, node, length, &quantity);
    if (status)
        return status;
    if (quantity.value_mm > COARSEST_STEP_MM)
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "the %s can't be more than 1 mm; found %s%s", rules[length].what,
                            tu_json_found(&reader->document, node, show),
                            length == TU_LENGTH_STEP ? " (it is a length, not steps per millimetre)"
                                                     : "");
    *(double *)member = quantity.value_mm;
    return check_unit(reader, node, length, &quantity);
}

static tu_status fail_span_unit(tu_shop_reader *reader, size_t node, tu_length length,
                                double span_mm)
{
    const tu_json_document *document = &reader->document;
    const tu_json_node *nodes = document->nodes;
    tu_unit unit = reader->shop->unit;
    const char *mine = tu_unit_name(unit);
    const char *theirs = tu_unit_name(unit == TU_UNIT_MM ? TU_UNIT_INCH : TU_UNIT_MM);
    char number[TU_SHOP_NUMBER_SIZE], low[TU_SHOP_NUMBER_SIZE], high[TU_SHOP_NUMBER_SIZE];
    const tu_json_node *end[2] = {&nodes[nodes[node].first], &nodes[nodes[node].last]};
    char raw[2][40];
    for (int i = 0; i < 2; i++) {
        bool text = end[i]->kind == TU_JSON_STRING;
        snprintf(raw[i], sizeof raw[i], "%.*s", (int)(end[i]->end - end[i]->start) - (text ? 2 : 0),
                 document->text + end[i]->start + (text ? 1 : 0));
    }
    return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                        "%s %s would be an unusual %s here (usual: %s to %s %s), and %s %s a "
                        "usual one, so the unit is probably wrong; write [\"%s%s\", \"%s%s\"], or "
                        "[\"%s%s\", \"%s%s\"] if it really is so",
                        tu_shop_number(number, unit, span_mm), mine, rules[length].what,
                        usual_number(low, unit, rules[length].usual_low_mm),
                        usual_number(high, unit, rules[length].usual_high_mm), mine, number, theirs,
                        raw[0], theirs, raw[1], theirs, raw[0], mine, raw[1], mine);
}

/* What is said of two lengths, the lower first. */
typedef struct range_rule {
    tu_length end, span;
    const char *example; /* of an end */
    const char *order;   /* what the order must be */
} range_rule;

static tu_status take_range(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            const range_rule *rule, tu_quantity end[2])
{
    const tu_json_document *document = &reader->document;
    const tu_json_node *n = &document->nodes[node];
    char show[TU_JSON_SHOW_SIZE];
    if (n->count != 2)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_SYNTAX,
                            "expected %s; found an array of %zu", key->expected, n->count);
    size_t child = n->first;
    for (int i = 0; i < 2; i++, child = document->nodes[child].next) {
        if (!(document->nodes[child].kind & (TU_JSON_NUMBER | TU_JSON_STRING)))
            return tu_json_fail(document, child, NULL, reader->error, TU_DATA_SYNTAX,
                                "expected a length, as in %s; found %s", rule->example,
                                tu_json_found(document, child, show));
        tu_status status = tu_shop_read_length(reader, child, rule->end, &end[i]);
        if (status)
            return status;
    }
    double span = end[1].value_mm - end[0].value_mm;
    if (!(span > 0))
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE, "%s", rule->order);
    if (!end[0].unit_stated && !end[1].unit_stated &&
        tu_shop_is_other_unit(reader->shop->unit, rule->span, span))
        return fail_span_unit(reader, node, rule->span, span);
    return TU_OK;
}

tu_status tu_shop_take_travel(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member)
{
    const range_rule rule = {
        TU_LENGTH_TRAVEL_END,
        key->rule == TU_AXIS_Z ? TU_LENGTH_TRAVEL_DEPTH : TU_LENGTH_TRAVEL_PLANE,
        "1200 or \"48in\"",
        "the lowest coordinate must be below the highest; write [low, high], as in [-120, 0]"};
    tu_machine *machine = member;
    tu_quantity end[2];
    tu_status status = take_range(reader, node, key, &rule, end);
    if (status)
        return status;
    machine->travel_low_mm[key->rule] = end[0].value_mm;
    machine->travel_high_mm[key->rule] = end[1].value_mm;
    return TU_OK;
}

tu_status tu_shop_take_extent(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member)
{
    static const range_rule rule = {
        TU_LENGTH_EXTENT_END, TU_LENGTH_EXTENT, "-60 or \"-2.5in\"",
        "the plate must reach from a lower to a higher distance; write [from, to], as in "
        "[-60, 6.35]: below 0 lies over the stock"};
    tu_quantity end[2];
    tu_status status = take_range(reader, node, key, &rule, end);
    if (!status)
        memcpy(member, end, sizeof end);
    return status;
}
