/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * qhull_call.h - how Qhull is called here: silent, its memory given back, its errors as a status.
 */
#ifndef TRUEUP_BED_QHULL_CALL_H
#define TRUEUP_BED_QHULL_CALL_H

#include "trueup/status.h"

#include <libqhull_r/qhull_ra.h>
#include <stddef.h>

/*
 * Makes what the command asks for. coordinates: count points of that dimension, which stay the
 * caller's and have to outlive qh. After it, tu_qhull_finish in any case. TU_SYSTEM_MEMORY;
 * TU_NUMERIC: Qhull refused the points, "WHAT (Qhull's error QH...)".
 */
tu_status tu_qhull_start(qhT *qh, int dimension, double *coordinates, size_t count,
                         const char *command, const char *what, tu_error *error);
/* Gives all of Qhull's memory back. */
void tu_qhull_finish(qhT *qh);

#endif
