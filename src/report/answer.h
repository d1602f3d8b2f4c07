/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * answer.h - the end of an answer that was written to a stream (internal).
 */
#ifndef TU_REPORT_ANSWER_H
#define TU_REPORT_ANSWER_H

#include "trueup/status.h"

#include <stdio.h>

/* Flushes. A stream remembers that a write failed, so that one look at the end is enough.
 * Returns TU_OK or TU_SYSTEM_IO. */
tu_status tu_answer_finish(FILE *out, tu_error *error);

#endif
