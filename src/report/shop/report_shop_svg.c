/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_shop_svg.c - the table drawn: one A4 page with the stock and what stands on it from above,
 * the machine's travel, a title block. docs/drawing.md tells what each line and symbol means.
 */
#include "report/drawing/drawing.h"
#include "report/drawing/page.h"
#include "trueup/report_shop.h"

#include <math.h>

/* Beside the set-up drawing's. */
static const char shop_css[] = ".block{fill:#e6e6e6;stroke:none}\n"
                               ".corner{fill:#000;stroke:none}\n";

static const tu_svg_box frame = TU_PAGE_FRAME;
#define TRAVEL_TOP_MM 172.0
#define TITLE_TOP_MM  250.0
#define KEY_LEFT_MM   140.0
#define ROW_MM        4.8
#define DIMENSION_MM  9.0  /* from what is measured to its dimension line */
#define MARGIN_MM     17.0 /* around what is drawn to scale */

typedef struct sheet {
    tu_drawing drawing;
    const tu_shop *shop;
    tu_machine machine;
    tu_stock stock;
    const tu_table *table;
} sheet;

/* A plan to scale: millimetres of the frame onto the page, y up there and down here. */
typedef struct view {
    tu_svg_box window, real; /* real: bottom is the smaller y */
    double scale;
    tu_svg_point origin;
} view;

static const tu_svg_point right = {1, 0}, up = {0, -1}, left = {-1, 0}, down = {0, 1};

static tu_svg_point spot(const view *v, double x, double y)
{
    return (tu_svg_point){v->origin.x_mm + x * v->scale, v->origin.y_mm - y * v->scale};
}

static void reach(tu_svg_box *box, double x, double y)
{
    box->left = fmin(box->left, x); /* fmin and fmax leave NaN out */
    box->right = fmax(box->right, x);
    box->bottom = fmin(box->bottom, y);
    box->top = fmax(box->top, y);
}

/* The box of what is known in a frame; false when that is nothing. */
static bool measure(const sheet *s, tu_frame of, view *v)
{
    v->real = (tu_svg_box){INFINITY, -INFINITY, -INFINITY, INFINITY};
    if (of == TU_FRAME_STOCK && tu_quantity_is_stated(s->stock.size[TU_AXIS_X]) &&
        tu_quantity_is_stated(s->stock.size[TU_AXIS_Y])) {
        reach(&v->real, 0, 0);
        reach(&v->real, s->stock.size[TU_AXIS_X].value_mm, s->stock.size[TU_AXIS_Y].value_mm);
    }
    if (of == TU_FRAME_MACHINE) {
        reach(&v->real, s->machine.travel_low_mm[TU_AXIS_X], s->machine.travel_low_mm[TU_AXIS_Y]);
        reach(&v->real, s->machine.travel_high_mm[TU_AXIS_X], s->machine.travel_high_mm[TU_AXIS_Y]);
    }
    for (size_t i = 0; i < s->table->thing_count; i++) {
        const tu_thing *thing = &s->table->things[i];
        if (thing->frame != of)
            continue;
        reach(&v->real, thing->from.x, thing->from.y);
        reach(&v->real, thing->to.x, thing->to.y);
    }
    return v->real.left < v->real.right && v->real.bottom < v->real.top;
}

static void lay_out(view *v)
{
    double width = v->real.right - v->real.left, height = v->real.top - v->real.bottom;
    for (size_t i = 0; i < tu_drawing_scale_count(); i++) {
        v->scale = tu_drawing_scale_at(i);
        if (width * v->scale <= v->window.right - v->window.left - 2 * MARGIN_MM &&
            height * v->scale <= v->window.bottom - v->window.top - 2 * MARGIN_MM)
            break;
    }
    v->origin = (tu_svg_point){
        (v->window.left + v->window.right - (v->real.left + v->real.right) * v->scale) / 2,
        (v->window.top + v->window.bottom + (v->real.bottom + v->real.top) * v->scale) / 2};
}

static void corners_of(const view *v, double x0, double y0, double x1, double y1,
                       tu_svg_point corners[4])
{
    corners[0] = spot(v, x0, y0);
    corners[1] = spot(v, x1, y0);
    corners[2] = spot(v, x1, y1);
    corners[3] = spot(v, x0, y1);
}

/* Sizes below and to the left of all that the view shows. */
static void draw_size(sheet *s, const view *v, const tu_svg_point corners[4], double x_mm,
                      double y_mm)
{
    double below = spot(v, 0, v->real.bottom).y_mm + DIMENSION_MM;
    double beside = spot(v, v->real.left, 0).x_mm - DIMENSION_MM;
    tu_drawing_dimension dimensions[2] = {{.a = {corners[0].x_mm, below},
                                           .b = {corners[1].x_mm, below},
                                           .from_a = tu_drawing_add(corners[0], down, 1),
                                           .from_b = tu_drawing_add(corners[1], down, 1)},
                                          {.a = {beside, corners[0].y_mm},
                                           .b = {beside, corners[3].y_mm},
                                           .from_a = tu_drawing_add(corners[0], left, 1),
                                           .from_b = tu_drawing_add(corners[3], left, 1)}};
    for (int i = 0; i < 2; i++) {
        tu_figure size = tu_drawing_length(&s->drawing, i ? y_mm : x_mm);
        dimensions[i].text = size.text;
        tu_drawing_dimension_lines(&s->drawing, &dimensions[i]);
        tu_drawing_dimension_text(&s->drawing, &dimensions[i]);
    }
}

/* --- Things --- */

static void draw_thing(sheet *s, const view *v, const tu_thing *thing)
{
    tu_svg *svg = &s->drawing.svg;
    tu_svg_point c[4];
    corners_of(v, thing->from.x, thing->from.y, thing->to.x, thing->to.y, c);
    tu_svg_point centre = {(c[0].x_mm + c[2].x_mm) / 2, (c[0].y_mm + c[2].y_mm) / 2};
    tu_drawing_take_room(&s->drawing, (tu_drawing_room){centre, right, c[2].x_mm - centre.x_mm,
                                                        centre.y_mm - c[2].y_mm});
    if (thing->round) {
        double radius = thing->diameter_mm / 2 * v->scale;
        tu_svg_circle(svg, NULL, "block", centre, radius);
        tu_svg_circle(svg, NULL, "thick", centre, radius);
        tu_drawing_centre_mark(&s->drawing, centre, radius, right);
        return;
    }
    tu_drawing_block(&s->drawing, c);
}

/* An edge that no name should lie on. */
static void draw_outline(sheet *s, const char *id, const char *css, const tu_svg_point c[4])
{
    tu_svg_polygon(&s->drawing.svg, id, css, c, 4);
    for (int i = 0; i < 4; i++) {
        tu_svg_point a = c[i], b = c[(i + 1) % 4];
        tu_svg_point middle = {(a.x_mm + b.x_mm) / 2, (a.y_mm + b.y_mm) / 2};
        tu_drawing_take_room(&s->drawing,
                             (tu_drawing_room){middle, tu_drawing_direction(a, b, right),
                                               tu_drawing_distance(a, b) / 2, 0.3});
    }
}

/* Its name and how high it stands, inside where there is room, else beside it. */
static void name_thing(sheet *s, const view *v, const tu_thing *thing)
{
    char text[TU_NAME_SIZE + sizeof(tu_figure) + 16];
    snprintf(text, sizeof text, "%s, up to %s", thing->name,
             tu_drawing_length(&s->drawing, thing->to.z).text);
    tu_svg_point low = spot(v, thing->from.x, thing->from.y);
    tu_svg_point high = spot(v, thing->to.x, thing->to.y);
    tu_svg_point middle = {(low.x_mm + high.x_mm) / 2, (low.y_mm + high.y_mm) / 2};
    double width = tu_svg_text_width(text, TU_DRAWING_NOTE_MM) + 2;
    const double out = 2.5, across = (width + out) / 2;
    tu_svg_text_style style = {TU_DRAWING_NOTE_MM, TU_SVG_MIDDLE, 0, NULL};
    if (!thing->round && high.x_mm - low.x_mm > width) {
        tu_drawing_label(&s->drawing, middle, style, text);
        return;
    }
    const double centres[][2] = {
        /* where the name's middle goes, the best first */
        {middle.x_mm, high.y_mm - out},       {middle.x_mm, low.y_mm + out},
        {high.x_mm + across, middle.y_mm},    {low.x_mm - across, middle.y_mm},
        {low.x_mm + across, high.y_mm - out}, {high.x_mm - across, low.y_mm + out},
    };
    tu_drawing_place places[sizeof centres / sizeof centres[0]];
    size_t count = 0;
    for (size_t i = 0; i < sizeof centres / sizeof centres[0]; i++)
        if (centres[i][0] - width / 2 > v->window.left &&
            centres[i][0] + width / 2 < v->window.right)
            places[count++] = (tu_drawing_place){{centres[i][0], centres[i][1]}, TU_SVG_MIDDLE};
    if (!count) /* a name as wide as the page */
        places[count++] = (tu_drawing_place){middle, TU_SVG_MIDDLE};
    tu_drawing_label_free(&s->drawing, places, count, style, text);
}

static void draw_things(sheet *s, const view *v, tu_frame of)
{
    for (int names = 0; names <= 1; names++) /* so that no thing covers a name */
        for (size_t i = 0; i < s->table->thing_count; i++) {
            const tu_thing *thing = &s->table->things[i];
            if (thing->frame == of)
                (names ? name_thing : draw_thing)(s, v, thing);
        }
}

/* --- The stock --- */

/* Where the zero lies along an axis: at a face, or half way; NaN: the axis is left alone, or the
 * place of a round feature is not known. */
static double place_of(const tu_target *target, tu_axis axis, double size_mm)
{
    if (target->kind[axis] == TU_TARGET_MIDDLE)
        return size_mm / 2;
    return target->outward[axis] ? (target->outward[axis] > 0 ? size_mm : 0) : NAN;
}

/* The zero at its corner or middle, or the edge that a face's zero lies on. */
static void draw_target(sheet *s, const view *v)
{
    const tu_target *target = &s->table->target;
    double size_x = s->stock.size[TU_AXIS_X].value_mm, size_y = s->stock.size[TU_AXIS_Y].value_mm;
    double x = place_of(target, TU_AXIS_X, size_x), y = place_of(target, TU_AXIS_Y, size_y);
    if (isfinite(x) && isfinite(y)) {
        tu_svg_point at = spot(v, x, y);
        tu_drawing_work_axis(&s->drawing, NULL, at, right);
        tu_drawing_work_axis(&s->drawing, NULL, at, up);
        tu_drawing_zero(&s->drawing, "zero", at);
        tu_drawing_work_letter(&s->drawing, at, right, "X");
        tu_drawing_work_letter(&s->drawing, at, up, "Y");
    } else if (isfinite(x)) {
        tu_drawing_datum(&s->drawing, "zero", spot(v, x, size_y * 0.7), x > 0 ? right : left, "X0");
    } else if (isfinite(y)) {
        tu_drawing_datum(&s->drawing, "zero", spot(v, size_x * 0.7, y), y > 0 ? up : down, "Y0");
    }
}

/* Where the things are measured from. */
static void draw_corner(tu_drawing *drawing, tu_svg_point at)
{
    tu_svg_point triangle[3] = {at, tu_drawing_add(at, right, 4), tu_drawing_add(at, up, 4)};
    tu_svg_polygon(&drawing->svg, "corner", "corner", triangle, 3);
}

static void draw_front_arrow(sheet *s)
{
    tu_svg_point tip = {frame.right - 4, TRAVEL_TOP_MM - 2};
    tu_drawing_front_arrow(&s->drawing, tip);
    tu_svg_text_style style = {TU_DRAWING_NOTE_MM, TU_SVG_END, 0, NULL};
    tu_drawing_label(&s->drawing, (tu_svg_point){tip.x_mm - 3, tip.y_mm - 2.5}, style,
                     "front of the machine");
}

static void draw_heading(sheet *s, const view *v, const char *name, bool scaled)
{
    char text[TU_DRAWING_TEXT_SIZE];
    snprintf(text, sizeof text, "%s%s%s", name, scaled ? ", scale " : "",
             scaled ? tu_drawing_scale(v->scale).text : "");
    tu_drawing_heading(&s->drawing, v->window.left + 2, v->window.top + 4.5, text);
}

static void draw_stock(sheet *s)
{
    view v = {.window = {frame.left, frame.top, frame.right, TRAVEL_TOP_MM}};
    double x = s->stock.size[TU_AXIS_X].value_mm, y = s->stock.size[TU_AXIS_Y].value_mm;
    bool known = measure(s, TU_FRAME_STOCK, &v), sized = isfinite(x) && isfinite(y);
    tu_svg_group_open(&s->drawing.svg, "table");
    if (known)
        lay_out(&v);
    draw_heading(s, &v, "the table from above", known);
    if (known) {
        tu_svg_point c[4];
        if (sized) {
            corners_of(&v, 0, 0, x, y, c);
            tu_svg_polygon(&s->drawing.svg, "stock", "stock", c, 4);
            draw_outline(s, NULL, "thick", c);
            draw_size(s, &v, c, x, y);
        }
        draw_corner(&s->drawing, spot(&v, 0, 0));
        if (sized)
            draw_target(s, &v);
        draw_things(s, &v, TU_FRAME_STOCK);
    }
    if (!sized)
        tu_drawing_note(&s->drawing, frame.left + 2, frame.top + 9.5, TU_SVG_START, NULL,
                        "the stock's size is not stated");
    draw_front_arrow(s);
    tu_svg_group_close(&s->drawing.svg);
}

/* --- The travel --- */

static void draw_travel(sheet *s)
{
    view v = {.window = {frame.left, TRAVEL_TOP_MM, KEY_LEFT_MM, TITLE_TOP_MM}};
    const double *low = s->machine.travel_low_mm, *high = s->machine.travel_high_mm;
    bool known = measure(s, TU_FRAME_MACHINE, &v);
    bool sized = isfinite(low[TU_AXIS_X]) && isfinite(low[TU_AXIS_Y]);
    s->drawing.room_count = 0;
    tu_svg_group_open(&s->drawing.svg, "travel");
    if (known)
        lay_out(&v);
    draw_heading(s, &v, "travel", known);
    tu_drawing_note(&s->drawing, frame.left + 2, TRAVEL_TOP_MM + 9, TU_SVG_START, NULL,
                    sized ? "where the stock lies in it is not known here"
                          : "the travel in X and Y is not stated");
    if (sized) {
        tu_svg_point c[4];
        corners_of(&v, low[TU_AXIS_X], low[TU_AXIS_Y], high[TU_AXIS_X], high[TU_AXIS_Y], c);
        draw_outline(s, "reach", "axis", c);
        draw_size(s, &v, c, high[TU_AXIS_X] - low[TU_AXIS_X], high[TU_AXIS_Y] - low[TU_AXIS_Y]);
    }
    if (known)
        draw_things(s, &v, TU_FRAME_MACHINE);
    tu_svg_group_close(&s->drawing.svg);
}

/* --- Key and title block --- */

static void key_corner(tu_drawing *drawing, const char *css, double x, double y)
{
    (void)css;
    draw_corner(drawing, (tu_svg_point){x + 3, y + 1.8});
}

static void key_zero(tu_drawing *drawing, const char *css, double x, double y)
{
    (void)css;
    tu_drawing_zero(drawing, NULL, (tu_svg_point){x + 5, y});
}

static void key_thing(tu_drawing *drawing, const char *css, double x, double y)
{
    (void)css;
    tu_drawing_block(drawing,
                     (const tu_svg_point[4]){
                         {x + 1, y - 1.6}, {x + 9, y - 1.6}, {x + 9, y + 1.6}, {x + 1, y + 1.6}});
}

static void key_screw(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_point centre = {x + 5, y};
    tu_svg_circle(&drawing->svg, NULL, css, centre, 1.5);
    tu_svg_circle(&drawing->svg, NULL, "thick", centre, 1.5);
    tu_drawing_centre_mark(drawing, centre, 0.5, right);
}

static void draw_legend(sheet *s)
{
    static const tu_drawing_key keys[] = {
        {tu_drawing_key_line, "thick", "stock's edge"},
        {key_zero, NULL, "where the zero is wanted"},
        {key_corner, NULL, "things count from here"},
        {key_thing, NULL, "thing in the way"},
        {key_screw, "block", "screw"},
        {tu_drawing_key_line, "axis", "end of the travel"},
    };
    tu_svg_group_open(&s->drawing.svg, "key");
    tu_drawing_keys(
        &s->drawing,
        (tu_drawing_key_rows){KEY_LEFT_MM + 3, TRAVEL_TOP_MM + 8, 6, TU_DRAWING_NOTE_MM, 1}, keys,
        sizeof keys / sizeof keys[0]);
    tu_svg_group_close(&s->drawing.svg);
}

static void draw_title_block(sheet *s)
{
    const tu_table *table = s->table;
    char zero[160], stock[160];
    const char *target = tu_target_name(table->target), *slot = tu_slot_name(table->slot);
    tu_svg_box box = {frame.left, TITLE_TOP_MM, frame.right, frame.bottom};
    snprintf(zero, sizeof zero, "%s%s%s", *target ? target : "not stated", *slot ? ", " : "", slot);
    snprintf(stock, sizeof stock, "thickness %s",
             tu_drawing_length(&s->drawing, s->stock.size[TU_AXIS_Z].value_mm).text);
    const char *const rows[][2] = {
        {"work zero", zero},
        {"plate", table->plate ? table->plate : "not stated"},
        {"plate lies on", !table->seat_stated          ? "not stated"
                          : table->seat == TU_SEAT_BED ? "the bed"
                                                       : "the stock"},
        {"cutter", table->cutter ? table->cutter : "not stated"},
        {"stock", stock},
    };
    tu_svg_group_open(&s->drawing.svg, "title-block");
    tu_svg_write(&s->drawing.svg, box.left + 2, box.top + 6, 5, TU_SVG_START, "strong",
                 "the table");
    tu_drawing_note(&s->drawing, box.right - 2, box.top + 6, TU_SVG_END, NULL,
                    s->drawing.style->unit == TU_UNIT_INCH ? "all lengths in inches"
                                                           : "all lengths in mm");
    tu_svg_stroke(&s->drawing.svg, "thin", box.left, box.top + 8.5, box.right, box.top + 8.5);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        tu_drawing_named_row(&s->drawing, box, box.top + 13 + ROW_MM * (double)i, rows[i][0],
                             rows[i][1]);
    if (!table->things)
        tu_drawing_note(&s->drawing, box.right - 2, box.top + 13, TU_SVG_END, NULL,
                        "what else stands on the table is not stated");
    tu_svg_group_close(&s->drawing.svg);
}

static void draw_frame(sheet *s)
{
    tu_svg *svg = &s->drawing.svg;
    tu_svg_rectangle(svg, "frame", "thick", frame);
    tu_svg_stroke(svg, "thin", frame.left, TRAVEL_TOP_MM, frame.right, TRAVEL_TOP_MM);
    tu_svg_stroke(svg, "thin", KEY_LEFT_MM, TRAVEL_TOP_MM, KEY_LEFT_MM, TITLE_TOP_MM);
    tu_svg_stroke(svg, "thick", frame.left, TITLE_TOP_MM, frame.right, TITLE_TOP_MM);
}

tu_status tu_report_shop_svg(FILE *out, const tu_shop *shop, tu_error *error)
{
    const tu_zero_style style = {.unit = tu_shop_unit(shop)};
    sheet s = {.drawing = {.style = &style},
               .shop = shop,
               .machine = tu_shop_machine(shop),
               .stock = tu_shop_stock(shop),
               .table = tu_shop_table(shop)};
    const char *target = tu_target_name(s.table->target);
    char css[6000], desc[400];
    snprintf(css, sizeof css, "%s%s", tu_drawing_css, shop_css);
    snprintf(desc, sizeof desc,
             "The table from above, the front of the machine at the bottom of the page: the stock, "
             "%zu thing%s in the way, the zero wanted at %s; and the machine's travel.",
             s.table->thing_count, s.table->thing_count == 1 ? "" : "s",
             *target ? target : "a place that is not stated");
    tu_svg_open(&s.drawing.svg, out, (tu_svg_point)TU_PAGE_A4, css, "The table", desc);
    draw_stock(&s);
    draw_travel(&s);
    draw_legend(&s);
    draw_frame(&s);
    draw_title_block(&s);
    return tu_svg_close(&s.drawing.svg, error);
}
