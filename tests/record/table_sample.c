/* SPDX-License-Identifier: GPL-3.0-or-later */
/* table_sample.c - files of touches for the tests of the table, from a text. */
#include "table_sample.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const char *table_sample_file(const char *text, size_t length)
{
    static char path[2][40];
    static size_t next;
    char *made = path[next++ % 2];
    snprintf(made, sizeof path[0], "/tmp/table.XXXXXX");
    int fd = mkstemp(made);
    assert_true(fd >= 0);
    assert_int_equal(write(fd, text, length), length);
    close(fd);
    return made;
}

tu_status table_sample_read(const char *text, tu_unit unit, const char *by, tu_touch_table **table,
                            tu_error *error)
{
    const char *path = table_sample_file(text, strlen(text));
    const tu_touch_table_request request = {&path, 1, unit, by};
    tu_status status = tu_touch_table_read(&request, table, error);
    unlink(path);
    return status;
}

tu_touch_table *table_sample_good(const char *text)
{
    tu_error error = {0};
    tu_touch_table *table;
    check_status(table_sample_read(text, TU_UNIT_MM, NULL, &table, &error), TU_OK, &error);
    return table;
}
