/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_signals.c - Ctrl-C and its like as a descriptor that becomes readable.
 */
#include "cli/log_signals.h"

#include <errno.h>
#include <string.h>
#include <sys/signalfd.h>
#include <unistd.h>

static sigset_t ending(void)
{
    sigset_t set;
    sigemptyset(&set);
    sigaddset(&set, SIGINT);
    sigaddset(&set, SIGTERM);
    sigaddset(&set, SIGHUP);
    return set;
}

tu_status tu_log_signals_open(tu_log_signals *signals, tu_error *error)
{
    const sigset_t set = ending();
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    sigprocmask(SIG_BLOCK, NULL, &signals->before);
    /* A reader of stdout that goes, or a limit on the size of files, must not end it either. */
    sigaction(SIGPIPE, &ignore, &signals->pipe);
    sigaction(SIGXFSZ, &ignore, &signals->size);
    signals->fd = signalfd(-1, &set, SFD_CLOEXEC | SFD_NONBLOCK);
    if (signals->fd < 0)
        return tu_fail(error, TU_SYSTEM_IO, NULL, "can't watch for signals: %s", strerror(errno));
    return TU_OK;
}

void tu_log_signals_hold(void)
{
    const sigset_t set = ending();
    sigprocmask(SIG_BLOCK, &set, NULL);
}

void tu_log_signals_release(tu_log_signals *signals)
{
    struct signalfd_siginfo taken;
    while (signals->fd >= 0 && read(signals->fd, &taken, sizeof taken) > 0)
        continue;
    sigprocmask(SIG_SETMASK, &signals->before, NULL);
}

void tu_log_signals_close(tu_log_signals *signals)
{
    if (signals->fd >= 0)
        close(signals->fd);
    signals->fd = -1;
    sigaction(SIGPIPE, &signals->pipe, NULL);
    sigaction(SIGXFSZ, &signals->size, NULL);
}
