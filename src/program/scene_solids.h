/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene_solids.h - from a scene to the solids that lie on its table (internal).
 *
 * scene_check.c refuses scenes that cannot be, scene_solids.c builds the rest.
 */
#ifndef TRUEUP_PROGRAM_SCENE_SOLIDS_H
#define TRUEUP_PROGRAM_SCENE_SOLIDS_H

#include "program/solids.h"

enum { TU_PLATE_SOLIDS = 5, TU_SOLIDS_MAX = 2 + TU_PLATE_SOLIDS + TU_SCENE_BLOCKS };

/* Sizes of a plate's body that its description leaves open. Common practice, no source. */
#define TU_PLATE_REACH_MM  60.0 /* over the stock */
#define TU_PLATE_MARGIN_MM 12.0 /* of the face before a wall that rises above it */
#define TU_PLATE_RIM_MM    10.0 /* about a bore */
#define TU_PLATE_BAR_MM    6.0  /* breadth of walls and lips */
#define TU_PLATE_LIP_MM    4.0  /* how far a lip hangs down beside the stock */
#define TU_PLATE_BESIDE_MM 5.0  /* from the stock to a slab that lies on the bed */

typedef struct tu_solids {
    size_t count;
    tu_solid solid[TU_SOLIDS_MAX];
} tu_solids;

/* How far a plate's body reaches from the edges that walls a and b stand on: [0] over the stock,
 * [1] outwards. */
typedef struct tu_plate_body {
    double reach_mm[2][2];
} tu_plate_body;

tu_plate_body tu_plate_body_start(const tu_plate *plate, tu_seat seat);

/* Whether the scene can be: numbers are there, finite and possible, nothing shares space.
 * Statuses as tu_rehearse. */
tu_status tu_scene_check(const tu_scene *scene, tu_error *error);

/* The solids of a scene that was checked. They point into the scene. */
void tu_scene_build_solids(const tu_scene *scene, tu_solids *solids);

/* A corner of the stock, by its outward signs (a sign of 0 counts as -1). */
tu_machine_plane_point tu_scene_stock_corner(const tu_scene *scene, tu_target corner);
/* The height on which the stock, or the plate, lies. */
double tu_scene_stock_seat(const tu_scene *scene);
double tu_scene_plate_seat(const tu_scene *scene);

#endif
