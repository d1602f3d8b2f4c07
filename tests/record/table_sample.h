/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * table_sample.h - files of touches for the tests of the table, from a text.
 */
#ifndef TRUEUP_TESTS_TABLE_SAMPLE_H
#define TRUEUP_TESTS_TABLE_SAMPLE_H

#include "check.h"

#include "trueup/touch_table.h"

/* A temporary file of this text; two at a time. */
const char *table_sample_file(const char *text, size_t length);
/* The table of a text, as tu_touch_table_read has it. */
tu_status table_sample_read(const char *text, tu_unit unit, const char *by, tu_touch_table **table,
                            tu_error *error);
/* The table of a text in mm; ends the test when it is refused. */
tu_touch_table *table_sample_good(const char *text);

#endif
