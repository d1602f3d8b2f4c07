/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_bed_text.c - a bed in words: the verdict, what to do, then the figures.
 */
#include "report/answer.h"
#include "report/bed/bed_words.h"
#include "report/figure.h"
#include "report/word_rows.h"
#include "trueup/report.h"

#include <math.h>
#include <stdio.h>

enum { MAP_COLUMNS = 56, MAP_ROWS_MAX = 20, SUSPECTS_SHOWN = 10, PASSES_SHOWN = 8 };

typedef struct writer {
    FILE *out;
    const tu_bed_answer *answer;
    tu_unit unit;
    bool without_tilt; /* of the map */
} writer;

static void write_words(FILE *out, const char *text)
{
    if (*text)
        tu_word_rows_write(out, text, 0, 0);
}

static tu_figure place(const writer *w, double length_mm)
{
    double least = w->unit == TU_UNIT_MM ? 0.0005 : 0.00005 * TU_MM_PER_INCH;
    return tu_figure_place(w->unit, fabs(length_mm) < least ? 0 : length_mm);
}

static void write_point(const writer *w, const char *label, tu_bed_point point)
{
    fprintf(w->out, "%-22s%11s   at X %s Y %s\n", label, place(w, point.z_mm).text,
            place(w, point.x_mm).text, place(w, point.y_mm).text);
}

static void write_row(const writer *w, const char *label, double length_mm, const char *note)
{
    if (!isnan(length_mm))
        fprintf(w->out, "%-22s%11s%s%s\n", label, place(w, length_mm).text, *note ? "   " : "",
                note);
}

static void write_heights(const writer *w)
{
    const tu_bed_answer *answer = w->answer;
    fprintf(w->out, "\nheights, %s\n", tu_unit_name(w->unit));
    write_point(w, "  highest", answer->judged[answer->highest]);
    write_point(w, "  lowest", answer->judged[answer->lowest]);
    write_row(w, "  highest to lowest", answer->range_mm, "");
    char note[160];
    const tu_plane_fit *plane = &answer->plane;
    snprintf(note, sizeof note, "mm/m up towards X+, %s mm/m up towards Y+",
             tu_figure_number(1000 * plane->slope_y, 3).text);
    fprintf(w->out, "%-22s%11s   %s\n", "  tilt", tu_figure_number(1000 * plane->slope_x, 3).text,
            note);
    write_row(w, "  twist", answer->shape.twist_mm,
              "of the back right corner above the other three");
    write_row(w, "  bow along X", answer->shape.bow_x_mm, "of the middle above the ends");
    write_row(w, "  bow along Y", answer->shape.bow_y_mm, "");
}

static const char *criterion_words(const tu_bed_zone *zone)
{
    switch (zone->criterion) {
    case TU_ZONE_3_1:
        return "held by three high places around one low one:";
    case TU_ZONE_1_3:
        return "held by three low places around one high one:";
    case TU_ZONE_2_2:
        return "held by two high places across two low ones:";
    case TU_ZONE_FLAT:
        break;
    }
    return "all places lie in one plane, as these:";
}

static void write_contacts(const writer *w, const char *label, const size_t *index, size_t count)
{
    for (size_t i = 0; i < count; i++)
        write_point(w, label, w->answer->judged[index[i]]);
}

static void write_flatness(const writer *w)
{
    const tu_plane_fit *plane = &w->answer->plane;
    const tu_bed_zone *zone = &w->answer->zone;
    fprintf(w->out, "\nflatness (ISO 12781-1), %s, square to the reference plane\n",
            tu_unit_name(w->unit));
    char note[200];
    snprintf(note, sizeof note, "least squares: %s above, %s below, RMS %s",
             place(w, plane->FLTp_mm).text, place(w, plane->FLTv_mm).text,
             place(w, plane->FLTq_mm).text);
    write_row(w, "  FLTt", plane->FLTt_mm, note);
    snprintf(note, sizeof note, "minimum zone, %s", criterion_words(zone));
    write_row(w, "  FLTt", zone->FLTt_mm, note);
    write_contacts(w, "    high", zone->high, zone->high_count);
    write_contacts(w, "    low", zone->low, zone->low_count);
}

static void write_line(const writer *w, const char *label, const tu_bed_straightness *line,
                       char across, double at)
{
    char note[100];
    snprintf(note, sizeof note, "the worst of them, at %c %s", across, place(w, at).text);
    write_row(w, label, line->STRt_mm, note);
}

static void write_straightness(const writer *w)
{
    const tu_bed_answer *answer = w->answer;
    if (answer->worst_row < 0 && answer->worst_column < 0)
        return;
    fprintf(w->out, "\nstraightness (ISO 12780-1), %s\n", tu_unit_name(w->unit));
    if (answer->worst_row >= 0)
        write_line(w, "  of rows, along X", &answer->row[answer->worst_row], 'Y',
                   answer->model.row_y_mm[answer->worst_row]);
    if (answer->worst_column >= 0)
        write_line(w, "  of columns, along Y", &answer->column[answer->worst_column], 'X',
                   answer->model.column_x_mm[answer->worst_column]);
}

static void write_suspects(const writer *w)
{
    const tu_bed_suspects *suspects = &w->answer->suspects;
    if (suspects->count == 0)
        return;
    fprintf(w->out,
            "\nsuspects: a chip, a hole or a bad touch? %zu place%s; look, and touch again\n",
            suspects->count, suspects->count == 1 ? "" : "s");
    size_t shown = suspects->count < suspects->room ? suspects->count : suspects->room;
    shown = shown < SUSPECTS_SHOWN ? shown : SUSPECTS_SHOWN;
    for (size_t i = 0; i < shown; i++) {
        const tu_bed_suspect *suspect = &suspects->suspect[i];
        const tu_bed_point *p = &w->answer->places.point[suspect->index];
        fprintf(w->out, "  X %s Y %s Z %s   %s %s than its neighbours say\n",
                place(w, p->x_mm).text, place(w, p->y_mm).text, place(w, p->z_mm).text,
                place(w, fabs(suspect->residual_mm)).text,
                suspect->residual_mm > 0 ? "higher" : "lower");
    }
    if (suspects->count > shown)
        fprintf(w->out, "  ... and %zu more (%s lists them)\n", suspects->count - shown,
                tu_face_word(w->answer->face, "json"));
}

static const char *with_suspects(const writer *w)
{
    return w->answer->suspect ? ", suspects included" : "";
}

static void write_levelling(const writer *w)
{
    const tu_bed_answer *answer = w->answer;
    if (answer->tilt_hidden) {
        fputs("\nlevelling: the slope is no more than heights scatter; shims would follow noise\n",
              w->out);
        return;
    }
    fprintf(w->out, "\nlevelling%s: add under each support, %s\n", with_suspects(w),
            tu_unit_name(w->unit));
    for (size_t i = 0; i < answer->supports; i++)
        fprintf(w->out, "  %-20s%11s\n", tu_bed_say_support(answer, i, w->unit).text,
                place(w, answer->add_mm[i]).text);
    if (answer->supports > 3)
        fputs("  with more than three supports the bed settles on them: shim, and map it again\n",
              w->out);
}

static tu_bed_length volume(const writer *w, double volume_mm3)
{
    bool inch = w->unit == TU_UNIT_INCH;
    double value = volume_mm3 / (inch ? TU_MM_PER_INCH * TU_MM_PER_INCH * TU_MM_PER_INCH : 1000);
    tu_bed_length shown;
    snprintf(shown.text, sizeof shown.text, "%s %s", tu_figure_number(value, inch ? 2 : 1).text,
             inch ? "in3" : "cm3");
    return shown;
}

static void write_pass(const writer *w, size_t index)
{
    const tu_surfacing_pass *pass = &w->answer->surfacing.pass[index];
    fprintf(w->out, "  pass %-3zu to Z %s, %s %% not cut yet, takes %s\n", index + 1,
            place(w, pass->level_mm).text,
            tu_figure_number(100 * pass->uncut_mm2 / w->answer->surfacing.area_mm2, 1).text,
            volume(w, pass->volume_mm3).text);
}

static const char surfacing_cautions[] =
    "screws, pins, clamps and tape: out, or sunk below the last pass, or the cutter strikes them; "
    "mind the dust; the machine's manual and trained people come first";

static void write_passes(const writer *w)
{
    const tu_surfacing *surfacing = &w->answer->surfacing;
    if (isnan(w->answer->depth_of_cut_mm)) {
        fprintf(w->out, "  down to Z %s; %s plans passes that your cutter can take\n",
                place(w, surfacing->level_mm).text, tu_face_word(w->answer->face, "depth_of_cut"));
        return;
    }
    size_t shown = surfacing->passes < PASSES_SHOWN ? surfacing->passes : PASSES_SHOWN;
    for (size_t i = 0; i < shown; i++)
        write_pass(w, i);
    if (surfacing->passes > shown)
        fprintf(w->out, "  ... and %zu more pass%s (%s lists them)\n", surfacing->passes - shown,
                surfacing->passes - shown == 1 ? "" : "es", tu_face_word(w->answer->face, "json"));
}

static void write_surfacing(const writer *w)
{
    const tu_surfacing *surfacing = &w->answer->surfacing;
    fprintf(w->out, "\nsurfacing%s: %s deep, %s below the lowest place, %s in all\n",
            with_suspects(w), tu_bed_show(w->unit, surfacing->depth_mm).text,
            tu_bed_show(w->unit, w->answer->allowance_mm).text,
            volume(w, surfacing->volume_mm3).text);
    write_passes(w);
    if (!isnan(surfacing->time_s))
        fprintf(w->out, "  about %s min of cutting%s, without plunges and idle moves\n",
                tu_figure_number(ceil(surfacing->time_s / 60), 0).text,
                tu_bed_is_patchy(w->answer) ? " over the whole rectangle" : "");
    fputs("  ", w->out);
    tu_word_rows_write(w->out, surfacing_cautions, 2, 2);
}

/* Heights of the map in characters: of the machine, or above the least-squares plane. */
typedef struct map_range {
    double low_mm, high_mm;
} map_range;

static double above_plane(const writer *w, double x_mm, double y_mm, double z_mm)
{
    return z_mm - (w->without_tilt ? tu_plane_height_mm(&w->answer->plane, x_mm, y_mm) : 0);
}

static map_range find_range(const writer *w)
{
    map_range range = {INFINITY, -INFINITY};
    for (size_t i = 0; i < w->answer->judged_count; i++) {
        const tu_bed_point *p = &w->answer->judged[i];
        double height = above_plane(w, p->x_mm, p->y_mm, p->z_mm);
        range.low_mm = fmin(range.low_mm, height);
        range.high_mm = fmax(range.high_mm, height);
    }
    return range;
}

static void write_map_row(const writer *w, const tu_bed_rectangle *box, double y, int columns,
                          map_range range)
{
    fputs("  ", w->out);
    for (int i = 0; i < columns; i++) {
        double x = box->x_low_mm + (box->x_high_mm - box->x_low_mm) * (i + 0.5) / columns;
        double height = above_plane(w, x, y, tu_bed_model_height(&w->answer->model, x, y));
        double part = (height - range.low_mm) / (range.high_mm - range.low_mm);
        fputc(isnan(part) ? ' ' : '0' + (int)fmin(9, fmax(0, 10 * part)), w->out);
    }
    fputc('\n', w->out);
}

static void write_map(const writer *w)
{
    const tu_bed_answer *answer = w->answer;
    const tu_bed_rectangle *box = answer->job ? answer->job : &answer->model.extent;
    double length = box->x_high_mm - box->x_low_mm, width = box->y_high_mm - box->y_low_mm;
    map_range range = find_range(w);
    if (!(range.high_mm > range.low_mm))
        return;
    int rows = (int)lround(MAP_COLUMNS * width / length / 2); /* a character is twice as high */
    int columns = MAP_COLUMNS;
    if (rows > MAP_ROWS_MAX) {
        columns = (int)lround(fmax(4, (double)MAP_COLUMNS * MAP_ROWS_MAX / rows));
        rows = MAP_ROWS_MAX;
    }
    rows = rows < 3 ? 3 : rows;
    fputs("\n  back of the machine\n", w->out);
    for (int j = rows - 1; j >= 0; j--)
        write_map_row(w, box, box->y_low_mm + width * (j + 0.5) / rows, columns, range);
    if (w->without_tilt)
        fprintf(w->out, "  front; 0 is %s below the least-squares plane, 9 is %s above it\n",
                tu_bed_show(w->unit, -range.low_mm).text, tu_bed_show(w->unit, range.high_mm).text);
    else
        fprintf(w->out, "  front; 0 is Z %s, the lowest, 9 is Z %s\n",
                tu_bed_show(w->unit, range.low_mm).text, tu_bed_show(w->unit, range.high_mm).text);
}

static tu_status write_again(const writer *w, tu_error *error)
{
    const tu_bed_answer *answer = w->answer;
    if (!answer->again_path)
        return TU_OK;
    if (answer->again)
        fprintf(w->out, "\nto touch the suspects again: %s\n", answer->again_path);
    else
        fprintf(w->out, "\nno suspects, so nothing to touch again: %s is not written\n",
                answer->again_path);
    return answer->again ? tu_report_plan_text(w->out, answer->again, w->unit, error) : TU_OK;
}

tu_status tu_report_bed_text(FILE *out, const tu_bed_answer *answer, const tu_bed_style *style,
                             tu_error *error)
{
    const writer w = {out, answer, style->unit, style->without_tilt};
    tu_status status;
    write_words(out, tu_bed_say_doubt(answer, style->unit).text);
    write_words(out, tu_bed_say_verdict(answer, style->unit).text);
    write_words(out, tu_bed_say_limit(answer, style->unit).text);
    write_words(out, tu_bed_say_remedy(answer, style->unit).text);
    write_words(out, tu_bed_say_through_cut(answer, style->unit).text);
    write_words(out, tu_bed_say_cover(answer, style->unit).text);
    write_words(out, tu_bed_say_change(answer, style->unit).text);
    write_words(out, tu_bed_say_renewed(answer).text);
    write_words(out, tu_bed_say_noise(answer, style->unit).text);
    if (style->map)
        write_map(&w);
    write_heights(&w);
    write_flatness(&w);
    write_straightness(&w);
    write_suspects(&w);
    if (!(answer->seam_mm > 0 || answer->parted_mm > 0)) { /* nothing to mend it by */
        write_levelling(&w);
        write_surfacing(&w);
    }
    status = write_again(&w, error);
    fputc('\n', out);
    write_words(out, tu_bed_sag_note);
    if (status)
        return status;
    return tu_answer_finish(out, error);
}
