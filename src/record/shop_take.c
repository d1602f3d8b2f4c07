/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_take.c - takes the values of a shop file that are not lengths: names, words, angles, counts.
 */
#include "base/utf8.h"
#include "record/shop_form.h"
#include "trueup/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define RADIANS_PER_DEGREE (3.14159265358979323846 / 180.0)

typedef struct word {
    const char *text;
    int value;
} word;

static const word unit_words[] = {{"mm", TU_UNIT_MM}, {"in", TU_UNIT_INCH}, {NULL, 0}};
static const word shape_words[] = {{"flat", TU_CUTTER_FLAT},
                                   {"ball", TU_CUTTER_BALL},
                                   {"bull", TU_CUTTER_BULL},
                                   {"vee", TU_CUTTER_VEE},
                                   {NULL, 0}};
static const word faces_words[] = {
    {"outward", TU_FACES_OUTWARD}, {"inward", TU_FACES_INWARD}, {NULL, 0}};

static const word seat_words[] = {{"stock", TU_SEAT_STOCK}, {"bed", TU_SEAT_BED}, {NULL, 0}};

static const word frame_words[] = {
    {"stock", TU_FRAME_STOCK}, {"machine", TU_FRAME_MACHINE}, {NULL, 0}};

static const word *const word_lists[] = {[TU_WORDS_FRAME] = frame_words,
                                         [TU_WORDS_UNIT] = unit_words,
                                         [TU_WORDS_SHAPE] = shape_words,
                                         [TU_WORDS_FACES] = faces_words,
                                         [TU_WORDS_SEAT] = seat_words};

tu_status tu_shop_take_word(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member)
{
    const word *words = word_lists[key->rule];
    const char *text = tu_json_string(&reader->document, node);
    const char *names[4];
    char hint[100] = "";
    char show[TU_JSON_SHOW_SIZE];
    size_t count = 0;
    for (; words[count].text; count++) {
        names[count] = words[count].text;
        if (!strcmp(text, names[count])) {
            memcpy(member, &words[count].value, sizeof words[count].value);
            return TU_OK;
        }
    }
    const char *nearest = tu_text_nearest(text, names, count);
    if (nearest)
        snprintf(hint, sizeof hint, "; did you mean \"%s\"?", nearest);
    return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_UNKNOWN,
                        "expected %s; found %s%s", key->expected,
                        tu_json_found(&reader->document, node, show), hint);
}
/* memcpy above writes an int into an enum member */
_Static_assert(sizeof(tu_unit) == sizeof(int) && sizeof(tu_cutter_shape) == sizeof(int) &&
                   sizeof(tu_facing) == sizeof(int) && sizeof(tu_seat) == sizeof(int) &&
                   sizeof(tu_frame) == sizeof(int),
               "enumerations are as wide as int");

tu_status tu_shop_take_name(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member)
{
    (void)key;
    const char *text = tu_json_string(&reader->document, node);
    size_t length = strlen(text);
    const char *fault = NULL;
    if (length == 0)
        fault = "a name can't be empty";
    else if (length >= TU_NAME_SIZE)
        fault = "a name of more than 63 bytes; shorten it";
    else if (tu_utf8_has_control(text))
        fault = "a name can't hold control characters";
    else if (strchr(text, '/'))
        fault = "a name can't hold a slash, since names become parts of file names; write a dash";
    else if (text[0] == ' ' || text[length - 1] == ' ')
        fault = "a name can't start or end with a space, which nobody would see; take it out";
    char show[TU_JSON_SHOW_SIZE];
    if (fault)
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "%s; found %s", fault, tu_json_found(&reader->document, node, show));
    memcpy(member, text, length + 1);
    return TU_OK;
}

tu_status tu_shop_take_flag(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member)
{
    (void)key;
    *(bool *)member = cJSON_IsTrue(reader->document.nodes[node].item);
    return TU_OK;
}

tu_status tu_shop_take_nothing(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member)
{
    (void)reader, (void)node, (void)key, (void)member;
    return TU_OK;
}

static const struct {
    double low_deg, high_deg;
    bool low_in, high_in; /* whether the end itself is allowed */
    const char *range;
} angles[] = {
    [TU_ANGLE_INCLUDED] = {0, 180, false, false, "the included angle lies between 0 and 180"},
    /* beyond 60 degrees it is a drill or a slip */
    [TU_ANGLE_HELIX] = {0, 60, true, false, "the helix angle lies from 0 (straight) to below 60"},
    [TU_ANGLE_TURNED] = {0, 90, false, true,
                         "the angle to which an edge was turned lies above 0, up to 90"},
};

tu_status tu_shop_take_angle(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member)
{
    double degrees;
    char show[TU_JSON_SHOW_SIZE];
    tu_status status = tu_json_number(&reader->document, node, &degrees, reader->error);
    if (status)
        return status;
    bool low = degrees > angles[key->rule].low_deg ||
               (angles[key->rule].low_in && degrees >= angles[key->rule].low_deg);
    bool high = degrees < angles[key->rule].high_deg ||
                (angles[key->rule].high_in && degrees <= angles[key->rule].high_deg);
    if (!low || !high)
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "%s degrees; found %s", angles[key->rule].range,
                            tu_json_found(&reader->document, node, show));
    *(double *)member = degrees * RADIANS_PER_DEGREE;
    return TU_OK;
}

tu_status tu_shop_take_count(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member)
{
    static const struct {
        double most;
        const char *hint;
    } counts[] = {[TU_COUNT_FLUTES] = {12, " (leave the key out for a plain pin)"},
                  [TU_COUNT_NUMBER] = {99999, ""}};
    double count;
    char show[TU_JSON_SHOW_SIZE];
    tu_status status = tu_json_number(&reader->document, node, &count, reader->error);
    if (status)
        return status;
    if (!(count >= 1 && count <= counts[key->rule].most) || count != floor(count))
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "expected %s; found %s%s", key->expected,
                            tu_json_found(&reader->document, node, show), counts[key->rule].hint);
    *(int *)member = (int)count;
    return TU_OK;
}

tu_status tu_shop_take_dof(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                           void *member)
{
    (void)key;
    double dof;
    char show[TU_JSON_SHOW_SIZE];
    tu_status status = tu_json_number(&reader->document, node, &dof, reader->error);
    if (status)
        return status;
    if (!(dof > 0))
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "degrees of freedom must be above zero; found %s",
                            tu_json_found(&reader->document, node, show));
    *(double *)member = dof;
    return TU_OK;
}
