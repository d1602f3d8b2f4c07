/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * json_build.h - building JSON for an answer (internal): each call gives NULL or false when there
 * is no memory, and takes NULL from the one before, so that a chain needs one check.
 */
#ifndef TU_REPORT_JSON_BUILD_H
#define TU_REPORT_JSON_BUILD_H

#include "trueup/budget.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stdio.h>

/* Adds item to parent and gives it back; on failure item is freed. */
cJSON *tu_json_add(cJSON *parent, const char *name, cJSON *item);
cJSON *tu_json_append(cJSON *array, cJSON *item);
/* The shortest text that reads back as the same double, in every locale; not finite: null. */
cJSON *tu_json_create_number(double value);
bool tu_json_add_number(cJSON *parent, const char *name, double value);
/* As above, but NaN is left out. */
bool tu_json_add_known(cJSON *parent, const char *name, double value);
bool tu_json_add_text(cJSON *parent, const char *name, const char *text);
bool tu_json_add_bool(cJSON *parent, const char *name, bool value);
/* "uncertainty" with its budget, and "warnings". */
bool tu_json_add_uncertainty(cJSON *parent, const char *name, const tu_uncertainty *uncertainty);
bool tu_json_add_warnings(cJSON *parent, const tu_warnings *warnings);
/* Writes root (NULL or not ok: no memory) with a newline and frees it. */
tu_status tu_json_write(FILE *out, cJSON *root, bool ok, tu_error *error);

#endif
