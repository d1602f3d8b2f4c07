/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rs274_show.c - blocks of RS274/NGC as one line of text, and tables of lines held against them.
 */
#include "rs274_show.h"

#include "check.h"

#include "trueup/number.h"
#include "trueup/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const double *rs274_sample_parameters(void)
{
    static double parameters[TU_RS274_PARAMETERS];
    for (size_t i = 0; i < TU_RS274_PARAMETERS; i++)
        parameters[i] = NAN;
    static const struct {
        int index;
        double value;
    } set[] = {{1, 10},   {2, 4},    {3, 15},       {4, -2.5},      {5, 0.5},   {6, 3.00005},
               {7, 38.2}, {8, 7000}, {9, INFINITY}, {5061, 101.25}, {5399, 11}, {5400, 12}};
    for (size_t i = 0; i < sizeof set / sizeof set[0]; i++)
        parameters[set[i].index] = set[i].value;
    return parameters;
}

static void append(rs274_shown *shown, const char *text)
{
    size_t used = strlen(shown->text);
    snprintf(shown->text + used, sizeof shown->text - used, "%s%s", used > 0 ? " " : "", text);
}

static void append_if(rs274_shown *shown, bool stated, const char *text)
{
    if (stated)
        append(shown, text);
}

static void append_number(rs274_shown *shown, const char *name, double value)
{
    if (isnan(value))
        return;
    char text[TU_NUMBER_TEXT_SIZE + 20], number[TU_NUMBER_TEXT_SIZE];
    tu_number_format_exact(number, sizeof number, value);
    snprintf(text, sizeof text, "%s%s", name, number);
    append(shown, text);
}

static void append_codes(rs274_shown *shown, const tu_rs274_block *block)
{
    static const char *const motions[] = {NULL, "G0", "G1", "G38.2", "G80"};
    static const char *const slots[] = {NULL,  "G54", "G55",   "G56",   "G57",
                                        "G58", "G59", "G59.1", "G59.2", "G59.3"};
    append_if(shown, block->motion != TU_MOTION_NONE, motions[block->motion]);
    append_if(shown, block->dwell, "G4");
    append_if(shown, block->set_offset, "G10");
    append_if(shown, block->plane_xy, "G17");
    append_if(shown, block->units == 20, "G20");
    append_if(shown, block->units == 21, "G21");
    append_if(shown, block->distance == 90, "G90");
    append_if(shown, block->distance == 91, "G91");
    append_if(shown, block->feed_per_minute, "G94");
    append_if(shown, block->slot != 0, slots[block->slot]);
    append_if(shown, block->pause, "M0");
    append_if(shown, block->end, "M2");
    append_if(shown, block->spindle_off, "M5");
    append_if(shown, block->coolant_off, "M9");
}

rs274_shown rs274_show_block(const tu_rs274_block *block)
{
    rs274_shown shown = {""};
    append_if(&shown, block->deleted, "/");
    append_number(&shown, "N", block->number);
    append_codes(&shown, block);
    append_number(&shown, "X", block->x);
    append_number(&shown, "Y", block->y);
    append_number(&shown, "Z", block->z);
    append_number(&shown, "F", block->f);
    append_number(&shown, "L", block->l);
    append_number(&shown, "P", block->p);
    for (size_t i = 0; i < block->setting_count; i++) {
        char name[20];
        snprintf(name, sizeof name, "#%d=", block->setting[i].index);
        append_number(&shown, name, block->setting[i].value);
    }
    char comment[TU_RS274_MESSAGE_SIZE + 10];
    snprintf(comment, sizeof comment, "%s(%s)", block->has_message ? "MSG" : "", block->message);
    append_if(&shown, block->has_message || block->message[0] != '\0', comment);
    return shown;
}

static bool read_line(const char *line, tu_rs274_block *block, tu_error *error, tu_status *status)
{
    tu_rs274_reader reader = tu_rs274_start(line, strlen(line));
    bool have;
    *error = (tu_error){0};
    *status = tu_rs274_next(&reader, rs274_sample_parameters(), block, &have, error);
    return have;
}

void rs274_check_accepted(const rs274_accepted *rows, size_t count)
{
    size_t off = 0;
    for (size_t i = 0; i < count; i++) {
        tu_rs274_block block;
        tu_error error;
        tu_status status;
        bool have = read_line(rows[i].line, &block, &error, &status);
        rs274_shown shown = rs274_show_block(&block);
        if (!status && have && strcmp(shown.text, rows[i].meaning) == 0)
            continue;
        off++;
        print_error("%s, \"%s\": got \"%s\", expected \"%s\" %s %s\n", rows[i].clause, rows[i].line,
                    shown.text, rows[i].meaning, error.where, error.message);
    }
    assert_int_equal(off, 0);
}

void rs274_check_rejected(const rs274_rejected *rows, size_t count)
{
    size_t off = 0;
    for (size_t i = 0; i < count; i++) {
        tu_rs274_block block;
        tu_error error;
        tu_status status;
        char where[40];
        snprintf(where, sizeof where, "line 1, column %d", rows[i].column);
        bool have = read_line(rows[i].line, &block, &error, &status);
        if (!have && status == rows[i].status && error.status == status &&
            strcmp(error.where, where) == 0 && strstr(error.message, rows[i].said) != NULL &&
            tu_text_is_utf8(error.message, strlen(error.message)) &&
            rs274_show_block(&block).text[0] == '\0')
            continue;
        off++;
        print_error("%s, \"%s\": status %d, [%s] %s; expected %d, column %d, \"%s\"\n",
                    rows[i].clause, rows[i].line, (int)status, error.where, error.message,
                    (int)rows[i].status, rows[i].column, rows[i].said);
    }
    assert_int_equal(off, 0);
}
