/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * decode_bench.h - what the tests of the decoder share: sentences with a checksum, and a sink that
 * keeps what it was given.
 */
#ifndef TRUEUP_TESTS_DECODE_BENCH_H
#define TRUEUP_TESTS_DECODE_BENCH_H

#include "trueup/decode.h"

#include <stddef.h>

enum { BENCH_RECORDS = 4096, BENCH_TEXT = 1 << 17 };

/* Records as they came, with copies of their bytes. */
typedef struct decode_bench {
    size_t count;
    tu_decoded record[BENCH_RECORDS];
    size_t used;
    char text[BENCH_TEXT];
} decode_bench;

/* A sink; context is a decode_bench. Fails the test when there is no room. */
void decode_bench_take(void *context, const tu_decoded *decoded);

/* Whether the records are the same, bytes and all; prints the first difference. */
bool decode_bench_is_same(const decode_bench *a, const decode_bench *b);

/* "$" body "*" checksum CR LF into text; the length. */
size_t decode_bench_sentence(char *text, size_t size, const char *body);

/* Decodes text with this setup as a whole, and finishes; the decoder afterwards. */
tu_decoder decode_bench_run(decode_bench *bench, const tu_decode_setup *setup, const char *text,
                            size_t length);

/* The setup of most tests: travel 0..1200, 0..800, -120..0 mm; 80, 80, 400 steps per mm. */
tu_decode_setup decode_bench_setup(void);

#endif
