/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_dump.c - minimum zones of clouds of points in a file, for tests that are scripts.
 *
 *     zone_dump FILE [COUNT]
 *
 * FILE holds x, y, z as doubles of the machine, COUNT points a cloud (default: one of them all).
 * Prints for each cloud: width, normal, criterion, proof, passes, and the three figures of the
 * check.
 */
#include "bed/zone_parts.h"

#include <stdio.h>
#include <stdlib.h>

static tu_zone_workspace workspace;

static int dump(const tu_bed_point *points, size_t count)
{
    static const char *const criteria[] = {"3-1", "1-3", "2-2", "flat"};
    static const char *const proofs[] = {"spread", "search", "flat", "hull"};
    tu_bed_zone zone;
    tu_zone_check check = {0};
    tu_error error = {0};

    if (tu_bed_find_any_zone(points, count, &workspace, &zone, &error) ||
        tu_bed_check_zone(points, count, &zone, 0.0, &check, &error)) {
        fprintf(stderr, "zone_dump: %s\n", error.message);
        return tu_status_exit_code(error.status);
    }
    printf("%.17g %.17g %.17g %.17g %s %s %zu %.3g %.3g %.3g\n", zone.FLTt_mm, zone.normal.x,
           zone.normal.y, zone.normal.z, criteria[zone.criterion], proofs[zone.proof], zone.passes,
           check.outside_mm, check.contact_mm, check.projection_mm);
    return 0;
}

/* The points of a file; free them. */
static tu_bed_point *read_points(const char *path, size_t *count)
{
    tu_bed_point *points = NULL;
    FILE *file = fopen(path, "rb");
    long size;

    *count = 0;
    if (file == NULL)
        return NULL;
    if (fseek(file, 0, SEEK_END) == 0 && (size = ftell(file)) > 0 &&
        fseek(file, 0, SEEK_SET) == 0 && (points = malloc((size_t)size)) != NULL)
        *count = fread(points, sizeof *points, (size_t)size / sizeof *points, file);
    fclose(file);
    return points;
}

int main(int argc, char **argv)
{
    size_t count;
    int status = 0;

    if (argc < 2 || argc > 3) {
        fprintf(stderr, "usage: zone_dump FILE [COUNT]\n");
        return 2;
    }
    tu_bed_point *points = read_points(argv[1], &count);
    const size_t each = argc == 3 ? strtoul(argv[2], NULL, 10) : count;
    if (points == NULL || each == 0) {
        fprintf(stderr, "zone_dump: no points in %s\n", argv[1]);
        status = 4;
    }
    for (size_t i = 0; status == 0 && i + each <= count; i += each)
        status = dump(points + i, each);
    free(points);
    return status;
}
