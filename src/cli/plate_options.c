/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_options.c - the option table of `trueup plate`.
 */
#include "cli/plate_options.h"

#include "cli/plate_touches.h"

#include <stdlib.h>
#include <string.h>

void tu_plate_options_start(tu_plate_options *options)
{
    *options = (tu_plate_options){.task = tu_task_plate_request_start()};
    options->task.contact = options->contact;
}

void tu_plate_options_end(tu_plate_options *options)
{
    for (size_t k = 0; k < options->task.contact_count; k++)
        free((void *)options->contact[k].position_mm);
}

static tu_status take_wall(int facing[2], const char *text, size_t length, tu_error *error)
{
    static const struct {
        const char *text;
        int wall;
        tu_facing facing;
    } words[] = {{"a:outward", 0, TU_FACES_OUTWARD},
                 {"a:inward", 0, TU_FACES_INWARD},
                 {"b:outward", 1, TU_FACES_OUTWARD},
                 {"b:inward", 1, TU_FACES_INWARD}};
    for (size_t k = 0; k < sizeof words / sizeof *words; k++) {
        if (strlen(words[k].text) == length && memcmp(words[k].text, text, length) == 0) {
            if (facing[words[k].wall])
                return tu_fail(error, TU_USAGE, NULL, "wall %c stands there twice",
                               words[k].wall == 0 ? 'a' : 'b');
            facing[words[k].wall] = words[k].facing;
            return TU_OK;
        }
    }
    return tu_fail(error, TU_USAGE, NULL,
                   "must name each wall and the way its touched face looks, as in "
                   "a:outward,b:inward; found \"%.*s\"",
                   (int)(length > 40 ? 40 : length), text);
}

static tu_status take_walls(const tu_met *met, tu_error *error)
{
    for (const char *at = met->argument;;) {
        size_t length = strcspn(at, ",");
        tu_status status = take_wall(met->at, at, length, error);
        if (status || at[length] == '\0')
            return status;
        at += length + 1;
    }
}

#define AT(member)                TU_AT(tu_plate_options, member)
#define LIST(array, count, limit) TU_LIST(tu_plate_options, array, count, limit)

#define NEW_PLATE "describes a new plate, not one of the shop file"

static const tu_option plate_options[] = {
    {"shop", "FILE", .take = tu_option_take_input, AT(task.shop),
     .help = "the shop file: machine, plates, cutters"},
    {"plate", "NAME", .take = tu_option_take_text, AT(task.plate),
     .help = "the plate; may be left out when the shop file has one only"},
    {"new", "NAME", .take = tu_option_take_text, AT(task.new_plate),
     .excludes = {"plate", "names a plate that the shop file does not have"},
     .help = "a plate that the shop file does not have yet, instead of --plate"},
    {"walls", "LIST", .take = take_walls, AT(task.facing), .needs = {"new", NEW_PLATE},
     .excludes = {"bore", "a plate has walls or a bore, not both"},
     .help = "with --new: its walls and the way each faces, as in a:outward,b:inward"},
    {"bore", .take = tu_option_take_flag, AT(task.bore), .needs = {"new", NEW_PLATE},
     .help = "with --new: it has a bore instead of walls"},
    {"not-turned", .take = tu_option_take_flag, AT(task.not_turned), .needs = {"new", NEW_PLATE},
     .help = "with --new: its walls are not exchanged by turning it: a serves X at every corner, b "
             "serves Y"},
    {"depth", "Q", .take = tu_option_take_size, AT(task.depth), .use = TU_USE_TOUCH_DEPTH,
     .needs = {"new", NEW_PLATE},
     .help = "with --new: how far the tip is below the edge of wall or bore at contact"},
    {"touch", "WHERE/ON/CUTTER=VALUES", .take = tu_plate_take_touch,
     LIST(contact, task.contact_count, TU_PLATE_TOUCH_OPTIONS),
     .help =
         "repeats of one contact, machine coordinates, parted by commas, or @SERIES of the log. "
         "WHERE: the block's edge, left right front back. ON: a or b (wall of the plate that "
         "lies there), bore.a or bore.b (LOW:HIGH for each value; the letter says which of the "
         "bore's distances lies along that axis), bare (the block itself), slot (a slot's side, "
         "from inside). For the thickness: face=VALUES and seat=VALUES"},
    {"log", "FILE", .take = tu_option_take_input, AT(task.log),
     .help = "the hit log that @SERIES is in"},
    {"block-x", "Q", .take = tu_option_take_size, AT(task.block[0]), .use = TU_USE_BLOCK_WIDTH,
     .help = "the block's width from left to right edge, as in 60.00mm+-0.01mm"},
    {"block-y", "Q", .take = tu_option_take_size, AT(task.block[1]), .use = TU_USE_BLOCK_WIDTH,
     .help = "the block's width from front to back edge"},
    {"slot-x", "Q", .take = tu_option_take_size, AT(task.slot[0]), .use = TU_USE_SLOT_WIDTH,
     .help = "the width of a slot, left to right side"},
    {"slot-y", "Q", .take = tu_option_take_size, AT(task.slot[1]), .use = TU_USE_SLOT_WIDTH,
     .help = "the width of a slot, front to back side"},
    {"trust-cutters", .take = tu_option_take_flag, AT(task.trust_cutters),
     .help = "take the shop file's diameters, with their tolerances, as known (flat cutters)"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(task.unit),
     .help = "of bare numbers on this command line and of the answer (default mm); bare numbers in "
             "the shop "
             "file are in its own unit, and where that is another, --unit or a unit at each number "
             "is a "
             "must"},
    {"json", .take = tu_option_take_flag, AT(json),
     .help = "write the answer as JSON, in millimetres"},
    {"budget", .take = tu_option_take_flag, AT(budget),
     .help = "also what each uncertainty is made of (JSON holds that anyway)"},
    {"save", .take = tu_option_take_flag, AT(task.save),
     .help = "write what is determined into the shop file; everything else in it stays as it is"},
};

const tu_syntax tu_plate_syntax_table = {
    .options = plate_options,
    .count = sizeof plate_options / sizeof *plate_options,
};
