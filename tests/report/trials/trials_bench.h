/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_bench.h - stories of repeated touches for the tests of the reports: series are judged by
 * the library itself, so that the figures beside a sentence belong to the touches in the picture.
 */
#ifndef TRUEUP_TESTS_TRIALS_BENCH_H
#define TRUEUP_TESTS_TRIALS_BENCH_H

#include "check.h"

#include "report/trials/trials_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BENCH_ENTRIES = 12, BENCH_GROUPS = 40 };

typedef struct trials_bench {
    tu_trials_story story;
    tu_trials_entry entry[BENCH_ENTRIES];
    void *held[6 * BENCH_ENTRIES];
    size_t held_count;
    tu_trial_group group[BENCH_GROUPS];
    char group_name[BENCH_GROUPS][TU_NAME_SIZE];
} trials_bench;

static inline void *bench_hold(trials_bench *b, size_t size)
{
    void *room = calloc(1, size);
    assert_non_null(room);
    assert_true(b->held_count < sizeof b->held / sizeof *b->held);
    return b->held[b->held_count++] = room;
}

static inline void bench_start(trials_bench *b, tu_unit unit)
{
    memset(b, 0, sizeof *b);
    b->story.unit = unit;
    b->story.entry = b->entry;
    b->story.limit_mm = b->story.wanted_mm = NAN;
}

static inline void bench_end(trials_bench *b)
{
    while (b->held_count)
        free(b->held[--b->held_count]);
}

/* Touches along Z from above; times NULL: none. Their lines are 2, 3, 4 ... */
static inline tu_trials_entry *bench_add(trials_bench *b, const char *name, const double *values,
                                         const double *times, size_t n, double step_mm)
{
    assert_true(b->story.count < BENCH_ENTRIES);
    tu_trials_entry *entry = &b->entry[b->story.count++];
    double *value = bench_hold(b, n * sizeof *value), *work = bench_hold(b, 4 * n * sizeof *work);
    uint32_t *line = bench_hold(b, n * sizeof *line);
    memcpy(value, values, n * sizeof *value);
    for (size_t i = 0; i < n; i++)
        line[i] = (uint32_t)i + 2;
    snprintf(entry->name, sizeof entry->name, "%s", name);
    entry->direction = -1;
    entry->line = line;
    entry->series = (tu_trial_series){
        .name = entry->name, .axis = TU_AXIS_Z, .count = n, .value_mm = value, .step_mm = step_mm};
    if (times) {
        double *time = bench_hold(b, n * sizeof *time);
        memcpy(time, times, n * sizeof *time);
        entry->series.time_s = time;
    }
    tu_trial_figures *f = &entry->figures;
    assert_int_equal(tu_trials_judge_series(&entry->series, work, f, NULL), TU_OK);
    entry->sd_mm = f->sd;
    entry->dof = (double)n - 1;
    entry->within_mm = entry->within_all_mm = tu_trials_next_within(
        f->sd, n, entry->dof, isnan(step_mm) && f->quantised ? f->step_seen_mm : step_mm);
    return entry;
}

/* n touches about -52.38, sd 0.006, rounded to the step (0: not), 20 s apart. */
static inline tu_trials_entry *bench_add_normal(trials_bench *b, const char *name, size_t n,
                                                double round_mm, uint64_t seed)
{
    check_random random = check_random_seed(seed);
    double *values = bench_hold(b, n * sizeof *values), *times = bench_hold(b, n * sizeof *times);
    for (size_t i = 0; i < n; i++) {
        values[i] = check_random_normal(&random, -52.38, 0.006);
        if (round_mm > 0)
            values[i] = round_mm * round(values[i] / round_mm);
        times[i] = 20.0 * (double)i;
    }
    return bench_add(b, name, values, times, n, NAN);
}

/* The first entry against the second. */
static inline void bench_compare(trials_bench *b)
{
    const tu_trial_series *after = &b->entry[0].series, *before = &b->entry[1].series;
    double *work = bench_hold(b, (after->count + before->count) * sizeof *work);
    assert_int_equal(tu_trials_compare(after, before, work, &b->story.comparison, NULL), TU_OK);
    b->story.has_comparison = true;
    b->story.after = 0;
    b->story.before = 1;
}

/* The touches of the first entry in equal groups, one after the other. */
static inline void bench_study(trials_bench *b, size_t groups)
{
    size_t n = b->entry[0].series.count;
    size_t *group = bench_hold(b, n * sizeof *group);
    for (size_t i = 0; i < n; i++)
        group[i] = i * groups / n;
    for (size_t k = 0; k < groups; k++)
        snprintf(b->group_name[k], sizeof b->group_name[k], "seat number %zu", k + 1);
    b->story.pooled = b->entry[0].series;
    b->story.pooled.group = group;
    b->story.group = b->group;
    b->story.group_name = (const char(*)[TU_NAME_SIZE])b->group_name;
    b->story.by = "seat";
    assert_int_equal(
        tu_trials_study_groups(&b->story.pooled, groups, b->group, &b->story.groups, NULL), TU_OK);
    b->story.has_groups = true;
}

/* What a report writes; freed by the caller. Not inline: gcc takes what open_memstream puts into
 * text for a pointer to text itself. */
__attribute__((noinline, unused)) static char *
bench_written(tu_status (*report)(FILE *, const tu_trials_story *, tu_error *),
              const trials_bench *b)
{
    char *text = NULL;
    size_t length = 0;
    tu_error error = {0};
    FILE *out = open_memstream(&text, &length);
    assert_non_null(out);
    check_status(report(out, &b->story, &error), TU_OK, &error);
    assert_int_equal(fclose(out), 0);
    return text;
}

/* One to ten thousand touches, all equal, huge, tiny: what every report must take. */
enum { BENCH_KINDS = 11 };

static inline void bench_kind(trials_bench *b, int kind, tu_unit unit)
{
    static const size_t counts[] = {1, 2, 3, 30, 1500, 10000};
    double values[30], equal[30], huge[30], tiny[30];
    check_random random = check_random_seed(500);
    for (size_t i = 0; i < 30; i++) {
        values[i] = check_random_normal(&random, 0, 1);
        equal[i] = -52.38;
        huge[i] = 1e5 + values[i] * 1e3;
        tiny[i] = values[i] * 1e-6;
    }
    bench_start(b, unit);
    if (kind < 6)
        bench_add_normal(b, "seat", counts[kind], 0.0025, 7);
    else if (kind == 6)
        bench_add(b, "equal", equal, NULL, 30, NAN);
    else if (kind == 7)
        bench_add(b, "equal", equal, NULL, 30, 0.0025);
    else if (kind == 8)
        bench_add(b, "", huge, NULL, 30, NAN);
    else if (kind == 9)
        bench_add(b, "tiny", tiny, NULL, 30, NAN);
    else {
        bench_add_normal(b, "warm", 30, 0, 8);
        bench_add_normal(b, "cold", 20, 0.0025, 9);
        bench_compare(b);
    }
}

#endif
