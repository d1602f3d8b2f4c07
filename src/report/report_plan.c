/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_plan.c - what to know of a touch program before it is started, as text and as JSON.
 */
#include "base/duration.h"
#include "report/figure.h"
#include "report/json_build.h"
#include "report/word_rows.h"
#include "trueup/report.h"

#include <errno.h>
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
    errno = 0;
    if (fflush(out) != 0 || ferror(out))
        return tu_fail(error, TU_SYSTEM_IO, NULL, "the answer cannot be written: %s",
                       strerror(errno != 0 ? errno : EIO));
    return TU_OK;
}

static bool add_start(cJSON *root, const tu_plan_summary *summary)
{
    cJSON *start = tu_json_add(root, "start", cJSON_CreateObject());
    return tu_json_add_text(start, "text", summary->start) &&
           tu_json_add_known(start, "x", summary->start_mm[TU_AXIS_X]) &&
           tu_json_add_known(start, "y", summary->start_mm[TU_AXIS_Y]);
}

static bool add_space(cJSON *root, const tu_plan_summary *summary)
{
    cJSON *space = tu_json_add(root, "space", cJSON_CreateObject());
    bool ok = space != NULL;
    for (int axis = 0; ok && axis < TU_AXIS_COUNT; axis++) {
        static const char *const names[] = {"x", "y", "z"};
        cJSON *range = tu_json_add(space, names[axis], cJSON_CreateObject());
        ok = tu_json_add_number(range, "below", summary->space_mm[axis][0]) &&
             tu_json_add_number(range, "above", summary->space_mm[axis][1]);
    }
    return ok;
}

static bool add_grid(cJSON *root, const tu_plan_summary *summary)
{
    if (isnan(summary->path_mm))
        return true;
    cJSON *grid = tu_json_add(root, "grid", cJSON_CreateObject());
    return tu_json_add_number(grid, "points", (double)summary->points) &&
           tu_json_add_number(grid, "skipped", (double)summary->skipped) &&
           tu_json_add_number(grid, "path", summary->path_mm) &&
           tu_json_add_number(grid, "naive", summary->naive_mm);
}

static bool add_program(cJSON *root, const char *program)
{
    if (program == NULL)
        return true;
    cJSON *lines = tu_json_add(root, "program", cJSON_CreateArray());
    bool ok = lines != NULL;
    while (ok && *program != '\0') {
        char line[300];
        size_t length = strcspn(program, "\n");
        snprintf(line, sizeof line, "%.*s", (int)length, program);
        ok = tu_json_append(lines, cJSON_CreateString(line)) != NULL;
        program += length;
        program += *program == '\n';
    }
    return ok;
}

tu_status tu_report_plan_json(FILE *out, const tu_plan_summary *summary, const char *program,
                              tu_error *error)
{
    cJSON *root = cJSON_CreateObject();
    bool ok = tu_json_add_number(root, "schema", 1) &&
              tu_json_add_text(root, "title", summary->title) && add_start(root, summary) &&
              add_space(root, summary) &&
              tu_json_add_number(root, "touches", (double)summary->touches) &&
              tu_json_add_number(root, "pauses", (double)summary->pauses) &&
              tu_json_add_number(root, "seconds", summary->seconds);
    cJSON *press = ok ? tu_json_add(root, "worst_press", cJSON_CreateObject()) : NULL;
    ok = tu_json_add_known(press, "sideways", summary->worst_press_mm[0]) &&
         tu_json_add_known(press, "down", summary->worst_press_mm[1]) && press != NULL &&
         add_grid(root, summary) && add_program(root, program) &&
         tu_json_add_warnings(root, &summary->warnings);
    return tu_json_write(out, root, ok, error);
}
