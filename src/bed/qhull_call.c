/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * qhull_call.c - how Qhull is called here.
 */
#include "bed/qhull_call.h"

#include <stdio.h>

tu_status tu_qhull_start(qhT *qh, int dimension, double *coordinates, size_t count,
                         const char *command, const char *what, tu_error *error)
{
    char line[64]; /* Qhull asks for one that may be written to */
    /* It must print somewhere. A function of ours in place of its own would be the one of every
     * program that links this library; a stream in memory that has no room is nobody else's. */
    FILE *const nowhere = fmemopen(NULL, 1, "w");

    snprintf(line, sizeof line, "%s", command);
    qh_zero(qh, nowhere);
    qh->ferr = nowhere;
    const int code = nowhere ? qh_new_qhull(qh, dimension, (int)count, coordinates, False, line,
                                            nowhere, nowhere)
                             : qh_ERRmem;
    if (code == qh_ERRmem)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for the Qhull library");
    if (code != 0)
        return tu_fail(error, TU_NUMERIC, NULL, "%s (Qhull's error QH%d)", what, qh->last_errcode);
    return TU_OK;
}

void tu_qhull_finish(qhT *qh)
{
    int long_pieces, long_bytes;
    FILE *const nowhere = qh->ferr;

    qh_freeqhull(qh, !qh_ALL);
    qh_memfreeshort(qh, &long_pieces, &long_bytes);
    if (nowhere)
        fclose(nowhere);
}
