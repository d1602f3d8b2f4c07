/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene_file.c - the keys of every object in a scene file, and reading it.
 */
#include "trueup/scene_file.h"
#include "record/file_text.h"
#include "record/input_file.h"
#include "record/scene_form.h"

#include <stdlib.h>
#include <string.h>

#define COUNT(table) (sizeof(table) / sizeof((table)[0]))

/* A length of which the value counts, in mm. */
#define LENGTH(name, required, type, member, length, expected)                                     \
    {                                                                                              \
        name, required, TU_JSON_NUMBER | TU_JSON_STRING, tu_shop_take_mm, offsetof(type, member),  \
            length, NULL, expected                                                                 \
    }
#define FIGURE(name, take, member, figure, expected)                                               \
    {                                                                                              \
        name, false, TU_JSON_NUMBER, take, offsetof(tu_scene, member), figure, NULL, expected      \
    }

#define PLACE_TEXT "a machine coordinate, as in 120 or \"4-3/4in\""
#define XYZ_TEXT   "a place in machine coordinates, as in {\"x\": 120, \"y\": 80, \"z\": -20}"
#define XY_TEXT    "a place in machine coordinates, as in {\"x\": 120, \"y\": 80}"

static const tu_shop_key point_keys[] = {
    LENGTH("x", true, tu_machine_point, x, TU_LENGTH_PLACE, PLACE_TEXT),
    LENGTH("y", true, tu_machine_point, y, TU_LENGTH_PLACE, PLACE_TEXT),
    LENGTH("z", true, tu_machine_point, z, TU_LENGTH_PLACE, PLACE_TEXT),
};
static const tu_shop_form point_form = {"a place", point_keys, COUNT(point_keys), NULL};

/* --- The bed --- */

#define STEP_TEXT "the distance between heights, as in 50"

static const tu_shop_key from_keys[] = {
    LENGTH("x", true, tu_bed_surface, map_x0_mm, TU_LENGTH_PLACE, PLACE_TEXT),
    LENGTH("y", true, tu_bed_surface, map_y0_mm, TU_LENGTH_PLACE, PLACE_TEXT),
};
static const tu_shop_form from_form = {"the map's first place", from_keys, COUNT(from_keys), NULL};

static const tu_shop_key step_keys[] = {
    LENGTH("x", true, tu_bed_surface, map_dx_mm, TU_LENGTH_MAP_STEP, STEP_TEXT),
    LENGTH("y", true, tu_bed_surface, map_dy_mm, TU_LENGTH_MAP_STEP, STEP_TEXT),
};
static const tu_shop_form step_form = {"the map's step", step_keys, COUNT(step_keys), NULL};

static const tu_shop_key map_keys[] = {
    {"from", true, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &from_form, XY_TEXT},
    {"step", true, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &step_form,
     "the distances between heights, as in {\"x\": 50, \"y\": 50}"},
    {"rows", true, TU_JSON_ARRAY, tu_scene_take_rows, 0, 0, NULL,
     "rows of heights from the front, as in [[0, 0.1], [0.05, 0.2]]"},
};
static const tu_shop_form map_form = {"the map", map_keys, COUNT(map_keys), NULL};

#define TILT_TEXT "a slope in mm per metre, as in 0.4"

static const tu_shop_key bed_keys[] = {
    LENGTH("height", false, tu_scene, bed.height_mm, TU_LENGTH_HEIGHT,
           "its machine Z, as in -80 or \"-3in\""),
    FIGURE("tilt_x", tu_scene_take_figure, bed.slope_x, TU_FIGURE_TILT, TILT_TEXT),
    FIGURE("tilt_y", tu_scene_take_figure, bed.slope_y, TU_FIGURE_TILT, TILT_TEXT),
    {"map", false, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_scene, bed), 0, &map_form,
     "an object with \"from\", \"step\", \"rows\""},
    {"conducts", false, TU_JSON_BOOLEAN, tu_shop_take_flag, offsetof(tu_scene, bed_conducts), 0,
     NULL, "true (foil lies on it) or false"},
};
static const tu_shop_form bed_form = {"the bed", bed_keys, COUNT(bed_keys), NULL};

/* --- The stock and the plate --- */

static const tu_shop_key corner_keys[] = {
    LENGTH("x", true, tu_machine_plane_point, x, TU_LENGTH_PLACE, PLACE_TEXT),
    LENGTH("y", true, tu_machine_plane_point, y, TU_LENGTH_PLACE, PLACE_TEXT),
};
static const tu_shop_form corner_form = {"the corner", corner_keys, COUNT(corner_keys), NULL};

#define SIZE_TEXT "a size, as in 300 or \"12in\""

static const tu_shop_key stock_keys[] = {
    LENGTH("x", true, tu_scene, stock_size_mm[TU_AXIS_X], TU_LENGTH_STOCK_PLANE, SIZE_TEXT),
    LENGTH("y", true, tu_scene, stock_size_mm[TU_AXIS_Y], TU_LENGTH_STOCK_PLANE, SIZE_TEXT),
    LENGTH("z", true, tu_scene, stock_size_mm[TU_AXIS_Z], TU_LENGTH_STOCK_DEPTH, SIZE_TEXT),
    {"corner", true, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_scene, stock_corner), 0,
     &corner_form, "its front left corner, as in {\"x\": 120, \"y\": 80}"},
    FIGURE("angle_deg", tu_scene_take_figure, stock_angle_rad, TU_FIGURE_STOCK_ANGLE,
           "an angle in degrees, as in 0.7"),
};
static const tu_shop_form stock_form = {"the stock", stock_keys, COUNT(stock_keys), NULL};

static tu_status take_stock(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member)
{
    tu_scene *scene = member;
    scene->stock_present = true;
    return tu_shop_read_form(reader, node, key->form, scene);
}

static tu_status take_plate(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                            void *member)
{
    tu_scene *scene = member;
    scene->plate_present = true;
    tu_status status = tu_shop_read_form(reader, node, key->form, &scene->plate);
    if (!status)
        tu_shop_settle_plate(&scene->plate);
    return status;
}

static const tu_shop_key lies_keys[] = {
    {"corner", true, TU_JSON_STRING, tu_scene_take_corner, offsetof(tu_scene, plate_corner), 0,
     NULL, "a corner of the stock, as in \"front-left-top\""},
    {"seat", false, TU_JSON_STRING, tu_shop_take_word, offsetof(tu_scene, seat), TU_WORDS_SEAT,
     NULL, "\"stock\" or \"bed\""},
    FIGURE("wrong_turns", tu_scene_take_turns, wrong_turns, TU_FIGURE_WRONG_TURNS,
           "a whole number of quarter turns, as in 1"),
};
static const tu_shop_form lies_form = {"where the plate lies", lies_keys, COUNT(lies_keys), NULL};

/* --- Contact, offsets, blocks --- */

#define SECONDS_TEXT "a time in seconds, as in 0.002"

#define DRIFT(name, axis)                                                                          \
    FIGURE(name, tu_scene_take_figure, drift_mm_per_s[axis], TU_FIGURE_DRIFT,                      \
           "micrometres per minute, as in 4")
#define WARM_UP(name, axis)                                                                        \
    FIGURE(name, tu_scene_take_figure, warm_up_mm[axis], TU_FIGURE_WARM_UP, "micrometres, as in 25")

static const tu_shop_key drift_keys[] = {DRIFT("x", TU_AXIS_X), DRIFT("y", TU_AXIS_Y),
                                         DRIFT("z", TU_AXIS_Z)};
static const tu_shop_form drift_form = {"the drift", drift_keys, COUNT(drift_keys), NULL};

static const tu_shop_key warm_up_keys[] = {
    WARM_UP("x_um", TU_AXIS_X),
    WARM_UP("y_um", TU_AXIS_Y),
    WARM_UP("z_um", TU_AXIS_Z),
    {"tau_s", true, TU_JSON_NUMBER, tu_scene_take_figure, offsetof(tu_scene, warm_up_tau_s),
     TU_FIGURE_TAU, NULL, "a time in seconds, as in 600"},
};
static const tu_shop_form warm_up_form = {"the warming up", warm_up_keys, COUNT(warm_up_keys),
                                          NULL};

static const tu_shop_key contact_keys[] = {
    {"noise", false, TU_JSON_NUMBER | TU_JSON_STRING, tu_shop_take_length,
     offsetof(tu_scene, noise_mm), TU_LENGTH_NOISE, NULL,
     "the standard deviation of one touch, as in 0.003"},
    FIGURE("latch_delay_s", tu_scene_take_figure, latch_delay_s, TU_FIGURE_SECONDS, SECONDS_TEXT),
    FIGURE("bounce_s", tu_scene_take_figure, bounce_s, TU_FIGURE_SECONDS, SECONDS_TEXT),
    {"clip_on", false, TU_JSON_BOOLEAN, tu_shop_take_flag, offsetof(tu_scene, clip_on), 0, NULL,
     "true or false (the circuit never closes)"},
    {"drift_um_per_min", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &drift_form,
     "an object, as in {\"z\": 4}"},
    {"warm_up", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &warm_up_form,
     "an object, as in {\"z_um\": 25, \"tau_s\": 600}"},
};
static const tu_shop_form contact_form = {"the contact", contact_keys, COUNT(contact_keys), NULL};

typedef double offset_mm[TU_AXIS_COUNT];

static const tu_shop_key offset_keys[] = {
    {"x", false, TU_JSON_NUMBER | TU_JSON_STRING, tu_shop_take_mm, 0, TU_LENGTH_PLACE, NULL,
     PLACE_TEXT},
    {"y", false, TU_JSON_NUMBER | TU_JSON_STRING, tu_shop_take_mm, sizeof(double), TU_LENGTH_PLACE,
     NULL, PLACE_TEXT},
    {"z", false, TU_JSON_NUMBER | TU_JSON_STRING, tu_shop_take_mm, 2 * sizeof(double),
     TU_LENGTH_PLACE, NULL, PLACE_TEXT},
};
static const tu_shop_form offset_form = {"a work offset", offset_keys, COUNT(offset_keys), NULL};

#define SLOT(name, index)                                                                          \
    {                                                                                              \
        name, false, TU_JSON_OBJECT, tu_shop_take_object, (index) * sizeof(offset_mm), 0,          \
            &offset_form, "a work offset, as in {\"x\": 100, \"y\": 80, \"z\": -40}"               \
    }
static const tu_shop_key slot_keys[] = {SLOT("G54", 0),   SLOT("G55", 1),   SLOT("G56", 2),
                                        SLOT("G57", 3),   SLOT("G58", 4),   SLOT("G59", 5),
                                        SLOT("G59.1", 6), SLOT("G59.2", 7), SLOT("G59.3", 8)};
static const tu_shop_form slot_form = {"the offsets", slot_keys, COUNT(slot_keys), NULL};

static const tu_shop_key block_keys[] = {
    {"name", true, TU_JSON_STRING, tu_shop_take_name, offsetof(tu_scene_block, name), 0, NULL,
     "a name in quotes"},
    {"from", true, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_scene_block, low), 0,
     &point_form, XYZ_TEXT},
    {"to", true, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_scene_block, high), 0,
     &point_form, XYZ_TEXT},
};
static const tu_shop_form block_form = {"a block", block_keys, COUNT(block_keys),
                                        tu_scene_check_block};

/* --- The whole --- */

static const tu_shop_key root_keys[] = {
    {"unit", true, TU_JSON_STRING, tu_shop_take_unit, 0, TU_WORDS_UNIT, NULL,
     "\"mm\" or \"in\", the unit of every number that names none"},
    {"machine", false, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_scene, machine), 0,
     &tu_shop_machine_form, "an object with \"travel\", \"step\""},
    LENGTH("traverse_rate", false, tu_scene, rapid_mm_per_min, TU_LENGTH_TRAVERSE,
           "a length in a minute, as in 3000"),
    {"bed", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &bed_form,
     "an object, as in {\"height\": -80, \"tilt_x\": 0.4}"},
    {"stock", false, TU_JSON_OBJECT, take_stock, 0, 0, &stock_form,
     "an object, as in {\"x\": 300, \"y\": 200, \"z\": 18, \"corner\": {\"x\": 120, \"y\": 80}}"},
    {"plate", false, TU_JSON_OBJECT, take_plate, 0, 0, &tu_shop_plate_form,
     "a plate, as in a shop file"},
    {"plate_lies", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &lies_form,
     "an object, as in {\"corner\": \"front-left-top\"}"},
    {"cutter", true, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_scene, cutter), 0,
     &tu_shop_cutter_form, "a cutter, as in a shop file"},
    FIGURE("cutter_angle_deg", tu_scene_take_figure, cutter_angle_rad, TU_FIGURE_CUTTER_ANGLE,
           "an angle in degrees, as in 30"),
    {"contact", false, TU_JSON_OBJECT, tu_shop_take_object, 0, 0, &contact_form,
     "an object, as in {\"noise\": 0.003, \"latch_delay_s\": 0.002}"},
    FIGURE("seed", tu_scene_take_seed, seed, TU_FIGURE_SEED, "a whole number, as in 1"),
    {"start", true, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_scene, start), 0, &point_form,
     XYZ_TEXT},
    {"offsets", false, TU_JSON_OBJECT, tu_shop_take_object, offsetof(tu_scene, slot_mm), 0,
     &slot_form, "an object, as in {\"G54\": {\"x\": 100, \"y\": 80, \"z\": -40}}"},
    {"blocks", false, TU_JSON_ARRAY, tu_scene_take_blocks, 0, 0, &block_form,
     "an array of blocks [...]"},
};
static const tu_shop_form root_form = {"a scene", root_keys, COUNT(root_keys), tu_scene_check_root};

tu_status tu_scene_parse(const char *name, const char *text, size_t length, tu_scene *scene,
                         tu_error *error)
{
    *scene = tu_scene_start();
    if (length > TU_SHOP_TEXT_MAX)
        return tu_fail(error, TU_DATA_RANGE, name, "larger than %d bytes, which no scene should be",
                       TU_SHOP_TEXT_MAX);
    tu_shop unit_only = {.unit = TU_UNIT_MM};
    tu_shop_reader reader = {.shop = &unit_only, .error = error};
    tu_status status = tu_json_read(&reader.document, name, 1, text, length, error);
    if (!status)
        status = tu_shop_read_root(&reader, &root_form, scene);
    tu_json_close(&reader.document);
    scene->turned_within_rad = scene->cutter.turned_within_rad;
    if (status)
        *scene = tu_scene_start();
    return status;
}

tu_status tu_scene_read(const char *path, tu_scene *scene, tu_error *error)
{
    char *text;
    size_t length;
    *scene = tu_scene_start();
    tu_status status = tu_file_text_read(path, TU_SHOP_TEXT_MAX, &text, &length, error);
    if (!status)
        status = tu_scene_parse(tu_input_name(path), text, length, scene, error);
    free(text);
    return status;
}
