/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * made_for.c - writes and reads the sizes in the head of a touch program; see made_for.h.
 */
#include "program/made_for.h"

#include "base/c_locale.h"
#include "trueup/number.h"
#include "trueup/rs274.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

enum { LIST_SIZE = 1024, HEAD_LINES = 40 };

static const double far_mm = 1e5;

/* What an item begins with; the longer of two that begin alike comes first. */
typedef struct item_form {
    const char *key;
    enum { ITEM_SIZE, ITEM_PLACE, ITEM_SHAPE, ITEM_ANGLE } kind;
    tu_made_for_size size;
} item_form;

static const item_form forms[] = {
    {"plate on ", ITEM_PLACE, 0},
    {"plate thickness ", ITEM_SIZE, TU_MADE_FOR_PLATE},
    {"wall a at ", ITEM_SIZE, TU_MADE_FOR_WALL_A},
    {"wall b at ", ITEM_SIZE, TU_MADE_FOR_WALL_B},
    {"bore centre a ", ITEM_SIZE, TU_MADE_FOR_BORE_A},
    {"bore centre b ", ITEM_SIZE, TU_MADE_FOR_BORE_B},
    {"bore ", ITEM_SIZE, TU_MADE_FOR_BORE},
    {"cutter shape ", ITEM_SHAPE, 0},
    {"cutter angle ", ITEM_ANGLE, 0},
    {"cutter corner ", ITEM_SIZE, TU_MADE_FOR_CUTTER_CORNER},
    {"cutter tip ", ITEM_SIZE, TU_MADE_FOR_CUTTER_TIP},
    {"cutter ", ITEM_SIZE, TU_MADE_FOR_CUTTER},
    {"stock thickness ", ITEM_SIZE, TU_MADE_FOR_STOCK},
    {"start x ", ITEM_SIZE, TU_MADE_FOR_START_X},
    {"start y ", ITEM_SIZE, TU_MADE_FOR_START_Y},
    {"start z ", ITEM_SIZE, TU_MADE_FOR_START_Z},
};
enum { FORMS = sizeof forms / sizeof forms[0] };

static const char *const shape_words[] = {[TU_CUTTER_FLAT] = "flat",
                                          [TU_CUTTER_BALL] = "ball",
                                          [TU_CUTTER_BULL] = "bull",
                                          [TU_CUTTER_VEE] = "vee"};
enum { SHAPES = sizeof shape_words / sizeof shape_words[0] };
static const char *const seat_words[] = {[TU_SEAT_STOCK] = "stock", [TU_SEAT_BED] = "bed"};
static const char *const corner_words[] = {"front-left", "front-right", "back-left", "back-right"};

static tu_target corner_at(int index)
{
    return (tu_target){.outward = {index % 2 == 0 ? -1 : 1, index / 2 == 0 ? -1 : 1, 0}};
}

tu_made_for tu_made_for_start(tu_unit unit)
{
    tu_made_for made = {.unit = unit, .included_rad = NAN};
    for (int i = 0; i < TU_MADE_FOR_SIZES; i++)
        made.size[i] = tu_quantity_none();
    return made;
}

/* --- Writing --- */

static void add(char *text, size_t size, const char *format, ...) TU_PRINTF(3, 4);

static void add(char *text, size_t size, const char *format, ...)
{
    size_t used = strlen(text);
    va_list arguments;
    va_start(arguments, format);
    if (used < size)
        tu_c_locale_format(text + used, size - used, format, arguments);
    va_end(arguments);
}

static void add_size(const tu_made_for *made, tu_quantity size, char *item, size_t room)
{
    int decimals = made->unit == TU_UNIT_INCH ? 4 : 3;
    double tolerance = tu_unit_from_mm(made->unit, size.tolerance_mm);
    /* "+ 0.0" for no "-0.000" */
    double scale = pow(10.0, decimals);
    double value = round(tu_unit_from_mm(made->unit, size.value_mm) * scale) / scale + 0.0;
    add(item, room, "%.*f", decimals, value);
    if (tolerance > 0.0)
        add(item, room, "+-%.*f", decimals, tolerance);
    add(item, room, " %s", tu_unit_name(made->unit));
}

static void write_item(const tu_made_for *made, const item_form *form, char *item, size_t room)
{
    const int *outward = made->corner.outward;
    bool lies = outward[TU_AXIS_X] != 0 && outward[TU_AXIS_Y] != 0;
    item[0] = '\0';
    switch (form->kind) {
    case ITEM_SIZE:
        if (tu_quantity_is_stated(made->size[form->size])) {
            add(item, room, "%s", form->key);
            add_size(made, made->size[form->size], item, room);
        }
        break;
    case ITEM_PLACE:
        if (lies)
            add(item, room, "%s%s at %s", form->key, seat_words[made->seat],
                corner_words[(outward[TU_AXIS_Y] > 0) * 2 + (outward[TU_AXIS_X] > 0)]);
        break;
    case ITEM_SHAPE:
        if (made->has_shape)
            add(item, room, "%s%s", form->key, shape_words[made->shape]);
        break;
    case ITEM_ANGLE:
        if (!isnan(made->included_rad))
            add(item, room, "%s%.2f deg", form->key, made->included_rad * 180.0 / M_PI);
        break;
    }
}

void tu_made_for_write(const tu_made_for *made, char *text, size_t size)
{
    text[0] = '\0';
    for (int i = 0; i < FORMS; i++) {
        char item[96];
        write_item(made, &forms[i], item, sizeof item);
        if (item[0] == '\0')
            continue;
        if (strlen(text) + strlen(item) + 3 > size) {
            text[0] = '\0';
            return;
        }
        add(text, size, "%s%s", text[0] != '\0' ? ", " : "", item);
    }
}

/* --- Reading an item --- */

static bool take_word(const char **at, const char *word)
{
    size_t length = strlen(word);
    if (strncmp(*at, word, length) != 0)
        return false;
    *at += length;
    return true;
}

/* A plain decimal number; half of its last digit. */
static bool take_number(const char **at, double *value, double *half_digit)
{
    size_t length = strspn(*at, "-0123456789.");
    const char *point = memchr(*at, '.', length);
    size_t decimals = point != NULL ? length - (size_t)(point - *at) - 1 : 0;
    *half_digit = 0.5 * pow(10.0, -(double)decimals);
    if (decimals > 9 || tu_number_parse(*at, length, value, NULL))
        return false;
    *at += length;
    return true;
}

/* "9.530+-0.020 mm" */
static bool take_size(const char **at, tu_made_for *made, tu_made_for_size which)
{
    double value, tolerance = 0.0, half = 0.0, half_tolerance = 0.0;
    bool has_tolerance = false;
    if (!take_number(at, &value, &half))
        return false;
    if (take_word(at, "+-")) {
        has_tolerance = true;
        if (!take_number(at, &tolerance, &half_tolerance) || !(tolerance >= 0.0))
            return false;
    }
    tu_unit unit = TU_UNIT_MM;
    if (take_word(at, " in"))
        unit = TU_UNIT_INCH;
    else if (!take_word(at, " mm"))
        return false;
    bool first = true;
    for (int i = 0; i < TU_MADE_FOR_SIZES; i++)
        first = first && !tu_quantity_is_stated(made->size[i]);
    if (!first && unit != made->unit)
        return false; /* the writer keeps to one unit */
    double scale = unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1.0;
    if (tu_quantity_is_stated(made->size[which]) || !(fabs(value * scale) <= far_mm) ||
        !(tolerance * scale <= far_mm))
        return false;
    made->unit = unit;
    made->size[which] = tu_quantity_mm(value * scale, has_tolerance ? tolerance * scale : NAN);
    made->rounding_mm[which] = (half + half_tolerance) * scale;
    return true;
}

/* One of the words, the longest that fits; -1: none. */
static int take_one_of(const char **at, const char *const *words, int count)
{
    for (int i = 0; i < count; i++)
        if (take_word(at, words[i]))
            return i;
    return -1;
}

static bool take_place(const char **at, tu_made_for *made)
{
    int seat = take_one_of(at, seat_words, 2);
    int corner = seat >= 0 && take_word(at, " at ") ? take_one_of(at, corner_words, 4) : -1;
    if (corner < 0 || made->corner.outward[TU_AXIS_X] != 0)
        return false;
    made->seat = seat == TU_SEAT_BED ? TU_SEAT_BED : TU_SEAT_STOCK;
    made->corner = corner_at(corner);
    return true;
}

static bool take_shape(const char **at, tu_made_for *made)
{
    int shape = take_one_of(at, shape_words, SHAPES);
    if (shape < 0 || made->has_shape)
        return false;
    made->has_shape = true;
    made->shape = (tu_cutter_shape)shape;
    return true;
}

static bool take_angle(const char **at, tu_made_for *made)
{
    double degrees, half;
    if (!isnan(made->included_rad) || !take_number(at, &degrees, &half) || !take_word(at, " deg") ||
        !(degrees > 0.0 && degrees < 180.0))
        return false;
    made->included_rad = degrees * M_PI / 180.0;
    return true;
}

static bool take_item(const char **at, tu_made_for *made)
{
    for (int i = 0; i < FORMS; i++) {
        if (!take_word(at, forms[i].key))
            continue;
        switch (forms[i].kind) {
        case ITEM_SIZE:
            return take_size(at, made, forms[i].size);
        case ITEM_PLACE:
            return take_place(at, made);
        case ITEM_SHAPE:
            return take_shape(at, made);
        case ITEM_ANGLE:
            return take_angle(at, made);
        }
    }
    return false;
}

/* The whole list, its end included. */
static tu_status read_list(const char *list, const char *where, tu_made_for *made, tu_error *error)
{
    const char *at = list;
    for (;;) {
        const char *item = at;
        if (!take_item(&at, made))
            return tu_fail(error, TU_DATA_SYNTAX, where,
                           "the sizes that the program is made for cannot be read at \"%.40s\"",
                           item);
        if (strcmp(at, TU_MADE_FOR_END) == 0)
            return TU_OK;
        if (!take_word(&at, ", "))
            return tu_fail(error, TU_DATA_SYNTAX, where,
                           "the sizes that the program is made for cannot be read at \"%.40s\"",
                           at);
    }
}

/* --- Reading the head --- */

typedef struct head_line {
    const char *text; /* of the comment, between its parentheses */
    size_t length;
} head_line;

typedef struct head_scan {
    const char *rest;
    size_t length;
    size_t line;
} head_scan;

static bool next_line(head_scan *scan, const char **text, size_t *length)
{
    if (scan->length == 0)
        return false;
    size_t used = 0;
    while (used < scan->length && scan->rest[used] != '\n' && scan->rest[used] != '\r')
        used++;
    *text = scan->rest;
    *length = used;
    if (used < scan->length)
        used += scan->rest[used] == '\r' && used + 1 < scan->length && scan->rest[used + 1] == '\n'
                    ? 2
                    : 1;
    scan->rest += used;
    scan->length -= used;
    scan->line++;
    return true;
}

/* The next line as a comment that fills it; blank lines and a percent sign are passed over. */
static bool next_comment(head_scan *scan, head_line *comment)
{
    const char *text;
    size_t length;
    while (next_line(scan, &text, &length)) {
        if (length > TU_RS274_LINE_MAX)
            return false;
        while (length > 0 && (*text == ' ' || *text == '\t'))
            text++, length--;
        while (length > 0 && (text[length - 1] == ' ' || text[length - 1] == '\t'))
            length--;
        if (length == 0 || (length == 1 && *text == '%'))
            continue;
        if (length < 2 || text[0] != '(' || text[length - 1] != ')')
            return false;
        *comment = (head_line){text + 1, length - 2};
        return true;
    }
    return false;
}

static bool begins(const head_line *comment, const char *word)
{
    size_t length = strlen(word);
    return comment->length >= length && memcmp(comment->text, word, length) == 0;
}

/* A long comment goes on in further ones that begin with two blanks. */
static tu_status gather(head_scan *scan, const head_line *first, char list[LIST_SIZE],
                        const char *where, tu_error *error)
{
    size_t used = first->length - strlen(TU_MADE_FOR_START);
    head_line more;
    memcpy(list, first->text + strlen(TU_MADE_FOR_START), used);
    while (next_comment(scan, &more) && begins(&more, "  ")) {
        if (used + more.length >= LIST_SIZE - 1)
            return tu_fail(error, TU_DATA_SYNTAX, where,
                           "the sizes that the program is made for are longer than any plan's");
        list[used++] = ' ';
        memcpy(list + used, more.text + 2, more.length - 2);
        used += more.length - 2;
    }
    list[used] = '\0';
    return TU_OK;
}

tu_status tu_made_for_read(const char *program, size_t length, tu_made_for *made, tu_error *error)
{
    head_scan scan = {program, length, 0};
    head_line comment;
    bool has_title = false;
    *made = tu_made_for_start(TU_UNIT_MM);
    for (int lines = 0; lines < HEAD_LINES && next_comment(&scan, &comment); lines++) {
        has_title = has_title || begins(&comment, TU_MADE_FOR_TITLE);
        if (!has_title || !begins(&comment, TU_MADE_FOR_START))
            continue;
        char list[LIST_SIZE], where[32] = "";
        size_t line = scan.line;
        add(where, sizeof where, "line %zu", line);
        tu_status status = gather(&scan, &comment, list, where, error);
        if (!status)
            status = read_list(list, where, made, error);
        if (status)
            *made = tu_made_for_start(TU_UNIT_MM);
        made->line = line;
        made->stated = !status;
        return status;
    }
    return TU_OK;
}
