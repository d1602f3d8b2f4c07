/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sheet.c - text in memory.
 */
#include "base/sheet.h"

#include <stdlib.h>

tu_status tu_sheet_open(tu_sheet *sheet, tu_error *error)
{
    *sheet = (tu_sheet){0};
    sheet->stream = open_memstream(&sheet->text, &sheet->length);
    if (!sheet->stream)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    return TU_OK;
}

tu_status tu_sheet_finish(tu_sheet *sheet, tu_error *error)
{
    int failed = ferror(sheet->stream);
    failed |= fclose(sheet->stream);
    sheet->stream = NULL;
    /* glibc's fclose gives no sign when its last allocation failed: text is then NULL. */
    if (failed || !sheet->text)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    return TU_OK;
}

void tu_sheet_destroy(tu_sheet *sheet)
{
    if (sheet->stream)
        fclose(sheet->stream);
    free(sheet->text);
    *sheet = (tu_sheet){0};
}
