/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_template.c - libFuzzer target: a template worked out from a line.
 *
 * The first byte chooses three numbers of the line to be the position, and the unit; the rest is
 * the line. Demands: a failure has a message of one line and leaves nothing; a template that comes
 * out is one that tu_template_parse takes, and reads its own line to that position.
 */
#include "demand.h"

#include "trueup/decode.h"
#include "trueup/number.h"
#include "trueup/text.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void take(void *context, const tu_decoded *decoded)
{
    if (decoded->kind != TU_DECODED_FLOOD)
        *(tu_decoded *)context = *decoded;
}

/* Up to three numbers of the text, by a reader of its own. */
static void find_position(const char *text, unsigned skip, double scale, double shown_mm[3])
{
    int found = 0;
    for (const char *at = text; *at && found < 3;) {
        char *end;
        double value = strtod(at, &end);
        if (end == at || !isfinite(value)) {
            at++;
            continue;
        }
        if (skip > 0)
            skip--;
        else
            shown_mm[found++] = value * scale;
        at = end;
    }
}

static void demand_reads_back(const tu_template *template, const char *line, tu_unit unit,
                              const double shown_mm[3])
{
    tu_decode_setup setup = tu_decode_setup_start();
    tu_template again;
    tu_decoded last = {0};
    DEMAND(!tu_template_parse(template->text, &again, NULL));
    DEMAND(again.field_count == template->field_count);
    setup.templates = &again;
    setup.template_count = 1;
    setup.unit = unit;
    tu_decoder d = tu_decoder_start(&setup);
    tu_decoder_feed(&d, line, strlen(line), take, &last);
    tu_decoder_feed(&d, "\n", 1, take, &last);
    DEMAND(last.kind == TU_DECODED_HIT);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) /* half of a unit at most, plus a hair */
        DEMAND(fabs(last.position_mm[axis] - shown_mm[axis]) <= 0.5 * 25.4 * 1.001);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char line[1100];
    if (size < 1 || size > 1000)
        return 0;
    tu_unit unit = data[0] & 1 ? TU_UNIT_INCH : TU_UNIT_MM;
    double shown_mm[3] = {1, 2, 3};
    memcpy(line, data + 1, size - 1);
    line[size - 1] = '\0';
    find_position(line, data[0] >> 5, unit == TU_UNIT_INCH ? 25.4 : 1, shown_mm);
    tu_template template;
    tu_error error = {0};
    tu_status status = tu_template_work_out(line, shown_mm, unit, &template, &error);
    DEMAND(tu_template_work_out(line, shown_mm, unit, &template, NULL) == status);
    if (status) {
        DEMAND(template.field_count == 0 && *error.message);
        DEMAND(tu_text_is_utf8(error.message, strlen(error.message)));
        DEMAND(!strpbrk(error.message, "\n\r\t"));
    } else {
        line[strcspn(line, "\r\n")] = '\0';
        demand_reads_back(&template, line, unit, shown_mm);
    }
    return 0;
}
