/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_session.c - runs a recording from its first record to its last.
 */
#include "cli/log_session.h"

#include "cli/log_work.h"

#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/signalfd.h>
#include <time.h>
#include <unistd.h>

enum { CHUNK = 4096, TICK_MS = 500 };

/* Touches that come faster than the disk are written together, but none waits longer. */
static const double group_s = 0.05;

double tu_log_now_s(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

void tu_log_utc(char utc[TU_LOG_UTC_SIZE])
{
    struct timespec now;
    struct tm t;
    char text[TU_LOG_UTC_SIZE];
    clock_gettime(CLOCK_REALTIME, &now);
    gmtime_r(&now.tv_sec, &t);
    size_t length = strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%S", &t);
    snprintf(text + length, sizeof text - length, ".%03ldZ", now.tv_nsec / 1000000);
    memcpy(utc, text, sizeof text);
}

/* --- Signals: a descriptor that becomes readable, so that nothing is ended in mid-line --- */

typedef struct stop {
    int fd;
    sigset_t before;
    struct sigaction pipe, size;
} stop;

static tu_status catch_signals(stop *s, tu_error *error)
{
    sigset_t set;
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    sigemptyset(&set);
    sigaddset(&set, SIGINT);
    sigaddset(&set, SIGTERM);
    sigaddset(&set, SIGHUP);
    sigprocmask(SIG_BLOCK, &set, &s->before);
    /* A reader of stdout that goes, or a limit on the size of files, must not end it either. */
    sigaction(SIGPIPE, &ignore, &s->pipe);
    sigaction(SIGXFSZ, &ignore, &s->size);
    s->fd = signalfd(-1, &set, SFD_CLOEXEC | SFD_NONBLOCK);
    if (s->fd < 0)
        return tu_fail(error, TU_SYSTEM_IO, NULL, "can't watch for signals: %s", strerror(errno));
    return TU_OK;
}

/* From here on a second signal ends the program at once; the log stands that too. */
static void release_signals(stop *s)
{
    struct signalfd_siginfo taken;
    while (s->fd >= 0 && read(s->fd, &taken, sizeof taken) > 0)
        continue;
    if (s->fd >= 0)
        close(s->fd);
    s->fd = -1;
    sigprocmask(SIG_SETMASK, &s->before, NULL);
}

/* --- Start --- */

static tu_decode_setup decode_setup(const tu_log_options *options, const tu_shop *shop)
{
    tu_decode_setup setup = tu_decode_setup_start();
    setup.unit = options->unit;
    setup.axis = options->axis;
    setup.direction = options->direction;
    if (shop) {
        setup.machine = tu_shop_machine(shop);
        setup.templates = tu_shop_templates(shop, &setup.template_count);
    }
    if (options->template_text) {
        setup.templates = &options->template;
        setup.template_count = 1;
    }
    return setup;
}

static tu_status open_all(tu_log_work *work, tu_error *error)
{
    const tu_log_options *options = work->options;
    const tu_port_request request = {options->port, options->baud, options->frame};
    tu_hitlog_found found;
    char utc[TU_LOG_UTC_SIZE];
    tu_log_utc(utc);
    tu_status status = tu_port_open(&request, &work->port, error);
    if (!status)
        status = tu_hitlog_open(options->out_path, utc, &work->log, &found, error);
    if (!status && strcmp(options->port, "-") == 0 && tu_hitlog_is_file(work->log, STDIN_FILENO)) {
        tu_hitlog_abandon(work->log);
        work->log = NULL;
        status = tu_fail(error, TU_DATA_CONFLICT, options->out_path,
                         "is the source as well; log to another file");
    }
    if (status)
        return status;
    if (found.torn_bytes) {
        tu_log_note(work, "torn", found.torn_bytes, NULL, NULL, 0);
        tu_log_queue_warning(work,
                             "the last line of %s was torn: its %zu bytes are kept in %s, and the "
                             "log goes on behind touch %" PRIu64,
                             options->out_path, found.torn_bytes, found.torn_path,
                             found.last_sequence);
    }
    tu_log_note(work, "start", 0, tu_port_description(work->port), NULL, 0);
    if (work->show.live)
        fprintf(stderr, "recording from %s into %s%s\n", tu_port_description(work->port),
                options->out_path, found.existed ? ", behind what it holds" : "");
    status = work->failure;
    if (status && error)
        *error = work->error;
    return status ? status : tu_log_commit(work, false, error);
}

/* --- The loop --- */

/* How long to wait for bytes; what is queued waits only for bytes that are there already. */
static int timeout_ms(const tu_log_work *work, double now_s)
{
    double wait = -1.0;
    if ((work->items > 0 || tu_hitlog_queued(work->log) > 0) && !work->stalled)
        return 0;
    if (work->stalled)
        wait = work->retry_s - now_s;
    if (!isnan(work->options->for_s)) {
        double left = work->show.started_s + work->options->for_s - now_s;
        wait = wait < 0.0 ? left : fmin(wait, left);
    }
    if (work->show.live)
        wait = wait < 0.0 ? TICK_MS / 1e3 : fmin(wait, TICK_MS / 1e3);
    if (wait < 0.0 && !work->stalled && isnan(work->options->for_s))
        return -1;
    return wait <= 0.0 ? 0 : wait > 1000.0 ? 1000000 : (int)ceil(wait * 1e3);
}

static tu_status go_gone(tu_log_work *work, tu_error *error)
{
    tu_decoder_finish(&work->decoder, tu_log_take, work);
    tu_log_note(work, "gone", 0, tu_port_description(work->port), NULL, 0);
    tu_log_queue_warning(work, "%s is gone: unplugged? Waiting until it is back; Ctrl-C ends",
                         tu_port_description(work->port));
    snprintf(work->show.state, sizeof work->show.state,
             "  unplugged; waiting until it is back; Ctrl-C ends");
    return tu_log_commit(work, false, error);
}

/* Waits until the adapter is back, time is up or a signal comes. */
static tu_status wait_return(tu_log_work *work, int wake_fd, tu_error *error)
{
    tu_port_state state = TU_PORT_QUIET;
    tu_status status = go_gone(work, error);
    if (!status && (status = work->failure) && error)
        *error = work->error;
    char refusal[TU_ERROR_MESSAGE_SIZE] = "";
    while (!status && !work->ended && state == TU_PORT_QUIET) {
        double now_s = tu_log_now_s();
        tu_error why = {0};
        status = tu_port_wait_return(work->port, TICK_MS, wake_fd, &state, &why);
        if (status && error)
            *error = why;
        if (state == TU_PORT_INTERRUPTED)
            work->ended = "interrupted";
        else if (now_s - work->show.started_s >= work->options->for_s)
            work->ended = "time is up";
        if (!status && state == TU_PORT_QUIET && *why.message &&
            strcmp(refusal, why.message) != 0) { /* said once */
            snprintf(refusal, sizeof refusal, "%s", why.message);
            tu_log_show_warning(&work->show, refusal);
        }
        if (!status && work->stalled && now_s >= work->retry_s)
            status = tu_log_commit(work, false, error);
        tu_log_show_draw(&work->show, now_s);
    }
    if (status || state != TU_PORT_BACK)
        return status;
    work->show.state[0] = '\0';
    tu_log_note(work, "back", 0, tu_port_description(work->port), NULL, 0);
    tu_log_queue_warning(work, "%s is back", tu_port_description(work->port));
    return tu_log_commit(work, false, error);
}

static void take_state(tu_log_work *work, tu_port_state state, const char *bytes, size_t got)
{
    if (state == TU_PORT_BYTES)
        tu_decoder_feed(&work->decoder, bytes, got, tu_log_take, work);
    else if (state == TU_PORT_INTERRUPTED)
        work->ended = "interrupted";
    else if (state == TU_PORT_END) {
        tu_decoder_finish(&work->decoder, tu_log_take, work);
        if (!work->ended)
            work->ended = "the source ended";
    }
}

static tu_status step(tu_log_work *work, int wake_fd, tu_error *error)
{
    char bytes[CHUNK];
    size_t got;
    tu_port_state state;
    double now_s = tu_log_now_s();
    tu_status status = tu_port_read(work->port, bytes, sizeof bytes, timeout_ms(work, now_s),
                                    wake_fd, &got, &state, error);
    if (status)
        return status;
    if (state == TU_PORT_GONE)
        return wait_return(work, wake_fd, error);
    take_state(work, state, bytes, got);
    now_s = tu_log_now_s();
    if (!work->ended && now_s - work->show.started_s >= work->options->for_s)
        work->ended = "time is up";
    if (work->failure) {
        if (error)
            *error = work->error;
        return work->failure;
    }
    bool due = work->stalled ? now_s >= work->retry_s
                             : state != TU_PORT_BYTES || now_s - work->queued_s >= group_s;
    if (due && !work->ended)
        status = tu_log_commit(work, false, error);
    if (state == TU_PORT_QUIET)
        tu_log_show_draw(&work->show, now_s);
    return status;
}

/* --- End --- */

static void write_summary(const tu_log_work *work, FILE *out)
{
    fprintf(out, "%" PRIu64 " touch%s recorded in %s", work->hits, work->hits == 1 ? "" : "es",
            work->options->out_path);
    if (work->counted != work->hits)
        fprintf(out, ", of which %" PRIu64 " count%s", work->counted,
                work->counted == 1 ? "s" : "");
    if (work->lost)
        fprintf(out, ", %" PRIu64 " line%s lost", work->lost, work->lost == 1 ? "" : "s");
    if (work->unread)
        fprintf(out, ", %" PRIu64 " line%s not read", work->unread, work->unread == 1 ? "" : "s");
    fprintf(out, "; ended: %s\n", work->ended);
    tu_log_show_groups(&work->show, out);
}

/* What was asked for has not all come: whoever goes on with the log must know. */
static tu_status judge(const tu_log_work *work, tu_error *error)
{
    if (work->plan && work->plan->course.landed < work->plan->count)
        return tu_fail(error, TU_DATA_MISSING, work->options->plan_path,
                       "of its %zu touches %zu came; the log holds those", work->plan->count,
                       work->plan->course.landed);
    if (work->options->count && work->counted < work->options->count)
        return tu_fail(error, TU_DATA_MISSING, "--count",
                       "only %" PRIu64 " of %" PRIu64 " touches came; the log holds those",
                       work->counted, work->options->count);
    if (work->hits == 0 && work->unread > 0)
        return tu_fail(error, TU_DATA_SYNTAX, tu_port_description(work->port),
                       "no line was read as a touch; the warnings say why, and the log holds the "
                       "lines");
    return TU_OK;
}

/* The last record; also after a failure of the source, so that the log tells of it. */
static tu_status finish(tu_log_work *work, tu_status status, tu_error *error)
{
    tu_error last = {0};
    if (!work->ended)
        work->ended = "a failure";
    if (work->unread > TU_LOG_UNREAD_KEPT)
        tu_log_note(work, "unread", work->unread - TU_LOG_UNREAD_KEPT, "more, not kept", NULL, 0);
    tu_log_note(work, "end", 0, work->ended, NULL, 0);
    tu_status closing = tu_log_commit(work, true, &last);
    tu_log_show_clear(&work->show);
    if (closing)
        tu_log_tell_unrecorded(work);
    if (!closing && tu_hitlog_has_moved(work->log))
        tu_log_show_warning(&work->show,
                            "the log was renamed while it was written: all of it is in "
                            "the file under its new name");
    tu_hitlog_abandon(work->log);
    work->log = NULL;
    if (closing && !status) {
        status = closing;
        if (error)
            *error = last;
    }
    if (status)
        return status;
    write_summary(work, work->options->json ? stderr : stdout);
    status = tu_log_show_flush(&work->show, error);
    return status ? status : judge(work, error);
}

tu_status tu_log_record(const tu_log_options *options, const tu_shop *shop, tu_log_plan *plan,
                        tu_error *error)
{
    stop signals = {.fd = -1};
    tu_log_work *work = calloc(1, sizeof *work);
    if (!work)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    const tu_decode_setup setup = decode_setup(options, shop);
    work->options = options;
    work->plan = plan;
    work->decoder = tu_decoder_start(&setup);
    work->show = tu_log_show_start(options, plan, tu_log_now_s());
    tu_status status = catch_signals(&signals, error);
    if (!status)
        status = open_all(work, error);
    while (!status && !work->ended)
        status = step(work, signals.fd, error);
    release_signals(&signals);
    if (work->log)
        status = finish(work, status, error);
    sigaction(SIGPIPE, &signals.pipe, NULL);
    sigaction(SIGXFSZ, &signals.size, NULL);
    tu_port_close(work->port);
    free(work->item);
    free(work);
    return status;
}
