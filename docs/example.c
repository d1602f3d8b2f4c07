/* SPDX-License-Identifier: GPL-3.0-or-later */
/* example.c - a work offset from three touches; docs/library.md explains it and shows what it prints. */
#include <trueup/zero.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

int main(int argc, char **argv)
{
    const tu_touch touches[] = {tu_touch_start(134.89, NAN, 0), tu_touch_start(134.90, NAN, 0),
                                tu_touch_start(134.91, NAN, 0)};
    tu_plate plate = tu_plate_start();
    plate.wall[0].present = true;
    plate.wall[0].offset = tu_quantity_mm(5.2, 0.02);
    tu_cutter cutter = tu_cutter_start();
    strcpy(cutter.name, "pin");
    cutter.diameter = tu_quantity_mm(8.0, 0.01);
    tu_zero_request request = tu_zero_request_start();
    request.plate = &plate;
    request.cutter = &cutter;
    request.touches[TU_AXIS_X].single = touches;
    request.touches[TU_AXIS_X].single_count = 3;
    tu_zero_result result;
    tu_error error;
    if (tu_target_parse(argc > 1 ? argv[1] : "left", &request.target, &error) ||
        tu_zero_solve(&request, &result, &error)) {
        fprintf(stderr, "%s: %s\n", error.where, error.message);
        return tu_status_exit_code(error.status);
    }
    const tu_axis_zero *x = &result.axis[TU_AXIS_X];
    printf("X %.3f mm, give or take %.3f mm\n", x->zero_mm, x->uncertainty.expanded_mm);
    for (size_t i = 0; i < result.warnings.count; i++)
        printf("warning: %s\n", result.warnings.text[i]);
    return 0;
}
