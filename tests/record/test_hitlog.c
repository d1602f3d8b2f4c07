/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_hitlog.c - writing the hit log: what is committed stays, what is torn is kept aside.
 */
#define _GNU_SOURCE
#include "check.h"

#include "trueup/hitlog.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define UTC "2026-11-25T08:15:30.123Z"

static const tu_hit sample = {.utc = UTC,
                              .device_us = 1250000,
                              .position = {100.0125, -0.1, -40.125},
                              .axis = TU_AXIS_Z,
                              .direction = -1,
                              .series = "bed",
                              .ok = true};

/* A folder of its own for each test, and a log's path in it. */
typedef struct bench {
    char folder[40];
    char path[64], torn[72];
} bench;

static int make_bench(void **state)
{
    bench *b = calloc(1, sizeof *b);
    snprintf(b->folder, sizeof b->folder, "/tmp/hitlog.XXXXXX");
    if (!mkdtemp(b->folder))
        return 1;
    snprintf(b->path, sizeof b->path, "%s/a.hits.jsonl", b->folder);
    snprintf(b->torn, sizeof b->torn, "%s.torn", b->path);
    *state = b;
    return 0;
}

static int remove_bench(void **state)
{
    bench *b = *state;
    chmod(b->folder, 0700);
    unlink(b->path);
    unlink(b->torn);
    int failed = rmdir(b->folder);
    free(b);
    return failed;
}

static void write_file(const char *path, const char *bytes, size_t length)
{
    int fd = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    assert_true(fd >= 0);
    assert_int_equal(write(fd, bytes, length), length);
    close(fd);
}

/* The whole of a file; "" where there is none. */
static size_t read_file(const char *path, char *bytes, size_t size)
{
    int fd = open(path, O_RDONLY);
    ssize_t length = fd < 0 ? 0 : read(fd, bytes, size - 1);
    if (fd >= 0)
        close(fd);
    assert_true(length >= 0 && (size_t)length < size - 1);
    bytes[length] = '\0';
    return (size_t)length;
}

static tu_hitlog *open_log(const char *path, tu_hitlog_found *found)
{
    tu_hitlog *log;
    tu_error error = {0};
    check_status(tu_hitlog_open(path, UTC, &log, found, &error), TU_OK, &error);
    return log;
}

static void add_hits(tu_hitlog *log, int count)
{
    tu_error error = {0};
    for (int i = 0; i < count; i++)
        check_status(tu_hitlog_append(log, &sample, NULL, &error), TU_OK, &error);
}

/* A log of so many hits, closed; its bytes. */
static size_t sample_log(const bench *b, int hits, char *bytes, size_t size)
{
    tu_hitlog_found found;
    tu_hitlog *log = open_log(b->path, &found);
    add_hits(log, hits);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    return read_file(b->path, bytes, size);
}

static tu_hitlog_report verify(const char *path)
{
    tu_hitlog_report report;
    tu_error error = {0};
    check_status(tu_hitlog_verify(path, &report, NULL, NULL, &error), TU_OK, &error);
    return report;
}

static void a_new_log_is_numbered_from_one_and_goes_on_when_opened_again(void **state)
{
    const bench *b = *state;
    tu_hitlog_found found;
    uint64_t sequence = 0;
    tu_hitlog *log = open_log(b->path, &found);
    assert_false(found.existed);
    check_status(tu_hitlog_append(log, &sample, &sequence, NULL), TU_OK, NULL);
    assert_int_equal(sequence, 1);
    add_hits(log, 2);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    log = open_log(b->path, &found);
    assert_true(found.existed);
    assert_int_equal(found.hits, 3);
    assert_int_equal(found.last_sequence, 3);
    assert_int_equal(found.torn_bytes, 0);
    check_status(tu_hitlog_append(log, &sample, &sequence, NULL), TU_OK, NULL);
    assert_int_equal(sequence, 4);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    tu_hitlog_report report = verify(b->path);
    assert_int_equal(report.hits, 4);
    assert_int_equal(report.lines, 5);
    assert_int_equal(report.sequence_gaps, 0);
}

static void nothing_is_in_the_file_before_the_commit_and_all_of_it_after(void **state)
{
    const bench *b = *state;
    tu_hitlog_found found;
    tu_hitlog *log = open_log(b->path, &found);
    add_hits(log, 3);
    assert_int_equal(verify(b->path).hits, 0);
    assert_true(tu_hitlog_queued(log) > 0);
    check_status(tu_hitlog_commit(log, NULL), TU_OK, NULL);
    assert_int_equal(tu_hitlog_queued(log), 0);
    assert_int_equal(verify(b->path).hits, 3);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
}

/* Every record of another kind, with bytes that are no text; checksum and JSON are as documented.
 */
static void notes_keep_any_bytes_as_text(void **state)
{
    const bench *b = *state;
    tu_hitlog_found found;
    char text[4000], raw[300];
    for (size_t i = 0; i < sizeof raw; i++)
        raw[i] = (char)i;
    tu_hitlog *log = open_log(b->path, &found);
    check_status(tu_hitlog_note(log, "lost", UTC, 3, NULL, NULL, 0, NULL), TU_OK, NULL);
    check_status(tu_hitlog_note(log, "unread", UTC, 0, "wrong \"sum\" \xFF", raw, sizeof raw, NULL),
                 TU_OK, NULL);
    check_status(tu_hitlog_note(log, "lost", "", 4, NULL, NULL, 0, NULL), TU_OK, NULL);
    check_status(tu_hitlog_note(log, "end", UTC, 0, "interrupted", NULL, 0, NULL), TU_OK, NULL);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    read_file(b->path, text, sizeof text);
    check_contains(text, "{\"kind\":\"lost\",\"utc\":\"" UTC "\",\"count\":3,\"crc\":\"");
    check_contains(text, "\"text\":\"wrong \\\"sum\\\" ?\",\"bytes\":\"\\\\x00\\\\x01");
    check_contains(text, "\\\\x1f !\\\"#$");
    check_contains(text, "[\\\\\\\\]^");
    check_contains(text, "~\\\\x7f\\\\x80");
    tu_hitlog_report report = verify(b->path);
    assert_int_equal(report.damaged, 0);
    assert_int_equal(report.other, 4);
    assert_int_equal(report.lost, 7);
    assert_true(report.ended);
}

static void long_bytes_are_cut_and_their_length_is_kept(void **state)
{
    const bench *b = *state;
    tu_hitlog_found found;
    char text[8000], raw[2 * TU_HITLOG_BYTES_MAX];
    memset(raw, 0x80, sizeof raw); /* the longest way to write a byte */
    tu_hitlog *log = open_log(b->path, &found);
    check_status(tu_hitlog_note(log, "unread", UTC, 0, "too long", raw, sizeof raw, NULL), TU_OK,
                 NULL);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    read_file(b->path, text, sizeof text);
    check_contains(text, "\"length\":1200,\"bytes\":\"\\\\x80\\\\x80");
    assert_int_equal(verify(b->path).damaged, 0);
}

static void what_no_line_can_hold_is_refused_and_takes_no_number(void **state)
{
    const bench *b = *state;
    tu_hitlog_found found;
    tu_error error = {0};
    uint64_t sequence;
    tu_hitlog *log = open_log(b->path, &found);
    tu_hit hit = sample;
    hit.position.y = (double)INFINITY;
    check_status(tu_hitlog_append(log, &hit, &sequence, &error), TU_DATA_RANGE, NULL);
    check_contains(error.message, "not finite");
    check_status(tu_hitlog_note(log, "Lost", UTC, 0, NULL, NULL, 0, NULL), TU_DATA_RANGE, NULL);
    check_status(tu_hitlog_note(log, "hit", UTC, 0, NULL, NULL, 0, NULL), TU_DATA_RANGE, NULL);
    check_status(tu_hitlog_note(log, "lost", "today", 0, NULL, NULL, 0, NULL), TU_DATA_RANGE, NULL);
    check_status(tu_hitlog_append(log, &sample, &sequence, NULL), TU_OK, NULL);
    assert_int_equal(sequence, 1);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    assert_int_equal(verify(b->path).hits, 1);
}

static size_t whole_lines(const char *bytes, size_t length)
{
    size_t lines = 0;
    for (size_t i = 0; i < length; i++)
        lines += bytes[i] == '\n';
    return lines;
}

/* Cut at every byte: all whole lines come back, the rest is kept aside to the byte, and the log
 * goes on. */
static void a_log_cut_at_any_byte_keeps_all_whole_lines_and_goes_on(void **state)
{
    const bench *b = *state;
    static char bytes[4000], torn[4000], after[4000];
    size_t length = sample_log(b, 5, bytes, sizeof bytes);
    for (size_t cut = 0; cut <= length; cut++) {
        tu_hitlog_found found;
        unlink(b->torn);
        write_file(b->path, bytes, cut);
        size_t lines = whole_lines(bytes, cut), good = cut;
        while (good > 0 && bytes[good - 1] != '\n')
            good--;
        tu_hitlog *log = open_log(b->path, &found);
        assert_int_equal(found.hits, lines ? lines - 1 : 0);
        assert_int_equal(found.torn_bytes, cut - good);
        size_t kept = read_file(b->torn, torn, sizeof torn);
        assert_int_equal(kept, cut > good ? cut - good + 1 : 0);
        assert_memory_equal(torn, bytes + good, cut - good);
        add_hits(log, 1);
        check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
        read_file(b->path, after, sizeof after);
        assert_memory_equal(after, bytes, good);
        tu_hitlog_report report = verify(b->path);
        assert_int_equal(report.hits, (lines ? lines - 1 : 0) + 1);
        assert_int_equal(report.damaged + report.torn_bytes + report.sequence_gaps, 0);
    }
}

static void torn_ends_gather_and_none_replaces_another(void **state)
{
    const bench *b = *state;
    static char bytes[4000], torn[4000];
    tu_hitlog_found found;
    size_t length = sample_log(b, 2, bytes, sizeof bytes);
    for (size_t cut = 20; cut <= 40; cut += 20) {
        write_file(b->path, bytes, length - cut);
        check_status(tu_hitlog_close(open_log(b->path, &found), NULL), TU_OK, NULL);
        assert_string_equal(found.torn_path, b->torn);
    }
    read_file(b->torn, torn, sizeof torn);
    assert_int_equal(whole_lines(torn, strlen(torn)), 2);
}

/* Zeros behind the last line: a power cut on a file system that grows files first. */
static void a_tail_of_zeros_is_torn_however_long(void **state)
{
    const bench *b = *state;
    static char bytes[60000], torn[60000];
    tu_hitlog_found found;
    size_t length = sample_log(b, 2, bytes, sizeof bytes);
    memset(bytes + length, 0, 40000);
    write_file(b->path, bytes, length + 40000);
    check_status(tu_hitlog_close(open_log(b->path, &found), NULL), TU_OK, NULL);
    assert_int_equal(found.torn_bytes, 40000);
    assert_int_equal(found.hits, 2);
    assert_int_equal(read_file(b->torn, torn, sizeof torn), 40001);
    assert_int_equal(read_file(b->path, torn, sizeof torn), length);
}

static void check_refused(const bench *b, const char *bytes, size_t length, const char *message)
{
    static char after[8000];
    tu_hitlog *log;
    tu_hitlog_found found;
    tu_error error = {0};
    write_file(b->path, bytes, length);
    check_status(tu_hitlog_open(b->path, UTC, &log, &found, &error), TU_DATA_SYNTAX, NULL);
    assert_null(log);
    check_contains(error.message, message);
    assert_int_equal(read_file(b->path, after, sizeof after), length);
    assert_memory_equal(after, bytes, length);
    assert_int_equal(access(b->torn, F_OK), -1);
}

static void a_file_that_is_no_log_is_refused_and_left_as_it_is(void **state)
{
    const bench *b = *state;
    check_refused(b, "my notes\n", 9, "not a hit log");
    check_refused(b, "my notes", 8, "not a hit log");
    check_refused(b, "{\"trueup\":\"shop\"", 16, "not a hit log");
}

static void damage_in_the_middle_is_refused_with_its_line(void **state)
{
    const bench *b = *state;
    static char bytes[4000];
    tu_hitlog *log;
    tu_hitlog_found found;
    tu_error error = {0};
    size_t length = sample_log(b, 4, bytes, sizeof bytes);
    char *third = strstr(bytes, "\"seq\":2");
    third[6] = '7';
    check_refused(b, bytes, length, "fails its checksum");
    tu_hitlog_open(b->path, UTC, &log, &found, &error);
    check_contains(error.where, ":3");
}

static void a_second_writer_is_refused_until_the_first_has_closed(void **state)
{
    const bench *b = *state;
    tu_hitlog_found found;
    tu_hitlog *second;
    tu_error error = {0};
    tu_hitlog *log = open_log(b->path, &found);
    add_hits(log, 1);
    check_status(tu_hitlog_open(b->path, UTC, &second, &found, &error), TU_DATA_CONFLICT, NULL);
    assert_null(second);
    check_contains(error.message, "another program is writing this log");
    pid_t child = fork();
    if (child == 0)
        _exit(tu_hitlog_open(b->path, UTC, &second, &found, NULL) == TU_DATA_CONFLICT ? 0 : 1);
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    assert_int_equal(verify(b->path).damaged, 0); /* readers are not locked out */
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    log = open_log(b->path, &found);
    assert_int_equal(found.hits, 1);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
}

/* A limit on the file's size stops a write half way, as a full disk does. */
static void a_write_that_fails_half_way_is_undone_and_can_be_tried_again(void **state)
{
    const bench *b = *state;
    static char before[20000], after[20000];
    tu_hitlog_found found;
    tu_error error = {0};
    struct rlimit limit, old;
    size_t length = sample_log(b, 3, before, sizeof before);
    tu_hitlog *log = open_log(b->path, &found);
    add_hits(log, 20);
    signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &old);
    limit = old;
    limit.rlim_cur = length + 500;
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &limit), 0);
    tu_status status = tu_hitlog_commit(log, &error);
    setrlimit(RLIMIT_FSIZE, &old);
    check_status(status, TU_SYSTEM_IO, NULL);
    check_contains(error.message, strerror(EFBIG));
    check_contains(error.message, "holds every hit that was shown, and no part of a line");
    assert_int_equal(read_file(b->path, after, sizeof after), length);
    assert_memory_equal(after, before, length);
    check_status(tu_hitlog_commit(log, &error), TU_OK, &error);
    check_status(tu_hitlog_close(log, NULL), TU_OK, NULL);
    assert_int_equal(verify(b->path).hits, 23);
}

static void a_file_that_another_program_changed_is_not_written_to(void **state)
{
    const bench *b = *state;
    tu_hitlog_found found;
    tu_error error = {0};
    tu_hitlog *log = open_log(b->path, &found);
    add_hits(log, 1);
    check_status(tu_hitlog_commit(log, NULL), TU_OK, NULL);
    assert_int_equal(truncate(b->path, 30), 0);
    add_hits(log, 1);
    check_status(tu_hitlog_commit(log, &error), TU_DATA_CONFLICT, NULL);
    check_contains(error.message, "another program changed the file");
    tu_hitlog_close(log, NULL);
    unlink(b->path);
    log = open_log(b->path, &found);
    add_hits(log, 1);
    unlink(b->path);
    check_status(tu_hitlog_commit(log, &error), TU_DATA_CONFLICT, NULL);
    check_contains(error.message, "removed or replaced");
    tu_hitlog_close(log, NULL);
}

static void what_is_no_regular_file_is_refused(void **state)
{
    const bench *b = *state;
    tu_hitlog *log;
    tu_hitlog_found found;
    tu_error error = {0};
    check_status(tu_hitlog_open("-", UTC, &log, &found, &error), TU_USAGE, NULL);
    check_status(tu_hitlog_open("/dev/null", UTC, &log, &found, &error), TU_SYSTEM_IO, NULL);
    check_contains(error.message, "not a regular file");
    check_status(tu_hitlog_open(b->folder, UTC, &log, &found, &error), TU_SYSTEM_IO, NULL);
    check_contains(error.message, strerror(EISDIR));
    assert_int_equal(mkfifo(b->path, 0600), 0);
    check_status(tu_hitlog_open(b->path, UTC, &log, &found, &error), TU_SYSTEM_IO, NULL);
    check_contains(error.message, "not a regular file");
}

typedef struct told {
    size_t count;
    uint64_t line[8];
    char text[8][200];
} told;

static void take_fault(void *context, uint64_t line, const char *message)
{
    told *t = context;
    if (t->count < 8) {
        t->line[t->count] = line;
        snprintf(t->text[t->count], sizeof t->text[0], "%s", message);
    }
    t->count++;
}

static void verifying_names_every_fault_with_its_line(void **state)
{
    const bench *b = *state;
    static char bytes[8000];
    tu_hitlog_report report;
    tu_error error = {0};
    told faults = {0};
    size_t length = sample_log(b, 9, bytes, sizeof bytes);
    strstr(bytes, "\"seq\":3")[6] = '8';      /* line 4: its checksum fails */
    char *gone = strstr(bytes, "{\"seq\":6"); /* line 7: taken out */
    char *next = strstr(bytes, "{\"seq\":7");
    memmove(gone, next, length - (size_t)(next - bytes));
    length -= (size_t)(next - gone) + 10; /* and the last line is torn */
    write_file(b->path, bytes, length);
    check_status(tu_hitlog_verify(b->path, &report, take_fault, &faults, &error), TU_OK, &error);
    assert_int_equal(report.hits, 6);
    assert_int_equal(report.damaged, 1);
    assert_int_equal(report.sequence_gaps, 1);
    assert_int_equal(report.lines, 8);
    assert_true(report.torn_bytes > 0);
    assert_false(report.ended);
    assert_int_equal(faults.count, 3);
    assert_int_equal(faults.line[0], 4);
    check_contains(faults.text[0], "fails its checksum");
    assert_int_equal(faults.line[1], 7);
    check_contains(faults.text[1], "number 7 follows number 5");
    assert_int_equal(faults.line[2], 9);
    check_contains(faults.text[2], "torn");
}

static void a_damaged_header_is_told_and_the_hits_behind_it_are_counted(void **state)
{
    const bench *b = *state;
    static char bytes[4000];
    tu_error error = {0};
    tu_hitlog_report report;
    size_t length = sample_log(b, 3, bytes, sizeof bytes);
    strstr(bytes, "2026")[0] = '1';
    write_file(b->path, bytes, length);
    report = verify(b->path);
    assert_int_equal(report.damaged, 1);
    assert_int_equal(report.hits, 3);
    write_file(b->path, "x\n", 2);
    check_status(tu_hitlog_verify(b->path, &report, NULL, NULL, &error), TU_DATA_SYNTAX, NULL);
    check_contains(error.message, "not a hit log");
}

#define ON_BENCH(test) cmocka_unit_test_setup_teardown(test, make_bench, remove_bench)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ON_BENCH(a_new_log_is_numbered_from_one_and_goes_on_when_opened_again),
        ON_BENCH(nothing_is_in_the_file_before_the_commit_and_all_of_it_after),
        ON_BENCH(notes_keep_any_bytes_as_text),
        ON_BENCH(long_bytes_are_cut_and_their_length_is_kept),
        ON_BENCH(what_no_line_can_hold_is_refused_and_takes_no_number),
        ON_BENCH(a_log_cut_at_any_byte_keeps_all_whole_lines_and_goes_on),
        ON_BENCH(torn_ends_gather_and_none_replaces_another),
        ON_BENCH(a_tail_of_zeros_is_torn_however_long),
        ON_BENCH(a_file_that_is_no_log_is_refused_and_left_as_it_is),
        ON_BENCH(damage_in_the_middle_is_refused_with_its_line),
        ON_BENCH(a_second_writer_is_refused_until_the_first_has_closed),
        ON_BENCH(a_write_that_fails_half_way_is_undone_and_can_be_tried_again),
        ON_BENCH(a_file_that_another_program_changed_is_not_written_to),
        ON_BENCH(what_is_no_regular_file_is_refused),
        ON_BENCH(verifying_names_every_fault_with_its_line),
        ON_BENCH(a_damaged_header_is_told_and_the_hits_behind_it_are_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
