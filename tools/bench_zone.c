/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bench_zone.c - the exact minimum zone of a bed of many points, timed in the processor's time,
 * beside one bare pass over the points that does nothing but add the coordinates up.
 *
 *     bench_zone COUNT ROUNDS FILE
 *
 * Prints the medians in ms, width, passes, and the memory for the work in kB; writes the points to
 * FILE as doubles for the programs that are timed beside it. The points: a bowl, a twist, a tilt
 * and noise.
 */
#include "bed/zone_parts.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { MOST_ROUNDS = 1001 };

static double now_ms(void)
{
    struct timespec now;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

/* Sum of four uniform numbers, near enough to normal; xorshift64*. */
static double noise(uint64_t *state)
{
    double sum = -2.0;

    for (int i = 0; i < 4; i++) {
        *state ^= *state >> 12;
        *state ^= *state << 25;
        *state ^= *state >> 27;
        sum += (double)((*state * 2685821657736338717u) >> 11) / 9007199254740992.0;
    }
    return sum;
}

static void make_bed(tu_bed_point *points, size_t count)
{
    const size_t side = (size_t)sqrt((double)count);
    uint64_t state = 20261125;

    for (size_t i = 0; i < count; i++) {
        const double x = 1200.0 * (double)(i % side) / (double)side;
        const double y = 800.0 * (double)(i / side) / (double)side;

        points[i] = (tu_bed_point){x, y,
                                   1e-6 * (x - 500) * (x - 500) - 1e-6 * (y - 300) * (y - 300) +
                                       5e-4 * x - 2e-4 * y + 0.05 * noise(&state) - 60.0};
    }
}

static double bare_pass(const tu_bed_point *points, size_t count)
{
    double sum[4] = {0};

    for (size_t i = 0; i + 4 <= count; i += 4)
        for (size_t k = 0; k < 4; k++)
            sum[k] += points[i + k].x_mm + points[i + k].y_mm + points[i + k].z_mm;
    return sum[0] + sum[1] + sum[2] + sum[3];
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;

    return (x > y) - (x < y);
}

static double median(double *values, size_t count)
{
    qsort(values, count, sizeof *values, by_size);
    return values[count / 2];
}

static int measure(const tu_bed_point *points, size_t count, size_t rounds)
{
    static tu_zone_workspace workspace;
    static double ours[MOST_ROUNDS];
    static double bare[MOST_ROUNDS];
    volatile double sum = 0.0;
    tu_bed_zone zone;
    tu_error error;

    for (size_t i = 0; i < rounds; i++) {
        double start = now_ms();
        if (tu_bed_find_zone(points, count, &workspace, &zone, &error)) {
            fprintf(stderr, "bench_zone: %s\n", error.message);
            return 5;
        }
        ours[i] = now_ms() - start;
        start = now_ms();
        sum = sum + bare_pass(points, count);
        bare[i] = now_ms() - start;
    }
    printf("%.4f %.4f %.17g %zu %zu\n", median(ours, rounds), median(bare, rounds), zone.FLTt_mm,
           zone.passes, sizeof workspace / 1000);
    return 0;
}

int main(int argc, char **argv)
{
    const size_t count = argc == 4 ? strtoul(argv[1], NULL, 10) : 0;
    const size_t rounds = argc == 4 ? strtoul(argv[2], NULL, 10) : 0;

    if (count < 4 || rounds < 1 || rounds > MOST_ROUNDS) {
        fprintf(stderr, "usage: bench_zone COUNT ROUNDS FILE\n");
        return 2;
    }
    tu_bed_point *points = malloc(count * sizeof *points);
    FILE *file = fopen(argv[3], "wb");
    int status = 4;
    if (points != NULL && file != NULL) {
        make_bed(points, count);
        status = fwrite(points, sizeof *points, count, file) == count
                     ? measure(points, count, rounds)
                     : 4;
    }
    if (file != NULL && fclose(file) != 0)
        status = 4;
    if (status == 4)
        perror("bench_zone");
    free(points);
    return status;
}
