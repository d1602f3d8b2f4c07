/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_save.h - a template into the shop file.
 */
#ifndef TU_TASK_TEMPLATE_SAVE_H
#define TU_TASK_TEMPLATE_SAVE_H

#include "trueup/shop.h"
#include "trueup/status.h"

/*
 * Adds the template, with its unit where it states one, to the shop file at path under name
 * (letters, digits, _). Returns TU_OK also when it stands there already; TU_DATA_CONFLICT when
 * another one does, or the same with another unit or none; as tu_shop_write_edits.
 */
tu_status tu_template_save(const tu_shop *shop, const char *path, const char *name,
                           const tu_template *template, tu_error *error);

#endif
