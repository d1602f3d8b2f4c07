/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_hitlog.h - what a check of a hit log found, as text and JSON (docs/log.md).
 */
#ifndef TRUEUP_REPORT_HITLOG_H
#define TRUEUP_REPORT_HITLOG_H

#include "trueup/hitlog.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

TU_BEGIN_DECLS

enum { TU_HITLOG_FAULTS_SHOWN = 40 };

/* The faults in the order of the file; the first of them with their text. Starts as {0}. */
typedef struct tu_hitlog_finding {
    const char *path;
    tu_hitlog_report report;
    size_t faults;
    struct {
        uint64_t line;
        char text[300];
    } fault[TU_HITLOG_FAULTS_SHOWN];
} tu_hitlog_finding;

/* A tu_hitlog_fault_sink; context is the finding. */
void tu_hitlog_finding_add(void *context, uint64_t line, const char *message);
/* No damage, nothing torn, no gap. */
bool tu_hitlog_is_sound(const tu_hitlog_report *report);

/* Each returns TU_OK, TU_SYSTEM_IO or TU_SYSTEM_MEMORY. */
tu_status tu_report_hitlog_text(FILE *out, const tu_hitlog_finding *finding, tu_error *error);
tu_status tu_report_hitlog_json(FILE *out, const tu_hitlog_finding *finding, tu_error *error);

TU_END_DECLS

#endif
