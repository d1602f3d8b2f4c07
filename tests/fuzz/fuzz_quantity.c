/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_quantity.c - libFuzzer target: lengths, angles, numbers and foreign text in messages.
 *
 * The first byte chooses the unit of bare numbers, the rest is the text. Beyond not crashing it
 * demands: what is read is finite and reads back exactly from what is written; spaces around it
 * change nothing; what is refused leaves nothing but a message that is one line of UTF-8.
 */
#include "demand.h"

#include "trueup/number.h"
#include "trueup/quantity.h"
#include "trueup/text.h"

#include "base/show.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand_failure(tu_status status, const tu_error *error)
{
    DEMAND(status == TU_DATA_SYNTAX || status == TU_DATA_RANGE);
    DEMAND(error->status == status);
    DEMAND(error->message[0] != '\0');
    demand_line_of_text(error->message);
}

static bool same(double a, double b)
{
    return (isnan(a) && isnan(b)) || (a == b && signbit(a) == signbit(b));
}

static void demand_same(tu_quantity a, tu_quantity b)
{
    DEMAND(same(a.value_mm, b.value_mm));
    DEMAND(same(a.tolerance_mm, b.tolerance_mm));
}

static void try_quantity(const char *text, size_t length, tu_unit bare_unit)
{
    tu_quantity quantity = {1, 2, true}, back;
    tu_error error = {0};
    tu_status status = tu_quantity_parse(text, length, bare_unit, &quantity, &error);
    if (status) {
        demand_failure(status, &error);
        demand_same(quantity, tu_quantity_none());
        DEMAND(!quantity.unit_stated);
        return;
    }
    DEMAND(isfinite(quantity.value_mm));
    DEMAND(isnan(quantity.tolerance_mm) ||
           (isfinite(quantity.tolerance_mm) && quantity.tolerance_mm >= 0));

    char written[2 * TU_NUMBER_TEXT_SIZE];
    size_t used = tu_quantity_format(written, sizeof written, quantity);
    DEMAND(used > 0 && used == strlen(written));
    DEMAND(!tu_quantity_parse(written, used, TU_UNIT_INCH, &back, NULL));
    demand_same(back, quantity);

    char *spaced = malloc(length + 2);
    DEMAND(spaced != NULL);
    spaced[0] = ' ';
    memcpy(spaced + 1, text, length);
    spaced[length + 1] = ' ';
    DEMAND(!tu_quantity_parse(spaced, length + 2, bare_unit, &back, NULL));
    demand_same(back, quantity);
    free(spaced);
}

static void try_angle(const char *text, size_t length)
{
    double angle_rad = 1;
    tu_error error = {0};
    tu_status status = tu_angle_parse(text, length, &angle_rad, &error);
    if (!status) {
        DEMAND(isfinite(angle_rad));
        return;
    }
    demand_failure(status, &error);
    DEMAND(isnan(angle_rad));
}

/* A plain number is also a length of so many millimetres, to the last bit. */
static void try_number(const char *text, size_t length)
{
    double value = 1;
    tu_error error = {0};
    tu_status status = tu_number_parse(text, length, &value, &error);
    if (status) {
        demand_failure(status, &error);
        DEMAND(isnan(value));
        return;
    }
    DEMAND(isfinite(value));
    tu_quantity quantity;
    DEMAND(!tu_quantity_parse(text, length, TU_UNIT_MM, &quantity, NULL));
    DEMAND(quantity.value_mm == value);

    char written[TU_NUMBER_TEXT_SIZE];
    double back;
    size_t used = tu_number_format_exact(written, sizeof written, value);
    DEMAND(used > 0);
    DEMAND(!tu_number_parse(written, used, &back, NULL));
    DEMAND(same(back, value));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0)
        return 0;
    /* A copy of just this size, so that a read beyond its end is seen. */
    size_t length = size - 1;
    char *text = malloc(length > 0 ? length : 1);
    DEMAND(text != NULL);
    memcpy(text, data + 1, length);
    try_quantity(text, length, data[0] % 2 == 0 ? TU_UNIT_MM : TU_UNIT_INCH);
    try_angle(text, length);
    try_number(text, length);
    demand_line_of_text(tu_show(text, length).text);
    free(text);
    return 0;
}
