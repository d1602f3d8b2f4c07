/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_hitlog.c - what a check of a hit log found.
 */
#include "trueup/report_hitlog.h"

#include "report/answer.h"
#include "report/json.h"

#include <inttypes.h>

void tu_hitlog_finding_add(void *context, uint64_t line, const char *message)
{
    tu_hitlog_finding *finding = context;
    if (finding->faults < TU_HITLOG_FAULTS_SHOWN) {
        finding->fault[finding->faults].line = line;
        snprintf(finding->fault[finding->faults].text, sizeof finding->fault[0].text, "%s",
                 message);
    }
    finding->faults++;
}

bool tu_hitlog_is_sound(const tu_hitlog_report *report)
{
    return report->damaged == 0 && report->torn_bytes == 0 && report->sequence_gaps == 0;
}

static void count(FILE *out, uint64_t number, const char *one, const char *many)
{
    fprintf(out, "%" PRIu64 " %s", number, number == 1 ? one : many);
}

tu_status tu_report_hitlog_text(FILE *out, const tu_hitlog_finding *finding, tu_error *error)
{
    const tu_hitlog_report *r = &finding->report;
    for (size_t i = 0; i < finding->faults && i < TU_HITLOG_FAULTS_SHOWN; i++)
        fprintf(out, "line %" PRIu64 ": %s\n", finding->fault[i].line, finding->fault[i].text);
    if (finding->faults > TU_HITLOG_FAULTS_SHOWN)
        fprintf(out, "and %zu more\n", finding->faults - TU_HITLOG_FAULTS_SHOWN);
    fprintf(out, "%s: %s; ", finding->path, tu_hitlog_is_sound(r) ? "sound" : "not sound");
    count(out, r->hits, "touch", "touches");
    fputs(", ", out);
    count(out, r->other, "other record", "other records");
    if (r->damaged) {
        fputs(", ", out);
        count(out, r->damaged, "line damaged", "lines damaged");
    }
    if (r->sequence_gaps) {
        fputs(", ", out);
        count(out, r->sequence_gaps, "gap in its numbers", "gaps in its numbers");
    }
    if (r->torn_bytes) {
        fputs(", ", out);
        count(out, r->torn_bytes, "byte torn", "bytes torn");
    }
    if (r->lost) {
        fputs("; ", out);
        count(out, r->lost, "line of the device was", "lines of the device were");
        fputs(" lost while recording", out);
    }
    fputs(r->ended ? "\n" : "; no end record: recording goes on or was cut off\n", out);
    return tu_answer_finish(out, error);
}

tu_status tu_report_hitlog_json(FILE *out, const tu_hitlog_finding *finding, tu_error *error)
{
    const tu_hitlog_report *r = &finding->report;
    tu_json json = tu_json_begin(out);
    TU_JSON_NUMBERS(&json, {"schema", 1});
    tu_json_text(&json, "file", finding->path);
    tu_json_bool(&json, "sound", tu_hitlog_is_sound(r));
    TU_JSON_NUMBERS(&json, {"lines", (double)r->lines}, {"hits", (double)r->hits},
                    {"other", (double)r->other}, {"lost", (double)r->lost},
                    {"damaged", (double)r->damaged}, {"sequence_gaps", (double)r->sequence_gaps},
                    {"torn_bytes", (double)r->torn_bytes});
    tu_json_bool(&json, "ended", r->ended);
    tu_json_array(&json, "faults");
    for (size_t i = 0; i < finding->faults && i < TU_HITLOG_FAULTS_SHOWN; i++) {
        tu_json_object(&json, NULL);
        tu_json_count(&json, "line", finding->fault[i].line);
        tu_json_text(&json, "message", finding->fault[i].text);
        tu_json_end(&json);
    }
    tu_json_end(&json);
    tu_json_count(&json, "fault_count", finding->faults);
    return tu_json_finish(&json, error);
}
