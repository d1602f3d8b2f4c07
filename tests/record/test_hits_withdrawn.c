/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_hits_withdrawn.c - hits that a later record takes back are read as not to be used.
 */
#include "check.h"

#include "record/hits_form.h"
#include "trueup/hitlog.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define UTC "2026-11-25T08:15:30.123Z"

static const tu_hit sample = {
    .position = {1, 2, -3}, .axis = TU_AXIS_Z, .direction = -1, .series = "bed", .ok = true};

static int make_path(void **state)
{
    char *path = strdup("/tmp/withdrawn.XXXXXX");
    int fd = mkstemp(path);
    close(fd);
    *state = path;
    return fd < 0;
}

static int remove_path(void **state)
{
    unlink(*state);
    free(*state);
    return 0;
}

static tu_hitlog *open_log(const char *path)
{
    tu_hitlog *log;
    tu_hitlog_found found;
    tu_error error = {0};
    check_status(tu_hitlog_open(path, UTC, &log, &found, &error), TU_OK, &error);
    return log;
}

static void append(tu_hitlog *log, int times)
{
    while (times-- > 0)
        check_status(tu_hitlog_append(log, &sample, NULL, NULL), TU_OK, NULL);
}

/* "+-+": which hits count, in their order; *status of the last call. */
static void read_marks(const char *path, char marks[100], tu_status *status, tu_error *error)
{
    tu_hits_reader *reader;
    tu_hit hit;
    bool have = true;
    size_t length = 0;
    *status = tu_hits_open(path, &reader, error);
    while (!*status && have && length + 1 < 100) {
        *status = tu_hits_next(reader, &hit, &have, error);
        if (!*status && have)
            marks[length++] = hit.ok ? '+' : '-';
    }
    marks[length] = '\0';
    tu_hits_close(reader);
}

static void check_marks(const char *path, const char *expected)
{
    char marks[100];
    tu_status status;
    tu_error error = {0};
    read_marks(path, marks, &status, &error);
    check_status(status, TU_OK, &error);
    assert_string_equal(marks, expected);
}

static void the_last_hits_are_taken_back_and_no_others(void **state)
{
    tu_hitlog *log = open_log(*state);
    append(log, 3);
    check_status(tu_hitlog_withdraw(log, UTC, 2, NULL), TU_OK, NULL);
    append(log, 3);
    check_status(tu_hitlog_withdraw(log, UTC, 1, NULL), TU_OK, NULL);
    append(log, 1);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    check_marks(*state, "+--++-+");
}

static void a_hit_that_never_counted_is_not_made_to_count(void **state)
{
    tu_hit search = sample;
    search.ok = false;
    tu_hitlog *log = open_log(*state);
    check_status(tu_hitlog_append(log, &search, NULL, NULL), TU_OK, NULL);
    append(log, 2);
    check_status(tu_hitlog_withdraw(log, UTC, 1, NULL), TU_OK, NULL);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    check_marks(*state, "-+-");
}

static void more_hits_than_there_are_cannot_be_taken_back(void **state)
{
    tu_hitlog *log = open_log(*state);
    append(log, 2);
    check_status(tu_hitlog_withdraw(log, UTC, 3, NULL), TU_DATA_RANGE, NULL);
    check_status(tu_hitlog_withdraw(log, UTC, 0, NULL), TU_DATA_RANGE, NULL);
    check_status(tu_hitlog_withdraw(log, UTC, 2, NULL), TU_OK, NULL);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    check_marks(*state, "--");
}

/* The record lies more than one block of the reader behind the hit. */
static void a_record_far_behind_is_found(void **state)
{
    tu_hitlog *log = open_log(*state);
    append(log, 1);
    for (int i = 0; i < 2000; i++)
        check_status(tu_hitlog_note(log, "unread", UTC, 0, "why", "0123456789", 10, NULL), TU_OK,
                     NULL);
    check_status(tu_hitlog_withdraw(log, UTC, 1, NULL), TU_OK, NULL);
    append(log, 1);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    check_marks(*state, "-+");
}

static void pieces_that_touch_are_one_and_too_many_are_refused(void **state)
{
    char marks[100];
    tu_status status;
    tu_error error = {0};
    tu_hitlog *log = open_log(*state);
    for (int i = 0; i < 70; i++) {
        append(log, 1);
        check_status(tu_hitlog_withdraw(log, UTC, 1, NULL), TU_OK, NULL);
    }
    check_status(tu_hitlog_commit(log, NULL), TU_OK, NULL);
    read_marks(*state, marks, &status, &error);
    check_status(status, TU_OK, &error);
    assert_int_equal(strspn(marks, "-"), 70);
    for (int i = 0; i < 70; i++) {
        append(log, 2);
        check_status(tu_hitlog_withdraw(log, UTC, 1, NULL), TU_OK, NULL);
    }
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    read_marks(*state, marks, &status, &error);
    check_status(status, TU_DATA_SYNTAX, &error);
    check_contains(error.message, "more places than can be kept");
}

/* From a pipe the hits were given out before the record comes. */
static void from_a_pipe_it_is_refused(void **state)
{
    char marks[100], text[8192];
    int ends[2], kept = dup(STDIN_FILENO);
    tu_status status;
    tu_error error = {0};
    tu_hitlog *log = open_log(*state);
    append(log, 2);
    check_status(tu_hitlog_withdraw(log, UTC, 1, NULL), TU_OK, NULL);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    int fd = open(*state, O_RDONLY);
    ssize_t length = read(fd, text, sizeof text);
    close(fd);
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], text, (size_t)length), length);
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    close(ends[0]);
    read_marks("-", marks, &status, &error);
    check_status(status, TU_DATA_SYNTAX, &error);
    check_contains(error.message, "give the log as a file");
    fd = open(*state, O_RDONLY); /* a file on standard input can be gone back in */
    dup2(fd, STDIN_FILENO);
    close(fd);
    read_marks("-", marks, &status, &error);
    dup2(kept, STDIN_FILENO);
    close(kept);
    check_status(status, TU_OK, &error);
    assert_string_equal(marks, "+-");
}

/* A record that says nothing about which hits must not be passed over. */
static void a_record_without_its_numbers_is_refused(void **state)
{
    char marks[100];
    tu_status status;
    tu_error error = {0};
    tu_hitlog *log = open_log(*state);
    append(log, 2);
    check_status(tu_hitlog_note(log, "withdrawn", UTC, 1, NULL, NULL, 0, NULL), TU_OK, NULL);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    read_marks(*state, marks, &status, &error);
    check_status(status, TU_DATA_SYNTAX, &error);
    check_contains(error.message, "\"before\"");
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, make_path, remove_path)
    const struct CMUnitTest tests[] = {
        CASE(the_last_hits_are_taken_back_and_no_others),
        CASE(a_hit_that_never_counted_is_not_made_to_count),
        CASE(more_hits_than_there_are_cannot_be_taken_back),
        CASE(a_record_far_behind_is_found),
        CASE(pieces_that_touch_are_one_and_too_many_are_refused),
        CASE(from_a_pipe_it_is_refused),
        CASE(a_record_without_its_numbers_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
