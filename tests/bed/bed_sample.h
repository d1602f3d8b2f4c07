/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_sample.h - beds for the tests of bed/: grids over a formula, R's volcano, models with their
 * memory.
 */
#ifndef TRUEUP_TESTS_BED_SAMPLE_H
#define TRUEUP_TESTS_BED_SAMPLE_H

#include "check.h"

#include "trueup/bed.h"

typedef double bed_formula(double x_mm, double y_mm);

/* columns by rows points, row by row from (x0, y0) in steps; free it. */
tu_bed_point *bed_grid(size_t columns, size_t rows, double step_mm, bed_formula *formula);
/* Points at random in 0..width, 0..depth, to a thousandth; free it. */
tu_bed_point *bed_scatter(uint64_t seed, size_t count, double width_mm, double depth_mm,
                          bed_formula *formula);
/* The points at path of a fixture, each a list of x, y, z; free them. */
tu_bed_point *bed_points(const cJSON *root, const char *path, size_t *count);
/* R's volcano, 87 by 61, step 10 mm, heights as mm; free it. */
tu_bed_point *bed_volcano(size_t *count);

/* The figures after the name that begins a row of a table of docs/statistics.md, under the heading;
 * NaN: an empty cell. Ends the test where there is no such row. */
void bed_read_row(const char *heading, const char *name, double *figure, size_t count);

/* A model with its memory; ends the test where it does not come about. */
typedef struct bed_model {
    tu_bed_model model;
    void *memory;
} bed_model;

bed_model bed_model_of(const tu_bed_point *points, size_t count, bool mesh_only);
void bed_model_free(bed_model *model);

/* Ready-made formulas, x and y from 0. */
double bed_flat(double x_mm, double y_mm);
double bed_tilted(double x_mm, double y_mm); /* 1 + 0.001 x - 0.0005 y */
double bed_bowl(double x_mm, double y_mm);   /* ((x - 400)^2 + (y - 300)^2) / 1e6 */
double bed_saddle(double x_mm, double y_mm); /* (x - 400) (y - 300) / 1e5 */
double bed_ridge(double x_mm, double y_mm);  /* 1 - |x - 400| / 400 */

#endif
