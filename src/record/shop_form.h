/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_form.h - the tables that say what a shop file may hold, and the calls that read by them.
 *
 * Each object of the file has a form: its keys, the kinds of value they take, how to take one, and
 * a check over the whole object afterwards. docs/shop-file.md says the same to people,
 * docs/shop.schema.json to programs; a test compares the three.
 */
#ifndef RECORD_SHOP_FORM_H
#define RECORD_SHOP_FORM_H

#include "record/json_text.h"
#include "trueup/decode.h"
#include "trueup/setup.h"
#include "trueup/shop.h"

#include <stdbool.h>
#include <stddef.h>

enum {
    TU_SHOP_TEXT_MAX = 1 << 20, /* bytes of a shop file */
    TU_SHOP_LIST_MAX = 200      /* plates, cutters */
};

struct tu_shop {
    char *name;
    char *text;
    size_t length;
    tu_unit unit;
    tu_machine machine;
    tu_stock stock;
    tu_plate *plates;
    size_t plate_count;
    tu_cutter *cutters;
    size_t cutter_count;
    tu_template *templates;
    char (*template_names)[TU_NAME_SIZE];
    size_t template_count;
    tu_table table; /* its names point to the two below, its things are the shop's */
    char table_plate[TU_NAME_SIZE], table_cutter[TU_NAME_SIZE];
    tu_thing *things;
    char *journal; /* NULL: none */
    bool partial;  /* a draft: keys that must be there may still come */
};

/* What a length may be. Ranges are of the magnitude, for bare numbers only; 0 and 0: any. */
typedef enum tu_length_sign {
    TU_LENGTH_SIGNED,
    TU_LENGTH_NOT_NEGATIVE,
    TU_LENGTH_POSITIVE
} tu_length_sign;

typedef struct tu_length_rule {
    const char *what;
    tu_length_sign sign;
    bool exact; /* a tolerance makes no sense */
    double usual_low_mm, usual_high_mm;
} tu_length_rule;

typedef enum tu_length {
    TU_LENGTH_THICKNESS,
    TU_LENGTH_WALL_OFFSET,
    TU_LENGTH_TOUCH_DEPTH,
    TU_LENGTH_RISE,
    TU_LENGTH_EXTENT_END,
    TU_LENGTH_EXTENT, /* the span */
    TU_LENGTH_BORE,
    TU_LENGTH_BORE_CENTRE,
    TU_LENGTH_CUTTER,
    TU_LENGTH_CORNER_RADIUS,
    TU_LENGTH_TIP,
    TU_LENGTH_CORE,
    TU_LENGTH_RUN_OUT,
    TU_LENGTH_FLUTE,
    TU_LENGTH_SHANK,
    TU_LENGTH_STICK_OUT,
    TU_LENGTH_NUT,
    TU_LENGTH_TOOL,
    TU_LENGTH_TRAVEL_END,
    TU_LENGTH_TRAVEL_PLANE, /* the span, X and Y */
    TU_LENGTH_TRAVEL_DEPTH, /* the span, Z */
    TU_LENGTH_STEP,
    TU_LENGTH_SD,
    TU_LENGTH_STOCK_PLANE,
    TU_LENGTH_BLOCK, /* the block and the slot that calibrate a plate */
    TU_LENGTH_SLOT,
    TU_LENGTH_STOCK_DEPTH,
    TU_LENGTH_PLACE, /* a coordinate in a scene */
    TU_LENGTH_HEIGHT,
    TU_LENGTH_MAP_STEP,
    TU_LENGTH_TRAVERSE, /* in a minute */
    TU_LENGTH_NOISE,
    TU_LENGTH_RATE,         /* in a minute */
    TU_LENGTH_ACCELERATION, /* in a second, a second */
    TU_LENGTH_REVERSAL,
    TU_LENGTH_SHOE,
    TU_LENGTH_SHOE_HEIGHT,
    TU_LENGTH_DRIVES,
    TU_LENGTH_THING
} tu_length;

const tu_length_rule *tu_length_rule_of(tu_length length);

typedef struct tu_shop_reader {
    tu_json_document document;
    tu_shop *shop;
    tu_error *error;
    bool partial; /* keys that must be there may still come: what is there is judged alone */
} tu_shop_reader;

typedef struct tu_shop_key tu_shop_key;
typedef struct tu_shop_form tu_shop_form;

/* Takes the value at a node into *member, which is the key's member of the object's struct. */
typedef tu_status tu_shop_take(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member);
/* Checks an object's values against each other; object is its struct. */
typedef tu_status tu_shop_check(tu_shop_reader *reader, size_t node, const void *object);

struct tu_shop_key {
    const char *name;
    bool required;
    int kinds; /* of tu_json_kind */
    tu_shop_take *take;
    size_t offset;
    int rule;                 /* a tu_length, an axis, whatever the taker wants */
    const tu_shop_form *form; /* of an object, or of an array's items */
    const char *expected;     /* completes "expected ..." */
};

struct tu_shop_form {
    const char *what; /* "a plate" */
    const tu_shop_key *keys;
    size_t count;
    tu_shop_check *check; /* NULL: none */
};

/* Reads an object by its form into the struct at object. */
tu_status tu_shop_read_form(tu_shop_reader *reader, size_t node, const tu_shop_form *form,
                            void *object);
/* Reads an array of objects; each starts as a copy of start[0..size) and starts with its name.
 *   items  out: for free(); NULL for none. */
tu_status tu_shop_read_list(tu_shop_reader *reader, size_t node, const tu_shop_form *form,
                            const void *start, size_t size, void **items);
/* The key of a form by its name ("notes" is one of every form); NULL: unknown. */
const tu_shop_key *tu_shop_find_key(const tu_shop_form *form, const char *name);
/* Fills error with what a form knows instead of a key. */
tu_status tu_shop_fail_key(const tu_shop_form *form, const char *where, const char *key,
                           tu_error *error);
/* Reads a whole file by its form; its unit comes first, wherever it stands, into reader->shop. */
tu_status tu_shop_read_root(tu_shop_reader *reader, const tu_shop_form *form, void *object);
/* The form of the whole file; its struct is tu_shop. */
extern const tu_shop_form tu_shop_root_form;
/* Forms that a scene file shares; their structs are tu_machine, tu_plate, tu_cutter. */
extern const tu_shop_form tu_shop_machine_form, tu_shop_plate_form, tu_shop_cutter_form;
/* What lies on the table; its struct is tu_shop. */
extern const tu_shop_form tu_shop_table_form, tu_shop_thing_form, tu_shop_stock_form;

/* Takers, by the type of the member. */
tu_status tu_shop_take_object(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member); /* the struct of the key's form */
tu_status tu_shop_take_unit(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member); /* into reader->shop; no member */
tu_status tu_shop_take_quantity(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                                void *member); /* tu_quantity; rule: a tu_length */
tu_status tu_shop_take_length(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member); /* double, mm; rule: a tu_length */
tu_status tu_shop_take_travel(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member); /* tu_machine; rule: the axis */
tu_status tu_shop_take_extent(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member); /* tu_quantity[2] */
tu_status tu_shop_take_angle(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member); /* double, rad; rule: a tu_shop_angle */
tu_status tu_shop_take_count(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member); /* int; rule: a tu_shop_whole */
tu_status tu_shop_take_mm(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                          void *member); /* double, mm; rule: a tu_length */
tu_status tu_shop_take_place(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member); /* double[], mm; rule: how many */
tu_status tu_shop_take_target(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member); /* tu_target */
tu_status tu_shop_take_journal(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member); /* char *, for free() */
tu_status tu_shop_take_dof(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                           void *member); /* double */
tu_status tu_shop_take_flag(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member); /* bool */
tu_status tu_shop_take_name(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member); /* char[TU_NAME_SIZE] */
tu_status tu_shop_take_word(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member); /* an enum; rule: a tu_shop_words */
tu_status tu_shop_take_nothing(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member); /* remarks: the kind was all there is to check */
tu_status tu_shop_take_templates(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                                 void *member); /* tu_shop: an object of strings */
tu_status tu_shop_take_steps(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member); /* double, a rate above 0 */

typedef enum tu_shop_whole { TU_COUNT_FLUTES, TU_COUNT_NUMBER } tu_shop_whole;
typedef enum tu_shop_angle { TU_ANGLE_INCLUDED, TU_ANGLE_HELIX, TU_ANGLE_TURNED } tu_shop_angle;
typedef enum tu_shop_words {
    TU_WORDS_UNIT,
    TU_WORDS_SHAPE,
    TU_WORDS_FACES,
    TU_WORDS_SEAT,
    TU_WORDS_FRAME
} tu_shop_words;

/* Reads a length by its rule, without looking at its unit. */
tu_status tu_shop_read_length(tu_shop_reader *reader, size_t node, tu_length length,
                              tu_quantity *quantity);
/* Whether a bare length that is unusual here would be usual in the other unit. */
bool tu_shop_is_other_unit(tu_unit unit, tu_length length, double value_mm);
/* A length in mm as a number of the unit, with enough digits for a message. */
enum { TU_SHOP_NUMBER_SIZE = 48 };
const char *tu_shop_number(char text[TU_SHOP_NUMBER_SIZE], tu_unit unit, double value_mm);

/* The checks over whole objects. Names: of a list whose structs start with their name. */
tu_status tu_shop_check_names(tu_shop_reader *reader, size_t node, const void *items, size_t size);
tu_status tu_shop_check_extent(tu_shop_reader *reader, size_t node, const void *plate);
tu_status tu_shop_check_wall(tu_shop_reader *reader, size_t node, const void *wall);
tu_status tu_shop_check_walls(tu_shop_reader *reader, size_t node, const void *plate);
tu_status tu_shop_check_plate(tu_shop_reader *reader, size_t node, const void *plate);
tu_status tu_shop_check_cutter(tu_shop_reader *reader, size_t node, const void *cutter);
tu_status tu_shop_check_table(tu_shop_reader *reader, size_t root, const tu_shop *shop);
tu_status tu_shop_check_root(tu_shop_reader *reader, size_t node, const void *shop);

/*
 * A wall that is the plate's own side ends the plate's body: an extent that the check let pass
 * there is set to the wall's offset, which is measured better and which calibration changes.
 */
void tu_shop_settle_plate(tu_plate *plate);

#endif
