/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_path.c - what a view of a rehearsed path shows, its scale, and cutting off at its window.
 */
#include "report/rehearsal/drawing_path.h"

#include <math.h>

#define EDGE_MM    9.0  /* paper kept round what must be seen */
#define FLAT_MM    14.0 /* heights that come out lower than this are enlarged */
#define DIG_MM     6.0  /* real: of what lies under the plate */
#define NEAR_BED   25.0 /* real: a bed no further below is shown */
#define LEAST_SPAN 1.0  /* real: a path that does not move along an axis */

typedef struct span {
    double low, high;
} span;

static double along(tu_machine_point point, tu_axis axis)
{
    return axis == TU_AXIS_X ? point.x : axis == TU_AXIS_Y ? point.y : point.z;
}

static void include(span *s, double low, double high)
{
    s->low = fmin(s->low, low);
    s->high = fmax(s->high, high);
}

/* Where the path goes, and the plate that it is about. */
static span span_of(const tu_path_view *view, tu_axis axis)
{
    const tu_rehearsal_story *story = view->story;
    double radius = axis == TU_AXIS_Z ? 0 : story->scene->cutter.diameter.value_mm / 2;
    double start = along(story->scene->start, axis), at = along(story->result.at, axis);
    span s = {start - radius, start + radius};
    include(&s, at - radius, at + radius);
    for (size_t i = 0; i < story->move_count; i++) {
        double to = along(story->moves[i].to, axis);
        include(&s, to - radius, to + radius);
    }
    for (size_t i = 0; i < view->solids->count; i++) {
        const tu_solid *solid = &view->solids->solid[i];
        if (solid->bed != NULL || !solid->conducts)
            continue;
        if (axis == TU_AXIS_Z)
            include(&s, solid->prism.low_mm - DIG_MM, solid->prism.high_mm);
        for (int c = 0; axis != TU_AXIS_Z && c < TU_PRISM_CORNERS; c++) {
            tu_machine_plane_point corner = solid->prism.outline.corner[c];
            double place = axis == TU_AXIS_X ? corner.x : corner.y;
            include(&s, place, place);
        }
    }
    if (axis == TU_AXIS_Z) {
        double bed =
            tu_bed_surface_height(&story->scene->bed, story->result.at.x, story->result.at.y);
        if (bed < s.low && bed > s.low - NEAR_BED)
            include(&s, bed - 1, bed);
    }
    if (s.high - s.low < LEAST_SPAN)
        include(&s, s.low - LEAST_SPAN / 2, s.high + LEAST_SPAN / 2);
    return s;
}

/* The largest scale at which a length fits. */
static double fitting_scale(double length_mm, double room_mm)
{
    for (size_t i = 0; i < tu_drawing_scale_count(); i++) {
        double scale = tu_drawing_scale_at(i);
        if (scale <= 2 && length_mm * scale <= room_mm)
            return scale;
    }
    return tu_drawing_scale_at(tu_drawing_scale_count() - 1);
}

/* How much more than across heights are enlarged: not at all where they can be seen. */
static double enlargement(double height_mm, double scale, double room_mm)
{
    static const double factors[] = {200, 100, 50, 20, 10, 5, 2};
    if (height_mm * scale >= FLAT_MM)
        return 1;
    for (size_t i = 0; i < sizeof factors / sizeof factors[0]; i++)
        if (height_mm * scale * factors[i] <= room_mm)
            return factors[i];
    return 1;
}

void tu_path_view_lay_out(tu_path_view *view)
{
    span across = span_of(view, view->across), up = span_of(view, view->up);
    double width = view->window.right - view->window.left - 2 * EDGE_MM;
    double height = view->window.bottom - view->window.top - 2 * EDGE_MM;
    double scale = fitting_scale(across.high - across.low, width);
    double factor = view->up == TU_AXIS_Z ? enlargement(up.high - up.low, scale, height) : 1;
    scale = fmin(scale, fitting_scale(up.high - up.low, height / factor));
    view->scale[0] = scale;
    view->scale[1] = scale * factor;
    view->middle_mm[0] = (across.low + across.high) / 2;
    view->middle_mm[1] = (up.low + up.high) / 2;
}

tu_svg_point tu_path_view_spot(const tu_path_view *view, tu_machine_point at)
{
    const tu_svg_box *w = &view->window;
    return (tu_svg_point){
        (w->left + w->right) / 2 + (along(at, view->across) - view->middle_mm[0]) * view->scale[0],
        (w->top + w->bottom) / 2 - (along(at, view->up) - view->middle_mm[1]) * view->scale[1]};
}

bool tu_path_view_shows(const tu_path_view *view, tu_svg_point at)
{
    const tu_svg_box *w = &view->window;
    return at.x_mm >= w->left && at.x_mm <= w->right && at.y_mm >= w->top && at.y_mm <= w->bottom;
}

/* --- Cutting off --- */

/* Liang and Barsky, "A new concept and method for line clipping", ACM TOG 3 (1984): narrows the
 * part [t0, t1] of a line to one side of an edge. */
static bool narrow(double speed, double room, double *t0, double *t1)
{
    if (speed < 0)
        *t0 = fmax(*t0, room / speed);
    else if (speed > 0)
        *t1 = fmin(*t1, room / speed);
    else
        return room >= 0;
    return *t0 <= *t1;
}

bool tu_path_view_clip(const tu_path_view *view, tu_svg_point *a, tu_svg_point *b)
{
    const tu_svg_box *w = &view->window;
    double dx = b->x_mm - a->x_mm, dy = b->y_mm - a->y_mm, t0 = 0, t1 = 1;
    if (!narrow(-dx, a->x_mm - w->left, &t0, &t1) || !narrow(dx, w->right - a->x_mm, &t0, &t1) ||
        !narrow(-dy, a->y_mm - w->top, &t0, &t1) || !narrow(dy, w->bottom - a->y_mm, &t0, &t1))
        return false;
    tu_svg_point from = *a;
    *a = (tu_svg_point){from.x_mm + t0 * dx, from.y_mm + t0 * dy};
    *b = (tu_svg_point){from.x_mm + t1 * dx, from.y_mm + t1 * dy};
    return true;
}

void tu_path_view_line(tu_path_view *view, const char *css, tu_svg_point a, tu_svg_point b)
{
    if (tu_path_view_clip(view, &a, &b))
        tu_svg_line(&view->drawing->svg, NULL, css, a, b);
}

/* Sutherland and Hodgman, "Reentrant polygon clipping", CACM 17 (1974), against one edge: what
 * lies on the side where `inside` is not below 0 stays. */
static size_t cut(const tu_svg_point *in, size_t count, tu_svg_point normal, double reach,
                  tu_svg_point *out)
{
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        tu_svg_point a = in[i], b = in[(i + 1) % count];
        double inside_a = reach - normal.x_mm * a.x_mm - normal.y_mm * a.y_mm;
        double inside_b = reach - normal.x_mm * b.x_mm - normal.y_mm * b.y_mm;
        if (inside_a >= 0)
            out[used++] = a;
        if ((inside_a >= 0) != (inside_b >= 0)) {
            double t = inside_a / (inside_a - inside_b);
            out[used++] =
                (tu_svg_point){a.x_mm + t * (b.x_mm - a.x_mm), a.y_mm + t * (b.y_mm - a.y_mm)};
        }
    }
    return used;
}

void tu_path_view_fill(tu_path_view *view, const char *css, const tu_svg_point *corners,
                       size_t count)
{
    const tu_svg_box *w = &view->window;
    const tu_svg_point normals[4] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    const double reaches[4] = {w->right, -w->left, w->bottom, -w->top};
    /* each edge of the window adds a corner at most */
    tu_svg_point shape[2][TU_PATH_CORNERS + 4];
    size_t used = count < TU_PATH_CORNERS ? count : TU_PATH_CORNERS;
    for (size_t i = 0; i < used; i++)
        shape[0][i] = corners[i];
    for (int edge = 0; edge < 4; edge++)
        used = cut(shape[edge % 2], used, normals[edge], reaches[edge], shape[1 - edge % 2]);
    if (used > 2)
        tu_svg_polygon(&view->drawing->svg, NULL, css, shape[0], used);
}
