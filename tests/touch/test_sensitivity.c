/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The combined standard uncertainty against the zero itself: every input is moved a little to both
 * sides, the zero is solved again, and the squares of what the inputs' standard uncertainties then
 * do to it are summed (JCGM 100:2008, 5.1.3 note 2: sensitivities found numerically). The zeros
 * themselves are checked against moved solids in test_zero_contact.c and test_zero_turned.c.
 *
 * One input moves one thing: the diameter moves the contacts on both walls at once, so what it does
 * through both of them adds up with its sign before it is squared.
 */
#include "contact_trial.h"

#include <math.h>
#include <string.h>

enum { ROUNDS = 200 };

/* Squares of what something does to the zeros of X, Y and Z. */
typedef struct squares {
    double of[TU_AXIS_COUNT];
} squares;

/* By what is known independently of what: touches of each axis, the two contacts of a baseline
 * (which scatter as Y touches do), and everything with a tolerance. */
typedef struct inputs {
    squares touches[TU_AXIS_COUNT], baseline, tolerances;
} inputs;

static const double part = 1e-3; /* of a standard uncertainty: small against every curvature */

static trial work;

/* GUM 4.3.7 and 4.2.4, own arithmetic. */
static double of_tolerance(double a)
{
    return a / sqrt(3.0);
}

static double scatter_of(const tu_touch *touch, size_t n)
{
    double mean = 0.0, sum = 0.0;

    for (size_t i = 0; i < n; i++)
        mean += touch[i].position_mm / (double)n;
    for (size_t i = 0; i < n; i++)
        sum += pow(touch[i].position_mm - mean, 2.0);
    return sum;
}

/* Of one touch on an axis: its series (both sides of a bore) pooled with the stored one. */
static tu_repeatability single_touch(const trial *t, int axis)
{
    const tu_axis_touches *touches = &t->request.touches[axis];
    tu_repeatability stored = t->request.machine.repeatability[axis];
    double sum = stored.dof * stored.sd_mm * stored.sd_mm, dof = stored.dof;

    if (touches->low_count > 0) {
        sum += scatter_of(touches->low, touches->low_count) +
               scatter_of(touches->high, touches->high_count);
        dof += (double)(touches->low_count + touches->high_count) - 2.0;
    } else {
        sum += scatter_of(touches->single, touches->single_count);
        dof += (double)touches->single_count - 1.0;
    }
    return (tu_repeatability){sqrt(sum / dof), dof};
}

/* Half the difference of the zeros with a number moved up and down, as if by its whole u. */
static void add_square(double *number, double u, squares *sum)
{
    double was = *number;
    tu_zero_result up, down;

    *number = was + part * u;
    trial_solve(&work, &up);
    *number = was - part * u;
    trial_solve(&work, &down);
    *number = was;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        sum->of[axis] += pow((up.axis[axis].zero_mm - down.axis[axis].zero_mm) / (2 * part), 2.0);
}

static void add_quantity(tu_quantity *quantity, squares *sum)
{
    if (tu_quantity_is_stated(*quantity) && quantity->tolerance_mm > 0.0)
        add_square(&quantity->value_mm, of_tolerance(quantity->tolerance_mm), sum);
}

/* All touches of one side of an axis together, by the uncertainty of their mean. */
static void add_touches(int axis, tu_touch *touch, size_t n, squares *sum)
{
    double u = single_touch(&work, axis).sd_mm / sqrt((double)n);
    tu_touch was[TRIAL_REPEATS];
    tu_zero_result up, down;

    memcpy(was, touch, sizeof was);
    for (size_t i = 0; i < n; i++)
        touch[i].position_mm = was[i].position_mm + part * u;
    trial_solve(&work, &up);
    for (size_t i = 0; i < n; i++)
        touch[i].position_mm = was[i].position_mm - part * u;
    trial_solve(&work, &down);
    memcpy(touch, was, sizeof was);
    for (int i = 0; i < TU_AXIS_COUNT; i++)
        sum->of[i] += pow((up.axis[i].zero_mm - down.axis[i].zero_mm) / (2 * part), 2.0);
}

/* Every stated length gets a tolerance, every axis a stored repeatability. */
static void state_tolerances(trial *t)
{
    tu_quantity *all[] = {&t->plate.thickness,           &t->cutter.diameter,
                          &t->cutter.corner_radius,      &t->cutter.tip,
                          &t->plate.wall[0].offset,      &t->plate.wall[1].offset,
                          &t->plate.wall[0].touch_depth, &t->plate.wall[1].touch_depth,
                          &t->plate.bore.centre[0],      &t->plate.bore.centre[1],
                          &t->plate.bore.diameter,       &t->request.stock_thickness,
                          &t->request.stock.size[2]};

    t->plate.wall[0].touch_depth = t->plate.wall[1].touch_depth = t->plate.bore.touch_depth =
        tu_quantity_mm(t->depth, 0.0);
    /* one depth stated for all touches errs on both walls at once, each wall's own on that wall */
    t->request.depth =
        trial_toss() ? tu_quantity_mm(t->depth, trial_draw(0.002, 0.02)) : tu_quantity_none();
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        all[i]->tolerance_mm = trial_draw(0.002, 0.02);
    if (t->cutter.tip.value_mm < 0.02) /* a tip cannot be moved below zero */
        t->cutter.tip.tolerance_mm = 0.0;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        t->request.machine.repeatability[axis] =
            (tu_repeatability){trial_draw(0.002, 0.01), trial_draw(4.0, 40.0)};
}

/* The repeats scatter: in steps that do not cancel, within what one touch scatters. */
static void scatter(trial *t)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        for (int i = 0; i < TRIAL_REPEATS; i++) {
            t->single[axis][i].position_mm += trial_draw(-0.004, 0.004);
            t->high[axis][i].position_mm += trial_draw(-0.004, 0.004);
        }
}

static void sum_of_plate_and_cutter(squares *sum)
{
    add_quantity(&work.plate.thickness, sum);
    add_quantity(&work.request.stock_thickness, sum);
    add_quantity(&work.request.stock.size[TU_AXIS_Z], sum);
    add_quantity(&work.request.depth, sum);
    if (!work.plate.bore.present) {
        add_quantity(&work.cutter.diameter, sum);
        if (work.cutter.shape == TU_CUTTER_BULL)
            add_quantity(&work.cutter.corner_radius, sum);
        if (work.cutter.shape == TU_CUTTER_VEE)
            add_quantity(&work.cutter.tip, sum);
    }
    for (int i = 0; i < 2; i++) {
        add_quantity(&work.plate.wall[i].offset, sum);
        add_quantity(&work.plate.wall[i].touch_depth, sum);
        add_quantity(&work.plate.bore.centre[i], sum);
    }
}

static void sum_of_touches(inputs *in)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const tu_axis_touches *touches = &work.request.touches[axis];

        if (touches->low_count > 0) {
            add_touches(axis, work.single[axis], touches->low_count, &in->touches[axis]);
            add_touches(axis, work.high[axis], touches->high_count, &in->touches[axis]);
        } else {
            add_touches(axis, work.single[axis], touches->single_count, &in->touches[axis]);
        }
    }
}

static double variance_of(const inputs *in, int axis)
{
    double variance = in->baseline.of[axis] + in->tolerances.of[axis];

    for (int i = 0; i < TU_AXIS_COUNT; i++)
        variance += in->touches[i].of[axis];
    return variance;
}

/*
 * Effective degrees of freedom, GUM G.4.1; tolerances have infinitely many. together: the baseline
 * and the touches of Y rest on the same estimate, so their squares are added before they are
 * squared; else each counts by itself, which gives more.
 */
static double freedom_of(const inputs *in, int axis, bool together)
{
    double weighted = 0.0, variance = variance_of(in, axis);

    for (int i = 0; i < TU_AXIS_COUNT; i++) {
        double square = in->touches[i].of[axis];
        double dof = single_touch(&work, i).dof;

        if (i == 1 && together)
            square += in->baseline.of[axis];
        weighted += square * square / dof;
        if (i == 1 && !together)
            weighted += in->baseline.of[axis] * in->baseline.of[axis] / dof;
    }
    return variance * variance / weighted;
}

/* low and high: between what inputs; the same where there is no choice. */
static void expect_standard(const tu_zero_result *result, const inputs *low, const inputs *high)
{
    const double slack = 5e-4;

    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const tu_uncertainty *u = &result->axis[axis].uncertainty;
        double least = fmin(freedom_of(low, axis, true), freedom_of(high, axis, true));
        double most = fmax(freedom_of(low, axis, false), freedom_of(high, axis, false));

        check_between(u->standard_mm, sqrt(variance_of(low, axis)) * (1 - slack),
                      sqrt(variance_of(high, axis)) * (1 + slack),
                      "combined standard uncertainty, mm");
        check_between(u->dof, least * (1 - 4 * slack), most * (1 + 4 * slack),
                      "effective degrees of freedom");
    }
}

static void start(bool bored, double angle)
{
    cw_setup setup = trial_draw_setup(bored, angle);

    trial_start(&work, &setup, trial_toss() ? 1 : -1);
    state_tolerances(&work);
    for (int axis = 0; axis < 2; axis++)
        if (bored)
            trial_touch_bore(&work, axis, 2, 0.0, true);
        else
            trial_touch_walls(&work, axis, 3, (trial_along){trial_draw(-8.0, 8.0), 0.0}, true);
    trial_touch_face(&work, 3);
    scatter(&work);
}

/*
 * Straight edges, one of them turned to the wall within 0.3 rad before each contact. What is left
 * of that angle is an input like others; test_flute_rotation.c shows its standard deviation.
 */
static void flute(int flutes)
{
    work.cutter.flutes = flutes;
    work.cutter.turned_within_rad = flutes > 0 ? 0.3 : NAN;
}

static void expect_sum_of_inputs(bool bored, int flutes)
{
    inputs in = {0};
    tu_zero_result result;

    start(bored, 0.0);
    flute(flutes);
    trial_solve(&work, &result);
    sum_of_plate_and_cutter(&in.tolerances);
    for (int axis = 0; axis < 2; axis++) {
        double one = pow(result.axis[axis].flutes.standard_mm, 2.0);

        /* the midpoint of two contacts takes half of each; with an even number of edges the loss is
           the same at both sides and leaves the midpoint alone */
        if (bored)
            one *= flutes % 2 != 0 ? 0.5 : 0.0;
        in.tolerances.of[axis] += one;
    }
    sum_of_touches(&in);
    expect_standard(&result, &in, &in);
}

static void the_budget_of_walls_is_the_sum_of_what_inputs_do(void **state)
{
    (void)state;
    trial_seed(20240601);
    for (int round = 0; round < ROUNDS; round++)
        expect_sum_of_inputs(false, round % 4);
}

static void the_budget_of_a_bore_is_the_sum_of_what_inputs_do(void **state)
{
    (void)state;
    trial_seed(20240603);
    for (int round = 0; round < ROUNDS; round++)
        expect_sum_of_inputs(true, round % 4);
}

/* Two contacts on the bare front edge; each is one touch, its error lies along Y. */
static void touch_front(trial *t)
{
    static cw_world bare;
    cw_setup setup = t->world.setup;
    const double *active = t->request.active_mm;
    double x = isnan(active[0]) ? 0.0 : active[0], y = isnan(active[1]) ? 0.0 : active[1];
    cw_place first, second;

    setup.plate_away = true;
    cw_build(&bare, &setup);
    assert_true(cw_touch_bare(&bare, &t->solid, 1, false, 40.0, 3.0, &first));
    assert_true(cw_touch_bare(&bare, &t->solid, 1, false, 200.0, 3.0, &second));
    t->request.baseline[0] =
        (tu_baseline){{first.x - x, first.y - y}, {second.x - x, second.y - y}};
    t->request.baseline_count = 1;
}

/* The error of a contact on the baseline lies along Y, which is s of one touch, or straight off the
 * edge, which is s/cos of the angle along Y: the budget may take either. */
static void add_baseline(squares *sum, double along_y)
{
    add_square(&work.request.baseline[0].from.y, along_y, sum);
    add_square(&work.request.baseline[0].to.y, along_y, sum);
}

/* The flutes' angle at a wall moves the contact as the wall's offset would; on the baseline each
 * contact was turned to by itself. */
static void add_flutes(const tu_zero_result *result, squares *sum, double along_y)
{
    for (int axis = 0; axis < 2; axis++)
        add_square(&work.plate.wall[result->axis[axis].wall].offset.value_mm,
                   result->axis[axis].flutes.standard_mm, sum);
    add_baseline(sum, along_y);
}

static void turn_and_expect_sum_of_inputs(bool bored, int flutes)
{
    inputs low = {0}, high;
    tu_zero_result result;
    double sd, off_edge, slant;

    start(bored, trial_draw(-0.3, 0.3));
    flute(flutes);
    touch_front(&work);
    trial_solve(&work, &result);
    slant = 1.0 / cos(work.world.setup.angle);
    sum_of_plate_and_cutter(&low.tolerances);
    sum_of_touches(&low);
    high = low;
    sd = single_touch(&work, 1).sd_mm;
    add_baseline(&low.baseline, sd);
    add_baseline(&high.baseline, sd * slant);
    if (flutes > 0) {
        off_edge =
            tu_cutter_flute_loss(&work.cutter, work.cutter.diameter.value_mm / 2, NAN).standard_mm;
        add_flutes(&result, &low.tolerances, off_edge);
        add_flutes(&result, &high.tolerances, off_edge * slant);
    }
    expect_standard(&result, &low, &high);
}

static void the_budget_of_turned_walls_is_the_sum_of_what_inputs_do(void **state)
{
    (void)state;
    trial_seed(20240602);
    for (int round = 0; round < ROUNDS; round++)
        turn_and_expect_sum_of_inputs(false, round % 4);
}

static void the_budget_of_a_turned_bore_is_the_sum_of_what_inputs_do(void **state)
{
    (void)state;
    trial_seed(20240604);
    for (int round = 0; round < ROUNDS; round++)
        turn_and_expect_sum_of_inputs(true, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_budget_of_walls_is_the_sum_of_what_inputs_do),
        cmocka_unit_test(the_budget_of_a_bore_is_the_sum_of_what_inputs_do),
        cmocka_unit_test(the_budget_of_a_turned_bore_is_the_sum_of_what_inputs_do),
        cmocka_unit_test(the_budget_of_turned_walls_is_the_sum_of_what_inputs_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
