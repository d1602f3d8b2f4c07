/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_verdict.c - test helper: reads a shop file, a hit log (*.jsonl), a table of touches (*.csv)
 * or a scene as the program would, and prints OK or "where: message". Not installed.
 *
 *     shop_verdict FILE           exit code as the program's
 *     shop_verdict --scene FILE
 */
#include "trueup/hits.h"
#include "trueup/scene_file.h"
#include "trueup/shop.h"
#include "trueup/touch_table.h"

#include <stdio.h>
#include <string.h>

static tu_status read_shop(const char *path, tu_error *error)
{
    tu_shop *shop;
    tu_status status = tu_shop_read(path, &shop, error);
    tu_shop_destroy(shop);
    if (!status)
        puts("OK");
    return status;
}

static tu_status read_hits(const char *path, tu_error *error)
{
    tu_hits_reader *reader;
    tu_hit hit;
    bool have;
    size_t count = 0;
    tu_status status = tu_hits_open(path, &reader, error);
    while (!status && !(status = tu_hits_next(reader, &hit, &have, error)) && have)
        count++;
    if (!status && tu_hits_torn(reader))
        printf("OK, %zu hits, then a torn line of %zu bytes\n", count, tu_hits_torn(reader));
    else if (!status)
        printf("OK, %zu hits\n", count);
    tu_hits_close(reader);
    return status;
}

static tu_status read_table(const char *path, tu_error *error)
{
    tu_touch_table *table;
    const tu_touch_table_request request = {&path, 1, TU_UNIT_MM, NULL};
    tu_status status = tu_touch_table_read(&request, &table, error);
    if (!status)
        printf("OK, %zu touches\n", table->count);
    tu_touch_table_destroy(table);
    return status;
}

static tu_status read_scene(const char *path, tu_error *error)
{
    static tu_scene scene;
    tu_status status = tu_scene_read(path, &scene, error);
    if (!status)
        puts("OK");
    return status;
}

int main(int argc, char **argv)
{
    tu_error error = {0};
    bool scene = argc == 3 && !strcmp(argv[1], "--scene");
    if (argc != 2 && !scene) {
        fputs("usage: shop_verdict [--scene] FILE\n", stderr);
        return 2;
    }
    const char *path = argv[argc - 1];
    size_t length = strlen(path);
    bool hits = length > 6 && !strcmp(path + length - 6, ".jsonl");
    bool table = length > 4 && !strcmp(path + length - 4, ".csv");
    tu_status status = scene   ? read_scene(path, &error)
                       : hits  ? read_hits(path, &error)
                       : table ? read_table(path, &error)
                               : read_shop(path, &error);
    if (status)
        printf("%s: %s\n", error.where, error.message);
    return tu_status_exit_code(status);
}
