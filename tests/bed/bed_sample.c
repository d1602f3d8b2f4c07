/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bed_sample.c - beds for the tests of bed/. */
#include "bed_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

tu_bed_point *bed_grid(size_t columns, size_t rows, double step_mm, bed_formula *formula)
{
    tu_bed_point *points = malloc(columns * rows * sizeof *points);

    assert_non_null(points);
    for (size_t k = 0; k < columns * rows; k++) {
        const double x = step_mm * (double)(k % columns), y = step_mm * (double)(k / columns);
        points[k] = (tu_bed_point){x, y, formula(x, y)};
    }
    return points;
}

tu_bed_point *bed_scatter(uint64_t seed, size_t count, double width_mm, double depth_mm,
                          bed_formula *formula)
{
    tu_bed_point *points = malloc(count * sizeof *points);
    check_random random = check_random_seed(seed);

    assert_non_null(points);
    for (size_t k = 0; k < count; k++) {
        const double x = round(check_random_uniform(&random, 0, width_mm) * 1000) / 1000;
        const double y = round(check_random_uniform(&random, 0, depth_mm) * 1000) / 1000;
        points[k] = (tu_bed_point){x, y, formula(x, y)};
    }
    return points;
}

tu_bed_point *bed_points(const cJSON *root, const char *path, size_t *count)
{
    const cJSON *list = check_json_at(root, path);
    const cJSON *item;
    tu_bed_point *points;
    size_t i = 0;

    *count = (size_t)cJSON_GetArraySize(list);
    points = malloc(*count * sizeof *points);
    assert_non_null(points);
    cJSON_ArrayForEach(item, list)
    {
        points[i++] = (tu_bed_point){cJSON_GetArrayItem(item, 0)->valuedouble,
                                     cJSON_GetArrayItem(item, 1)->valuedouble,
                                     cJSON_GetArrayItem(item, 2)->valuedouble};
    }
    return points;
}

tu_bed_point *bed_volcano(size_t *count)
{
    cJSON *root = check_fixture_json("reference/r_volcano.json");
    double *z = check_json_numbers(root, "data.z", count);
    tu_bed_point *points = malloc(*count * sizeof *points);

    assert_non_null(points);
    for (size_t k = 0; k < *count; k++)
        points[k] = (tu_bed_point){10.0 * (double)(k % 87), 10.0 * (double)(k / 87), z[k]};
    free(z);
    cJSON_Delete(root);
    return points;
}

void bed_read_row(const char *heading, const char *name, double *figure, size_t count)
{
    char start[64];
    char *page = check_fixture_read("../docs/statistics.md", NULL);
    const char *at = strstr(page, heading);

    snprintf(start, sizeof start, "\n| %s |", name);
    at = at ? strstr(at, start) : NULL;
    if (!at)
        fail_msg("docs/statistics.md has no row of %s under %s", name, heading);
    at += strlen(start);
    for (size_t k = 0; k < count; k++) {
        const char *bar = strchr(at, '|'), *next = strchr(at, '\n');
        char *end;
        figure[k] = strtod(at, &end);
        if (!bar || bar > next)
            fail_msg("the row of %s ends before its figure %zu", name, k + 1);
        if (end == at)
            figure[k] = NAN;
        at = bar + 1;
    }
    free(page);
}

bed_model bed_model_of(const tu_bed_point *points, size_t count, bool mesh_only)
{
    const size_t bytes = tu_bed_model_bytes(count);
    bed_model made = {.memory = malloc(bytes)};
    tu_error error;

    assert_non_null(made.memory);
    memset(made.memory, 0x7f, bytes); /* what nobody wrote leads far away */
    check_status(
        tu_bed_model_start(points, count, mesh_only, made.memory, bytes, &made.model, &error),
        TU_OK, &error);
    return made;
}

void bed_model_free(bed_model *model)
{
    free(model->memory);
    model->memory = NULL;
}

double bed_flat(double x_mm, double y_mm)
{
    (void)x_mm;
    (void)y_mm;
    return 0;
}

double bed_tilted(double x_mm, double y_mm)
{
    return 1 + 0.001 * x_mm - 0.0005 * y_mm;
}

double bed_bowl(double x_mm, double y_mm)
{
    return ((x_mm - 400) * (x_mm - 400) + (y_mm - 300) * (y_mm - 300)) / 1e6;
}

double bed_saddle(double x_mm, double y_mm)
{
    return (x_mm - 400) * (y_mm - 300) / 1e5;
}

double bed_ridge(double x_mm, double y_mm)
{
    (void)y_mm;
    return 1 - fabs(x_mm - 400) / 400;
}
