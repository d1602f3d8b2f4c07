/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_session.h - a recording from its first record to its last.
 */
#ifndef TU_TASK_LOG_SESSION_H
#define TU_TASK_LOG_SESSION_H

#include "task/log/log_work.h"

/*
 * Records, and closes the log. The work has its request, sink, story, plan, unit and decoder; what
 * it owns beside these is released. Statuses as tu_task_log.
 */
tu_status tu_log_session(tu_log_work *work, int wake_fd, tu_error *error);

#endif
