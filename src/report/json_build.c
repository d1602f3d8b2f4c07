/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * json_build.c - building JSON for an answer.
 */
#include "report/json_build.h"

#include "trueup/number.h"

#include <errno.h>
#include <math.h>
#include <string.h>

cJSON *tu_json_add(cJSON *parent, const char *name, cJSON *item)
{
    if (parent == NULL || item == NULL || !cJSON_AddItemToObject(parent, name, item)) {
        cJSON_Delete(item);
        return NULL;
    }
    return item;
}

cJSON *tu_json_append(cJSON *array, cJSON *item)
{
    if (array == NULL || item == NULL || !cJSON_AddItemToArray(array, item)) {
        cJSON_Delete(item);
        return NULL;
    }
    return item;
}

/* cJSON prints with the C library's printf, and whether it mends what that takes from the locale
 * depends on how it was built: numbers go in as text. */
cJSON *tu_json_create_number(double value)
{
    char text[TU_NUMBER_TEXT_SIZE];
    bool known = isfinite(value) && tu_number_format_exact(text, sizeof text, value) > 0;
    return known ? cJSON_CreateRaw(text) : cJSON_CreateNull();
}

bool tu_json_add_number(cJSON *parent, const char *name, double value)
{
    return tu_json_add(parent, name, tu_json_create_number(value)) != NULL;
}

bool tu_json_add_known(cJSON *parent, const char *name, double value)
{
    return isnan(value) || tu_json_add_number(parent, name, value);
}

bool tu_json_add_text(cJSON *parent, const char *name, const char *text)
{
    return tu_json_add(parent, name, cJSON_CreateString(text)) != NULL;
}

bool tu_json_add_bool(cJSON *parent, const char *name, bool value)
{
    return tu_json_add(parent, name, cJSON_CreateBool(value)) != NULL;
}

static bool add_budget(cJSON *parent, const tu_uncertainty *uncertainty)
{
    cJSON *budget = tu_json_add(parent, "budget", cJSON_CreateArray());
    bool ok = budget != NULL;
    for (size_t i = 0; ok && i < uncertainty->count; i++) {
        const tu_budget_line *line = &uncertainty->line[i];
        cJSON *item = tu_json_append(budget, cJSON_CreateObject());
        ok = tu_json_add_text(item, "source", line->source) &&
             tu_json_add_number(item, "standard", line->standard_mm) &&
             tu_json_add_number(item, "dof", line->dof) &&
             tu_json_add_number(item, "share", line->share);
    }
    return ok;
}

/* Nothing to judge by is not certainty: such an uncertainty is null, as it is "unknown" in text. */
bool tu_json_add_uncertainty(cJSON *parent, const char *name, const tu_uncertainty *u)
{
    cJSON *item = tu_json_add(parent, name, cJSON_CreateObject());
    bool known = u->standard_mm > 0.0;
    return tu_json_add_number(item, "standard", known ? u->standard_mm : (double)NAN) &&
           tu_json_add_number(item, "dof", u->dof) &&
           tu_json_add_number(item, "coverage_factor", u->coverage_factor) &&
           tu_json_add_number(item, "expanded", known ? u->expanded_mm : (double)NAN) &&
           tu_json_add_number(item, "coverage", u->coverage) && add_budget(item, u);
}

bool tu_json_add_warnings(cJSON *parent, const tu_warnings *warnings)
{
    cJSON *list = tu_json_add(parent, "warnings", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t i = 0; ok && i < warnings->count; i++)
        ok = tu_json_append(list, cJSON_CreateString(warnings->text[i])) != NULL;
    return ok;
}

tu_status tu_json_write(FILE *out, cJSON *root, bool ok, tu_error *error)
{
    tu_status status = TU_OK;
    char *text = ok ? cJSON_Print(root) : NULL;
    if (text == NULL) {
        status = tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
        goto cleanup;
    }
    errno = 0;
    if (fprintf(out, "%s\n", text) < 0 || fflush(out) != 0 || ferror(out))
        status = tu_fail(error, TU_SYSTEM_IO, NULL, "the answer cannot be written: %s",
                         strerror(errno ? errno : EIO));
cleanup:
    cJSON_free(text);
    cJSON_Delete(root);
    return status;
}
