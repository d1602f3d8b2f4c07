/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_watch.c - what a program leaves to chance, and what it is made for: no fault in this
 * run, perhaps one in the next.
 */
#include "program/rehearse_run.h"

#include "trueup/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A touch of the face is nearer to it than this. */
static const double face_mm = 0.005;

/* --- The program's text --- */

void tu_run_read_head(tu_rehearsal_run *run, const char *program, size_t length)
{
    tu_error unreadable;
    if (tu_made_for_read(program, length, &run->made_for, &unreadable))
        tu_warn(&run->result->warnings,
                "%s: %s. They were not compared with the scene; plan the program anew, or compare "
                "them by hand.",
                unreadable.where, unreadable.message);
}

tu_status tu_run_read_block(tu_rehearsal_run *run, tu_rs274_block *block, bool *have,
                            tu_error *error)
{
    tu_rs274_reader before = run->reader;
    tu_status status = tu_rs274_next(&run->reader, run->state.certain, block, have, error);
    run->state.doubtful = false;
    if (status != TU_DATA_RANGE)
        return status;
    run->doubt = *error;
    run->reader = before;
    status = tu_rs274_next(&run->reader, run->state.parameter, block, have, error);
    run->state.doubtful = !status;
    return status;
}

/* --- What is left to chance --- */

static void warn_of_doubt(tu_rehearsal_run *run)
{
    int index = 0;
    if (sscanf(run->doubt.message, "parameter #%d", &index) != 1)
        return;
    tu_warn(&run->result->warnings,
            "%s: the value of #%d was never set, or comes from one that was not. It is taken as 0 "
            "here; a controller may take what an earlier program left in it. Set it first.",
            run->doubt.where, index);
}

void tu_run_watch_block(tu_rehearsal_run *run, const tu_rs274_block *block,
                        const tu_machine_step *step)
{
    const tu_machine_state *state = &run->state;
    bool moves = step->motion != TU_MOTION_NONE;
    if (state->doubtful && (moves || block->set_offset || block->dwell || !isnan(block->f)))
        warn_of_doubt(run);
    if ((moves || block->set_offset) && !state->units_stated && !run->told_units) {
        run->told_units = true;
        tu_warn(&run->result->warnings,
                "line %zu: this %s before G20 or G21 is stated. It is taken as mm here; a machine "
                "may still be in the unit of the program before. Begin with G21 or G20.",
                run->line, moves ? "moves" : "sets an offset");
    }
    if (moves && !state->distance_stated && !run->told_distance) {
        run->told_distance = true;
        tu_warn(&run->result->warnings,
                "line %zu: this moves before G90 or G91 is stated. It is taken as absolute here; a "
                "machine may still be in the mode of the program before. Begin with G90 or G91.",
                run->line);
    }
    if (moves && run->first_units == 0)
        run->first_units = state->units;
}

/* --- Touches --- */

static void watch_height(tu_rehearsal_run *run, const tu_solid *touched, double tip_z_mm)
{
    const tu_scene *scene = run->scene;
    if (!scene->plate_present || touched == NULL)
        return;
    char shown[TU_NUMBER_TEXT_SIZE];
    double above = tip_z_mm - (tu_scene_plate_seat(scene) + scene->plate.thickness.value_mm);
    tu_number_format(shown, sizeof shown, fabs(above), 3);
    if (touched->bed != NULL)
        tu_warn(&run->result->warnings,
                "line %zu: the first touch down met the bed, not the plate's face: a Z from it is "
                "not what a plate's thickness belongs to.",
                run->line);
    else if (fabs(above) > face_mm)
        tu_warn(&run->result->warnings,
                "line %zu: the first touch down met the plate %s mm %s its face: a Z from it would "
                "be that much off. Start over the face, clear of walls, bore and rim.",
                run->line, shown, above > 0.0 ? "above" : "below");
}

void tu_run_watch_hit(tu_rehearsal_run *run, const tu_hit *hit, const tu_solid *touched,
                      double tip_z_mm)
{
    if (hit->axis != TU_AXIS_Z) {
        run->sideways[hit->axis] = run->sideways[hit->axis] || hit->ok;
        return;
    }
    if (hit->direction < 0 && !run->touched_down)
        watch_height(run, touched, tip_z_mm);
    run->touched_down = run->touched_down || hit->direction < 0;
}
