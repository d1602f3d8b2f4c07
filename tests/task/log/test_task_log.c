/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_task_log.c - a recording through its public header alone: what is told stands in the log.
 */
#define _POSIX_C_SOURCE 200809L
#include "check.h"

#include "trueup/task_log.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Standard input is a pipe. told: how often each event came. */
typedef struct bench {
    char folder[40], log[64];
    int feed, stdin_before, wake[2];
    bool all_in_log;
    int told[TU_LOG_UNRECORDED + 1];
} bench;

static int make_bench(void **state)
{
    int ends[2];
    bench *b = calloc(1, sizeof *b);
    if (!b || pipe(ends) != 0 || pipe(b->wake) != 0)
        return -1;
    strcpy(b->folder, "/tmp/trueup-task-log-XXXXXX");
    if (!mkdtemp(b->folder))
        return -1;
    snprintf(b->log, sizeof b->log, "%s/a.hits.jsonl", b->folder);
    b->stdin_before = dup(STDIN_FILENO);
    dup2(ends[0], STDIN_FILENO);
    close(ends[0]);
    b->feed = ends[1];
    b->all_in_log = true;
    *state = b;
    return 0;
}

static int remove_bench(void **state)
{
    bench *b = *state;
    dup2(b->stdin_before, STDIN_FILENO);
    close(b->stdin_before);
    close(b->feed);
    close(b->wake[0]);
    close(b->wake[1]);
    unlink(b->log);
    rmdir(b->folder);
    free(b);
    return 0;
}

static void read_log(const bench *b, char *text, size_t size)
{
    FILE *in = fopen(b->log, "r");
    size_t length = in ? fread(text, 1, size - 1, in) : 0;
    text[length] = '\0';
    if (in)
        fclose(in);
}

static tu_status tell(void *context, const tu_log_event *event, tu_error *error)
{
    bench *b = context;
    (void)error;
    b->told[event->kind]++;
    if (event->kind == TU_LOG_HIT) {
        char log[8192], line[1024];
        read_log(b, log, sizeof log);
        tu_hits_format(line, sizeof line, event->hit);
        b->all_in_log = b->all_in_log && strstr(log, line);
    }
    return TU_OK;
}

static tu_task_log_request request_of(const bench *b)
{
    tu_task_log_request request = tu_task_log_request_start();
    request.port = "-";
    request.out = b->log;
    request.text = "touch {x} {y} {z}";
    request.axis = TU_AXIS_Z;
    return request;
}

static void feed(bench *b, const char *text)
{
    assert_int_equal(write(b->feed, text, strlen(text)), strlen(text));
}

static void a_touch_is_told_when_it_stands_in_the_log(void **state)
{
    bench *b = *state;
    tu_error error = {0};
    tu_task_log_story story;
    tu_task_log_request request = request_of(b);
    const tu_log_sink sink = {.context = b, .tell = tell};
    request.count = 3;
    feed(b, "touch 10 20 -40.125\nwhat\ntouch 11 20 -40.25\ntouch 12 20 -40.5\n");
    check_status(tu_task_log(&request, -1, &sink, &story, &error), TU_OK, &error);
    check_status(tu_task_log_verdict(&story, &error), TU_OK, &error);
    assert_int_equal(b->told[TU_LOG_HIT], 3);
    assert_true(b->all_in_log);
    assert_int_equal(b->told[TU_LOG_WARNING], 1); /* "what" is no touch */
    assert_int_equal(story.unread, 1);
    assert_int_equal(b->told[TU_LOG_OPENED] + b->told[TU_LOG_ENDING], 2);
}

static void a_readable_descriptor_ends_a_recording(void **state)
{
    bench *b = *state;
    tu_error error = {0};
    tu_task_log_story story;
    tu_hitlog_finding finding;
    tu_task_log_request request = request_of(b);
    const tu_log_sink nobody = {0};
    request.count = 3;
    assert_int_equal(write(b->wake[1], "", 1), 1);
    check_status(tu_task_log(&request, b->wake[0], &nobody, &story, &error), TU_OK, &error);
    assert_string_equal(story.ended, "interrupted");
    check_status(tu_task_log_verdict(&story, &error), TU_DATA_MISSING, NULL);
    assert_string_equal(error.field, "log.count");
    check_status(tu_task_log_verify(b->log, &finding, &error), TU_OK, &error);
    check_status(tu_task_log_verify_verdict(&finding, &error), TU_OK, &error);
}

static void what_misses_a_part_opens_nothing(void **state)
{
    bench *b = *state;
    tu_error error = {0};
    tu_task_log_story story;
    tu_task_log_request request = request_of(b);
    const tu_log_sink sink = {.context = b, .tell = tell};
    request.out = NULL;
    check_status(tu_task_log(&request, -1, &sink, &story, &error), TU_USAGE, NULL);
    assert_string_equal(error.field, "out");
    assert_null(story.ended);
    assert_int_equal(b->told[TU_LOG_OPENING], 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_touch_is_told_when_it_stands_in_the_log, make_bench,
                                        remove_bench),
        cmocka_unit_test_setup_teardown(a_readable_descriptor_ends_a_recording, make_bench,
                                        remove_bench),
        cmocka_unit_test_setup_teardown(what_misses_a_part_opens_nothing, make_bench, remove_bench),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
