/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * decode_bench.c - what the tests of the decoder share.
 */
#include "decode_bench.h"

#include "check.h"

#include <stdio.h>
#include <string.h>

void decode_bench_take(void *context, const tu_decoded *decoded)
{
    decode_bench *bench = context;
    assert_true(bench->count < BENCH_RECORDS && bench->used + decoded->length <= BENCH_TEXT);
    tu_decoded *copy = &bench->record[bench->count++];
    *copy = *decoded;
    copy->bytes = bench->text + bench->used;
    if (decoded->length > 0)
        memcpy(bench->text + bench->used, decoded->bytes, decoded->length);
    bench->used += decoded->length;
}

static bool is_same_number(double a, double b)
{
    return memcmp(&a, &b, sizeof a) == 0;
}

static bool is_same_record(const tu_decoded *a, const tu_decoded *b)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (!is_same_number(a->position_mm[axis], b->position_mm[axis]))
            return false;
    return a->kind == b->kind && a->axis == b->axis && a->direction == b->direction &&
           a->sequence == b->sequence && a->has_sequence == b->has_sequence &&
           a->device_us == b->device_us && a->bounces == b->bounces &&
           a->bounce_us == b->bounce_us && a->count == b->count && a->length == b->length &&
           strcmp(a->series, b->series) == 0 && strcmp(a->device, b->device) == 0 &&
           strcmp(a->reason, b->reason) == 0 &&
           (a->length == 0 || memcmp(a->bytes, b->bytes, a->length) == 0);
}

bool decode_bench_is_same(const decode_bench *a, const decode_bench *b)
{
    for (size_t i = 0; i < a->count && i < b->count; i++) {
        if (!is_same_record(&a->record[i], &b->record[i])) {
            print_error("record %zu differs: kind %d \"%s\", kind %d \"%s\"\n", i,
                        (int)a->record[i].kind, a->record[i].reason, (int)b->record[i].kind,
                        b->record[i].reason);
            return false;
        }
    }
    if (a->count != b->count)
        print_error("%zu records, %zu records\n", a->count, b->count);
    return a->count == b->count;
}

size_t decode_bench_sentence(char *text, size_t size, const char *body)
{
    unsigned sum = 0;
    for (const char *c = body; *c; c++)
        sum ^= (unsigned char)*c;
    int length = snprintf(text, size, "$%s*%02X\r\n", body, sum);
    assert_true(length > 0 && (size_t)length < size);
    return (size_t)length;
}

tu_decoder decode_bench_run(decode_bench *bench, const tu_decode_setup *setup, const char *text,
                            size_t length)
{
    tu_decoder decoder = tu_decoder_start(setup);
    bench->count = bench->used = 0;
    tu_decoder_feed(&decoder, text, length, decode_bench_take, bench);
    tu_decoder_finish(&decoder, decode_bench_take, bench);
    return decoder;
}

tu_decode_setup decode_bench_setup(void)
{
    static const double low[] = {0, 0, -120}, high[] = {1200, 800, 0}, steps[] = {80, 80, 400};
    tu_decode_setup setup = tu_decode_setup_start();
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        setup.machine.travel_low_mm[axis] = low[axis];
        setup.machine.travel_high_mm[axis] = high[axis];
        setup.machine.steps_per_mm[axis] = steps[axis];
    }
    return setup;
}
