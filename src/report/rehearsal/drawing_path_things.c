/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_path_things.c - bed, stock, plate and blocks in a view of a rehearsed path, from the very
 * solids that the cutter was moved against.
 */
#include "report/rehearsal/drawing_path.h"

#include <math.h>

enum { RING = TU_PATH_CORNERS };

typedef enum kind { STOCK, SLAB, WALL, LIP, BLOCK } kind;

static kind kind_of(const tu_path_view *view, size_t index)
{
    const tu_solids *solids = view->solids;
    const tu_scene *scene = view->story->scene;
    size_t first_part = scene->stock_present ? 2 : 1;
    if (index >= solids->count - scene->block_count)
        return BLOCK;
    if (index < first_part)
        return STOCK;
    if (index == first_part)
        return SLAB;
    const tu_prism *slab = &solids->solid[first_part].prism;
    return solids->solid[index].prism.high_mm > slab->high_mm ? WALL : LIP;
}

/* The outline of a prism in the view: its polygon, or from the side a rectangle. */
static void outline_of(const tu_path_view *view, const tu_prism *prism,
                       tu_svg_point corners[TU_PRISM_CORNERS])
{
    if (view->up != TU_AXIS_Z) {
        for (int i = 0; i < TU_PRISM_CORNERS; i++) {
            tu_machine_plane_point c = prism->outline.corner[i];
            corners[i] = tu_path_view_spot(view, (tu_machine_point){c.x, c.y, 0});
        }
        return;
    }
    tu_machine_plane_point c = prism->outline.corner[0];
    tu_machine_point low = {c.x, c.y, prism->low_mm}, high = {c.x, c.y, prism->high_mm};
    for (int i = 1; i < TU_PRISM_CORNERS; i++) {
        c = prism->outline.corner[i];
        low.x = fmin(low.x, c.x), low.y = fmin(low.y, c.y);
        high.x = fmax(high.x, c.x), high.y = fmax(high.y, c.y);
    }
    tu_svg_point a = tu_path_view_spot(view, low), b = tu_path_view_spot(view, high);
    corners[0] = a;
    corners[1] = (tu_svg_point){b.x_mm, a.y_mm};
    corners[2] = b;
    corners[3] = (tu_svg_point){a.x_mm, b.y_mm};
}

static void draw_edges(tu_path_view *view, const char *css,
                       const tu_svg_point corners[TU_PRISM_CORNERS])
{
    for (int i = 0; i < TU_PRISM_CORNERS; i++)
        tu_path_view_line(view, css, corners[i], corners[(i + 1) % TU_PRISM_CORNERS]);
}

/* Through the plate one sees what lies under it; from the side its two edges are hidden. */
static void draw_hole(tu_path_view *view, const tu_prism *prism)
{
    double r = prism->hole_radius_mm;
    if (!(r > 0))
        return;
    if (view->up != TU_AXIS_Z) {
        tu_svg_point rim[RING];
        for (int i = 0; i < RING; i++) {
            double angle = 2 * M_PI * i / RING;
            rim[i] = tu_path_view_spot(view, (tu_machine_point){prism->hole.x + r * cos(angle),
                                                                prism->hole.y + r * sin(angle), 0});
        }
        tu_svg_point centre =
            tu_path_view_spot(view, (tu_machine_point){prism->hole.x, prism->hole.y, 0});
        bool whole = true;
        for (int i = 0; i < RING; i++)
            whole = whole && tu_path_view_shows(view, rim[i]);
        if (whole)
            tu_svg_circle(&view->drawing->svg, NULL, "under", centre, r * view->scale[0]);
        else
            tu_path_view_fill(view, "under", rim, RING);
        if (tu_path_view_shows(view, centre))
            tu_drawing_centre_mark(view->drawing, centre, r * view->scale[0], (tu_svg_point){1, 0});
        return;
    }
    for (int side = -1; side <= 1; side += 2) {
        tu_machine_point at = {prism->hole.x + side * r, prism->hole.y + side * r, prism->low_mm};
        tu_svg_point low = tu_path_view_spot(view, at);
        at.z = prism->high_mm;
        tu_path_view_line(view, "hidden", low, tu_path_view_spot(view, at));
    }
}

/* The middle of what the window shows of a range; not a number: nothing. */
static double shown_middle(double a, double b, double low, double high)
{
    double from = fmax(fmin(a, b), low), to = fmin(fmax(a, b), high);
    return from < to ? (from + to) / 2 : NAN;
}

/* A block: its faces crossed by diagonals, so that it is no stock and no plate. */
static void draw_block(tu_path_view *view, const char *name,
                       const tu_svg_point corners[TU_PRISM_CORNERS])
{
    tu_path_view_fill(view, "block", corners, TU_PRISM_CORNERS);
    tu_path_view_line(view, "thin", corners[0], corners[2]);
    tu_path_view_line(view, "thin", corners[1], corners[3]);
    draw_edges(view, "thick", corners);
    const tu_svg_box *w = &view->window;
    tu_svg_point middle = {shown_middle(corners[0].x_mm, corners[2].x_mm, w->left, w->right),
                           shown_middle(corners[0].y_mm, corners[2].y_mm, w->top, w->bottom)};
    double half = tu_svg_text_width(name, TU_DRAWING_NOTE_MM) / 2 + 1;
    tu_svg_point left = {middle.x_mm - half, middle.y_mm},
                 right = {middle.x_mm + half, middle.y_mm};
    tu_svg_text_style style = {TU_DRAWING_NOTE_MM, TU_SVG_MIDDLE, 0, NULL};
    if (!tu_path_view_shows(view, left) || !tu_path_view_shows(view, right))
        return;
    double breadth = fabs(corners[2].x_mm - corners[0].x_mm);
    double half_height = fabs(corners[2].y_mm - corners[0].y_mm) / 2;
    tu_svg_point below = {middle.x_mm, middle.y_mm + half_height + 3};
    if (breadth > 2 * half)
        tu_drawing_label(view->drawing, middle, style, name);
    else if (view->up != TU_AXIS_Z && tu_path_view_shows(view, below))
        tu_drawing_label(view->drawing, below, style, name);
}

static void draw_solid(tu_path_view *view, size_t index)
{
    static const char *const fills[] = {
        [STOCK] = "stock", [SLAB] = "plate", [WALL] = "wall", [LIP] = "plate"};
    static const char *const edges[] = {
        [STOCK] = "thick", [SLAB] = "thin", [WALL] = "thick", [LIP] = "thin"};
    const tu_solid *solid = &view->solids->solid[index];
    kind k = kind_of(view, index);
    tu_svg_point corners[TU_PRISM_CORNERS];
    outline_of(view, &solid->prism, corners);
    if (k == BLOCK) {
        draw_block(view, solid->name, corners);
        return;
    }
    if (k == LIP && view->up != TU_AXIS_Z)
        return; /* under the slab */
    tu_path_view_fill(view, fills[k], corners, TU_PRISM_CORNERS);
    draw_edges(view, edges[k], corners);
    if (k == SLAB)
        draw_hole(view, &solid->prism);
}

/* In the plan the stock's edges show through the plate that lies on it. */
static void draw_hidden_stock(tu_path_view *view)
{
    tu_svg_point corners[TU_PRISM_CORNERS];
    if (view->up == TU_AXIS_Z || !view->story->scene->stock_present ||
        !view->story->scene->plate_present)
        return;
    outline_of(view, &view->solids->solid[1].prism, corners);
    draw_edges(view, "hidden", corners);
}

/* --- The bed --- */

/* A thick line with strokes under it, as ground is drawn; where the middle of the view cuts it. */
static void draw_bed(tu_path_view *view)
{
    enum { STEPS = 48 };
    const tu_bed_surface *bed = &view->story->scene->bed;
    const tu_svg_box *w = &view->window;
    double half = (w->right - w->left) / 2 / view->scale[0];
    tu_machine_point at = view->story->result.at;
    tu_svg_point before = {0, 0};
    if (view->up != TU_AXIS_Z)
        return;
    for (int i = 0; i <= STEPS; i++) {
        double place = view->middle_mm[0] + half * (2.0 * i / STEPS - 1);
        if (view->across == TU_AXIS_X)
            at.x = place;
        else
            at.y = place;
        at.z = tu_bed_surface_height(bed, at.x, at.y);
        tu_svg_point spot = tu_path_view_spot(view, at);
        if (i > 0) {
            tu_path_view_line(view, "thick", before, spot);
            tu_path_view_line(view, "thin", spot, (tu_svg_point){spot.x_mm - 1.6, spot.y_mm + 1.6});
        }
        before = spot;
    }
}

void tu_path_view_things(tu_path_view *view)
{
    size_t blocks = view->solids->count - view->story->scene->block_count;
    draw_bed(view);
    for (size_t i = 1; i < blocks; i++)
        draw_solid(view, i);
    draw_hidden_stock(view);
    for (size_t i = blocks; i < view->solids->count; i++)
        draw_solid(view, i);
}
