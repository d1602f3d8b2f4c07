/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_check.c - `trueup log --verify`: is this log as it was written?
 */
#include "cli/log_check.h"

#include "cli/output.h"
#include "trueup/report_hitlog.h"

#include <stdlib.h>
#include <string.h>

static tu_status write_report(const tu_hitlog_finding *finding, bool json, tu_error *error)
{
    tu_sheet sheet;
    tu_status status = tu_sheet_open(&sheet, error);
    if (!status)
        status = json ? tu_report_hitlog_json(sheet.stream, finding, error)
                      : tu_report_hitlog_text(sheet.stream, finding, error);
    if (!status)
        status = tu_sheet_finish(&sheet, error);
    if (!status)
        status = tu_output_write(sheet.text, sheet.length, error);
    tu_sheet_destroy(&sheet);
    return status;
}

tu_status tu_log_check(const char *path, bool json, tu_error *error)
{
    tu_hitlog_finding *finding = calloc(1, sizeof *finding);
    if (!finding)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    finding->path = strcmp(path, "-") == 0 ? "standard input" : path;
    tu_status status =
        tu_hitlog_verify(path, &finding->report, tu_hitlog_finding_add, finding, error);
    if (!status)
        status = write_report(finding, json, error);
    if (!status && !tu_hitlog_is_sound(&finding->report))
        status = tu_fail(error, TU_DATA_SYNTAX, finding->path,
                         "not as it was written; the report says where. Keep a copy, take damaged "
                         "lines out, or log again");
    free(finding);
    return status;
}
