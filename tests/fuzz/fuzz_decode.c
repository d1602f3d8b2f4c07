/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_decode.c - libFuzzer target: bytes from a device.
 *
 * The first byte chooses the setup, the second the chunks; where the setup says so, the first line
 * is a template. Demands: the records do not depend on the chunks; the counters add up to the bytes
 * at every moment; a hit is finite and within the travel, and its texts end; an unread record has a
 * reason and bytes; a flood is said once.
 */
#include "demand.h"

#include "trueup/decode.h"
#include "trueup/text.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { TRAVEL = 1, STEPS = 2, INCH = 4, TEMPLATE = 8 };

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* What a run gave, in short: the same for the same records. */
typedef struct tally {
    const tu_machine *machine;
    uint64_t records, sum, hits, unread, lost, restarts, floods;
} tally;

static void add(tally *t, const void *bytes, size_t length)
{
    const unsigned char *at = bytes;
    for (size_t i = 0; i < length; i++)
        t->sum = (t->sum ^ at[i]) * UINT64_C(1099511628211); /* FNV-1a */
}

static void demand_hit(const tally *t, const tu_decoded *hit)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        DEMAND(isfinite(hit->position_mm[axis]));
        DEMAND(!(hit->position_mm[axis] < t->machine->travel_low_mm[axis]));
        DEMAND(!(hit->position_mm[axis] > t->machine->travel_high_mm[axis]));
    }
    DEMAND(memchr(hit->series, '\0', sizeof hit->series));
    DEMAND(tu_text_is_utf8(hit->series, strlen(hit->series)));
    DEMAND(hit->axis <= TU_AXIS_COUNT && hit->direction >= -1 && hit->direction <= 1);
}

static void take(void *context, const tu_decoded *decoded)
{
    tally *t = context;
    t->records++;
    t->hits += decoded->kind == TU_DECODED_HIT;
    t->unread += decoded->kind == TU_DECODED_UNREAD;
    t->restarts += decoded->kind == TU_DECODED_RESTART;
    t->floods += decoded->kind == TU_DECODED_FLOOD;
    if (decoded->kind == TU_DECODED_LOST) {
        DEMAND(decoded->count > 0);
        t->lost += decoded->count;
    }
    if (decoded->kind == TU_DECODED_HIT)
        demand_hit(t, decoded);
    if (decoded->kind == TU_DECODED_UNREAD)
        DEMAND(*decoded->reason && decoded->length > 0 && decoded->length <= TU_LINE_MAX);
    DEMAND(memchr(decoded->device, '\0', sizeof decoded->device));
    add(t, &decoded->kind, sizeof decoded->kind);
    add(t, decoded->position_mm, sizeof decoded->position_mm);
    add(t, &decoded->sequence, sizeof decoded->sequence);
    add(t, &decoded->count, sizeof decoded->count);
    add(t, decoded->reason, strlen(decoded->reason));
    if (decoded->length > 0)
        add(t, decoded->bytes, decoded->length);
}

static void demand_books(const tu_decoder *d, const tally *t, size_t fed)
{
    DEMAND(d->good_bytes + d->text_bytes + d->bad_bytes + d->length == fed);
    DEMAND(d->hits == t->hits && d->unread == t->unread && d->lost == t->lost &&
           d->restarts == t->restarts);
    DEMAND(t->floods <= 1);
}

/* From a copy of the chunk's size, so that reading beyond it shows. */
static void feed_copy(tu_decoder *d, const uint8_t *data, size_t length, tally *t)
{
    char *copy = malloc(length + 1);
    DEMAND(copy);
    memcpy(copy, data, length);
    copy = realloc(copy, length > 0 ? length : 1);
    tu_decoder_feed(d, copy, length, take, t);
    free(copy);
}

static void run(const tu_decode_setup *setup, const uint8_t *data, size_t size, unsigned chunks)
{
    tally whole = {.machine = &setup->machine}, parts = whole;
    tu_decoder one = tu_decoder_start(setup), two = tu_decoder_start(setup);
    tu_decoder_feed(&one, (const char *)data, size, take, &whole);
    demand_books(&one, &whole, size);
    tu_decoder_finish(&one, take, &whole);
    demand_books(&one, &whole, size);
    DEMAND(one.length == 0);
    for (size_t at = 0; at < size;) {
        chunks = chunks * 1103515245 + 12345;
        size_t length = (chunks >> 16) % 40;
        length = length < size - at ? length : size - at;
        feed_copy(&two, data + at, length, &parts);
        at += length;
        demand_books(&two, &parts, at);
    }
    tu_decoder_finish(&two, take, &parts);
    DEMAND(whole.records == parts.records && whole.sum == parts.sum);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < 2 || size > 20000)
        return 0;
    tu_decode_setup setup = tu_decode_setup_start();
    tu_template template;
    unsigned flags = data[0], chunks = data[1];
    data += 2;
    size -= 2;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (flags & TRAVEL) {
            setup.machine.travel_low_mm[axis] = axis == TU_AXIS_Z ? -120 : 0;
            setup.machine.travel_high_mm[axis] = axis == TU_AXIS_Z ? 0 : 1200;
        }
        if (flags & STEPS)
            setup.machine.steps_per_mm[axis] = 80;
    }
    setup.unit = flags & INCH ? TU_UNIT_INCH : TU_UNIT_MM;
    const uint8_t *end = flags & TEMPLATE ? memchr(data, '\n', size) : NULL;
    if (end && (size_t)(end - data) < TU_TEMPLATE_MAX) {
        char text[TU_TEMPLATE_MAX] = "";
        memcpy(text, data, (size_t)(end - data));
        setup.template_count = !tu_template_parse(text, &template, NULL);
        setup.templates = &template;
        size -= (size_t)(end + 1 - data);
        data = end + 1;
    }
    run(&setup, data, size, chunks);
    return 0;
}
