/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene_form.h - takers and checks of a scene file (internal); the forms are in scene_file.c.
 */
#ifndef RECORD_SCENE_FORM_H
#define RECORD_SCENE_FORM_H

#include "record/shop_form.h"
#include "trueup/scene.h"

/* Numbers that are no lengths; the rule of the takers below. */
typedef enum tu_scene_figure {
    TU_FIGURE_TILT,         /* mm per m, taken as mm per mm */
    TU_FIGURE_STOCK_ANGLE,  /* degrees, taken as radians */
    TU_FIGURE_CUTTER_ANGLE, /* likewise */
    TU_FIGURE_SECONDS,
    TU_FIGURE_DRIFT,   /* um per min, taken as mm per s */
    TU_FIGURE_WARM_UP, /* um, taken as mm */
    TU_FIGURE_TAU,
    TU_FIGURE_WRONG_TURNS,
    TU_FIGURE_SEED
} tu_scene_figure;

tu_status tu_scene_take_figure(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member); /* double */
tu_status tu_scene_take_turns(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                              void *member); /* int */
tu_status tu_scene_take_seed(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member); /* uint64_t */
tu_status tu_scene_take_corner(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member); /* tu_target */
tu_status tu_scene_take_rows(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member); /* tu_bed_surface */
tu_status tu_scene_take_blocks(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                               void *member); /* tu_scene */

tu_status tu_scene_check_block(tu_shop_reader *reader, size_t node, const void *block);
tu_status tu_scene_check_root(tu_shop_reader *reader, size_t node, const void *scene);

#endif
