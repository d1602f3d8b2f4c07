/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_plan.c - what to know of a touch program before it is started, as text and as JSON.
 */
#include "base/duration.h"
#include "report/answer.h"
#include "report/figure.h"
#include "report/json.h"
#include "report/word_rows.h"
#include "trueup/report.h"

#include <math.h>
#include <string.h>

/* A length in a sentence: a tenth of a millimetre, a thousandth of an inch. */
static tu_figure words(tu_unit unit, double length_mm)
{
    tu_figure number =
        tu_figure_number(tu_unit_from_mm(unit, length_mm), unit == TU_UNIT_INCH ? 3 : 1);
    tu_figure figure;
    snprintf(figure.text, sizeof figure.text, "%.30s %s", number.text, tu_unit_name(unit));
    return figure;
}

enum { LABEL_WIDTH = 14 };

/* A row: its label, and words beside it. */
static void write_row(FILE *out, const char *label, const char *text)
{
    tu_word_rows_write(out, text, fprintf(out, "%-*s", LABEL_WIDTH, label), LABEL_WIDTH);
}

static void write_press(FILE *out, const tu_plan_summary *summary, tu_unit unit)
{
    fputs("dead circuit  presses at most ", out);
    if (!isnan(summary->worst_press_mm[0]))
        fprintf(out, "%s sideways, ", words(unit, summary->worst_press_mm[0]).text);
    fprintf(out, "%s down\n", words(unit, summary->worst_press_mm[1]).text);
}

static void write_grid(FILE *out, const tu_plan_summary *summary, tu_unit unit)
{
    if (isnan(summary->path_mm))
        return;
    fprintf(out, "grid          %zu points touched, %zu left out\n", summary->points,
            summary->skipped);
    fprintf(out, "path          %s as planned; %s row by row from the left\n",
            words(unit, summary->path_mm).text, words(unit, summary->naive_mm).text);
}

tu_status tu_report_plan_text(FILE *out, const tu_plan_summary *summary, tu_unit unit,
                              tu_error *error)
{
    fprintf(out, "%s\n", summary->title);
    write_row(out, "start", summary->start);
    fputs("space        ", out);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const double *space = summary->space_mm[axis];
        fprintf(out, "%s %c %s to +%s", axis > 0 ? "," : "", tu_axis_letter((tu_axis)axis),
                words(unit, space[0]).text, words(unit, space[1]).text);
    }
    fputs(" from the start\n", out);
    write_press(out, summary, unit);
    write_grid(out, summary, unit);
    fprintf(out, "touches       %zu that count%s, %zu pause%s, about %s without pauses\n",
            summary->touches, summary->touches == 1 ? "s" : "", summary->pauses,
            summary->pauses == 1 ? "" : "s", tu_duration_about(summary->seconds).text);
    return tu_answer_finish(out, error);
}

static void put_space(tu_json *json, const tu_plan_summary *summary)
{
    tu_json_object(json, "start");
    tu_json_text(json, "text", summary->start);
    TU_JSON_KNOWN(json, {"x", summary->start_mm[TU_AXIS_X]}, {"y", summary->start_mm[TU_AXIS_Y]});
    tu_json_end(json);
    tu_json_object(json, "space");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        TU_JSON_OBJECT(json, tu_json_axis[axis], {"below", summary->space_mm[axis][0]},
                       {"above", summary->space_mm[axis][1]});
    tu_json_end(json);
}

static void put_program(tu_json *json, const char *program)
{
    if (program == NULL)
        return;
    tu_json_array(json, "program");
    while (*program != '\0') {
        char line[300];
        size_t length = strcspn(program, "\n");
        snprintf(line, sizeof line, "%.*s", (int)length, program);
        tu_json_text(json, NULL, line);
        program += length;
        program += *program == '\n';
    }
    tu_json_end(json);
}

tu_status tu_report_plan_json(FILE *out, const tu_plan_summary *summary, const char *program,
                              tu_error *error)
{
    tu_json json = tu_json_begin(out);
    TU_JSON_NUMBERS(&json, {"schema", 1});
    tu_json_text(&json, "title", summary->title);
    put_space(&json, summary);
    TU_JSON_NUMBERS(&json, {"touches", (double)summary->touches},
                    {"pauses", (double)summary->pauses}, {"seconds", summary->seconds});
    TU_JSON_OBJECT_KNOWN(&json, "worst_press", {"sideways", summary->worst_press_mm[0]},
                         {"down", summary->worst_press_mm[1]});
    if (!isnan(summary->path_mm))
        TU_JSON_OBJECT(&json, "grid", {"points", (double)summary->points},
                       {"skipped", (double)summary->skipped}, {"path", summary->path_mm},
                       {"naive", summary->naive_mm});
    put_program(&json, program);
    tu_json_warnings(&json, &summary->warnings);
    return tu_json_finish(&json, error);
}
