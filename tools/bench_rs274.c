/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bench_rs274.c - how fast programs in RS274/NGC are read, beside `wc -l` on the same file.
 *
 *     bench_rs274 [LINES]     default: 1000000
 *
 * Writes two programs of that many lines to a temporary file, one after the other: a path of plain
 * moves, and touches with messages, parameters and expressions. Reads each from the file five
 * times, every block of it, then has `wc -l` count its lines five times; the best time of each is
 * printed. Either time includes reading the file, which the system has in memory by then.
 */
#define _GNU_SOURCE
#include "trueup/rs274.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { ROUNDS = 5 };

typedef struct bench_work {
    char path[200];
    char *text;
    size_t size;
} bench_work;

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static void write_move(FILE *file, unsigned line)
{
    fprintf(file, "N%u G%u X%.3f Y%.3f Z%.3f\n", line % 100000, line % 16 == 0 ? 0U : 1U,
            (line % 9973) * 0.117, (line % 7919) * -0.0931, (line % 211) * -0.05);
}

static void write_touch(FILE *file, unsigned line)
{
    switch (line % 8) {
    case 0:
        fprintf(file, "(MSG, Point %u: keep the plate flat on the bed)\n", line / 8);
        break;
    case 1:
        fprintf(file, "G90 G0 X%.3f Y%.3f\n", (line % 997) * 1.25, (line % 613) * 1.5);
        break;
    case 2:
        fputs("G91 G38.2 Z-12.000 F120\n", file);
        break;
    case 3:
        fputs("G0 Z[0.5+#3]\n", file);
        break;
    case 4:
        fputs("G38.2 Z[0-[#3+1.5]] F[120/4]\n", file);
        break;
    case 5:
        fputs("#1=#5063 #2=[#2+1]\n", file);
        break;
    case 6:
        fputs("G10 L2 P1 Z[#1+#5223-9.53-12.7*SIN[30]]\n", file);
        break;
    default:
        fputs("G90 G0 Z5.000 (clear of the bed)\n", file);
        break;
    }
}

static bool write_program(const char *path, unsigned lines, void (*write)(FILE *, unsigned))
{
    FILE *file = fopen(path, "w");
    if (file == NULL)
        return false;
    for (unsigned line = 1; line < lines; line++)
        write(file, line);
    fputs("M2\n", file);
    return fclose(file) == 0;
}

static bool load(bench_work *work)
{
    FILE *file = fopen(work->path, "rb");
    if (file == NULL)
        return false;
    fseek(file, 0, SEEK_END);
    long size = ftell(file);
    rewind(file);
    free(work->text);
    work->size = size > 0 ? (size_t)size : 0;
    work->text = malloc(work->size + 1);
    bool ok = work->text != NULL && fread(work->text, 1, work->size, file) == work->size;
    fclose(file);
    return ok;
}

/* Reads every block; their number, or 0 on an error, which it prints. */
static unsigned read_blocks(const bench_work *work)
{
    static double parameters[TU_RS274_PARAMETERS];
    tu_rs274_reader reader = tu_rs274_start(work->text, work->size);
    tu_error error = {0};
    tu_rs274_block block;
    bool have;
    unsigned blocks = 0;
    for (;;) {
        if (tu_rs274_next(&reader, parameters, &block, &have, &error)) {
            fprintf(stderr, "bench_rs274: %s: %s\n", error.where, error.message);
            return 0;
        }
        if (!have)
            return blocks;
        blocks++;
    }
}

static bool time_reader(bench_work *work, unsigned lines, double *best_s)
{
    for (int round = 0; round < ROUNDS; round++) {
        double start = now_s();
        if (!load(work) || read_blocks(work) != lines)
            return false;
        double spent = now_s() - start;
        *best_s = round == 0 || spent < *best_s ? spent : *best_s;
    }
    return true;
}

/* Its own count must agree: then both have read the whole file. */
static bool time_wc(const bench_work *work, unsigned lines, double *best_s)
{
    char command[sizeof work->path + 20];
    snprintf(command, sizeof command, "wc -l < '%s'", work->path);
    for (int round = 0; round < ROUNDS; round++) {
        double start = now_s();
        FILE *pipe = popen(command, "r");
        unsigned counted = 0;
        bool ok = pipe != NULL && fscanf(pipe, "%u", &counted) == 1;
        if (pipe != NULL)
            ok = pclose(pipe) == 0 && ok;
        if (!ok || counted != lines)
            return false;
        double spent = now_s() - start;
        *best_s = round == 0 || spent < *best_s ? spent : *best_s;
    }
    return true;
}

static bool run(bench_work *work, const char *name, unsigned lines, void (*write)(FILE *, unsigned))
{
    double reader_s = 0, wc_s = 0;
    if (!write_program(work->path, lines, write) || !time_reader(work, lines, &reader_s) ||
        !time_wc(work, lines, &wc_s)) {
        fprintf(stderr, "bench_rs274: %s: failed\n", name);
        return false;
    }
    double mb = (double)work->size / 1e6;
    printf("%-8s %u lines, %.1f MB\n", name, lines, mb);
    printf("  reader  %7.1f ms  %6.2f million lines/s  %7.1f MB/s\n", reader_s * 1e3,
           lines / reader_s / 1e6, mb / reader_s);
    printf("  wc -l   %7.1f ms  %6.2f million lines/s  %7.1f MB/s\n", wc_s * 1e3,
           lines / wc_s / 1e6, mb / wc_s);
    printf("  the reader takes %.0f ns a line, %.0f times as long as wc -l\n",
           reader_s / lines * 1e9, reader_s / wc_s);
    return true;
}

int main(int argc, char **argv)
{
    unsigned lines = argc > 1 ? (unsigned)strtoul(argv[1], NULL, 10) : 1000000;
    const char *folder = getenv("TMPDIR");
    bench_work work = {.text = NULL};
    snprintf(work.path, sizeof work.path, "%s/bench_rs274_XXXXXX",
             folder != NULL && folder[0] != '\0' ? folder : "/tmp");
    int file = mkstemp(work.path);
    if (lines == 0 || file < 0) {
        fprintf(stderr, "usage: bench_rs274 [LINES], with a writable folder TMPDIR\n");
        return 2;
    }
    close(file);
    bool ok = run(&work, "moves", lines, write_move) && run(&work, "touches", lines, write_touch);
    unlink(work.path);
    free(work.text);
    return ok ? 0 : 1;
}
