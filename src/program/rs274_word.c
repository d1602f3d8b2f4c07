/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rs274_word.c - the words of RS274/NGC that touch programs use, and what may stand together
 * (NISTIR 6556, 3.3.2, 3.3.5, 3.4 to 3.7).
 */
#include "program/rs274_scan.h"

#include "trueup/number.h"

#include <math.h>
#include <stdio.h>

/* --- Codes --- */

typedef enum code_effect {
    SET_MOTION,
    SET_DWELL,
    SET_OFFSET,
    SET_PLANE,
    SET_UNITS,
    SET_DISTANCE,
    SET_FEED_MODE,
    SET_SLOT,
    SET_PAUSE,
    SET_END,
    SET_SPINDLE_OFF,
    SET_COOLANT_OFF
} code_effect;

/* Modal groups (3.4): those of the M codes are numbered on from M_GROUPS, for there is a group 4, 7
 * and 8 of either kind. */
enum { GROUP_NON_MODAL = 0, GROUP_MOTION = 1, M_GROUPS = 16 };

typedef struct code_row {
    short tenths; /* ten times the code */
    short group;
    code_effect effect;
    int value;
} code_row;

static const code_row g_codes[] = {
    {0, GROUP_MOTION, SET_MOTION, TU_MOTION_RAPID},
    {10, GROUP_MOTION, SET_MOTION, TU_MOTION_LINEAR},
    {382, GROUP_MOTION, SET_MOTION, TU_MOTION_PROBE},
    {800, GROUP_MOTION, SET_MOTION, TU_MOTION_CANCEL},
    {40, GROUP_NON_MODAL, SET_DWELL, 0},
    {100, GROUP_NON_MODAL, SET_OFFSET, 0},
    {170, 2, SET_PLANE, 0},
    {900, 3, SET_DISTANCE, 90},
    {910, 3, SET_DISTANCE, 91},
    {940, 5, SET_FEED_MODE, 0},
    {200, 6, SET_UNITS, 20},
    {210, 6, SET_UNITS, 21},
    {540, 12, SET_SLOT, 1},
    {550, 12, SET_SLOT, 2},
    {560, 12, SET_SLOT, 3},
    {570, 12, SET_SLOT, 4},
    {580, 12, SET_SLOT, 5},
    {590, 12, SET_SLOT, 6},
    {591, 12, SET_SLOT, 7},
    {592, 12, SET_SLOT, 8},
    {593, 12, SET_SLOT, 9},
};

/* At most four M words may stand in a block (3.3.5): with three groups there are never more. */
static const code_row m_codes[] = {
    {0, M_GROUPS + 4, SET_PAUSE, 0},
    {20, M_GROUPS + 4, SET_END, 0},
    {50, M_GROUPS + 7, SET_SPINDLE_OFF, 0},
    {90, M_GROUPS + 8, SET_COOLANT_OFF, 0},
};

static void apply(const code_row *code, tu_rs274_block *block)
{
    switch (code->effect) {
    case SET_MOTION:
        block->motion = (tu_rs274_motion)code->value;
        break;
    case SET_DWELL:
        block->dwell = true;
        break;
    case SET_OFFSET:
        block->set_offset = true;
        break;
    case SET_PLANE:
        block->plane_xy = true;
        break;
    case SET_UNITS:
        block->units = code->value;
        break;
    case SET_DISTANCE:
        block->distance = code->value;
        break;
    case SET_FEED_MODE:
        block->feed_per_minute = true;
        break;
    case SET_SLOT:
        block->slot = code->value;
        break;
    case SET_PAUSE:
        block->pause = true;
        break;
    case SET_END:
        block->end = true;
        break;
    case SET_SPINDLE_OFF:
        block->spindle_off = true;
        break;
    case SET_COOLANT_OFF:
        block->coolant_off = true;
        break;
    }
}

/* --- Refused codes --- */

static const char g_taken[] = "G0 G1 G4 G10 G17 G20 G21 G38.2 G54 to G59.3 G80 G90 G91 G94";
static const char m_taken[] = "M0 M2 M5 M9";

/* Codes of the standard (its tables 5 and 7) that are not taken, with what they are for. */
typedef struct refused_code {
    int first, last; /* ten times the code */
    const char *what;
} refused_code;

static const refused_code g_refused[] = {
    {20, 30, "arcs"},
    {180, 190, "other planes than XY"},
    {280, 300, "moves to a stored position"},
    {400, 420, "cutter radius compensation"},
    {430, 490, "tool length offsets"},
    {530, 530, "moves in machine coordinates"},
    {610, 640, "path control modes"},
    {810, 890, "canned cycles"},
    {920, 923, "axis offsets"},
    {930, 930, "inverse time feed"},
    {980, 990, "canned cycle returns"},
};

static const refused_code m_refused[] = {
    {10, 10, "the optional stop; M0 always stops"},
    {30, 40, "starting the spindle, which must stand still while touching"},
    {60, 60, "tool changes"},
    {70, 80, "coolant"},
    {300, 300, "the pallet shuttle; M2 ends a program"},
    {480, 490, "override switches"},
    {600, 600, "the pallet shuttle; M0 pauses"},
};

static tu_status fail_code(tu_rs274_scan *scan, int column, char letter, double value)
{
    const refused_code *refused = letter == 'G' ? g_refused : m_refused;
    size_t count = letter == 'G' ? sizeof g_refused / sizeof g_refused[0]
                                 : sizeof m_refused / sizeof m_refused[0];
    const char *what = NULL;
    for (size_t i = 0; i < count; i++)
        if (value * 10 >= refused[i].first && value * 10 <= refused[i].last)
            what = refused[i].what;
    char name[TU_NUMBER_TEXT_SIZE];
    tu_number_format_exact(name, sizeof name, value);
    return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, column).text,
                   "%c%s%s%s%s is not taken, touch programs do without it; taken are %s", letter,
                   name, what != NULL ? " (" : "", what != NULL ? what : "",
                   what != NULL ? ")" : "", letter == 'G' ? g_taken : m_taken);
}

/* The row of a code, NULL for one that is not taken. Ten times a G code must be close to a whole
 * number, an M code itself (3.3.2.1). */
static const code_row *find_code(char letter, double value)
{
    const code_row *rows = letter == 'G' ? g_codes : m_codes;
    size_t count =
        letter == 'G' ? sizeof g_codes / sizeof g_codes[0] : sizeof m_codes / sizeof m_codes[0];
    double tenths;
    bool whole = tu_rs274_is_whole(letter == 'G' ? value * 10 : value, &tenths);
    tenths *= letter == 'G' ? 1 : 10;
    for (size_t i = 0; whole && i < count; i++)
        if (rows[i].tenths == tenths)
            return &rows[i];
    return NULL;
}

/* Takes the value behind G or M and applies the code. */
static tu_status take_code(tu_rs274_scan *scan, int column, char letter, tu_rs274_codes *codes,
                           tu_rs274_block *block)
{
    double value;
    tu_status status = tu_rs274_read_value(scan, &value);
    if (status)
        return status;
    const code_row *row = find_code(letter, value);
    if (row == NULL)
        return fail_code(scan, column, letter, value);
    if (codes->column[row->group] != 0)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, column).text,
                       "%c%g and %c%g (column %d) are of one modal group, of which a block takes "
                       "one; write them on lines of their own",
                       letter, row->tenths / 10.0, letter, codes->tenths[row->group] / 10.0,
                       codes->column[row->group]);
    codes->column[row->group] = (short)column;
    codes->tenths[row->group] = row->tenths;
    apply(row, block);
    /* The block keeps one column for each letter: that of the word which acts. */
    int *kept = &block->column[letter - 'A'];
    if (*kept == 0 || (letter == 'G' && row->group <= GROUP_MOTION))
        *kept = column;
    return TU_OK;
}

/* --- Other words --- */

/* Letters of the standard (its table 2) that are not taken; the empty ones it does not know. */
static const char *const letter_refused[26] = {
    ['a' - 'a'] = "A axis",
    ['b' - 'a'] = "B axis",
    ['c' - 'a'] = "C axis",
    ['d' - 'a'] = "cutter radius compensation number",
    ['h' - 'a'] = "tool length offset number",
    ['i' - 'a'] = "arc centre",
    ['j' - 'a'] = "arc centre",
    ['k' - 'a'] = "arc centre",
    ['q' - 'a'] = "pecking increment",
    ['r' - 'a'] = "arc radius",
    ['s' - 'a'] = "spindle speed",
    ['t' - 'a'] = "tool selection",
};

static tu_status fail_letter(tu_rs274_scan *scan)
{
    unsigned letter = tu_rs274_letter(tu_rs274_peek(scan));
    tu_rs274_place place = tu_rs274_place_of(scan, tu_rs274_column(scan));
    int shown = (int)('A' + letter);
    if (letter == 'n' - 'a')
        return tu_fail(scan->error, TU_DATA_SYNTAX, place.text,
                       "a line number stands once and first on its line; take this N out");
    const char *what = letter_refused[letter];
    const char *hint = letter == 'e' - 'a' ? "; numbers have no exponent" : "";
    if (what == NULL)
        return tu_fail(scan->error, TU_DATA_SYNTAX, place.text,
                       "no word starts with %c, touch programs do without it%s", shown, hint);
    scan->at++;
    double value;
    char name[TU_NUMBER_TEXT_SIZE] = "";
    tu_error *error = scan->error;
    scan->error = NULL;
    if (!tu_rs274_read_value(scan, &value))
        tu_number_format_exact(name, sizeof name, value);
    scan->error = error;
    return tu_fail(error, TU_DATA_SYNTAX, place.text,
                   "%c%s (%s) is not taken, touch programs do without it", shown, name, what);
}

/* Where a block keeps the number of a letter; NULL for letters that are not taken. */
static double *number_of(tu_rs274_block *block, unsigned letter)
{
    switch (letter + 'a') {
    case 'f':
        return &block->f;
    case 'l':
        return &block->l;
    case 'p':
        return &block->p;
    case 'x':
        return &block->x;
    case 'y':
        return &block->y;
    case 'z':
        return &block->z;
    default:
        return NULL;
    }
}

static tu_status take_number_word(tu_rs274_scan *scan, int column, unsigned letter,
                                  tu_rs274_block *block)
{
    double *number = number_of(block, letter);
    int shown = (int)('A' + letter);
    if (block->column[letter] != 0)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, column).text,
                       "%c stands twice in this block, first in column %d; take one out", shown,
                       block->column[letter]);
    block->column[letter] = column;
    tu_status status = tu_rs274_read_value(scan, number);
    if (!status && *number < 0 && (letter == 'f' - 'a' || letter == 'p' - 'a'))
        return tu_fail(scan->error, TU_DATA_RANGE, tu_rs274_place_of(scan, column).text,
                       "%c%g: %s cannot be negative", shown, *number,
                       letter == 'f' - 'a' ? "a feed" : "this number");
    return status;
}

tu_status tu_rs274_take_word(tu_rs274_scan *scan, tu_rs274_codes *codes, tu_rs274_block *block)
{
    unsigned letter = tu_rs274_letter(tu_rs274_peek(scan));
    int column = tu_rs274_column(scan);
    bool is_code = letter == 'g' - 'a' || letter == 'm' - 'a';
    if (!is_code && number_of(block, letter) == NULL)
        return fail_letter(scan);
    scan->at++;
    if (is_code)
        return take_code(scan, column, (char)('A' + letter), codes, block);
    return take_number_word(scan, column, letter, block);
}

/* --- The block as a whole --- */

/* The column of the first of X, Y and Z, 0 for none. */
static int first_axis(const tu_rs274_block *block)
{
    int first = 0;
    for (int letter = 'x'; letter <= 'z'; letter++) {
        int column = block->column[letter - 'a'];
        if (column != 0 && (first == 0 || column < first))
            first = column;
    }
    return first;
}

static const char *motion_name(tu_rs274_motion motion)
{
    return motion == TU_MOTION_RAPID ? "G0" : motion == TU_MOTION_LINEAR ? "G1" : "G38.2";
}

/* Which words of a block use X, Y and Z: exactly one may, and it wants at least one of them;
 * G10 does without. Without any of these words the motion in force, if any, uses them. */
static tu_status check_axes(const tu_rs274_scan *scan, const tu_rs274_block *block)
{
    int axis = first_axis(block);
    bool moves = block->motion != TU_MOTION_NONE && block->motion != TU_MOTION_CANCEL;
    int code_column = block->column['g' - 'a'];
    if (moves && block->set_offset)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, code_column).text,
                       "G10 and %s both use X, Y and Z; write them on lines of their own",
                       motion_name(block->motion));
    if (moves && axis == 0)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, code_column).text,
                       "%s needs at least one of X, Y and Z", motion_name(block->motion));
    if (moves || block->set_offset || axis == 0)
        return TU_OK;
    if (block->motion == TU_MOTION_CANCEL)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, axis).text,
                       "G80 ends motion and takes no X, Y or Z; write the motion's code with them");
    if (block->dwell)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, axis).text,
                       "G4 takes no X, Y or Z; write the dwell and the motion on two lines");
    return TU_OK;
}

/* "G10 L2 P1" to "P9" (3.5.5). L and P become the whole numbers that they are close to. */
static tu_status check_offset(const tu_rs274_scan *scan, tu_rs274_block *block)
{
    enum { SLOTS = 9 };
    int l_column = block->column['l' - 'a'], p_column = block->column['p' - 'a'];
    int code_column = block->column['g' - 'a'];
    if (l_column == 0 || p_column == 0)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, code_column).text,
                       "G10 needs %s; write G10 L2 and P1 for G54 up to P9 for G59.3",
                       l_column == 0 ? "L2" : "P");
    if (!tu_rs274_is_whole(block->l, &block->l) || block->l != 2)
        return tu_fail(scan->error, TU_DATA_RANGE, tu_rs274_place_of(scan, l_column).text,
                       "G10 is taken with L2 only, which sets a coordinate system's origin");
    if (!tu_rs274_is_whole(block->p, &block->p) || block->p < 1 || block->p > SLOTS)
        return tu_fail(scan->error, TU_DATA_RANGE, tu_rs274_place_of(scan, p_column).text,
                       "P with G10 is a whole number from 1 (G54) to %d (G59.3)", SLOTS);
    return TU_OK;
}

tu_status tu_rs274_check_block(const tu_rs274_scan *scan, tu_rs274_block *block)
{
    tu_status status = check_axes(scan, block);
    if (status)
        return status;
    if (block->set_offset)
        return check_offset(scan, block);
    int l_column = block->column['l' - 'a'], p_column = block->column['p' - 'a'];
    if (l_column != 0)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, l_column).text,
                       "L belongs to G10, which this block does not have");
    if (block->dwell && p_column == 0)
        return tu_fail(scan->error, TU_DATA_SYNTAX,
                       tu_rs274_place_of(scan, block->column['g' - 'a']).text,
                       "G4 needs P, the seconds to wait");
    if (!block->dwell && p_column != 0)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, p_column).text,
                       "P belongs to G4 or G10, of which this block has neither");
    return TU_OK;
}
