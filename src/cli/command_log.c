/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_log.c - `trueup log`: touches from a device into a hit log.
 */
#include "cli/command.h"
#include "cli/face.h"
#include "cli/log_options.h"
#include "cli/log_show.h"
#include "cli/log_signals.h"

/* What a run holds until its end. */
typedef struct log_run {
    tu_log_options options;
    tu_log_signals signals;
    tu_log_show show;
    tu_task_log_story story;
    tu_hitlog_finding finding;
} log_run;

static tu_status tell(void *context, const tu_log_event *event, tu_error *error)
{
    log_run *run = context;
    if (event->kind == TU_LOG_OPENING)
        tu_log_signals_hold();
    if (event->kind == TU_LOG_ENDING)
        tu_log_signals_release(&run->signals);
    return tu_log_show_tell(&run->show, event, error);
}

static tu_status record(log_run *run, tu_error *error)
{
    run->show = tu_log_show_start(&run->options);
    const tu_log_sink sink = {run, run->show.view.live, tell};
    tu_status status = tu_log_signals_open(&run->signals, error);
    if (!status)
        status = tu_task_log(&run->options.task, run->signals.fd, &sink, &run->story, error);
    tu_log_view_clear(&run->show.view);
    if (!status)
        status = tu_log_show_summary(&run->show, &run->story, error);
    tu_log_signals_close(&run->signals);
    return status;
}

static void start(void *of)
{
    log_run *run = of;
    tu_log_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    log_run *run = of;
    run->options.task.face = &tu_cli_face;
    run->options.task.typed = run->options.common.typed;
    return run->options.verify_path
               ? tu_task_log_verify(run->options.verify_path, &run->finding, error)
               : record(run, error);
}

/* A recording has shown what it did while it did it. */
static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const log_run *run = of;
    if (!run->options.verify_path)
        return TU_OK;
    return run->options.json ? tu_report_hitlog_json(out, &run->finding, error)
                             : tu_report_hitlog_text(out, &run->finding, error);
}

static tu_status verdict(const void *of, tu_error *error)
{
    const log_run *run = of;
    return run->options.verify_path ? tu_task_log_verify_verdict(&run->finding, error)
                                    : tu_task_log_verdict(&run->story, error);
}

const tu_command tu_command_log = {
    .name = "log",
    .summary = "records hits from a serial port or standard input",
    .about =
        "Records touches in a hit log, a line each. A touch is shown only when it is on the disk: "
        "what was shown is not lost, whatever happens to the cable, the power or this program. "
        "Lines that are no touch are kept in the log as they came, and gaps in the numbering of "
        "the device are recorded.\n\n"
        "On a terminal the last touch and the figures of its axis are shown live; elsewhere each "
        "touch is a line. Ctrl-C ends a recording cleanly. A log that exists is added to; a line "
        "that a power cut tore is kept aside first. An adapter that is unplugged is waited for.\n\n"
        "Exit status 3: fewer touches came than --count or --expect ask for, or --verify found "
        "damage. 4: the port or the disk failed; touches that are not in the log are listed.",
    .example = "  trueup log --port /dev/ttyUSB0 --out bed.hits.jsonl --expect bed.ngc\n"
               "  trueup log --verify bed.hits.jsonl\n",
    .syntax = &tu_log_syntax_table,
    .size = sizeof(log_run),
    .start = start,
    .work = work,
    .answer = write_answer,
    .verdict = verdict,
};
