/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_touch_table.c - touches from CSV files and hit logs. Bad files are in fixtures/bad/table.
 */
#include "table_sample.h"

#include "trueup/hitlog.h"
#include "trueup/hits.h"
#include "trueup/touch_table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void the_separator_is_told_from_the_header_row(void **state)
{
    (void)state;
    static const char *const texts[] = {"t,z,series\n0.5,-40.125,left\n",
                                        "t;z;series\n0.5;-40.125;left\n",
                                        "t\tz\tseries\n0.5\t-40.125\tleft\n"};
    for (size_t i = 0; i < 3; i++) {
        tu_touch_table *table = table_sample_good(texts[i]);
        assert_int_equal(table->count, 1);
        check_same(table->position_mm[TU_AXIS_Z][0], -40.125, "z, mm");
        check_same(table->time_s[0], 0.5, "t, s");
        assert_string_equal(table->series_name[table->series[0]], "left");
        assert_int_equal(table->line[0], 2);
        tu_touch_table_destroy(table);
    }
}

static void columns_stand_in_any_order_and_in_either_case(void **state)
{
    (void)state;
    tu_touch_table *table = table_sample_good(
        "bit,DIR,feed,Z,axis,X\r\nnew,-,120,1.5,z,7\r\nnew,+1,60mm/min,2,Z,8\r\n");
    assert_int_equal(table->count, 2);
    check_same(table->position_mm[TU_AXIS_X][1], 8, "x, mm");
    assert_null(table->position_mm[TU_AXIS_Y]);
    check_same(table->feed_mm_s[0], 2, "feed, mm/s: 120 mm/min");
    check_same(table->feed_mm_s[1], 1, "feed, mm/s: 60 mm/min");
    assert_int_equal(table->direction[0], -1);
    assert_int_equal(table->direction[1], 1);
    assert_int_equal(table->axis[1], TU_AXIS_Z);
    assert_null(table->time_s);
    assert_null(table->series);
    assert_null(table->level);
    tu_touch_table_destroy(table);
}

static void quotes_a_byte_order_mark_and_spaces_are_taken_off(void **state)
{
    (void)state;
    tu_touch_table *table =
        table_sample_good("\xEF\xBB\xBF\"z\" , \"series\"\n \"1.25\" ,\"a, \"\"b\"\"\"\n");
    check_same(table->position_mm[TU_AXIS_Z][0], 1.25, "z, mm");
    assert_string_equal(table->series_name[0], "a, \"b\"");
    tu_touch_table_destroy(table);
}

static void lengths_are_in_the_files_unit_or_state_their_own(void **state)
{
    (void)state;
    tu_touch_table *table;
    tu_error error = {0};
    check_status(table_sample_read("z,x\n0.1,2.5mm\n", TU_UNIT_INCH, NULL, &table, &error), TU_OK,
                 &error);
    check_same(table->position_mm[TU_AXIS_Z][0], 2.54, "z, mm: 0.1 in is 2.54 mm exactly");
    check_same(table->position_mm[TU_AXIS_X][0], 2.5, "x, mm");
    tu_touch_table_destroy(table);
    table = table_sample_good("z\n1/4in\n");
    check_same(table->position_mm[TU_AXIS_Z][0], 6.35, "z, mm: a quarter inch");
    tu_touch_table_destroy(table);
}

static void levels_are_the_column_that_was_asked_for(void **state)
{
    (void)state;
    tu_touch_table *table;
    tu_error error = {0};
    check_status(table_sample_read("z,seat\n1,a\n2,b\n3,a\n", TU_UNIT_MM, "seat", &table, &error),
                 TU_OK, &error);
    assert_int_equal(table->level_count, 2);
    assert_int_equal(table->level[0], 0);
    assert_int_equal(table->level[1], 1);
    assert_int_equal(table->level[2], 0);
    assert_string_equal(table->level_name[1], "b");
    tu_touch_table_destroy(table);
    check_status(table_sample_read("z,seat\n1,a\n", TU_UNIT_MM, "bit", &table, &error),
                 TU_DATA_UNKNOWN, &error);
    assert_null(table);
    check_contains(error.message, "\"bit\"");
}

static void a_row_that_touched_another_axis_may_leave_this_one_empty(void **state)
{
    (void)state;
    tu_touch_table *table = table_sample_good("axis,x,z\nx,5,\nz,,7\n");
    check_nan(table->position_mm[TU_AXIS_Z][0], "z of a touch along x");
    check_same(table->position_mm[TU_AXIS_Z][1], 7, "z, mm");
    tu_touch_table_destroy(table);
}

/* The name of the row before, but for a byte that no text holds. */
static void a_name_with_a_zero_byte_is_not_the_one_before(void **state)
{
    (void)state;
    static const char text[] = "z,series\n1,left\n2,left\0\n";
    const char *path = table_sample_file(text, sizeof text - 1);
    const tu_touch_table_request request = {&path, 1, TU_UNIT_MM, NULL};
    tu_touch_table *table;
    tu_error error = {0};
    check_status(tu_touch_table_read(&request, &table, &error), TU_DATA_SYNTAX, &error);
    unlink(path);
}

static void a_unit_in_some_cells_of_a_column_only_is_refused(void **state)
{
    (void)state;
    tu_touch_table *table;
    tu_error error = {0};
    check_status(table_sample_read("z\n1in\n25.4\n", TU_UNIT_MM, NULL, &table, &error),
                 TU_DATA_CONFLICT, &error);
    check_contains(error.message, "line 2 states its unit and line 3 does not");
}

static const char utc[] = "2026-02-28T23:59:59.500Z";

static size_t add_hit(char *log, size_t size, const tu_hit *hit)
{
    size_t length = tu_hits_format(log, size, hit);
    assert_true(length > 0);
    return length;
}

/* Times are by the device's clock from the first touch; hits that are not ok are left out. */
static void a_hit_log_gives_its_touches(void **state)
{
    (void)state;
    char log[2000];
    size_t length = tu_hits_format_header(log, sizeof log, utc);
    for (uint64_t i = 0; i < 4; i++) {
        tu_hit hit = {.sequence = i,
                      .device_us = 5000000 + 250000 * i,
                      .axis = TU_AXIS_Z,
                      .position = {1, 2, 3 + (double)i},
                      .direction = -1,
                      .ok = i != 1};
        snprintf(hit.series, sizeof hit.series, "%s", i < 2 ? "z-f50" : "z");
        length += add_hit(log + length, sizeof log - length, &hit);
    }
    const char *path = table_sample_file(log, length - 5);
    const tu_touch_table_request request = {&path, 1, TU_UNIT_INCH, "series"};
    tu_touch_table *table;
    tu_error error = {0};
    check_status(tu_touch_table_read(&request, &table, &error), TU_OK, &error);
    unlink(path);
    assert_int_equal(table->count, 2); /* one not ok, one torn */
    assert_int_equal(table->not_ok, 1);
    assert_true(table->torn_bytes > 0);
    check_same(table->position_mm[TU_AXIS_Z][1], 5, "z, mm whatever the unit of a CSV");
    check_close(table->time_s[1], 0.5, 1e-12, "t, s");
    check_relative(table->feed_mm_s[0], 50.0 / 60.0, 1e-15, "feed of the series z-f50, mm/s");
    check_nan(table->feed_mm_s[1], "feed of a series that names none");
    assert_string_equal(table->level_name[table->level[1]], "z");
    assert_int_equal(table->line[1], 4);
    tu_touch_table_destroy(table);
}

/* A device that restarts begins its clock anew: then the host's times are taken; these here go
 * over the end of February. */
static void a_restarted_clock_gives_way_to_the_hosts(void **state)
{
    (void)state;
    static const char *const times[] = {"2026-02-28T23:59:59.500Z", "2026-03-01T00:00:01.250Z"};
    char log[2000];
    size_t length = tu_hits_format_header(log, sizeof log, utc);
    for (uint64_t i = 0; i < 2; i++) {
        tu_hit hit = {
            .sequence = i, .device_us = 9000000 - 8000000 * i, .axis = TU_AXIS_X, .ok = true};
        snprintf(hit.utc, sizeof hit.utc, "%s", times[i]);
        length += add_hit(log + length, sizeof log - length, &hit);
    }
    const char *path = table_sample_file(log, length);
    const tu_touch_table_request request = {&path, 1, TU_UNIT_MM, NULL};
    tu_touch_table *table;
    check_status(tu_touch_table_read(&request, &table, NULL), TU_OK, NULL);
    unlink(path);
    check_close(table->time_s[1], 1.75, 1e-6, "t, s");
    tu_touch_table_destroy(table);
}

/* Hits 1 and 2, of which a later record takes the first back. */
static size_t write_withdrawn(char *log, size_t size)
{
    char path[] = "/tmp/table.XXXXXX";
    const tu_hit hit = {.position = {1, 2, -3}, .axis = TU_AXIS_Z, .direction = -1, .ok = true};
    tu_hitlog *made;
    tu_hitlog_found found;
    close(mkstemp(path));
    check_status(tu_hitlog_open(path, utc, &made, &found, NULL), TU_OK, NULL);
    tu_hit second = hit;
    second.position.z = -4;
    check_status(tu_hitlog_append(made, &hit, NULL, NULL), TU_OK, NULL);
    check_status(tu_hitlog_withdraw(made, utc, 1, NULL), TU_OK, NULL);
    check_status(tu_hitlog_append(made, &second, NULL, NULL), TU_OK, NULL);
    check_status(tu_hitlog_close(made, NULL), TU_OK, NULL);
    FILE *file = fopen(path, "r");
    size_t length = fread(log, 1, size, file);
    fclose(file);
    unlink(path);
    return length;
}

static void a_hit_that_was_taken_back_stays_out(void **state)
{
    (void)state;
    char log[2000];
    size_t length = write_withdrawn(log, sizeof log);
    const char *path = table_sample_file(log, length);
    const tu_touch_table_request request = {&path, 1, TU_UNIT_MM, NULL};
    tu_touch_table *table;
    check_status(tu_touch_table_read(&request, &table, NULL), TU_OK, NULL);
    unlink(path);
    assert_int_equal(table->count, 1);
    assert_int_equal(table->not_ok, 1);
    check_same(table->position_mm[TU_AXIS_Z][0], -4, "z of the hit that stays, mm");
    tu_touch_table_destroy(table);
}

/* From a pipe the hit was taken before the record comes. */
static void from_a_pipe_a_hit_that_was_taken_back_is_refused(void **state)
{
    (void)state;
    char log[2000];
    int ends[2], kept = dup(STDIN_FILENO);
    size_t length = write_withdrawn(log, sizeof log);
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], log, length), length);
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    close(ends[0]);
    const char *path = "-";
    const tu_touch_table_request request = {&path, 1, TU_UNIT_MM, NULL};
    tu_touch_table *table;
    tu_error error = {0};
    tu_status status = tu_touch_table_read(&request, &table, &error);
    dup2(kept, STDIN_FILENO);
    close(kept);
    check_status(status, TU_DATA_SYNTAX, &error);
    assert_null(table);
    check_contains(error.message, "give the log as a file");
}

static void several_files_follow_one_another(void **state)
{
    (void)state;
    const char *paths[2];
    paths[0] = table_sample_file("z\n1\n2\n", 6);
    paths[1] = table_sample_file("t,x,z\n5,6,7\n", 12);
    const tu_touch_table_request request = {paths, 2, TU_UNIT_MM, "file"};
    tu_touch_table *table;
    check_status(tu_touch_table_read(&request, &table, NULL), TU_OK, NULL);
    assert_int_equal(table->count, 3);
    check_nan(table->time_s[1], "t of a file without it");
    check_nan(table->position_mm[TU_AXIS_X][0], "x of a file without it");
    check_same(table->position_mm[TU_AXIS_X][2], 6, "x, mm");
    assert_int_equal(table->file[2], 1);
    assert_int_equal(table->level_count, 2);
    assert_int_equal(table->level[2], 1);
    tu_touch_table_destroy(table);
    unlink(paths[0]);
    unlink(paths[1]);
}

/* More names than the first hash table holds, and lines across the blocks that are read. */
static void many_rows_and_names_are_kept_apart(void **state)
{
    (void)state;
    enum { ROWS = 20000 };
    char *text = malloc((size_t)ROWS * 40 + 20);
    assert_non_null(text);
    size_t length = (size_t)sprintf(text, "series,z\n");
    for (int i = 0; i < ROWS; i++)
        length += (size_t)sprintf(text + length, "s%d,%d.5\n", i % 5000, i);
    tu_touch_table *table = table_sample_good(text);
    free(text);
    assert_int_equal(table->count, ROWS);
    assert_int_equal(table->series_count, 5000);
    for (size_t i = 0; i < ROWS; i++) {
        check_same(table->position_mm[TU_AXIS_Z][i], (double)i + 0.5, "z, mm");
        assert_int_equal(table->series[i], i % 5000);
        assert_int_equal(table->line[i], i + 2);
    }
    assert_string_equal(table->series_name[4321], "s4321");
    tu_touch_table_destroy(table);
}

/* What was handed on, as one table would hold it. */
typedef struct collected {
    const tu_touch_table *expected;
    size_t count, pieces;
    tu_status answer;
} collected;

static tu_status collect(void *context, const tu_touch_table *rows, tu_error *error)
{
    (void)error;
    collected *c = context;
    const tu_touch_table *all = c->expected;
    assert_in_range(rows->count, 1, 1024); /* a piece of fixed size */
    for (size_t i = 0; i < rows->count; i++, c->count++) {
        assert_in_range(c->count, 0, all->count - 1);
        check_same(rows->position_mm[TU_AXIS_Z][i], all->position_mm[TU_AXIS_Z][c->count], "z");
        if (rows->feed_mm_s && !isnan(rows->feed_mm_s[i]))
            check_same(rows->feed_mm_s[i], all->feed_mm_s[c->count], "feed");
        uint32_t series = rows->series ? rows->series[i] : TU_TABLE_UNSTATED;
        assert_int_equal(series, all->series[c->count]);
        if (series != TU_TABLE_UNSTATED)
            assert_string_equal(rows->series_name[series], all->series_name[series]);
        assert_int_equal(rows->line[i], all->line[c->count]);
        assert_int_equal(rows->file[i], all->file[c->count]);
    }
    c->pieces++;
    return c->answer;
}

static void rows_handed_on_in_pieces_are_those_of_the_table(void **state)
{
    (void)state;
    enum { ROWS = 5000 };
    char *text = malloc((size_t)ROWS * 40 + 20);
    assert_non_null(text);
    size_t length = (size_t)sprintf(text, "z,series,ok,feed\n");
    for (int i = 0; i < ROWS; i++)
        length += (size_t)sprintf(text + length, "%d.5,s%d,%d,%d\n", i, i / 100, i % 7 > 0, 1 + i);
    const char *path[] = {table_sample_file("z\n1\n2\n", 6), table_sample_file(text, length)};
    free(text);
    const tu_touch_table_request request = {path, 2, TU_UNIT_MM, NULL};
    tu_touch_table *all, *rest;
    tu_error error = {0};
    check_status(tu_touch_table_read(&request, &all, &error), TU_OK, &error);
    collected c = {.expected = all};
    check_status(tu_touch_table_stream(&request, collect, &c, &rest, &error), TU_OK, &error);
    assert_int_equal(c.count, all->count);
    assert_true(c.pieces > 2);
    assert_int_equal(rest->count, 0);
    assert_int_equal(rest->not_ok, all->not_ok);
    assert_int_equal(rest->series_count, all->series_count);
    tu_touch_table_destroy(rest);

    c = (collected){.expected = all, .answer = TU_DATA_CONFLICT};
    check_status(tu_touch_table_stream(&request, collect, &c, &rest, &error), TU_DATA_CONFLICT,
                 &error);
    assert_int_equal(c.pieces, 1);
    assert_null(rest);
    tu_touch_table_destroy(all);
    unlink(path[0]);
    unlink(path[1]);
}

static void a_file_that_is_not_there_is_named(void **state)
{
    (void)state;
    const char *path = "/nowhere/touches.csv";
    const tu_touch_table_request request = {&path, 1, TU_UNIT_MM, NULL};
    tu_touch_table *table;
    tu_error error = {0};
    check_status(tu_touch_table_read(&request, &table, &error), TU_SYSTEM_IO, &error);
    assert_null(table);
    check_contains(error.where, path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_separator_is_told_from_the_header_row),
        cmocka_unit_test(columns_stand_in_any_order_and_in_either_case),
        cmocka_unit_test(quotes_a_byte_order_mark_and_spaces_are_taken_off),
        cmocka_unit_test(lengths_are_in_the_files_unit_or_state_their_own),
        cmocka_unit_test(levels_are_the_column_that_was_asked_for),
        cmocka_unit_test(a_row_that_touched_another_axis_may_leave_this_one_empty),
        cmocka_unit_test(a_name_with_a_zero_byte_is_not_the_one_before),
        cmocka_unit_test(a_unit_in_some_cells_of_a_column_only_is_refused),
        cmocka_unit_test(a_hit_log_gives_its_touches),
        cmocka_unit_test(a_restarted_clock_gives_way_to_the_hosts),
        cmocka_unit_test(a_hit_that_was_taken_back_stays_out),
        cmocka_unit_test(from_a_pipe_a_hit_that_was_taken_back_is_refused),
        cmocka_unit_test(several_files_follow_one_another),
        cmocka_unit_test(many_rows_and_names_are_kept_apart),
        cmocka_unit_test(rows_handed_on_in_pieces_are_those_of_the_table),
        cmocka_unit_test(a_file_that_is_not_there_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
