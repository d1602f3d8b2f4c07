/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * decode_dump.c - test helper: decodes a stream and prints a line for each record. Not installed.
 *
 *     decode_dump FILE CHUNK [OPTION=VALUE...]
 *
 * CHUNK: bytes in a call; 0: all at once. Options: unit=in, axis=z, dir=-, steps=X:Y:Z,
 * travel=XLOW:XHIGH:YLOW:YHIGH:ZLOW:ZHIGH, template=TEXT (may be repeated).
 */
#include "trueup/decode.h"
#include "trueup/number.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TEMPLATES_MAX = 8, STREAM_MAX = 1 << 20 };

typedef struct dump {
    tu_decode_setup setup;
    tu_template templates[TEMPLATES_MAX];
    size_t pulled; /* the plug was pulled behind so many bytes; 0: never */
} dump;

static void print_bytes(const char *bytes, size_t length)
{
    putchar('"');
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)bytes[i];
        if (c == '"' || c == '\\' || c < 0x20 || c > 0x7E)
            printf("\\x%02x", c);
        else
            putchar(c);
    }
    putchar('"');
}

static void print_number(const char *name, double value)
{
    char text[TU_NUMBER_TEXT_SIZE];
    tu_number_format_exact(text, sizeof text, value);
    printf(" %s=%s", name, text);
}

static void print_boot(const tu_decoded *line)
{
    if (line->has_boot)
        printf(" boot=%llu", (unsigned long long)line->boot);
}

static void print_hit(const tu_decoded *hit)
{
    printf("hit");
    print_number("x", hit->position_mm[TU_AXIS_X]);
    print_number("y", hit->position_mm[TU_AXIS_Y]);
    print_number("z", hit->position_mm[TU_AXIS_Z]);
    if (hit->axis < TU_AXIS_COUNT)
        printf(" axis=%c", 'x' + (int)hit->axis);
    if (hit->direction)
        printf(" dir=%c", hit->direction > 0 ? '+' : '-');
    if (hit->has_sequence)
        printf(" seq=%llu", (unsigned long long)hit->sequence);
    if (hit->device_us)
        printf(" us=%llu", (unsigned long long)hit->device_us);
    if (hit->bounces)
        printf(" bounces=%u bounce_us=%llu", hit->bounces, (unsigned long long)hit->bounce_us);
    if (*hit->series) {
        printf(" series=");
        print_bytes(hit->series, strlen(hit->series));
    }
    print_boot(hit);
}

static void print_record(void *context, const tu_decoded *decoded)
{
    (void)context;
    switch (decoded->kind) {
    case TU_DECODED_HIT:
        print_hit(decoded);
        break;
    case TU_DECODED_HELLO:
        printf("hello ");
        print_bytes(decoded->device, strlen(decoded->device));
        if (decoded->has_sequence)
            printf(" seq=%llu", (unsigned long long)decoded->sequence);
        print_boot(decoded);
        break;
    case TU_DECODED_LOST:
        printf("lost %llu before=%llu", (unsigned long long)decoded->count,
               (unsigned long long)decoded->sequence);
        break;
    case TU_DECODED_RESTART:
        printf("restart");
        break;
    case TU_DECODED_UNREAD:
        printf("unread ");
        print_bytes(decoded->bytes, decoded->length);
        printf(" %s", decoded->reason);
        break;
    case TU_DECODED_FLOOD:
        printf("flood");
        break;
    }
    putchar('\n');
}

/* Fills count numbers parted by colons. */
static void take_numbers(const char *text, double *const *numbers, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        size_t length = strcspn(text, ":");
        if (tu_number_parse(text, length, numbers[i], NULL))
            exit(2);
        text += length + (text[length] == ':');
    }
}

static void take_option(dump *d, const char *option)
{
    tu_machine *m = &d->setup.machine;
    tu_error error = {0};
    if (!strcmp(option, "unit=in")) {
        d->setup.unit = TU_UNIT_INCH;
    } else if (!strncmp(option, "axis=", 5)) {
        d->setup.axis = (tu_axis)(option[5] - 'x');
    } else if (!strncmp(option, "dir=", 4)) {
        d->setup.direction = option[4] == '+' ? 1 : -1;
    } else if (!strncmp(option, "pulled=", 7)) {
        d->pulled = (size_t)strtoul(option + 7, NULL, 10);
    } else if (!strncmp(option, "steps=", 6)) {
        double *const steps[] = {&m->steps_per_mm[0], &m->steps_per_mm[1], &m->steps_per_mm[2]};
        take_numbers(option + 6, steps, 3);
    } else if (!strncmp(option, "travel=", 7)) {
        double *const ends[] = {&m->travel_low_mm[0], &m->travel_high_mm[0],
                                &m->travel_low_mm[1], &m->travel_high_mm[1],
                                &m->travel_low_mm[2], &m->travel_high_mm[2]};
        take_numbers(option + 7, ends, 6);
    } else if (!strncmp(option, "template=", 9) && d->setup.template_count < TEMPLATES_MAX) {
        d->setup.templates = d->templates;
        if (tu_template_parse(option + 9, &d->templates[d->setup.template_count++], &error)) {
            fprintf(stderr, "%s\n", error.message);
            exit(3);
        }
    } else {
        fprintf(stderr, "unknown option %s\n", option);
        exit(2);
    }
}

int main(int argc, char **argv)
{
    static char bytes[STREAM_MAX];
    static dump d;
    if (argc < 3)
        return 2;
    FILE *file = fopen(argv[1], "rb");
    if (!file)
        return 4;
    size_t length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    size_t chunk = (size_t)strtoul(argv[2], NULL, 10);
    d.setup = tu_decode_setup_start();
    for (int i = 3; i < argc; i++)
        take_option(&d, argv[i]);
    tu_decoder decoder = tu_decoder_start(&d.setup);
    for (size_t at = 0; at < length;) {
        size_t stop = at < d.pulled && d.pulled < length ? d.pulled : length;
        size_t step = chunk == 0 || chunk > stop - at ? stop - at : chunk;
        tu_decoder_feed(&decoder, bytes + at, step, print_record, NULL);
        at += step;
        if (at == d.pulled)
            tu_decoder_finish(&decoder, print_record, NULL);
    }
    tu_decoder_finish(&decoder, print_record, NULL);
    printf("end hits=%llu unread=%llu lost=%llu restarts=%llu bytes=%llu\n",
           (unsigned long long)decoder.hits, (unsigned long long)decoder.unread,
           (unsigned long long)decoder.lost, (unsigned long long)decoder.restarts,
           (unsigned long long)(decoder.good_bytes + decoder.text_bytes + decoder.bad_bytes));
    return 0;
}
