/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * same_file.h - whether two names lead to one file, so that no input is written over.
 */
#ifndef TU_RECORD_SAME_FILE_H
#define TU_RECORD_SAME_FILE_H

#include <stdbool.h>

/* True where both are there and are one file; NULL is no file. */
bool tu_is_same_file(const char *a, const char *b);

#endif
