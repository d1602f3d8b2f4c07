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

static tu_status take_touch(void *request, const tu_option *option, const char *argument,
                            tu_error *error)
{
    (void)option;
    tu_plate_options *options = request;
    if (options->touch_count == TU_PLATE_TOUCH_OPTIONS)
        return tu_fail(error, TU_USAGE, NULL, "given more than %d times", TU_PLATE_TOUCH_OPTIONS);
    options->touch[options->touch_count++] = argument;
    const char *equals = strchr(argument, '=');
    if (equals != NULL && equals[1] != '@') /* a log has its own unit */
        tu_typed_unit_note(&options->typed, equals + 1);
    return TU_OK;
}

static tu_status take_unit(void *request, const tu_option *option, const char *argument,
                           tu_error *error)
{
    ((tu_plate_options *)request)->typed.stated = true;
    return tu_option_take_unit(request, option, argument, error);
}

static tu_status take_length(void *request, const tu_option *option, const char *argument,
                             tu_error *error)
{
    tu_plate_options *options = request;
    tu_quantity *quantity = (tu_quantity *)(void *)((char *)request + option->offset);
    tu_length_use use = quantity == &options->depth ? TU_USE_TOUCH_DEPTH
                        : quantity == &options->slot[0] || quantity == &options->slot[1]
                            ? TU_USE_SLOT_WIDTH
                            : TU_USE_BLOCK_WIDTH;
    tu_status status = tu_typed_size_parse(argument, options->unit, use, quantity, error);
    if (!status)
        tu_typed_unit_note(&options->typed, argument);
    return status;
}

#define AT(member) offsetof(tu_plate_options, member)

static const tu_option plate_options[] = {
    {"shop", "FILE", .take = tu_option_take_text, .offset = AT(shop_path),
     .help = "the shop file: machine, plates, cutters"},
    {"plate", "NAME", .take = tu_option_take_text, .offset = AT(plate_name),
     .help = "the plate; may be left out when the shop file has one only"},
    {"new", "NAME", .take = tu_option_take_text, .offset = AT(new_name),
     .help = "a plate that the shop file does not have yet, instead of --plate"},
    {"walls", "LIST", .take = tu_option_take_text, .offset = AT(walls),
     .help = "with --new: its walls and the way each faces, as in a:outward,b:inward"},
    {"bore", .take = tu_option_take_flag, .offset = AT(bore),
     .help = "with --new: it has a bore instead of walls"},
    {"not-turned", .take = tu_option_take_flag, .offset = AT(not_turned),
     .help = "with --new: its walls are not exchanged by turning it: a serves X at every corner, b "
             "serves Y"},
    {"depth", "Q", .take = take_length, .offset = AT(depth),
     .help = "with --new: how far the tip is below the edge of wall or bore at contact"},
    {"touch", "WHERE/ON/CUTTER=VALUES", .repeatable = true, .take = take_touch,
     .help =
         "repeats of one contact, machine coordinates, parted by commas, or @SERIES of the log. "
         "WHERE: the block's edge, left right front back. ON: a or b (wall of the plate that "
         "lies there), bore.a or bore.b (LOW:HIGH for each value; the letter says which of the "
         "bore's distances lies along that axis), bare (the block itself), slot (a slot's side, "
         "from inside). For the thickness: face=VALUES and seat=VALUES"},
    {"log", "FILE", .take = tu_option_take_text, .offset = AT(log_path),
     .help = "the hit log that @SERIES is in"},
    {"block-x", "Q", .take = take_length, .offset = AT(block[0]),
     .help = "the block's width from left to right edge, as in 60.00mm+-0.01mm"},
    {"block-y", "Q", .take = take_length, .offset = AT(block[1]),
     .help = "the block's width from front to back edge"},
    {"slot-x", "Q", .take = take_length, .offset = AT(slot[0]),
     .help = "the width of a slot, left to right side"},
    {"slot-y", "Q", .take = take_length, .offset = AT(slot[1]),
     .help = "the width of a slot, front to back side"},
    {"trust-cutters", .take = tu_option_take_flag, .offset = AT(trust_cutters),
     .help = "take the shop file's diameters, with their tolerances, as known (flat cutters)"},
    {"unit", "mm|in", .early = true, .take = take_unit, .offset = AT(unit),
     .help = "of bare numbers on this command line and of the answer (default mm); bare numbers in "
             "the shop "
             "file are in its own unit, and where that is another, --unit or a unit at each number "
             "is a "
             "must"},
    {"json", .take = tu_option_take_flag, .offset = AT(json),
     .help = "write the answer as JSON, in millimetres"},
    {"budget", .take = tu_option_take_flag, .offset = AT(budget),
     .help = "also what each uncertainty is made of (JSON holds that anyway)"},
    {"save", .take = tu_option_take_flag, .offset = AT(save),
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
    if (options->bore && options->walls != NULL)
        return tu_fail(error, TU_USAGE, "--bore", "a plate has walls or a bore, not both");
    snprintf(plate->name, sizeof plate->name, "%s", options->new_name);
    plate->thickness = tu_quantity_none();
    plate->turned = !options->not_turned;
    plate->bore.present = options->bore;
    plate->bore.diameter = tu_quantity_none();
    plate->bore.touch_depth = options->depth;
    for (int k = 0; k < 2; k++) {
        plate->bore.centre[k] = tu_quantity_none();
        plate->wall[k].offset = tu_quantity_none();
        plate->wall[k].touch_depth = options->depth;
        plate->wall[k].rise = tu_quantity_none();
        plate->extent[k][0] = plate->extent[k][1] = tu_quantity_none();
    }
    return options->walls != NULL ? take_walls(plate, options->walls, error) : TU_OK;
}

static tu_status check_plate(tu_plate_options *options, tu_error *error)
{
    if (options->new_name != NULL) {
        if (options->plate_name != NULL)
            return tu_fail(error, TU_USAGE, "--new",
                           "names a plate that the shop file does not have; leave out --plate, or "
                           "--new");
        return make_fresh(options, error);
    }
    const char *only_new = options->walls != NULL            ? "--walls"
                           : options->bore                   ? "--bore"
                           : options->not_turned             ? "--not-turned"
                           : !isnan(options->depth.value_mm) ? "--depth"
                                                             : NULL;
    if (only_new != NULL)
        return tu_fail(error, TU_USAGE, only_new,
                       "describes a new plate; for one of the shop file the file says it, so leave "
                       "it out or use --new");
    return TU_OK;
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
    return check_plate(options, error);
}
