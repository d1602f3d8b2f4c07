/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sample_setup.c - a request for a zero to start from in tests.
 */
#include "sample_setup.h"

#include "check.h"

#include <math.h>
#include <string.h>

void sample_start(sample_setup *setup, const char *target)
{
    memset(setup, 0, sizeof *setup);
    setup->plate = tu_plate_start();
    strcpy(setup->plate.name, "offcut");
    setup->plate.thickness = tu_quantity_mm(9.53, 0.02);
    for (int i = 0; i < 2; i++) {
        tu_wall *wall = &setup->plate.wall[i];
        wall->present = true;
        wall->offset = tu_quantity_mm(i == 0 ? 6.35 : 6.40, 0.02);
        wall->touch_depth = tu_quantity_mm(5, NAN);
    }
    setup->cutter = tu_cutter_start();
    strcpy(setup->cutter.name, "pin");
    setup->cutter.diameter = tu_quantity_mm(6.35, 0.01);
    setup->request = tu_zero_request_start();
    tu_zero_request *request = &setup->request;
    check_status(tu_target_parse(target, &request->target, &setup->error), TU_OK, &setup->error);
    request->machine.step_mm = 0.0125;
    memcpy(request->machine.travel_low_mm, (double[]){0, 0, -120}, 3 * sizeof(double));
    memcpy(request->machine.travel_high_mm, (double[]){1200, 800, 0}, 3 * sizeof(double));
    request->plate = &setup->plate;
    request->cutter = &setup->cutter;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        request->touches[axis].single = setup->touch[axis];
        request->touches[axis].low = setup->touch[axis];
        request->touches[axis].high = setup->high[axis];
    }
}

void sample_ring(sample_setup *setup)
{
    memset(setup->plate.wall, 0, sizeof setup->plate.wall);
    strcpy(setup->plate.name, "ring");
    setup->plate.thickness = tu_quantity_mm(10, NAN);
    setup->plate.bore = (tu_bore){.present = true,
                                  .diameter = tu_quantity_mm(25, 0.02),
                                  .centre = {tu_quantity_mm(-20, 0.03), tu_quantity_mm(-20, 0.03)},
                                  .touch_depth = tu_quantity_none()};
}

void sample_touch(sample_setup *setup, tu_axis axis, double position_mm, double across_mm)
{
    tu_axis_touches *touches = &setup->request.touches[axis];
    assert_true(touches->single_count < SAMPLE_TOUCHES);
    setup->touch[axis][touches->single_count++] = tu_touch_start(position_mm, across_mm, 0);
}

void sample_chord(sample_setup *setup, tu_axis axis, double low_mm, double high_mm,
                  double across_mm)
{
    tu_axis_touches *touches = &setup->request.touches[axis];
    assert_true(touches->low_count < SAMPLE_TOUCHES);
    setup->touch[axis][touches->low_count++] = tu_touch_start(low_mm, across_mm, 0);
    setup->high[axis][touches->high_count++] = tu_touch_start(high_mm, across_mm, 0);
}

tu_status sample_solve(sample_setup *setup)
{
    return tu_zero_solve(&setup->request, &setup->result, &setup->error);
}

bool sample_warned(const sample_setup *setup, const char *part)
{
    for (size_t i = 0; i < setup->result.warnings.count; i++)
        if (strstr(setup->result.warnings.text[i], part) != NULL)
            return true;
    return false;
}
