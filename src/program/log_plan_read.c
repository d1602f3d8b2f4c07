/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_plan_read.c - the touches of a program, with where each may be.
 */
#include "program/log_plan.h"
#include "record/file_text.h"
#include "record/hits_form.h"
#include "trueup/rs274.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { PROGRAM_MAX = 16 << 20, TOUCHES_MAX = 1000000 };

/* The program as it would run. work: the bases of the work coordinates in force. */
typedef struct follower {
    const char *path;
    tu_log_plan *plan;
    tu_rs274_motion motion;
    bool inch, relative;
    int slot;
    size_t work[TU_AXIS_COUNT];
    tu_log_place at[TU_AXIS_COUNT];
    char series[TU_NAME_SIZE]; /* of the touch that was announced */
    unsigned number;
    bool search;
    double parameters[TU_RS274_PARAMETERS];
} follower;

static size_t new_base(follower *f)
{
    return f->plan->base_count++;
}

static tu_status fail_at(const follower *f, size_t line, tu_status status, const char *message,
                         tu_error *error)
{
    char place[TU_ERROR_WHERE_SIZE];
    snprintf(place, sizeof place, "%.150s: line %zu", f->path, line);
    return tu_fail(error, status, place, "%s", message);
}

/* "touch SERIES AXIS n, search" (docs/touch-program.md); other comments say nothing here. */
static void take_comment(follower *f, const char *comment)
{
    comment += strspn(comment, " ");
    if (strncasecmp(comment, "touch ", 6) != 0)
        return;
    const char *word = comment + 6 + strspn(comment + 6, " ");
    const char *role = strrchr(word, ',');
    size_t length = strcspn(word, " ,");
    snprintf(f->series, sizeof f->series, "%.*s", (int)length, word);
    f->number = 0;
    if (sscanf(word + length, " %*1[xyzXYZ] %9u", &f->number) != 1)
        f->number = 0;
    f->search = role && strncasecmp(role + 1 + strspn(role + 1, " "), "search", 6) == 0;
}

static tu_status add_touch(follower *f, const tu_rs274_block *block, tu_axis axis, double length,
                           tu_error *error)
{
    tu_log_plan *plan = f->plan;
    if (plan->count == TOUCHES_MAX)
        return fail_at(f, block->line, TU_DATA_RANGE, "more than a million touches", error);
    if (!tu_hits_is_series(f->series))
        return fail_at(f, block->line, TU_DATA_SYNTAX,
                       "the series of this touch has characters that can't be shown, or more than "
                       "63 bytes",
                       error);
    if (plan->count == plan->room) {
        size_t room = plan->room ? 2 * plan->room : 64;
        tu_log_touch *touch = realloc(plan->touch, room * sizeof *touch);
        if (!touch)
            return tu_fail(error, TU_SYSTEM_MEMORY, f->path, "no memory left to read this program");
        plan->touch = touch;
        plan->room = room;
    }
    tu_log_touch *touch = &plan->touch[plan->count++];
    *touch = (tu_log_touch){.line = block->line,
                            .number = f->number,
                            .search = f->search,
                            .axis = axis,
                            .direction = length < 0.0 ? -1 : 1,
                            .length_mm = fabs(length)};
    memcpy(touch->series, f->series, sizeof touch->series);
    memcpy(touch->from, f->at, sizeof touch->from);
    touch->after = new_base(f);
    f->at[axis] = (tu_log_place){touch->after, 0.0};
    f->series[0] = '\0';
    f->number = 0;
    f->search = false;
    return TU_OK;
}

/* The length of a move along an axis, which ends at *to; NaN where it is not known. */
static double follow_axis(follower *f, int axis, double value, bool computed, tu_log_place *to)
{
    *to = f->at[axis];
    if (isnan(value))
        return 0.0;
    double value_mm = f->inch ? value * TU_MM_PER_INCH : value;
    if (computed) {
        *to = (tu_log_place){new_base(f), 0.0};
        return (double)NAN;
    }
    if (f->relative) {
        to->offset_mm += value_mm;
        return value_mm;
    }
    *to = (tu_log_place){f->work[axis], value_mm};
    return f->at[axis].base == f->work[axis] ? value_mm - f->at[axis].offset_mm : (double)NAN;
}

/* Work coordinates begin somewhere else now; the tip stays where it is. */
static void move_work(follower *f)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        f->work[axis] = new_base(f);
}

/* Of a probe move along several axes the longest counts; one of unknown length is of any. */
static tu_status follow_probe(follower *f, const tu_rs274_block *block,
                              const double move[TU_AXIS_COUNT], tu_error *error)
{
    int longest = -1, moved = 0;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (move[axis] == 0.0)
            continue;
        moved++;
        if (isnan(move[axis]))
            return fail_at(f, block->line, TU_DATA_RANGE,
                           "how far this touch goes depends on what is known only when the "
                           "program runs; use G91 with plain numbers for touches",
                           error);
        if (longest < 0 || fabs(move[axis]) > fabs(move[longest]))
            longest = axis;
    }
    if (moved == 0)
        return fail_at(f, block->line, TU_DATA_RANGE, "a touch that moves nowhere", error);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (axis != longest && move[axis] != 0.0)
            f->at[axis] = (tu_log_place){new_base(f), 0.0};
    return add_touch(f, block, (tu_axis)longest, move[longest], error);
}

static tu_status follow_move(follower *f, const tu_rs274_block *block, bool computed,
                             tu_error *error)
{
    const double value[] = {block->x, block->y, block->z};
    double move[TU_AXIS_COUNT];
    tu_log_place to[TU_AXIS_COUNT];
    if (block->motion != TU_MOTION_NONE)
        f->motion = block->motion;
    if (block->set_offset) {
        move_work(f);
        return TU_OK;
    }
    if (isnan(block->x) && isnan(block->y) && isnan(block->z))
        return TU_OK;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        move[axis] = follow_axis(f, axis, value[axis], computed, &to[axis]);
    if (f->motion == TU_MOTION_PROBE)
        return follow_probe(f, block, move, error);
    memcpy(f->at, to, sizeof to);
    return TU_OK;
}

static tu_status follow_block(follower *f, const tu_rs274_block *block, const char *text,
                              size_t length, tu_error *error)
{
    if (block->deleted)
        return fail_at(f, block->line, TU_DATA_SYNTAX,
                       "a block with a slash: whether it runs is up to a switch; take the slash or "
                       "the block out",
                       error);
    if (!block->has_message && block->message[0])
        take_comment(f, block->message);
    if (block->units)
        f->inch = block->units == 20;
    if (block->distance)
        f->relative = block->distance == 91;
    if (block->slot && block->slot != f->slot) {
        f->slot = block->slot;
        move_work(f);
    }
    for (size_t i = 0; i < block->setting_count; i++)
        f->parameters[block->setting[i].index] = block->setting[i].value;
    const char *comment = memchr(text, '(', length);
    size_t words = comment ? (size_t)(comment - text) : length;
    return follow_move(f, block, memchr(text, '#', words) != NULL, error);
}

static tu_status follow_program(follower *f, const char *text, size_t length, tu_error *error)
{
    tu_rs274_reader reader = tu_rs274_start(text, length);
    tu_rs274_block block;
    bool have = true;
    for (;;) {
        tu_error detail = {0};
        size_t before = reader.position;
        tu_status status = tu_rs274_next(&reader, f->parameters, &block, &have, &detail);
        if (status) {
            char place[2 * TU_ERROR_WHERE_SIZE];
            snprintf(place, sizeof place, "%.120s: %s", f->path, detail.where);
            return tu_fail(error, status, place, "%s", detail.message);
        }
        if (!have)
            break;
        status = follow_block(f, &block, text + before, reader.position - before, error);
        if (status)
            return status;
    }
    if (!reader.ended)
        return tu_fail(error, TU_DATA_MISSING, f->path,
                       "the program has no end (M2): was it cut off?");
    if (f->plan->count == 0)
        return tu_fail(error, TU_DATA_MISSING, f->path,
                       "no touch (G38.2) in this program; \"trueup plan\" writes one");
    return TU_OK;
}

static bool make_course(const tu_log_plan *plan, tu_log_course *course)
{
    course->base_mm = malloc(plan->base_count * sizeof *course->base_mm);
    for (size_t i = 0; course->base_mm && i < plan->base_count; i++)
        course->base_mm[i] = (double)NAN;
    return course->base_mm != NULL;
}

tu_status tu_log_plan_read(const char *path, tu_log_plan *plan, tu_error *error)
{
    char *text = NULL;
    size_t length;
    *plan = (tu_log_plan){0};
    follower *f = calloc(1, sizeof *f);
    if (!f)
        return tu_fail(error, TU_SYSTEM_MEMORY, path, "no memory left to read this program");
    f->path = path;
    f->plan = plan;
    f->motion = TU_MOTION_CANCEL;
    move_work(f);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        f->at[axis] = (tu_log_place){new_base(f), 0.0};
    tu_status status = tu_file_text_read(path, PROGRAM_MAX, &text, &length, error);
    if (!status)
        status = follow_program(f, text, length, error);
    if (!status && !(make_course(plan, &plan->course) && make_course(plan, &plan->anew)))
        status = tu_fail(error, TU_SYSTEM_MEMORY, path, "no memory left to read this program");
    free(text);
    free(f);
    if (status)
        tu_log_plan_destroy(plan);
    return status;
}

void tu_log_plan_destroy(tu_log_plan *plan)
{
    free(plan->touch);
    free(plan->course.base_mm);
    free(plan->anew.base_mm);
    *plan = (tu_log_plan){0};
}
