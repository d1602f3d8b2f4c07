/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene.c - an empty table, and the height of its bed.
 */
#include "trueup/scene.h"

#include <math.h>

tu_scene tu_scene_start(void)
{
    return (tu_scene){.rapid_mm_per_min = 3000.0,
                      .seat = TU_SEAT_STOCK,
                      .clip_on = true,
                      .turned_within_rad = NAN,
                      .seed = 1,
                      .machine = tu_machine_start(),
                      .plate = tu_plate_start(),
                      .cutter = tu_cutter_start()};
}

/* The map's value inside its rectangle; 0 outside, so that a map may cover a part of the bed. */
static double map_height(const tu_bed_surface *bed, double x_mm, double y_mm)
{
    double column = (x_mm - bed->map_x0_mm) / bed->map_dx_mm;
    double row = (y_mm - bed->map_y0_mm) / bed->map_dy_mm;
    if (bed->columns < 2 || bed->rows < 2 || !(column >= 0.0 && row >= 0.0) ||
        column > (double)(bed->columns - 1) || row > (double)(bed->rows - 1))
        return 0.0;
    size_t i = (size_t)fmin(column, (double)(bed->columns - 2));
    size_t j = (size_t)fmin(row, (double)(bed->rows - 2));
    double u = column - (double)i;
    double v = row - (double)j;
    const double *front = &bed->map_mm[j * bed->columns + i];
    const double *back = front + bed->columns;
    return (1.0 - v) * ((1.0 - u) * front[0] + u * front[1]) +
           v * ((1.0 - u) * back[0] + u * back[1]);
}

double tu_bed_surface_height(const tu_bed_surface *bed, double x_mm, double y_mm)
{
    return bed->height_mm + bed->slope_x * x_mm + bed->slope_y * y_mm + map_height(bed, x_mm, y_mm);
}
