/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_detail.c - a contact enlarged, where the plan shows the cutter too small to be judged.
 *
 * Drawn from the same numbers as the plan: the wall by the zero and the offset, the cutter by the
 * touch.
 */
#include "report/zero/drawing_plan.h"

#include <math.h>
#include <stdio.h>

#define SMALL_RADIUS_MM  2.5
#define DETAIL_RADIUS_MM 6.0
#define HALF_WALL_MM     9.0

static void draw_detail(tu_drawing *drawing, const tu_plan *plan, int axis, tu_svg_point centre)
{
    const tu_plan_axis *own = &plan->axis[axis];
    double real_radius = own->radius / plan->scale;
    double scale = tu_drawing_scale_at(tu_drawing_scale_count() - 1);
    for (size_t i = 0; i < tu_drawing_scale_count(); i++) {
        scale = tu_drawing_scale_at(i);
        if (real_radius * scale <= DETAIL_RADIUS_MM)
            break;
    }
    int normal = own->inward ? -1 : 1;
    double gap = (own->contact[0].u - own->offset) / plan->scale * scale;
    tu_svg_point u =
        axis == TU_AXIS_X ? (tu_svg_point){own->sign, 0} : (tu_svg_point){0, -own->sign};
    tu_svg_point along = tu_drawing_normal(u);
    tu_svg_point face = tu_drawing_add(centre, u, -normal * 2.0);
    tu_svg_point a = tu_drawing_add(face, along, -HALF_WALL_MM);
    tu_svg_point b = tu_drawing_add(face, along, HALF_WALL_MM);
    tu_svg_point body[4] = {a, b, tu_drawing_add(b, u, -normal * TU_PLAN_WALL_MM),
                            tu_drawing_add(a, u, -normal * TU_PLAN_WALL_MM)};
    tu_svg_polygon(&drawing->svg, NULL, "wall", body, 4);
    tu_svg_line(&drawing->svg, NULL, "face", a, b);
    /* A cutter far from its wall would leave the detail: it is then shown at the detail's rim. */
    tu_svg_point at = tu_drawing_add(face, u, fmax(-14, fmin(14, gap)));
    double radius = real_radius * scale;
    tu_svg_circle(&drawing->svg, NULL, "cutter", at, radius);
    tu_drawing_centre_mark(drawing, at, radius, u);
    tu_drawing_touch(drawing, NULL, tu_drawing_add(at, u, -normal * radius), radius);
    char text[TU_DRAWING_TEXT_SIZE];
    snprintf(text, sizeof text, "touch %c, %s", "XY"[axis], tu_drawing_scale(scale).text);
    tu_drawing_note(drawing, centre.x_mm, centre.y_mm - 14, TU_SVG_MIDDLE, "strong", text);
}

size_t tu_drawing_details(tu_drawing *drawing, tu_svg_box window, const tu_plan *plan)
{
    size_t count = 0;
    for (int axis = 0; axis < 2; axis++) {
        const tu_plan_axis *own = &plan->axis[axis];
        if (!own->drawn || own->bore || !(own->radius < SMALL_RADIUS_MM))
            continue;
        double quarter = (window.right - window.left) / 4;
        tu_svg_point centre = {window.left + quarter * (count == 0 ? 1 : 3), window.top + 17};
        tu_svg_group_open(&drawing->svg, axis == 0 ? "detail-x" : "detail-y");
        draw_detail(drawing, plan, axis, centre);
        tu_svg_group_close(&drawing->svg);
        count++;
    }
    return count;
}
