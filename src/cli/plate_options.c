/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_options.c - the option table of `trueup plate`.
 */
#include "cli/plate_options.h"

#include "base/utf8.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void tu_plate_options_start(tu_plate_options *options)
{
    *options = (tu_plate_options){.unit = TU_UNIT_MM, .depth = tu_quantity_none()};
    for (int k = 0; k < 2; k++) {
        options->block[k] = tu_quantity_none();
        options->slot[k] = tu_quantity_none();
    }
}

static tu_status take_touch(const tu_met *met, tu_error *error)
{
    tu_status status = tu_option_take_text(met, error);
    const char *equals = strchr(met->argument, '=');
    if (equals && equals[1] != '@') /* a log has its own unit */
        tu_typed_unit_note(&met->common->typed, equals + 1);
    return status;
}

#define AT(member)                TU_AT(tu_plate_options, member)
#define LIST(array, count, limit) TU_LIST(tu_plate_options, array, count, limit)

#define NEW_PLATE "describes a new plate, not one of the shop file"

static const tu_option plate_options[] = {
    {"shop", "FILE", .take = tu_option_take_input, AT(shop_path),
     .help = "the shop file: machine, plates, cutters"},
    {"plate", "NAME", .take = tu_option_take_text, AT(plate_name),
     .help = "the plate; may be left out when the shop file has one only"},
    {"new", "NAME", .take = tu_option_take_text, AT(new_name),
     .excludes = {"plate", "names a plate that the shop file does not have"},
     .help = "a plate that the shop file does not have yet, instead of --plate"},
    {"walls", "LIST", .take = tu_option_take_text, AT(walls), .needs = {"new", NEW_PLATE},
     .excludes = {"bore", "a plate has walls or a bore, not both"},
     .help = "with --new: its walls and the way each faces, as in a:outward,b:inward"},
    {"bore", .take = tu_option_take_flag, AT(bore), .needs = {"new", NEW_PLATE},
     .help = "with --new: it has a bore instead of walls"},
    {"not-turned", .take = tu_option_take_flag, AT(not_turned), .needs = {"new", NEW_PLATE},
     .help = "with --new: its walls are not exchanged by turning it: a serves X at every corner, b "
             "serves Y"},
    {"depth", "Q", .take = tu_option_take_size, AT(depth), .use = TU_USE_TOUCH_DEPTH,
     .needs = {"new", NEW_PLATE},
     .help = "with --new: how far the tip is below the edge of wall or bore at contact"},
    {"touch", "WHERE/ON/CUTTER=VALUES", .take = take_touch,
     LIST(touch, touch_count, TU_PLATE_TOUCH_OPTIONS),
     .help =
         "repeats of one contact, machine coordinates, parted by commas, or @SERIES of the log. "
         "WHERE: the block's edge, left right front back. ON: a or b (wall of the plate that "
         "lies there), bore.a or bore.b (LOW:HIGH for each value; the letter says which of the "
         "bore's distances lies along that axis), bare (the block itself), slot (a slot's side, "
         "from inside). For the thickness: face=VALUES and seat=VALUES"},
    {"log", "FILE", .take = tu_option_take_input, AT(log_path),
     .help = "the hit log that @SERIES is in"},
    {"block-x", "Q", .take = tu_option_take_size, AT(block[0]), .use = TU_USE_BLOCK_WIDTH,
     .help = "the block's width from left to right edge, as in 60.00mm+-0.01mm"},
    {"block-y", "Q", .take = tu_option_take_size, AT(block[1]), .use = TU_USE_BLOCK_WIDTH,
     .help = "the block's width from front to back edge"},
    {"slot-x", "Q", .take = tu_option_take_size, AT(slot[0]), .use = TU_USE_SLOT_WIDTH,
     .help = "the width of a slot, left to right side"},
    {"slot-y", "Q", .take = tu_option_take_size, AT(slot[1]), .use = TU_USE_SLOT_WIDTH,
     .help = "the width of a slot, front to back side"},
    {"trust-cutters", .take = tu_option_take_flag, AT(trust_cutters),
     .help = "take the shop file's diameters, with their tolerances, as known (flat cutters)"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(unit),
     .help = "of bare numbers on this command line and of the answer (default mm); bare numbers in "
             "the shop "
             "file are in its own unit, and where that is another, --unit or a unit at each number "
             "is a "
             "must"},
    {"json", .take = tu_option_take_flag, AT(json),
     .help = "write the answer as JSON, in millimetres"},
    {"budget", .take = tu_option_take_flag, AT(budget),
     .help = "also what each uncertainty is made of (JSON holds that anyway)"},
    {"save", .take = tu_option_take_flag, AT(save),
     .help = "write what is determined into the shop file; everything else in it stays as it is"},
};

const tu_syntax tu_plate_syntax_table = {
    .options = plate_options,
    .count = sizeof plate_options / sizeof *plate_options,
};

static tu_status take_wall(tu_plate *plate, const char *text, size_t length, tu_error *error)
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
            tu_wall *wall = &plate->wall[words[k].wall];
            if (wall->present)
                return tu_fail(error, TU_USAGE, "--walls", "wall %c stands there twice",
                               words[k].wall == 0 ? 'a' : 'b');
            wall->present = true;
            wall->facing = words[k].facing;
            return TU_OK;
        }
    }
    return tu_fail(error, TU_USAGE, "--walls",
                   "must name each wall and the way its touched face looks, as in "
                   "a:outward,b:inward; found \"%.*s\"",
                   (int)(length > 40 ? 40 : length), text);
}

static tu_status take_walls(tu_plate *plate, const char *text, tu_error *error)
{
    for (const char *at = text;;) {
        size_t length = strcspn(at, ",");
        tu_status status = take_wall(plate, at, length, error);
        if (status || at[length] == '\0')
            return status;
        at += length + 1;
    }
}

/* The shop file takes any name but these; what JSON would have to escape is refused here. */
static tu_status check_new_name(const char *name, tu_error *error)
{
    size_t length = strlen(name);
    bool plain = length < TU_NAME_SIZE && name[0] != ' ' && name[length - 1] != ' ' &&
                 !tu_utf8_has_control(name);
    for (const char *c = name; *c != '\0'; c++)
        plain = plain && strchr("\"\\/=", *c) == NULL;
    if (!plain)
        return tu_fail(error, TU_USAGE, "--new",
                       "a name has at most %d bytes, no quotes, slashes, = or control characters, "
                       "no space at its ends",
                       TU_NAME_SIZE - 1);
    return TU_OK;
}

static tu_status make_fresh(tu_plate_options *options, tu_error *error)
{
    tu_plate *plate = &options->fresh;
    tu_status status = check_new_name(options->new_name, error);
    if (status)
        return status;
    *plate = tu_plate_start();
    snprintf(plate->name, sizeof plate->name, "%s", options->new_name);
    plate->turned = !options->not_turned;
    plate->bore.present = options->bore;
    plate->bore.touch_depth = options->depth;
    for (int k = 0; k < 2; k++)
        plate->wall[k].touch_depth = options->depth;
    return options->walls != NULL ? take_walls(plate, options->walls, error) : TU_OK;
}

tu_status tu_plate_options_check(tu_plate_options *options, tu_error *error)
{
    if (options->shop_path == NULL)
        return tu_fail(error, TU_USAGE, "--shop", "missing: the file with your plates and cutters");
    if (options->save && strcmp(options->shop_path, "-") == 0)
        return tu_fail(error, TU_USAGE, "--save",
                       "cannot write to standard input; name the shop file with --shop");
    if (options->touch_count == 0)
        return tu_fail(error, TU_USAGE, "--touch",
                       "missing: the contacts, as in --touch left/a/quarter=100.000,100.002");
    bool from_log = false;
    for (size_t k = 0; k < options->touch_count; k++) {
        const char *equals = strchr(options->touch[k], '=');
        from_log = from_log || (equals != NULL && equals[1] == '@');
    }
    if (from_log && options->log_path == NULL)
        return tu_fail(error, TU_USAGE, "--log", "missing: the hit log that @SERIES is in");
    if (!from_log && options->log_path != NULL)
        return tu_fail(error, TU_USAGE, "--log",
                       "no touch is taken from it; name a series, as in --touch "
                       "left/a/quarter=@SERIES");
    return options->new_name ? make_fresh(options, error) : TU_OK;
}
