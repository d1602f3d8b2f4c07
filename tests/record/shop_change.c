/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_change.c - test helper: changes a shop file as the program would. Not installed.
 *
 *     shop_change FILE PATH JSON [PATH JSON]...     silent when done; exit code as the program's
 */
#include "trueup/shop.h"

#include <stdio.h>

enum { EDITS_MAX = 8 };

int main(int argc, char **argv)
{
    tu_shop_edit edits[EDITS_MAX] = {0};
    tu_shop *shop = NULL;
    tu_error error = {0};
    size_t count = 0;
    if (argc < 4 || argc % 2 != 0 || argc > 2 + 2 * EDITS_MAX) {
        fputs("usage: shop_change FILE PATH JSON [PATH JSON]...\n", stderr);
        return 2;
    }
    for (int i = 2; i < argc; i += 2, count++) {
        snprintf(edits[count].path, sizeof edits[count].path, "%s", argv[i]);
        snprintf(edits[count].new_json, sizeof edits[count].new_json, "%s", argv[i + 1]);
    }
    tu_status status = tu_shop_read(argv[1], &shop, &error);
    if (!status)
        status = tu_shop_write_edits(shop, argv[1], edits, count, &error);
    tu_shop_destroy(shop);
    if (status)
        fprintf(stderr, "%s: %s\n", error.where, error.message);
    return tu_status_exit_code(status);
}
