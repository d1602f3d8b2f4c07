/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * same_file.c - whether two names lead to one file.
 */
#include "record/same_file.h"

#include <stddef.h>
#include <sys/stat.h>

bool tu_is_same_file(const char *a, const char *b)
{
    struct stat of_a, of_b;
    return a != NULL && b != NULL && stat(a, &of_a) == 0 && stat(b, &of_b) == 0 &&
           of_a.st_dev == of_b.st_dev && of_a.st_ino == of_b.st_ino;
}
