/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_signals.h - Ctrl-C and its like as a descriptor that becomes readable, so that nothing is
 * ended in mid-line.
 */
#ifndef TU_CLI_LOG_SIGNALS_H
#define TU_CLI_LOG_SIGNALS_H

#include "trueup/status.h"

#include <signal.h>

typedef struct tu_log_signals {
    int fd;
    sigset_t before;
    struct sigaction pipe, size;
} tu_log_signals;

/* fd becomes readable by SIGINT, SIGTERM or SIGHUP while they are held. TU_SYSTEM_IO. */
tu_status tu_log_signals_open(tu_log_signals *signals, tu_error *error);
void tu_log_signals_hold(void);
/* From here on a second signal ends the program at once; the log stands that too. */
void tu_log_signals_release(tu_log_signals *signals);
/* Puts everything back as it was. */
void tu_log_signals_close(tu_log_signals *signals);

#endif
