/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_fear.c - what a stock angle that nobody measured would do to the zero and to a job.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>

#define DEGREE (M_PI / 180.0)

static void start_turned(sample_setup *setup)
{
    sample_start(setup, "front-left-top");
    sample_touch(setup, TU_AXIS_X, 100.0, 130.0);
    sample_touch(setup, TU_AXIS_Y, 80.0, 150.0);
}

static void a_feared_angle_is_told_as_an_error(void **state)
{
    (void)state;
    sample_setup setup;
    start_turned(&setup);
    setup.request.feared_angle_rad = 1.0 * DEGREE;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    double t = tan(1.0 * DEGREE);
    double distance = 130.0 - setup.result.axis[1].zero_mm; /* 40.425 mm along Y */
    check_close(setup.result.fear.error_mm[0],
                distance * t + 9.525 * (1.0 / cos(1.0 * DEGREE) - 1.0), 1e-9, "X error, mm");
    check_nan(setup.result.fear.border_mm[0], "border without a job, mm");
}

/*
 * A stock with its corner at (109.525, 89.575), turned by angle about it: touches at Y 130 and
 * X 150 as its walls then give them, and the zero that follows without knowing of the angle.
 */
static void touch_turned_stock(sample_setup *setup, double angle_rad)
{
    double c = cos(angle_rad);
    double s = sin(angle_rad);
    sample_start(setup, "front-left-top");
    sample_touch(setup, TU_AXIS_X, 109.525 + (-9.525 - (130.0 - 89.575) * s) / c, 130.0);
    sample_touch(setup, TU_AXIS_Y, 89.575 + (-9.575 + (150.0 - 109.525) * s) / c, 150.0);
    check_status(sample_solve(setup), TU_OK, &setup->error);
}

/* A ring of 25 with its bore's centre 20 and 35 inside the same corner, turned with the stock: the
 * chords of a cutter of 6.35 are 25 - 6.35 long and halved by the centre, whatever the angle. */
static void touch_turned_ring(sample_setup *setup, double angle_rad)
{
    double x = 109.525 + 20.0 * cos(angle_rad) - 35.0 * sin(angle_rad);
    double y = 89.575 + 20.0 * sin(angle_rad) + 35.0 * cos(angle_rad);
    sample_start(setup, "front-left-top");
    sample_ring(setup);
    setup->plate.bore.centre[1] = tu_quantity_mm(-35.0, 0.03);
    sample_chord(setup, TU_AXIS_X, x - 9.325, x + 9.325, NAN);
    sample_chord(setup, TU_AXIS_Y, y - 9.325, y + 9.325, NAN);
    check_status(sample_solve(setup), TU_OK, &setup->error);
}

typedef void touch_turned(sample_setup *setup, double angle_rad);

/* How far the job's worst corner lies inside the stock's left and front edges; below 0: outside. */
static double least_inside(touch_turned *touch, const double border_mm[2], const double job_mm[2],
                           double angle_rad)
{
    sample_setup setup;
    touch(&setup, angle_rad);
    double least = INFINITY;
    for (int corner = 0; corner < 4; corner++) {
        double x =
            setup.result.axis[0].zero_mm - 109.525 + border_mm[0] + (corner & 1 ? job_mm[0] : 0.0);
        double y =
            setup.result.axis[1].zero_mm - 89.575 + border_mm[1] + (corner & 2 ? job_mm[1] : 0.0);
        least = fmin(least, x * cos(angle_rad) + y * sin(angle_rad));
        least = fmin(least, y * cos(angle_rad) - x * sin(angle_rad));
    }
    return least;
}

/* The border from touches of a square stock: it is enough for either sign, and no more. */
static void check_border(touch_turned *touch, const double job_mm[2])
{
    sample_setup setup;
    double fear = 1.0 * DEGREE;
    touch(&setup, 0.0);
    setup.request.feared_angle_rad = fear;
    setup.request.job_mm[0] = job_mm[0];
    setup.request.job_mm[1] = job_mm[1];
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    const double *border = setup.result.fear.border_mm;
    assert_true(least_inside(touch, border, job_mm, fear) > -1e-9);
    assert_true(least_inside(touch, border, job_mm, -fear) > -1e-9);
    for (int axis = 0; axis < 2; axis++) {
        double less[2] = {border[0], border[1]};
        less[axis] -= 0.01;
        assert_true(fmin(least_inside(touch, less, job_mm, fear),
                         least_inside(touch, less, job_mm, -fear)) < -0.009);
    }
}

static void the_border_counts_the_zeros_own_error(void **state)
{
    (void)state; /* a small job, smaller than the touches' distance from the corner, and a large one
                  */
    const double jobs[][2] = {{10.0, 20.0}, {250.0, 150.0}};
    for (size_t i = 0; i < 2; i++) {
        check_border(touch_turned_stock, jobs[i]);
        check_border(touch_turned_ring, jobs[i]);
    }
}

/* The fear at a corner with outward directions sx and sy: the same touches, seen from inside. */
static tu_fear fear_at(const char *corner, double sx, double sy)
{
    sample_setup setup;
    sample_start(&setup, corner);
    setup.plate.turned = false;
    sample_touch(&setup, TU_AXIS_X, 400.0 + sx * 9.525, 300.0 - sy * 40.0);
    sample_touch(&setup, TU_AXIS_Y, 300.0 + sy * 9.575, 400.0 - sx * 70.0);
    setup.request.feared_angle_rad = 1.0 * DEGREE;
    setup.request.job_mm[0] = 50.0;
    setup.request.job_mm[1] = 20.0;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    return setup.result.fear;
}

static void every_corner_fears_the_same(void **state)
{
    (void)state; /* a stock seen in a mirror errs by as much, and needs the same border */
    const char *const corners[] = {"front-right-top", "back-left-top", "back-right-top"};
    tu_fear first = fear_at("front-left-top", -1.0, -1.0);
    for (int i = 0; i < 3; i++) {
        tu_fear other = fear_at(corners[i], i == 1 ? -1.0 : 1.0, i == 0 ? -1.0 : 1.0);
        for (int axis = 0; axis < 2; axis++) {
            check_close(other.error_mm[axis], first.error_mm[axis], 1e-9, "error, mm");
            check_close(other.border_mm[axis], first.border_mm[axis], 1e-9, "border, mm");
        }
    }
}

static void a_border_without_known_errors_holds_from_the_true_corner(void **state)
{
    (void)state; /* x cos >= (y + W) sin and y cos >= (x + L) sin with equality */
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    sample_touch(&setup, TU_AXIS_Y, 80.0, NAN);
    setup.request.feared_angle_rad = 1.0 * DEGREE;
    setup.request.job_mm[0] = 200.0;
    setup.request.job_mm[1] = 100.0;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    const tu_fear *fear = &setup.result.fear;
    double t = tan(1.0 * DEGREE);
    check_close(fear->border_mm[0], t * (fear->border_mm[1] + 100.0), 1e-9, "X border, mm");
    check_close(fear->border_mm[1], t * (fear->border_mm[0] + 200.0), 1e-9, "Y border, mm");
}

static void a_feared_angle_without_across_leaves_the_error_open(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    setup.request.feared_angle_rad = 1.0 * DEGREE;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_nan(setup.result.fear.error_mm[0], "X error, mm");
}

static void a_feared_angle_that_cannot_be_is_refused(void **state)
{
    (void)state;
    const double bad[] = {0.0, 40.0 * DEGREE, INFINITY};
    for (size_t i = 0; i < 3; i++) {
        sample_setup setup;
        start_turned(&setup);
        setup.request.feared_angle_rad = bad[i];
        check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
        assert_string_equal(setup.error.where, "{feared_angle}");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_feared_angle_is_told_as_an_error),
        cmocka_unit_test(the_border_counts_the_zeros_own_error),
        cmocka_unit_test(every_corner_fears_the_same),
        cmocka_unit_test(a_border_without_known_errors_holds_from_the_true_corner),
        cmocka_unit_test(a_feared_angle_without_across_leaves_the_error_open),
        cmocka_unit_test(a_feared_angle_that_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
