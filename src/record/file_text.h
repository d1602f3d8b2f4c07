/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * file_text.h - a whole file as text.
 */
#ifndef RECORD_FILE_TEXT_H
#define RECORD_FILE_TEXT_H

#include "trueup/status.h"

#include <stddef.h>

/*
 * Reads all of a file; "-" is standard input.
 *   limit  bytes; a larger file is refused, so that a wrong name can't fill the memory.
 *   text   out, with a NUL behind it, for free(); NULL on failure.
 * Returns TU_OK, TU_SYSTEM_IO (with the system's reason), TU_SYSTEM_MEMORY, TU_DATA_RANGE (too
 * large).
 */
tu_status tu_file_text_read(const char *path, size_t limit, char **text, size_t *length,
                            tu_error *error);

#endif
