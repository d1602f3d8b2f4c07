/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_explain.c - the arithmetic of a zero with every sign and number, to follow with a
 * pencil.
 *
 * A line that starts with "=" holds arithmetic only, in plain notation, so that it can also be
 * checked by a program; all such lines of one axis have the same value.
 */
#include "report/figure.h"
#include "report/zero/zero_words.h"

#include <math.h>
#include <stdarg.h>

/* "  o  offset of wall a                    6.3500" */
static void write_row(FILE *out, const char *symbol, const char *value, const char *format, ...)
    TU_PRINTF(4, 5);

static void write_row(FILE *out, const char *symbol, const char *value, const char *format, ...)
{
    char meaning[160];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(meaning, sizeof meaning, format, arguments);
    va_end(arguments);
    fprintf(out, "  %-5s %-58s %11s\n", symbol, meaning, value);
}

static const char *sign(int direction)
{
    return direction < 0 ? "-1" : "+1";
}

/* A number as it stands after an operator: negative ones in brackets. */
static tu_figure term(tu_unit unit, double length_mm)
{
    tu_figure plain = tu_figure_fine(unit, length_mm), figure;
    snprintf(figure.text, sizeof figure.text, *plain.text == '-' ? "(%.40s)" : "%.40s", plain.text);
    return figure;
}

/* The touched position: its mean, and the way from work to machine coordinates. */
static void write_position(FILE *out, const char *symbol, const char *what,
                           const tu_zero_result *result, tu_axis axis, double machine_mm,
                           tu_unit unit)
{
    double active_mm = result->active ? result->active_mm[axis] : (double)NAN;
    if (isnan(active_mm)) {
        write_row(out, symbol, tu_figure_fine(unit, machine_mm).text, "%s", what);
        return;
    }
    write_row(out, symbol, tu_figure_fine(unit, machine_mm).text, "%s: %s read + %s active", what,
              tu_figure_fine(unit, machine_mm - active_mm).text, term(unit, active_mm).text);
}

static void write_spread(FILE *out, const tu_axis_zero *zero, tu_unit unit)
{
    if (!isnan(zero->touch_sd_mm))
        write_row(out, "", tu_figure_fine(unit, zero->touch_sd_mm).text,
                  "standard deviation of one touch");
}

/* The profile's radius at the depth, by the shape. */
static void write_profile(FILE *out, const tu_zero_result *result, const tu_axis_zero *zero,
                          tu_unit unit)
{
    const tu_cutter *cutter = &result->cutter;
    const char *value = "";
    tu_figure profile = tu_figure_fine(unit, zero->profile_radius_mm);
    tu_figure d = tu_figure_fine(unit, cutter->diameter.value_mm);
    tu_figure h = tu_figure_fine(unit, zero->depth_mm);
    value = profile.text;
    bool full = zero->profile_radius_mm >= cutter->diameter.value_mm / 2;
    if (!full && cutter->shape == TU_CUTTER_BALL) {
        write_row(out, "p", value, "ball at depth %s: sqrt(%s*(%s - %s))", h.text, h.text, d.text,
                  h.text);
    } else if (!full && cutter->shape == TU_CUTTER_BULL) {
        tu_figure c = tu_figure_fine(unit, cutter->corner_radius.value_mm);
        write_row(out, "p", value, "bull nose: %s/2 - %s + sqrt(%s*(2*%s - %s))", d.text, c.text,
                  h.text, c.text, h.text);
    } else if (!full && cutter->shape == TU_CUTTER_VEE) {
        double tip_mm = isnan(cutter->tip.value_mm) ? 0 : cutter->tip.value_mm;
        write_row(out, "p", value, "vee, %s degrees: %s/2 + %s*tan(%s deg)",
                  tu_figure_degrees(cutter->included_rad, 1).text,
                  tu_figure_fine(unit, tip_mm).text, h.text,
                  tu_figure_degrees(cutter->included_rad / 2, 3).text);
    } else {
        write_row(out, "p", value, "cutter's radius: %s/2", d.text);
    }
}

/* The mean reach of the flutes, where it differs from the profile. */
static void write_reach(FILE *out, const tu_zero_result *result, const tu_axis_zero *zero,
                        tu_unit unit)
{
    const tu_flute_loss *flutes = &zero->flutes;
    double loss_mm = zero->profile_radius_mm - zero->effective_radius_mm;
    double within = flutes->within_rad;
    tu_figure r = tu_figure_fine(unit, zero->effective_radius_mm);
    write_profile(out, result, zero, unit);
    if (!(loss_mm > 0)) {
        write_row(out, "r", r.text, "reach of the cutter: p, %s",
                  result->cutter.flutes > 0 ? "an edge all round" : "no flutes stated");
        return;
    }
    write_row(out, "a", tu_figure_number(within, 6).text, "an edge is within %s degrees, in rad",
              tu_figure_degrees(within, 2).text);
    double even_mm = zero->profile_radius_mm * sin(within) / within;
    if (fabs(even_mm - zero->effective_radius_mm) < 1e-9)
        write_row(out, "r", r.text, "mean reach: p*sin(a)/a");
    else
        write_row(out, "r", r.text, "mean reach: p less %s on average (core, edges that overlap)",
                  tu_figure_fine(unit, loss_mm).text);
}

/* What the contact stands off the edge: k = s*o + s*sigma*r, or s*o in a bore. */
static double stand_off_mm(const tu_axis_zero *zero)
{
    double k = zero->outward * zero->offset_mm;
    return zero->bore ? k : k + zero->outward * (int)zero->facing * zero->effective_radius_mm;
}

static void write_wall_rows(FILE *out, const tu_zero_result *result, tu_axis axis, tu_unit unit)
{
    const tu_axis_zero *zero = &result->axis[axis];
    bool over = zero->offset_mm < 0, inward = (int)zero->facing < 0;
    char what[80];
    snprintf(what, sizeof what, "mean of %zu touch%s", zero->touch_count,
             zero->touch_count == 1 ? "" : "es");
    write_position(out, "P", what, result, axis, zero->touch_mm, unit);
    write_spread(out, zero, unit);
    write_row(out, "s", sign(zero->outward), "the stock's %s edge faces %c%c",
              tu_face_name(axis, zero->outward), tu_axis_letter(axis),
              zero->outward < 0 ? '-' : '+');
    write_row(out, "o", tu_figure_fine(unit, zero->offset_mm).text,
              "wall %c, from the edge: %s the stock", "ab"[zero->wall == 1],
              over ? "over" : "outside");
    write_row(out, "f", sign((int)zero->facing), "wall %c faces %s", "ab"[zero->wall == 1],
              inward ? "inward, over the stock" : "outward, away from the stock");
    write_reach(out, result, zero, unit);
}

static void write_bore_rows(FILE *out, const tu_zero_result *result, tu_axis axis, tu_unit unit)
{
    const tu_axis_zero *zero = &result->axis[axis];
    bool over = zero->offset_mm < 0;
    write_position(out, "low", "mean contact at the low side", result, axis, zero->low_mm, unit);
    write_position(out, "high", "mean contact at the high side", result, axis, zero->high_mm, unit);
    write_spread(out, zero, unit);
    write_row(out, "P", tu_figure_fine(unit, zero->touch_mm).text,
              "bore's centre: (low + high)/2, the cutter's radius cancels");
    write_row(out, "s", sign(zero->outward), "the stock's %s edge faces %c%c",
              tu_face_name(axis, zero->outward), tu_axis_letter(axis),
              zero->outward < 0 ? '-' : '+');
    write_row(out, "o", tu_figure_fine(unit, zero->offset_mm).text,
              "bore's centre from the edge (%c): %s the stock", "ab"[zero->wall == 1],
              over ? "over" : "outside");
    write_row(out, "", tu_figure_fine(unit, zero->chord_mm).text, "chord: high - low");
    if (!isnan(zero->implied_diameter_mm))
        write_row(out, "", tu_figure_fine(unit, zero->implied_diameter_mm).text,
                  "check: the cutter's diameter by this chord");
}

static void write_square_sum(FILE *out, tu_axis axis, const tu_axis_zero *zero, tu_unit unit)
{
    tu_figure p = tu_figure_fine(unit, zero->touch_mm), o = term(unit, zero->offset_mm);
    const char *s = sign(zero->outward);
    if (zero->bore)
        fprintf(out, "  %c = P - s*o\n    = %s - (%s)*%s\n", tu_axis_letter(axis), p.text, s,
                o.text);
    else
        fprintf(out, "  %c = P - s*o - s*f*r\n    = %s - (%s)*%s - (%s)*(%s)*%s\n",
                tu_axis_letter(axis), p.text, s, o.text, s, sign((int)zero->facing),
                tu_figure_fine(unit, zero->effective_radius_mm).text);
    fprintf(out, "    = %s\n", tu_figure_fine(unit, zero->zero_mm).text);
}

static void write_side(FILE *out, const tu_zero_result *result, tu_axis axis, tu_unit unit)
{
    const tu_axis_zero *zero = &result->axis[axis];
    fprintf(out, "\n%c\n", tu_axis_letter(axis));
    if (zero->bore)
        write_bore_rows(out, result, axis, unit);
    else
        write_wall_rows(out, result, axis, unit);
    if (!result->skew.known) {
        write_square_sum(out, axis, zero, unit);
        return;
    }
    write_row(out, "k", tu_figure_fine(unit, stand_off_mm(zero)).text,
              zero->bore ? "stands off the edge: s*o" : "stands off the edge: s*o + s*f*r");
    if (!isnan(zero->across_mm))
        write_row(out, "Q", tu_figure_fine(unit, zero->across_mm).text, "%c at contact",
                  axis == TU_AXIS_X ? 'Y' : 'X');
}

/* The other coordinate of the point that an axis touched; two chords share the bore's centre. */
static double across_mm(const tu_zero_result *result, int axis)
{
    bool bore = result->axis[0].bore && result->axis[1].bore;
    return bore ? result->axis[1 - axis].touch_mm : result->axis[axis].across_mm;
}

/* The corner where the two touched lines meet, docs/geometry.md. */
static void write_turned_sum(FILE *out, const tu_zero_result *result, tu_unit unit)
{
    const tu_axis_zero *x = &result->axis[0], *y = &result->axis[1];
    double c = cos(result->skew.angle_rad), s = sin(result->skew.angle_rad);
    double u_mm = c * x->touch_mm + s * across_mm(result, 0) - stand_off_mm(x);
    double v_mm = -s * across_mm(result, 1) + c * y->touch_mm - stand_off_mm(y);
    tu_figure cosine = tu_figure_number(c, 8), sine = tu_figure_number(s, 8);
    tu_figure u = term(unit, u_mm), v = term(unit, v_mm);
    fprintf(out, "\nX and Y on stock turned by %s degrees\n",
            tu_figure_degrees(result->skew.angle_rad, 5).text);
    write_row(out, "cos", cosine.text, "of the angle");
    write_row(out, "sin", sine.text, "of the angle, from a baseline of %s",
              tu_figure_place(unit, result->skew.baseline_mm).text);
    fputs("  Each touch puts the corner on a line; the two lines meet in it.\n", out);
    fprintf(out, "  u = cos*P + sin*Q - k, of X\n    = %s*%s + (%s)*%s - %s\n    = %s\n",
            cosine.text, term(unit, x->touch_mm).text, sine.text,
            term(unit, across_mm(result, 0)).text, term(unit, stand_off_mm(x)).text,
            tu_figure_fine(unit, u_mm).text);
    fprintf(out, "  v = cos*P - sin*Q - k, of Y\n    = %s*%s - (%s)*%s - %s\n    = %s\n",
            cosine.text, term(unit, y->touch_mm).text, sine.text,
            term(unit, across_mm(result, 1)).text, term(unit, stand_off_mm(y)).text,
            tu_figure_fine(unit, v_mm).text);
    fprintf(out, "  X = cos*u - sin*v\n    = %s*%s - (%s)*%s\n    = %s\n", cosine.text, u.text,
            sine.text, v.text, tu_figure_fine(unit, x->zero_mm).text);
    fprintf(out, "  Y = sin*u + cos*v\n    = (%s)*%s + %s*%s\n    = %s\n", sine.text, u.text,
            cosine.text, v.text, tu_figure_fine(unit, y->zero_mm).text);
}

static void write_height(FILE *out, const tu_zero_result *result, tu_unit unit)
{
    const tu_axis_zero *zero = &result->axis[TU_AXIS_Z];
    char what[80];
    snprintf(what, sizeof what, "mean of %zu touch%s", zero->touch_count,
             zero->touch_count == 1 ? "" : "es");
    fputs("\nZ\n", out);
    write_position(out, "P", what, result, TU_AXIS_Z, zero->touch_mm, unit);
    write_spread(out, zero, unit);
    write_row(out, "t", tu_figure_fine(unit, zero->thickness_mm).text,
              "the plate's thickness; it lies on the %s",
              result->seat == TU_SEAT_BED ? "bed" : "stock");
    tu_figure p = tu_figure_fine(unit, zero->touch_mm),
              t = tu_figure_fine(unit, zero->thickness_mm);
    if (zero->stock_mm == 0) {
        fprintf(out, "  Z = P - t\n    = %s - %s\n", p.text, t.text);
    } else {
        char up = zero->stock_mm < 0 ? '-' : '+';
        tu_figure stock = tu_figure_fine(unit, fabs(zero->stock_mm));
        write_row(out, "T", stock.text, "the stock's thickness: the zero is at its %s",
                  tu_face_name(TU_AXIS_Z, zero->outward));
        fprintf(out, "  Z = P - t %c T\n    = %s - %s %c %s\n", up, p.text, t.text, up, stock.text);
    }
    if (zero->bed_rise_mm != 0) {
        char up = zero->bed_rise_mm < 0 ? '-' : '+';
        tu_figure rise = tu_figure_fine(unit, fabs(zero->bed_rise_mm));
        fprintf(out, "    %c %s, by which the bed is %s at the zero than under the plate\n", up,
                rise.text, up == '-' ? "lower" : "higher");
    }
    fprintf(out, "    = %s\n", tu_figure_fine(unit, zero->zero_mm).text);
}

void tu_zero_write_explanation(FILE *out, const tu_zero_result *result, const tu_zero_style *style)
{
    fprintf(out, "\nThe arithmetic, in %s (rounded: the last digit may be off by one or two)\n",
            style->unit == TU_UNIT_INCH ? "inches" : "mm");
    for (int axis = 0; axis < 2; axis++)
        if (result->axis[axis].asked)
            write_side(out, result, (tu_axis)axis, style->unit);
    if (result->skew.known && result->axis[0].asked && result->axis[1].asked)
        write_turned_sum(out, result, style->unit);
    if (result->axis[TU_AXIS_Z].asked)
        write_height(out, result, style->unit);
}
