/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * qhull_call.c - how Qhull is called here.
 *
 * Its printing is replaced in the file that everyone calls it through, so that the linker takes
 * this one and not Qhull's own.
 */
#include "bed/qhull_call.h"

#include <stdio.h>

/*
 * Qhull calls this for all that it prints, and lets a program put its own in place of it: nothing
 * is printed; the number of an error is kept where Qhull looks for it.
 */
void qh_fprintf(qhT *qh, FILE *fp, int msgcode, const char *fmt, ...)
{
    (void)fp;
    (void)fmt;
    if (qh && msgcode >= MSG_ERROR && msgcode < MSG_WARNING)
        qh->last_errcode = msgcode;
}

tu_status tu_qhull_start(qhT *qh, int dimension, double *coordinates, size_t count,
                         const char *command, const char *what, tu_error *error)
{
    char line[64]; /* Qhull asks for one that may be written to */

    snprintf(line, sizeof line, "%s", command);
    qh_zero(qh, NULL);
    const int code = qh_new_qhull(qh, dimension, (int)count, coordinates, False, line, NULL, NULL);
    if (code == qh_ERRmem)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for the Qhull library");
    if (code != 0)
        return tu_fail(error, TU_NUMERIC, NULL, "%s (Qhull's error QH%d)", what, qh->last_errcode);
    return TU_OK;
}

void tu_qhull_finish(qhT *qh)
{
    int long_pieces, long_bytes;

    qh_freeqhull(qh, !qh_ALL);
    qh_memfreeshort(qh, &long_pieces, &long_bytes);
}
