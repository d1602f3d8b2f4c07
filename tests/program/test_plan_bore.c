/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_bore.c - how far the tip may go in a bore. Expected lengths by pencil.
 */
#include "plan_case.h"

#include "plan_promises.h"
#include "program/plan_place.h"
#include "sample_scene.h"

#include <math.h>
#include <string.h>

/* A bore of 20 exact whose centre is at (-20, 20), a cutter of 6 exact, the tip in its middle. */
static void make_table(tu_plan_table *table, tu_plan_writer *writer)
{
    sample_plan_bore(&p, 20.0);
    memset(table, 0, sizeof *table);
    memset(writer, 0, sizeof *writer);
    table->plate = &p.plate;
    table->cutter = &p.cutter;
    table->side[0] = (tu_plan_side){.face_mm = -20.0, .radius_mm = 3.0, .reach_mm = 3.0};
    table->side[1] = (tu_plan_side){.face_mm = 20.0, .radius_mm = 3.0, .reach_mm = 3.0};
    writer->style = &p.style;
    writer->at[0] = tu_range_about(-20.0, 0.0);
    writer->at[1] = tu_range_about(20.0, 0.0);
}

static void the_room_in_a_bore_is_its_radius_less_the_cutters(void **unused)
{
    (void)unused;
    tu_plan_table table;
    tu_plan_writer writer;
    make_table(&table, &writer);
    /* 10 - 3, less the 0.1 allowed for the machine's overrun. */
    check_close(tu_plan_bore_room(&writer, &table, TU_AXIS_X), 6.9, 1e-12, "room, mm");
    /* Half of the bore's tolerance and half of the run-out. */
    p.plate.bore.diameter = tu_quantity_mm(20.0, 0.06);
    p.cutter.run_out = tu_quantity_exact(0.02);
    check_close(tu_plan_bore_room(&writer, &table, TU_AXIS_X), 6.86, 1e-12, "room, mm");
}

static void beside_the_middle_a_bore_has_less_room(void **unused)
{
    (void)unused;
    tu_plan_table table;
    tu_plan_writer writer;
    make_table(&table, &writer);
    /* The tip may be 2 off on one side and 1 on the other: the greater counts. */
    writer.at[1] = (tu_range){19.0, 22.0};
    check_close(tu_plan_bore_room(&writer, &table, TU_AXIS_X), sqrt(6.9 * 6.9 - 4.0), 1e-12, "mm");
    writer.at[1] = (tu_range){18.0, 21.0};
    check_close(tu_plan_bore_room(&writer, &table, TU_AXIS_X), sqrt(6.9 * 6.9 - 4.0), 1e-12, "mm");
    /* What the tip is off along the axis itself does not matter; no room is no less than none. */
    writer.at[0] = tu_range_about(-20.0, 5.0);
    check_close(tu_plan_bore_room(&writer, &table, TU_AXIS_X), sqrt(6.9 * 6.9 - 4.0), 1e-12, "mm");
    writer.at[1] = tu_range_about(20.0, 8.0);
    check_close(tu_plan_bore_room(&writer, &table, TU_AXIS_X), 0.0, 0.0, "room, mm");
}

static void a_contact_in_a_bore_lies_between_the_least_and_the_greatest_chord(void **unused)
{
    (void)unused;
    tu_plan_table table;
    tu_plan_writer writer;
    make_table(&table, &writer);
    table.side[0].loss_mm = 0.4; /* of flutes: the tip goes so much further */
    tu_plan_contact high = tu_plan_bore_contact(&writer, &table, TU_AXIS_X, 1);
    check_close(high.place.low, -20.0 + 6.9, 1e-12, "mm");
    check_close(high.place.high, -20.0 + 7.5, 1e-12, "mm");
    tu_plan_contact low = tu_plan_bore_contact(&writer, &table, TU_AXIS_X, -1);
    check_close(low.place.low, -20.0 - 7.5, 1e-12, "mm");
    check_close(low.place.high, -20.0 - 6.9, 1e-12, "mm");
}

/* In a bore that leaves less than the clearance the tip must not go back by all of it. */
static void trials_in_a_narrow_bore_stay_clear_of_the_other_side(void **unused)
{
    (void)unused;
    static sample_run run;
    char text[200] = "";
    sample_plan_bore(&p, 11.0); /* 2.3 of room on either side of 6.35 */
    p.trials.axis = TU_AXIS_X;
    p.style.window_mm = 0.5;
    p.style.clearance_mm = 12.0;
    for (int both = 0; both < 2; both++) {
        p.trials.both_sides = both == 1;
        sample_plan_good(&p, SAMPLE_TRIALS);
        for (int corner = 0; corner < 4; corner++) {
            tu_scene *scene = &run.scene;
            sample_scene_start(scene);
            scene->plate = p.plate;
            scene->cutter = p.cutter;
            scene->start.x = 200.0 + p.summary.start_mm[0] + (corner % 2 == 0 ? 0.5 : -0.5);
            scene->start.y = 150.0 + p.summary.start_mm[1] + (corner / 2 == 0 ? 0.5 : -0.5);
            scene->start.z = -82.0 + 9.53 + 4.0;
            sample_rehearse_clean(&run, p.program);
            assert_true(run.hits >= p.summary.touches);
            if (!plan_promises_hold(&run, p.program, &p.style, &p.summary, text, sizeof text))
                fail_msg("%s", text);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(the_room_in_a_bore_is_its_radius_less_the_cutters),
        TEST(beside_the_middle_a_bore_has_less_room),
        TEST(a_contact_in_a_bore_lies_between_the_least_and_the_greatest_chord),
        TEST(trials_in_a_narrow_bore_stay_clear_of_the_other_side),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
