/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_hitlog.c - what a check of a hit log found.
 */
#include "trueup/report_hitlog.h"

#include "report/json_build.h"

#include <errno.h>
#include <inttypes.h>
#include <string.h>

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
    errno = 0;
    if (fflush(out) != 0 || ferror(out))
        return tu_fail(error, TU_SYSTEM_IO, NULL, "the answer cannot be written: %s",
                       strerror(errno ? errno : EIO));
    return TU_OK;
}

static bool add_counts(cJSON *root, const tu_hitlog_report *r)
{
    return tu_json_add_number(root, "lines", (double)r->lines) &&
           tu_json_add_number(root, "hits", (double)r->hits) &&
           tu_json_add_number(root, "other", (double)r->other) &&
           tu_json_add_number(root, "lost", (double)r->lost) &&
           tu_json_add_number(root, "damaged", (double)r->damaged) &&
           tu_json_add_number(root, "sequence_gaps", (double)r->sequence_gaps) &&
           tu_json_add_number(root, "torn_bytes", (double)r->torn_bytes) &&
           tu_json_add_bool(root, "ended", r->ended);
}

tu_status tu_report_hitlog_json(FILE *out, const tu_hitlog_finding *finding, tu_error *error)
{
    cJSON *root = cJSON_CreateObject();
    bool ok = root && tu_json_add_number(root, "schema", 1) &&
              tu_json_add_text(root, "file", finding->path) &&
              tu_json_add_bool(root, "sound", tu_hitlog_is_sound(&finding->report)) &&
              add_counts(root, &finding->report);
    cJSON *faults = ok ? tu_json_add(root, "faults", cJSON_CreateArray()) : NULL;
    ok = ok && faults;
    for (size_t i = 0; ok && i < finding->faults && i < TU_HITLOG_FAULTS_SHOWN; i++) {
        cJSON *fault = tu_json_append(faults, cJSON_CreateObject());
        ok = fault && tu_json_add_number(fault, "line", (double)finding->fault[i].line) &&
             tu_json_add_text(fault, "message", finding->fault[i].text);
    }
    ok = ok && tu_json_add_number(root, "fault_count", (double)finding->faults);
    return tu_json_write(out, root, ok, error);
}
