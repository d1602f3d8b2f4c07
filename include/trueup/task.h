/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task.h - what the use cases have in common.
 *
 * A use case is one function, tu_task_NAME, from a request in names and paths to a story: the
 * result, its warnings, what to draw. The command line and the local page are two faces of these
 * functions. They print nothing and know neither options nor buttons: messages name fields of the
 * request in braces ("{depth}"), and tu_face_say (face.h) puts a face's own words in their place.
 *
 * The headers task_*.h are the stable ones of this library; the others may change with any version.
 */
#ifndef TRUEUP_TASK_H
#define TRUEUP_TASK_H

#include "trueup/face.h"
#include "trueup/quantity.h"
#include "trueup/status.h"

#include <stdbool.h>

TU_BEGIN_DECLS

/*
 * The unit of what a person typed; starts as {0}.
 *   stated  the person said it.
 *   of_shop nobody did, and it was taken from the shop file.
 *   bare    the first text with a number that names no unit; NULL: none. Where such a number meets
 *           a shop file in another unit and nobody stated which is meant, the request is refused.
 */
typedef struct tu_typed_unit {
    bool stated;
    bool of_shop;
    const char *bare;
} tu_typed_unit;

/* A line that says what an answer rests on, and who said so; for its head. */
enum { TU_USED_SIZE = 400 };

TU_END_DECLS

#endif
