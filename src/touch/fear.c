/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fear.c - what a stock angle that was not measured would do to the zero and to a job.
 */
#include "touch/skew.h"

#include <math.h>

/*
 * One corner seen from inside the stock: both axes point inwards, so that every corner is the
 * front-left one or its mirror image. A feared angle has both signs, so the image needs nothing
 * else.
 *   stand_off  o + sigma r of a wall, or o of a bore, per axis.
 *   distance   of a wall's touch from the corner, along the wall; NaN where nobody stated it.
 */
typedef struct inside_view {
    bool bore;
    bool asked[2];
    double stand_off_mm[2];
    double distance_mm[2];
} inside_view;

static inside_view look_inside(const tu_axis_zero zero[2], const tu_sideways side[2])
{
    inside_view view = {.bore = zero[0].bore && zero[1].bore};
    for (int axis = 0; axis < 2; axis++) {
        view.asked[axis] = zero[axis].asked && (view.bore || !zero[axis].bore);
        view.stand_off_mm[axis] = zero[axis].outward * side[axis].stand_off_mm;
        view.distance_mm[axis] =
            -zero[1 - axis].outward * (zero[axis].across_mm - zero[1 - axis].zero_mm);
    }
    return view;
}

/* The zero that comes out less the true corner, with the stock turned by angle (docs/geometry.md,
 * "What an ignored angle costs"). */
static double error_at(const inside_view *view, int axis, double angle_rad)
{
    double k = view->stand_off_mm[axis];
    double turn = axis == 0 ? angle_rad : -angle_rad;
    if (view->bore)
        return k * (1.0 - cos(angle_rad)) + view->stand_off_mm[1 - axis] * sin(turn);
    return -k * (1.0 / cos(angle_rad) - 1.0) - view->distance_mm[axis] * tan(turn);
}

/* Errors that are not known count as none: the border then holds from the true corner. */
static void known_errors(const inside_view *view, double angle_rad, double error_mm[2])
{
    for (int axis = 0; axis < 2; axis++) {
        double error = view->asked[axis] ? error_at(view, axis, angle_rad) : 0.0;
        error_mm[axis] = isnan(error) ? 0.0 : error;
    }
}

/*
 * One of the four corners of the job, in the frame of the stock turned by angle, with the zero's
 * own error under that angle.
 */
static void place_job_corner(const inside_view *view, const tu_fear *fear, const double job_mm[2],
                             int corner, double angle_rad, double place_mm[2])
{
    double error[2];
    known_errors(view, angle_rad, error);
    double x = fear->border_mm[0] + error[0] + (corner & 1 ? job_mm[0] : 0.0);
    double y = fear->border_mm[1] + error[1] + (corner & 2 ? job_mm[1] : 0.0);
    place_mm[0] = x * cos(angle_rad) + y * sin(angle_rad);
    place_mm[1] = y * cos(angle_rad) - x * sin(angle_rad);
}

/* The least and the greatest place of the job over its corners and both signs of the angle. */
static void span_job(const inside_view *view, const tu_fear *fear, const double job_mm[2],
                     double least_mm[2], double most_mm[2])
{
    for (int axis = 0; axis < 2; axis++) {
        least_mm[axis] = INFINITY;
        most_mm[axis] = -INFINITY;
    }
    for (int i = 0; i < 8; i++) {
        double place[2];
        place_job_corner(view, fear, job_mm, i & 3, i & 4 ? fear->angle_rad : -fear->angle_rad,
                         place);
        for (int axis = 0; axis < 2; axis++) {
            least_mm[axis] = fmin(least_mm[axis], place[axis]);
            most_mm[axis] = fmax(most_mm[axis], place[axis]);
        }
    }
}

/*
 * The borders are pushed out until the job lies just inside. Each push moves the job along one
 * edge by cos(angle) of it, and the other edge by sin(angle): with angles up to 30 degrees the rest
 * shrinks by tan^2 <= 1/3 in each round, so 60 rounds leave nothing of a metre.
 */
static void find_border(const inside_view *view, const double job_mm[2], tu_fear *fear)
{
    double least[2];
    double most[2];
    fear->border_mm[0] = fear->border_mm[1] = 0.0;
    for (int round = 0; round < 60; round++) {
        for (int axis = 0; axis < 2; axis++) {
            span_job(view, fear, job_mm, least, most);
            fear->border_mm[axis] =
                fmax(0.0, fear->border_mm[axis] - least[axis] / cos(fear->angle_rad));
        }
    }
    span_job(view, fear, job_mm, least, most);
    fear->stock_needed_mm[0] = most[0];
    fear->stock_needed_mm[1] = most[1];
}

tu_status tu_fear_estimate(const tu_zero_request *request, const tu_axis_zero zero[2],
                           const tu_sideways side[2], tu_fear *fear, tu_error *error)
{
    double angle = fabs(request->feared_angle_rad);
    *fear = (tu_fear){.angle_rad = NAN,
                      .error_mm = {NAN, NAN},
                      .border_mm = {NAN, NAN},
                      .stock_needed_mm = {NAN, NAN}};
    if (isnan(angle))
        return TU_OK;
    if (!(angle > 0.0 && angle <= TU_SKEW_MAX_RAD))
        return tu_fail(error, TU_DATA_RANGE, "{feared_angle}",
                       "must lie above 0 and at most at %g degrees",
                       TU_SKEW_MAX_RAD * 180.0 / M_PI);
    fear->asked = true;
    fear->angle_rad = angle;
    inside_view view = look_inside(zero, side);
    for (int axis = 0; axis < 2; axis++) {
        if (view.asked[axis])
            fear->error_mm[axis] =
                fmax(fabs(error_at(&view, axis, angle)), fabs(error_at(&view, axis, -angle)));
    }
    if (!isnan(request->job_mm[0]) && !isnan(request->job_mm[1]))
        find_border(&view, request->job_mm, fear);
    return TU_OK;
}
