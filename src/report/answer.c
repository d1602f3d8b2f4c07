/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * answer.c - the end of an answer that was written to a stream.
 */
#include "report/answer.h"

#include <errno.h>
#include <string.h>

tu_status tu_answer_finish(FILE *out, tu_error *error)
{
    errno = 0;
    if (fflush(out) != 0 || ferror(out))
        return tu_fail(error, TU_SYSTEM_IO, NULL, "the answer cannot be written: %s",
                       strerror(errno ? errno : EIO));
    return TU_OK;
}
