/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_log.h - touches from a device into a hit log, and whether a log is as it was written.
 *
 *     tu_task_log_request request = tu_task_log_request_start();
 *     const tu_log_sink sink = {.tell = show};
 *     tu_task_log_story story;
 *     request.port = "/dev/ttyUSB0";
 *     request.out = "bed.hits.jsonl";
 *     status = tu_task_log(&request, wake_fd, &sink, &story, &error);
 *     if (!status)
 *         status = tu_task_log_verdict(&story, &error);
 */
#ifndef TRUEUP_TASK_LOG_H
#define TRUEUP_TASK_LOG_H

#include "trueup/decode.h"
#include "trueup/hits.h"
#include "trueup/quantity.h"
#include "trueup/report_hitlog.h"
#include "trueup/status.h"
#include "trueup/task.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

TU_BEGIN_DECLS

/*
 * Texts are borrowed; NULL: not stated.
 *   port, baud, frame  where lines come from (tu_port_request).
 *   out      the log; one that is there is added to.
 *   series   of touches whose line names none.
 *   axis, direction  for lines that do not say; TU_AXIS_COUNT and 0: not stated.
 *   shop     the shop file: line templates, travel.
 *   text     a line template, instead of those of the shop file.
 *   expect   the touch program that runs.
 *   count    touches that count, after which recording ends; 0: no end.
 *   for_s    seconds after which it ends; NaN: no end.
 *   unit     of lines that name none. Where it is not stated, that of the shop file's templates
 *            where all state the same.
 */
typedef struct tu_task_log_request {
    const tu_face *face;
    const char *port, *frame;
    int baud;
    const char *out, *series;
    tu_axis axis;
    int direction;
    const char *shop, *text, *expect;
    uint64_t count;
    double for_s;
    tu_unit unit;
    tu_typed_unit typed;
} tu_task_log_request;

typedef enum tu_log_event_kind {
    TU_LOG_OPENING,       /* from here on only wake_fd, and what the request says, ends it */
    TU_LOG_OPENED,        /* text: the source */
    TU_LOG_HIT,           /* a touch that is on the disk */
    TU_LOG_WITHDREW_ALL,  /* all touches so far count no more; the log says so */
    TU_LOG_WITHDREW_LAST, /* likewise the last that counted */
    TU_LOG_WARNING,       /* text; in its place among the touches */
    TU_LOG_UNPLUGGED,     /* text: the source, which is waited for */
    TU_LOG_BACK,          /* text: the source */
    TU_LOG_STALLED,       /* the disk refuses; touches wait in memory. A warning said why */
    TU_LOG_GOES_ON,       /* writing works again */
    TU_LOG_FLUSH,         /* these were all for now: a failure to show them ends the recording */
    TU_LOG_TICK,          /* time has passed */
    TU_LOG_ENDING,        /* the last records are going to be written */
    TU_LOG_UNRECORDED     /* a touch that never came to the disk */
} tu_log_event_kind;

/*
 * What a recording tells. hit and text are valid during the call, and NULL where the kind has none.
 *   existed    OPENED: the log was there and is added to.
 *   unit       of what is shown.
 *   seconds    since the recording started.
 *   done, all  touches of the program that runs; 0: none was stated.
 */
typedef struct tu_log_event {
    tu_log_event_kind kind;
    const tu_hit *hit;
    const char *text;
    bool existed;
    tu_unit unit;
    double seconds;
    size_t done, all;
} tu_log_event;

/*
 * Who is told.
 *   ticks  TU_LOG_TICK comes twice a second though nothing else happens.
 *   tell   its status is heeded of TU_LOG_FLUSH; NULL: nobody.
 */
typedef struct tu_log_sink {
    void *context;
    bool ticks;
    tu_status (*tell)(void *context, const tu_log_event *event, tu_error *error);
} tu_log_sink;

/*
 *   hits, counted  touches that were recorded, and those that count.
 *   lost, unread   lines.
 *   expected, landed  touches of the program, and those that came.
 *   ended          why; NULL: it never started.
 *   source         what was opened.
 */
typedef struct tu_task_log_story {
    const tu_task_log_request *request;
    uint64_t hits, counted, lost, unread;
    size_t expected, landed;
    const char *ended;
    char source[480];
} tu_task_log_story;

/* Nothing stated. */
tu_task_log_request tu_task_log_request_start(void);

/*
 * Records until the source ends, the stated number or time is reached, all touches of the program
 * have come, or wake_fd is readable. A touch is told only when it is on the disk. A process that
 * has a limit on the size of files should ignore SIGXFSZ, so that writing fails instead.
 *   wake_fd  the caller empties it; -1: none.
 *   story    out; the request must live as long.
 * Returns TU_OK; TU_USAGE for what misses a part or contradicts itself; what opening, reading,
 * writing or showing returned: the log then holds every touch that was told.
 */
tu_status tu_task_log(const tu_task_log_request *request, int wake_fd, const tu_log_sink *sink,
                      tu_task_log_story *story, tu_error *error);

/* TU_DATA_MISSING where fewer touches came than were asked for; TU_DATA_SYNTAX where lines came and
 * none was read; else TU_OK. */
tu_status tu_task_log_verdict(const tu_task_log_story *story, tu_error *error);

/*
 * Checks a hit log; "-": standard input.
 *   finding  out: for tu_report_hitlog_text and _json; path must live as long.
 * As tu_hitlog_verify.
 */
tu_status tu_task_log_verify(const char *path, tu_hitlog_finding *finding, tu_error *error);

/* TU_DATA_SYNTAX for a log that is damaged, torn or has gaps. */
tu_status tu_task_log_verify_verdict(const tu_hitlog_finding *finding, tu_error *error);

TU_END_DECLS

#endif
