/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * input_file.h - opens a file for reading; every reader of record/ begins here.
 */
#ifndef RECORD_INPUT_FILE_H
#define RECORD_INPUT_FILE_H

#include "trueup/status.h"

/* How long a named pipe may be without a writer; long enough to start one in another window that is
 * typed already. */
#define TU_INPUT_WAIT_MS 5000

/*
 * Opens path; "-" is standard input.
 *   fd  out: for tu_input_close; -1 on failure.
 * A folder, a device and a socket are refused without opening them: opening a serial port resets
 * many boards. A named pipe that nobody writes to is waited for up to TU_INPUT_WAIT_MS; one that
 * has a writer is read for as long as that takes, and so is the shell's <(...).
 * Returns TU_OK; TU_SYSTEM_IO with the reason.
 */
tu_status tu_input_open(const char *path, int *fd, tu_error *error);

/* Closes it; standard input stays open. */
void tu_input_close(const char *path, int fd);

/* What messages call it: the path, or "standard input". */
const char *tu_input_name(const char *path);

#endif
