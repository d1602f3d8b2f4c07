/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_edit.h - changes in the text of a shop file that leave every other byte alone.
 */
#ifndef RECORD_SHOP_EDIT_H
#define RECORD_SHOP_EDIT_H

#include "trueup/shop.h"

#include <stddef.h>

/*
 * Makes the changes, one after the other, in a copy of the shop's text, and checks the result as
 * tu_shop_parse does. Nothing is written.
 *   text  out, with a NUL behind it, for free(); NULL on failure.
 * Returns TU_OK; TU_USAGE (a path that is none); TU_DATA_MISSING (the place does not exist); the
 * statuses of tu_shop_parse for new text that is not JSON or a result that is no shop file.
 */
tu_status tu_shop_edit_text(const tu_shop *shop, const tu_shop_edit *edits, size_t count,
                            char **text, size_t *length, tu_error *error);

/*
 * As tu_shop_parse, for a draft: what must be there may still be missing, what is there is judged.
 * Changes of its text are judged in the same way.
 */
tu_status tu_shop_parse_part(const char *name, const char *text, size_t length, tu_shop **shop,
                             tu_error *error);
/* The text that it was read from; it lives as long as the shop. */
const char *tu_shop_text(const tu_shop *shop, size_t *length);

#endif
