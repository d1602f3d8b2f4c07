/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bench_hits.c - writes a hit log of many hits, as a machine with steps of 0.0125 mm would log a
 * bed, for tools/bench.
 *
 *     bench_hits COUNT >FILE
 */
#include "trueup/hits.h"

#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv)
{
    long count = argc == 2 ? strtol(argv[1], NULL, 10) : 0;
    if (count <= 0) {
        fprintf(stderr, "usage: bench_hits COUNT >FILE\n");
        return 2;
    }
    char line[4096];
    fwrite(line, 1, tu_hits_format_header(line, sizeof line, "2026-11-25T08:15:30Z"), stdout);
    for (long i = 0; i < count; i++) {
        tu_hit hit = {.sequence = (uint64_t)i + 1,
                      .device_us = 1000000 + 4000137 * (uint64_t)i,
                      .position = {(double)(i % 25 * 40000) / 1e4,
                                   (double)(i / 25 % 17 * 40000) / 1e4,
                                   -(400000 + (double)(i * 7919 % 4001)) / 1e4},
                      .axis = TU_AXIS_Z,
                      .direction = -1,
                      .series = "bed",
                      .ok = true};
        snprintf(hit.utc, sizeof hit.utc, "2026-11-25T%02ld:%02ld:%02ld.%03ldZ",
                 8 + i / 360000 % 12, i / 6000 % 60, i / 100 % 60, i % 1000);
        size_t length = tu_hits_format(line, sizeof line, &hit);
        if (length == 0 || fwrite(line, 1, length, stdout) != length)
            return 4;
    }
    return fflush(stdout) ? 4 : 0;
}
