/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene_file.h - reading a scene (scene.h) from a file, as strictly as a shop file is read.
 *
 * The form is described in docs/scene.md and docs/scene.schema.json.
 */
#ifndef TRUEUP_SCENE_FILE_H
#define TRUEUP_SCENE_FILE_H

#include "trueup/scene.h"
#include "trueup/status.h"

TU_BEGIN_DECLS

/*
 * Reads and checks a scene file.
 *   path   the file; "-" is standard input.
 *   scene  out; what the file leaves out is as tu_scene_start has it. The operator's
 *          turned_within_rad is the cutter's. On failure it holds no scene.
 *   error  where: "PATH:LINE: JSON path", as in "scene.json:12: stock.angle_deg".
 * Refuses what tu_shop_read refuses, by the same rules, and what contradicts itself. Whether the
 * things can lie as they are said to (a plate within the stock, a start inside a clamp) is for
 * tu_rehearse to say. Returns TU_OK, any TU_DATA_..., TU_SYSTEM_IO or TU_SYSTEM_MEMORY.
 */
tu_status tu_scene_read(const char *path, tu_scene *scene, tu_error *error);

/* As tu_scene_read, from text[0..length); name stands for the path in messages. */
tu_status tu_scene_parse(const char *name, const char *text, size_t length, tu_scene *scene,
                         tu_error *error);

TU_END_DECLS

#endif
