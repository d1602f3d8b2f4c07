/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_take.h - what the decoder finds becomes touches and records of the log.
 */
#ifndef TU_TASK_LOG_TAKE_H
#define TU_TASK_LOG_TAKE_H

#include "task/log/log_work.h"

/* A tu_decode_sink; context is the work. */
void tu_log_take(void *context, const tu_decoded *decoded);

#endif
