/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template.h - the fields of a template (internal).
 */
#ifndef DECODE_TEMPLATE_H
#define DECODE_TEMPLATE_H

#include "trueup/decode.h"

#include <stdbool.h>
#include <stddef.h>

typedef enum tu_field {
    TU_FIELD_X, /* as tu_axis */
    TU_FIELD_Y,
    TU_FIELD_Z,
    TU_FIELD_NUMBER,
    TU_FIELD_TIME,
    TU_FIELD_AXIS,
    TU_FIELD_WAY,
    TU_FIELD_SERIES,
    TU_FIELD_ANY,
    TU_FIELD_COUNT
} tu_field;

/* TU_FIELD_COUNT: there is no such field. */
tu_field tu_template_field_named(const char *name, size_t length);
tu_field tu_template_field_at(const tu_template *template, size_t index);

/* One line of text: UTF-8, no control characters (C0, DEL, C1) but the tab. */
bool tu_template_is_clean(const char *text, size_t length);

#endif
