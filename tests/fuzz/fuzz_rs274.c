/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_rs274.c - libFuzzer target: programs in RS274/NGC.
 *
 * The input is the program. Beyond not crashing it demands: every number of a block is finite and
 * stands where a column says; reading always goes forward and counts every line; what is refused is
 * refused in a place on its line, with a message that is one line of UTF-8; and a line whose
 * letters change case, with a blank behind each character outside comments, means what it meant.
 */
#include "demand.h"

#include "trueup/rs274.h"
#include "trueup/text.h"

#include <ctype.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static double parameters[TU_RS274_PARAMETERS];

/* Some parameters are whole and name others, some are not, the rest is not set. */
static void set_parameters(void)
{
    for (int i = 0; i < TU_RS274_PARAMETERS; i++)
        parameters[i] = i < 20 ? i + 1 : i < 40 ? i / 7.0 - 4 : NAN;
    parameters[5] = INFINITY;
    parameters[5061] = 101.25;
}

static void demand_failure(tu_status status, const tu_error *error, const tu_rs274_reader *reader)
{
    unsigned long line = 0;
    int column = 0, used = 0;
    DEMAND(status == TU_DATA_SYNTAX || status == TU_DATA_RANGE);
    DEMAND(error->status == status);
    DEMAND(sscanf(error->where, "line %lu, column %d%n", &line, &column, &used) == 2);
    DEMAND(error->where[used] == '\0');
    DEMAND(line == reader->line);
    DEMAND(column >= 1 && column <= TU_RS274_LINE_MAX + 1);
    DEMAND(error->message[0] != '\0');
    demand_line_of_text(error->message);
}

static void demand_number(const tu_rs274_block *block, char letter, double value)
{
    int column = block->column[letter - 'A'];
    DEMAND(column >= 0 && column <= TU_RS274_LINE_MAX);
    DEMAND(column != 0 ? isfinite(value) : isnan(value));
}

static void demand_block(const tu_rs274_block *block)
{
    demand_number(block, 'N', block->number);
    demand_number(block, 'X', block->x);
    demand_number(block, 'Y', block->y);
    demand_number(block, 'Z', block->z);
    demand_number(block, 'F', block->f);
    demand_number(block, 'L', block->l);
    demand_number(block, 'P', block->p);
    DEMAND(!(block->f < 0) && !(block->p < 0));
    DEMAND(isnan(block->number) || (block->number >= 0 && block->number <= 99999));
    DEMAND(block->motion <= TU_MOTION_CANCEL);
    DEMAND(block->units == 0 || block->units == 20 || block->units == 21);
    DEMAND(block->distance == 0 || block->distance == 90 || block->distance == 91);
    DEMAND(block->slot >= 0 && block->slot <= 9);
    DEMAND(!block->dwell || block->p >= 0);
    if (block->set_offset)
        DEMAND(block->l == 2 && block->p >= 1 && block->p <= 9 && block->p == floor(block->p));
    DEMAND(block->setting_count <= sizeof block->setting / sizeof block->setting[0]);
    for (size_t i = 0; i < block->setting_count; i++) {
        DEMAND(block->setting[i].index >= 1 && block->setting[i].index < TU_RS274_PARAMETERS);
        DEMAND(isfinite(block->setting[i].value));
    }
    demand_line_of_text(block->message);
}

static bool same(double a, double b)
{
    return (isnan(a) && isnan(b)) || (a == b && signbit(a) == signbit(b));
}

static void demand_same(const tu_rs274_block *a, const tu_rs274_block *b)
{
    DEMAND(same(a->number, b->number) && same(a->x, b->x) && same(a->y, b->y) && same(a->z, b->z));
    DEMAND(same(a->f, b->f) && same(a->l, b->l) && same(a->p, b->p));
    DEMAND(a->deleted == b->deleted && a->motion == b->motion && a->dwell == b->dwell);
    DEMAND(a->set_offset == b->set_offset && a->plane_xy == b->plane_xy && a->units == b->units);
    DEMAND(a->distance == b->distance && a->feed_per_minute == b->feed_per_minute);
    DEMAND(a->slot == b->slot && a->pause == b->pause && a->end == b->end);
    DEMAND(a->spindle_off == b->spindle_off && a->coolant_off == b->coolant_off);
    DEMAND(a->setting_count == b->setting_count);
    for (size_t i = 0; i < a->setting_count; i++) {
        DEMAND(a->setting[i].index == b->setting[i].index);
        DEMAND(same(a->setting[i].value, b->setting[i].value));
    }
    DEMAND(a->has_message == b->has_message && strcmp(a->message, b->message) == 0);
}

/* The line in the other case and with blanks, into spelt; its length. */
static size_t spell(const char *line, size_t length, char *spelt)
{
    size_t used = 0;
    bool comment = false;
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)line[i];
        comment = c == '(' || (comment && c != ')');
        if (!comment && isalpha(c))
            c ^= 0x20;
        spelt[used++] = (char)c;
        if (!comment)
            spelt[used++] = i % 2 == 0 ? ' ' : '\t';
    }
    return used;
}

/* The same line once more by itself, in its other spelling. */
static void try_other_spelling(const char *line, size_t length, tu_status status,
                               const tu_rs274_block *block)
{
    char spelt[2 * TU_RS274_LINE_MAX];
    if (length > TU_RS274_LINE_MAX || memchr(line, '%', length) != NULL)
        return;
    size_t used = spell(line, length, spelt);
    if (used > TU_RS274_LINE_MAX)
        return;
    tu_rs274_reader reader = tu_rs274_start(spelt, used);
    tu_rs274_block again;
    bool have;
    DEMAND(tu_rs274_next(&reader, parameters, &again, &have, NULL) == status);
    DEMAND(have == (!status));
    if (have)
        demand_same(&again, block);
}

/* Where the last line that was read starts; its length without its end. */
static size_t last_line(const char *text, size_t position, size_t *length)
{
    size_t end = position;
    if (end > 0 && text[end - 1] == '\n')
        end--;
    if (end > 0 && text[end - 1] == '\r')
        end--;
    size_t start = end;
    while (start > 0 && text[start - 1] != '\n' && text[start - 1] != '\r')
        start--;
    *length = end - start;
    return start;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    set_parameters();
    /* A copy of just this size, so that a read beyond its end is seen. */
    char *text = malloc(size > 0 ? size : 1);
    DEMAND(text != NULL);
    if (size > 0)
        memcpy(text, data, size);
    tu_rs274_reader reader = tu_rs274_start(text, size);
    for (;;) {
        tu_rs274_reader before = reader;
        tu_rs274_block block;
        bool have;
        tu_error error = {0};
        tu_status status = tu_rs274_next(&reader, parameters, &block, &have, &error);
        if (!status && !have)
            break;
        DEMAND(reader.position <= size);
        bool missing_end = before.percent && !reader.percent; /* said once, at the text's end */
        DEMAND(reader.position > before.position || missing_end);
        if (status)
            demand_failure(status, &error, &reader);
        else
            demand_block(&block);
        DEMAND(!have || (block.line == reader.line && block.line > before.line));
        size_t length, start = last_line(text, reader.position, &length);
        if (!missing_end)
            try_other_spelling(text + start, length, status, &block);
    }
    DEMAND(reader.ended || reader.position == size);
    free(text);
    return 0;
}
