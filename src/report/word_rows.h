/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * word_rows.h - sentences broken between words into rows (internal).
 *
 * A word is what stands between spaces; a word longer than its row stands in a row of its own.
 */
#ifndef TU_REPORT_WORD_ROWS_H
#define TU_REPORT_WORD_ROWS_H

#include <stddef.h>
#include <stdio.h>

enum { TU_WORD_ROWS_COLUMNS = 80 };

/* How many columns of a terminal the text takes: a character each, whatever its bytes. */
int tu_word_rows_columns(const char *text);

/*
 * Writes the words in rows of at most TU_WORD_ROWS_COLUMNS, with the end of the last row.
 *   used    columns that the first row has taken already.
 *   indent  columns that the others stand in.
 */
void tu_word_rows_write(FILE *out, const char *text, int used, int indent);

/*
 * Takes the words of the next row from the front of text.
 *   row      out: size bytes, cut at a character when one word alone does not fit into them.
 *   room_mm  how wide the row may be, as tu_svg_text_width has it.
 *   font_mm  the size of the font; of a bolder one, larger by as much as it is wider.
 * Returns the text that is left: at its end when all is taken.
 */
const char *tu_word_rows_take(const char *text, double room_mm, double font_mm, char *row,
                              size_t size);

#endif
