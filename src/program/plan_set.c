/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_set.c - the block by which a program sets the offset itself.
 *
 * A reading #5061.. is a position in the program's frame, the slot that it sets: the machine's
 * position is that and the offset in force, #[5221 + 20 (P - 1)] (NISTIR 6556, 3.2.1, 3.5.9). The
 * zero is E = P - s o - s sigma r, and P - t and the stock's thickness for Z (docs/geometry.md).
 */
#include "program/plan_place.h"

#include <math.h>
#include <string.h>

/* Whether the plate sits on one face of the stock and the zero is wanted at the other. */
static bool stock_is_between(const tu_plan_table *table)
{
    bool bottom = table->plan->target.outward[TU_AXIS_Z] < 0;
    return table->plate != NULL && bottom != (table->plan->seat == TU_SEAT_BED);
}

/* What Z of the zero is above the plate's face: minus the plate, and the stock where it lies
 * between. */
static double face_to_zero(const tu_plan_table *table, double *stock_mm)
{
    *stock_mm = 0.0;
    if (table->plate == NULL)
        return 0.0;
    if (stock_is_between(table))
        *stock_mm = table->plan->target.outward[TU_AXIS_Z] * table->plan->stock_thickness.value_mm;
    return *stock_mm - table->plate->thickness.value_mm;
}

tu_status tu_plan_check_set(const tu_plan_table *table, tu_error *error)
{
    double stock = table->plan->stock_thickness.value_mm;
    if (!table->style->set || !table->touches_z || !stock_is_between(table))
        return TU_OK;
    if (!(isfinite(stock) && stock > 0.0))
        return tu_fail(error, TU_DATA_MISSING, "{stock_thickness}",
                       "the plate sits on one face of the stock and the zero is wanted at the "
                       "other: measure the stock's thickness and give it, as in {stock_thickness} "
                       "18.0mm");
    return TU_OK;
}

/* A term of a sum, its sign written with it. */
static tu_plan_text term(const tu_plan_style *style, double value_mm)
{
    tu_plan_text text;
    tu_plan_format(text.text, sizeof text.text, "%s%s", value_mm < 0.0 ? "-" : "+",
                   tu_plan_length_fine(style, fabs(value_mm)).text);
    return text;
}

/* From the mean reading to the zero, explained in a comment. */
static double explain_side(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis)
{
    const tu_plan_style *style = table->style;
    const tu_plan_side *side = &table->side[axis];
    char letter = tu_axis_letter(axis);
    if (table->bore) {
        double centre = -side->face_mm;
        tu_plan_comment(writer,
                        "%c: offset in force + mean of both sides of the bore %s, its "
                        "centre from the edge.",
                        letter, term(style, centre).text);
        return centre;
    }
    double offset = -side->face_mm;
    double reach = side->direction * side->reach_mm;
    char loss[80] = "";
    if (side->turn)
        tu_plan_format(loss, sizeof loss, ", which is the cutter's %s less %s for its flutes",
                       tu_plan_length_fine(style, side->radius_mm).text,
                       tu_plan_length_fine(style, side->radius_mm - side->reach_mm).text);
    tu_plan_comment(writer,
                    "%c: offset in force + mean reading %s for wall %c from the edge %s for the "
                    "reach%s.",
                    letter, term(style, offset).text, 'a' + side->index, term(style, reach).text,
                    loss);
    return offset + reach;
}

static double explain_height(tu_plan_writer *writer, const tu_plan_table *table)
{
    const tu_plan_style *style = table->style;
    double stock;
    double sum = face_to_zero(table, &stock);
    if (table->plate == NULL)
        tu_plan_comment(writer, "Z: offset in force + mean reading.");
    else if (stock == 0.0)
        tu_plan_comment(writer, "Z: offset in force + mean reading %s for the plate.",
                        term(style, sum).text);
    else
        tu_plan_comment(writer,
                        "Z: offset in force + mean reading %s for the plate %s for the stock.",
                        term(style, sum - stock).text, term(style, stock).text);
    return sum;
}

void tu_plan_set_offset(tu_plan_writer *writer, const tu_plan_table *table)
{
    const tu_plan_style *style = table->style;
    char words[240];
    size_t used = 0;
    if (!style->set)
        return;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        size_t count = writer->sums[axis];
        if (count == 0)
            continue;
        double sum = axis == TU_AXIS_Z ? explain_height(writer, table)
                                       : explain_side(writer, table, (tu_axis)axis);
        tu_plan_format(words + used, sizeof words - used, " %c[#%d+#%d/%zu%s]",
                       tu_axis_letter((tu_axis)axis), 5221 + 20 * (style->slot - 1) + axis,
                       axis + 1, count, term(style, sum).text);
        used += strlen(words + used);
    }
    /* Absolute first: not every controller takes the values of G10 so under G91. */
    tu_plan_distance(writer, 90);
    tu_plan_block(writer, "G10 L2 P%d%s", style->slot, words);
}
