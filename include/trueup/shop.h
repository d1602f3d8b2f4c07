/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop.h - the shop file: reading it strictly, changing it without losing what the user wrote.
 *
 * The form is described in docs/shop-file.md and docs/shop.schema.json.
 */
#ifndef TRUEUP_SHOP_H
#define TRUEUP_SHOP_H

#include "trueup/decode.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>

TU_BEGIN_DECLS

typedef struct tu_shop tu_shop; /* the parsed file with its text */

/*
 * Reads and checks a shop file.
 *   path   the file; "-" is standard input.
 *   shop   out; NULL on failure. Release with tu_shop_destroy.
 *   error  where: "PATH:LINE: JSON path", as in "shop.json:12: plates[0].thickness".
 * Refuses: text that is not JSON by RFC 8259 (with line and column), bytes that are not UTF-8,
 * duplicate keys, unknown keys (with the nearest one), wrong types, missing keys, values that
 * cannot be (see docs/shop-file.md for each), and bare numbers that look like the other unit.
 * Returns TU_OK, any TU_DATA_..., TU_SYSTEM_IO or TU_SYSTEM_MEMORY.
 */
tu_status tu_shop_read(const char *path, tu_shop **shop, tu_error *error);

/* As tu_shop_read, from text[0..length); name stands for the path in messages. */
tu_status tu_shop_parse(const char *name, const char *text, size_t length, tu_shop **shop,
                        tu_error *error);
void tu_shop_destroy(tu_shop *shop);

/* The unit of the file's bare numbers. */
tu_unit tu_shop_unit(const tu_shop *shop);
/* Copies; where the file states no machine or no stock, everything in it is "not stated". */
tu_machine tu_shop_machine(const tu_shop *shop);
tu_stock tu_shop_stock(const tu_shop *shop);

/* What lies on the table by the file's "table"; all of it "not stated" where there is none. It
 * lives as long as the shop. */
const tu_table *tu_shop_table(const tu_shop *shop);
/* The path of the file that zeros are written to; what the shop file names is in its own folder
 * unless it starts with a slash. NULL: none is named. */
const char *tu_shop_journal(const tu_shop *shop);

size_t tu_shop_plate_count(const tu_shop *shop);
size_t tu_shop_cutter_count(const tu_shop *shop);
const tu_plate *tu_shop_plate_at(const tu_shop *shop, size_t index);
const tu_cutter *tu_shop_cutter_at(const tu_shop *shop, size_t index);

/*
 * Finds a plate or a cutter by name. name NULL: the only one that the file has, else
 * TU_DATA_MISSING with the list of names. TU_DATA_UNKNOWN names the nearest one and lists all.
 * *plate or *cutter is NULL on failure; it lives as long as the shop.
 */
tu_status tu_shop_find_plate(const tu_shop *shop, const char *name, const tu_plate **plate,
                             tu_error *error);
tu_status tu_shop_find_cutter(const tu_shop *shop, const char *name, const tu_cutter **cutter,
                              tu_error *error);

/*
 * What a shop file has one of, or several with names. Stock, machine and table are one object each;
 * the file itself has the keys that stand at its top.
 */
typedef enum tu_shop_kind {
    TU_SHOP_PLATE,
    TU_SHOP_CUTTER,
    TU_SHOP_THING,
    TU_SHOP_STOCK,
    TU_SHOP_MACHINE,
    TU_SHOP_TABLE,
    TU_SHOP_FILE,
    TU_SHOP_KIND_COUNT
} tu_shop_kind;

/* "plate", "cutter", ..., "file". */
const char *tu_shop_kind_name(tu_shop_kind kind);
/* Reads such a name. TU_USAGE with the nearest one. */
tu_status tu_shop_kind_parse(const char *name, tu_shop_kind *kind, tu_error *error);
/* Whether there may be several, with names: plates, cutters, things. */
bool tu_shop_kind_is_named(tu_shop_kind kind);
/* How many there are of a named kind, and their names in the order of the file. */
size_t tu_shop_count(const tu_shop *shop, tu_shop_kind kind);
const char *tu_shop_name_at(const tu_shop *shop, tu_shop_kind kind, size_t index);
/* The index of a name; statuses and messages as tu_shop_find_plate. */
tu_status tu_shop_find_index(const tu_shop *shop, tu_shop_kind kind, const char *name,
                             size_t *index, tu_error *error);
/* The JSON path of one: "plates[2]", "table"; "" for the file. index: of a named kind. */
void tu_shop_kind_path(tu_shop_kind kind, size_t index, char *path, size_t size);

/* Where a shop file's path comes from. */
typedef enum tu_shop_origin {
    TU_SHOP_NOWHERE,     /* nobody named one, and there is no shop.json here */
    TU_SHOP_STATED,      /* the caller */
    TU_SHOP_ENVIRONMENT, /* TRUEUP_SHOP */
    TU_SHOP_FOLDER       /* shop.json in the current folder */
} tu_shop_origin;

typedef struct tu_shop_place {
    const char *path; /* "shop.json" where it is nowhere; of the environment: do not keep it */
    tu_shop_origin origin;
} tu_shop_place;

/*
 * The unit of a shop file, before anything that was typed is read. A file that can be read but once
 * (a pipe, standard input) or is not there is left alone.
 *   known  out: whether unit holds it.
 * As tu_shop_read.
 */
tu_status tu_shop_peek_unit(const char *path, tu_unit *unit, bool *known, tu_error *error);

/* Where the shop file is: what is stated, else the environment's TRUEUP_SHOP, else shop.json here.
 *   stated  a path, or NULL. */
tu_shop_place tu_shop_locate(const char *stated);

/* The line templates, in the order of the file, as a decoder takes them, each with its unit where
 * the file states it; NULL when there are none. They live as long as the shop. */
const tu_template *tu_shop_templates(const tu_shop *shop, size_t *count);
/* The name of one; NULL beyond the last. */
const char *tu_shop_template_name_at(const tu_shop *shop, size_t index);

/* What a length is for, where a bare number is judged by its usual size. */
typedef enum tu_length_use {
    TU_USE_PLATE_THICKNESS,
    TU_USE_WALL_OFFSET,
    TU_USE_BORE_DIAMETER,
    TU_USE_BORE_CENTRE,
    TU_USE_TOUCH_DEPTH,
    TU_USE_CUTTER_DIAMETER,
    TU_USE_STOCK_THICKNESS,
    TU_USE_BLOCK_WIDTH,
    TU_USE_SLOT_WIDTH
} tu_length_use;

enum { TU_DOUBT_SIZE = 320 };

/*
 * Whether a bare number probably has the other unit: its length would be unusual for that use, and
 * usual if the same number were in the other unit. The usual ranges are those of docs/shop-file.md.
 * A number that states its unit is not to be doubted.
 *   unit      what value_mm was read in.
 *   doubt     out: "0.375 mm would be an unusual plate thickness (usual: 0.5 to 100 mm), and 0.375
 *             in a usual one, so the unit is probably wrong"; "" when the answer is no.
 */
bool tu_shop_doubt_unit(tu_length_use use, tu_unit unit, double value_mm,
                        char doubt[TU_DOUBT_SIZE]);

/*
 * One change to a shop file: the value at a JSON path becomes new_json. Paths as in error messages:
 * "plates[0].thickness". What is missing of the path is made: keys, and the index one past an
 * array's end (0 where there is no array yet).
 */
typedef struct tu_shop_edit {
    char path[96];
    char new_json[512]; /* a JSON value as text, or TU_SHOP_TAKE_OUT */
} tu_shop_edit;

/* No JSON: the value goes, with its key. */
#define TU_SHOP_TAKE_OUT "-"

/*
 * A change as people type it: "diameter=6+-0.01", "walls.a.offset=8.2", "travel.x=0,720". The keys
 * are those of the file, with dots between them; the value's form follows from the key: numbers
 * and lengths as typed, the others in quotes, commas part the numbers of a list. An empty value
 * takes the key out.
 *   base  the path of the object ("cutters[1]"), "" for the file.
 * TU_USAGE (no "="), TU_DATA_UNKNOWN (no such key: the nearest one, and all), TU_DATA_SYNTAX (an
 * object where a value is due), TU_DATA_RANGE (too long). The value itself is judged when the edit
 * is made.
 */
tu_status tu_shop_edit_word(tu_shop_kind kind, const char *base, const char *word,
                            tu_shop_edit *edit, tu_error *error);

/*
 * Makes the changes in the text of the shop, keeping every other byte, checks the result as
 * tu_shop_parse does, and replaces the file in one step (temporary file beside it, sync, rename,
 * sync of the folder; permissions kept; a symbolic link's target is replaced, not the link).
 * The file must still hold what was read: TU_DATA_CONFLICT when another program changed it. Two
 * that change it at once by this call wait for each other, and the second is refused.
 * On any failure the file on disk is as it was and no temporary file is left.
 */
tu_status tu_shop_write_edits(const tu_shop *shop, const char *path, const tu_shop_edit *edits,
                              size_t count, tu_error *error);

/*
 * Writes text[0..length) as a new shop file, in one step. It is checked first, and a file that is
 * there already stays: TU_DATA_CONFLICT. On any failure there is no new file.
 */
tu_status tu_shop_write_new(const char *path, const char *text, size_t length, tu_error *error);

TU_END_DECLS

#endif
