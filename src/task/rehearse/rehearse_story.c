/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_story.c - runs a program and keeps what happened.
 */
#include "task/rehearse/rehearse_story.h"

#include "base/utf8.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct teller {
    tu_rehearsal_story *story;
    size_t touch_room, move_room, pause_room;
    size_t line; /* of the last move */
    bool keeps_moves;
    bool out_of_memory;
} teller;

/* Makes room for one more; false without memory. */
static bool make_room(void **items, size_t count, size_t *room, size_t size)
{
    if (count < *room)
        return true;
    size_t wanted = *room ? 2 * *room : 64;
    void *grown = realloc(*items, wanted * size);
    if (!grown)
        return false;
    *items = grown;
    *room = wanted;
    return true;
}

static tu_status keep_hit(void *context, const tu_hit *hit)
{
    teller *t = context;
    tu_rehearsal_story *story = t->story;
    void *items = story->touches;
    if (!make_room(&items, story->touch_count, &t->touch_room, sizeof *story->touches))
        return TU_SYSTEM_MEMORY;
    story->touches = items;
    tu_rehearsal_touch *touch = &story->touches[story->touch_count++];
    *touch = (tu_rehearsal_touch){*hit, t->line};
    tu_utf8_tidy(touch->hit.series);
    return TU_OK;
}

static tu_status keep_move(void *context, const tu_rehearsal_move *move)
{
    teller *t = context;
    tu_rehearsal_story *story = t->story;
    void *items = story->moves;
    t->line = move->line;
    if (!t->keeps_moves)
        return TU_OK;
    if (story->move_count == TU_STORY_MOVES_MAX) {
        story->moves_left_out++;
        return TU_OK;
    }
    if (!make_room(&items, story->move_count, &t->move_room, sizeof *story->moves))
        return TU_SYSTEM_MEMORY;
    story->moves = items;
    story->moves[story->move_count++] = *move;
    return TU_OK;
}

static tu_status keep_pause(void *context, size_t line, const char *message)
{
    teller *t = context;
    tu_rehearsal_story *story = t->story;
    void *items = story->pauses;
    if (!make_room(&items, story->pause_count, &t->pause_room, sizeof *story->pauses))
        return TU_SYSTEM_MEMORY;
    story->pauses = items;
    tu_rehearsal_pause *pause = &story->pauses[story->pause_count++];
    pause->line = line;
    snprintf(pause->message, sizeof pause->message, "%s", message);
    tu_utf8_tidy(pause->message);
    return TU_OK;
}

static bool has_target(const tu_rehearsal_story *story)
{
    return *tu_target_name(story->target) != '\0';
}

tu_status tu_story_run(tu_rehearsal_story *story, const char *program, size_t length, bool moves,
                       tu_error *error)
{
    const tu_scene *scene = story->scene;
    teller t = {.story = story, .keeps_moves = moves};
    const tu_rehearsal_sink sink = {&t, keep_hit, keep_move, keep_pause};
    story->truth = (tu_machine_point){NAN, NAN, NAN};
    bool asked = has_target(story);
    if (!asked && scene->plate_present && scene->stock_present)
        story->target = scene->plate_corner;
    if (has_target(story)) {
        tu_status status = tu_scene_truth(scene, story->target, &story->truth, error);
        if (status)
            return status;
    }
    tu_status status = tu_rehearse(scene, program, length, &sink, &story->result, error);
    if (status == TU_SYSTEM_MEMORY)
        return tu_fail(error, status, NULL, "out of memory");
    for (size_t i = 0; !status && i < story->result.warnings.count; i++)
        tu_warn(&story->warnings, "%s", story->result.warnings.text[i]);
    if (!status && story->moves_left_out)
        tu_warn(&story->warnings, "%zu moves are too many for the drawing: it shows the first %d.",
                story->move_count + story->moves_left_out, TU_STORY_MOVES_MAX);
    return status;
}

void tu_story_destroy(tu_rehearsal_story *story)
{
    free(story->touches);
    free(story->moves);
    free(story->pauses);
    story->touches = NULL;
    story->moves = NULL;
    story->pauses = NULL;
}
