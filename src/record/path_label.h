/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * path_label.h - the short name of a file among several.
 */
#ifndef TU_RECORD_PATH_LABEL_H
#define TU_RECORD_PATH_LABEL_H

#include <stddef.h>

/* With the end, what a label of a file takes. */
enum { TU_PATH_LABEL_SIZE = 61 };

/*
 * The shortest end of path[index], of whole folders, that is no end of another path: "run.csv"
 * alone, "monday/run.csv" beside "tuesday/run.csv". What is too long for a label is cut at its
 * front and carries the number of the file, "#2 ...", so that no two labels are equal where no two
 * paths are.
 */
void tu_path_label(const char *const *path, size_t count, size_t index, char *label, size_t size);

#endif
