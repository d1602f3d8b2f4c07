/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * merge.c - touches to places, and everything that has to be right before anything is worked out.
 *
 * Places are found by a table of squares, whatever the extent. These are four times as wide as two
 * places are apart at least: most touches then look at one square, and none holds many places.
 */
#include "bed/bed_memory.h"
#include "trueup/bed.h"
#include "trueup/number.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define LARGEST_MM            1e9
#define SMALLEST_PLACE_MM     1e-6
#define BED_WITHOUT_TRAVEL_MM 60.0 /* common practice, no source: no router's bed is as small */
#define SHARE_OF_TRAVEL       0.05
#define INCH_MM               25.4
#define NARROW                1e-3

typedef struct work {
    const tu_bed_touches *touches;
    tu_bed_places *places;
    double same_mm;
    double square_mm;
    size_t slots;    /* a power of two */
    int32_t *slot;   /* place + 1, 0: empty */
    int32_t *origin; /* of each place: its first touch */
    int32_t *lowest; /* of each place: touches */
    int32_t *highest;
    double *squares; /* of the deviations in Z */
    bool *renewed;
    int32_t touched_last; /* of later rounds: the place of the touch before; -1: none */
} work;

static size_t slots_for(size_t count)
{
    size_t slots = 16;
    while (slots < 2 * count)
        slots *= 2;
    return slots;
}

size_t tu_bed_merge_bytes(size_t count)
{
    return tu_bed_memory_size(slots_for(count), sizeof(int32_t)) +
           3 * tu_bed_memory_size(count, sizeof(int32_t)) +
           tu_bed_memory_size(count, sizeof(double)) + tu_bed_memory_size(count, sizeof(bool));
}

/* Where a touch stands: "bed.csv:7", or "point 7". */
static const char *name_touch(const tu_bed_touches *touches, size_t i, char *text, size_t size)
{
    if (touches->line && touches->file && touches->file_name) {
        const char *file = touches->file_name[touches->file[i]];
        snprintf(text, size, "%s:%" PRIu32, strcmp(file, "-") ? file : "standard input",
                 touches->line[i]);
    } else {
        snprintf(text, size, "point %zu", i + 1);
    }
    return text;
}

static tu_status check_touch(const tu_bed_touches *touches, size_t i, tu_error *error)
{
    const double value[TU_AXIS_COUNT] = {touches->point[i].x_mm, touches->point[i].y_mm,
                                         touches->point[i].z_mm};

    char where[TU_ERROR_WHERE_SIZE];

    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (!(fabs(value[axis]) <= LARGEST_MM))
            return tu_fail(error, TU_DATA_RANGE, name_touch(touches, i, where, sizeof where),
                           "%c is not a number of millimetres; correct or remove the touch",
                           tu_axis_letter((tu_axis)axis));
        if (!touches->machine)
            continue;
        const double low = touches->machine->travel_low_mm[axis];
        const double high = touches->machine->travel_high_mm[axis];
        const double beyond = fmax(low - value[axis], value[axis] - high);
        if (beyond > 0.1 * (high - low))
            return tu_fail(error, TU_DATA_RANGE, name_touch(touches, i, where, sizeof where),
                           "%c %.3f is outside the travel of the machine, %.3f to %.3f: the "
                           "touches have to be in machine coordinates, and read in their own unit",
                           tu_axis_letter((tu_axis)axis), value[axis], low, high);
    }
    return TU_OK;
}

static size_t slot_of(const work *w, int64_t column, int64_t row)
{
    uint64_t mix = (uint64_t)column * 0x9e3779b97f4a7c15u + (uint64_t)row * 0xc2b2ae3d27d4eb4fu;
    mix ^= mix >> 29;
    return (size_t)(mix * 0xbf58476d1ce4e5b9u >> 20) & (w->slots - 1);
}

/* Half a square off zero: places at round coordinates then lie within squares, not between. */
static int64_t square_of(const work *w, double coordinate_mm)
{
    return (int64_t)floor(coordinate_mm / w->square_mm + 0.5);
}

/* The first place in that square whose first touch is near this point, if it is before `best`. */
static int32_t place_in_square(const work *w, tu_bed_point point, int64_t column, int64_t row,
                               int32_t best)
{
    for (size_t s = slot_of(w, column, row); w->slot[s]; s = (s + 1) & (w->slots - 1)) {
        const int32_t place = w->slot[s] - 1;
        if (best >= 0 && place >= best)
            continue;
        const tu_bed_point first = w->touches->point[w->origin[place]];
        if (fabs(first.x_mm - point.x_mm) < w->same_mm &&
            fabs(first.y_mm - point.y_mm) < w->same_mm)
            best = place;
    }
    return best;
}

/* The first of the places near this point; -1: none. */
static int32_t place_of(const work *w, tu_bed_point point)
{
    const int64_t right = square_of(w, point.x_mm + w->same_mm);
    const int64_t back = square_of(w, point.y_mm + w->same_mm);
    int32_t place = -1;

    for (int64_t column = square_of(w, point.x_mm - w->same_mm); column <= right; column++)
        for (int64_t row = square_of(w, point.y_mm - w->same_mm); row <= back; row++)
            place = place_in_square(w, point, column, row, place);
    return place;
}

static void start_place(work *w, size_t touch)
{
    tu_bed_places *places = w->places;
    const tu_bed_point point = w->touches->point[touch];
    const size_t place = places->count++;
    size_t s = slot_of(w, square_of(w, point.x_mm), square_of(w, point.y_mm));

    while (w->slot[s])
        s = (s + 1) & (w->slots - 1);
    w->slot[s] = (int32_t)place + 1;
    w->origin[place] = w->lowest[place] = w->highest[place] = (int32_t)touch;
    w->squares[place] = 0;
    w->renewed[place] = false;
    places->point[place] = point;
    places->touches[place] = 1;
    if (places->first)
        places->first[place] = touch;
}

static void add_to_place(work *w, size_t place, size_t touch)
{
    const tu_bed_point point = w->touches->point[touch];
    tu_bed_point *mean = &w->places->point[place];
    const double share = 1.0 / (double)++w->places->touches[place];
    const double before = point.z_mm - mean->z_mm;

    mean->x_mm += (point.x_mm - mean->x_mm) * share;
    mean->y_mm += (point.y_mm - mean->y_mm) * share;
    mean->z_mm += before * share;
    w->squares[place] += before * (point.z_mm - mean->z_mm);
    if (point.z_mm < w->touches->point[w->lowest[place]].z_mm)
        w->lowest[place] = (int32_t)touch;
    if (point.z_mm > w->touches->point[w->highest[place]].z_mm)
        w->highest[place] = (int32_t)touch;
}

static uint32_t round_of(const work *w, size_t touch)
{
    return w->touches->round ? w->touches->round[touch] : 0;
}

/* The place nearest to a touch of a later round, within TU_BED_AGAIN_MM; -1: none. */
static int32_t place_touched_again(const work *w, tu_bed_point point)
{
    /* No more squares than that are gone through, however small they are. */
    const int64_t reach = (int64_t)fmin(20, ceil(TU_BED_AGAIN_MM / w->square_mm));
    const int64_t column = square_of(w, point.x_mm), row = square_of(w, point.y_mm);
    double nearest_mm = TU_BED_AGAIN_MM;
    int32_t nearest = place_of(w, point);

    if (nearest >= 0)
        return nearest;
    for (int64_t i = column - reach; i <= column + reach; i++) {
        for (int64_t j = row - reach; j <= row + reach; j++) {
            for (size_t s = slot_of(w, i, j); w->slot[s]; s = (s + 1) & (w->slots - 1)) {
                const int32_t place = w->slot[s] - 1;
                const tu_bed_point first = w->touches->point[w->origin[place]];
                const double apart = hypot(first.x_mm - point.x_mm, first.y_mm - point.y_mm);
                if (apart < nearest_mm) {
                    nearest_mm = apart;
                    nearest = place;
                }
            }
        }
    }
    return nearest;
}

/* A touch of a later round: it replaces those of earlier ones, and those of its own round that were
 * made before it went elsewhere. All touches that a place holds are of one round, so the lowest
 * tells which. */
static void touch_again(work *w, size_t touch)
{
    tu_bed_places *places = w->places;
    const tu_bed_point point = w->touches->point[touch];
    const int32_t place = place_touched_again(w, point);
    const int32_t before = w->touched_last;
    if (place < 0) {
        w->touched_last = (int32_t)places->count;
        start_place(w, touch);
        places->strays++;
        return;
    }
    const uint32_t held = round_of(w, (size_t)w->lowest[place]);
    w->touched_last = place;
    if (held == round_of(w, touch) && place == before) {
        add_to_place(w, (size_t)place, touch);
        return;
    }
    if (held > round_of(w, touch)) {
        places->replaced++;
        return;
    }
    places->replaced += places->touches[place];
    places->renewed += !w->renewed[place];
    w->renewed[place] = true;
    w->lowest[place] = w->highest[place] = (int32_t)touch;
    w->squares[place] = 0;
    places->point[place] = point;
    places->touches[place] = 1;
}

static const char *series_name(const tu_bed_touches *touches, size_t touch)
{
    const char *name = touches->series_name ? touches->series_name[touches->series[touch]] : NULL;
    return name ? name : "";
}

static tu_status refuse_two_heights(const work *w, size_t place, double spread_mm, tu_error *error)
{
    const tu_bed_touches *touches = w->touches;
    const size_t low = (size_t)w->lowest[place], high = (size_t)w->highest[place];
    const tu_bed_point at = w->places->point[place];
    char one[TU_ERROR_WHERE_SIZE], other[TU_ERROR_WHERE_SIZE];

    name_touch(touches, low < high ? low : high, one, sizeof one);
    name_touch(touches, low < high ? high : low, other, sizeof other);
    if (touches->series && touches->series[low] != touches->series[high])
        return tu_fail(error, TU_DATA_CONFLICT, NULL,
                       "series \"%s\" and \"%s\" lie over the same places and differ by up to %.3f "
                       "mm, at X %.3f Y %.3f (%s and %s): take one series at a time",
                       series_name(touches, low), series_name(touches, high), spread_mm, at.x_mm,
                       at.y_mm, one, other);
    if (round_of(w, low) > 0)
        return tu_fail(error, TU_DATA_CONFLICT, NULL,
                       "%s and %s are of one place, X %.3f Y %.3f, touched again, but differ by "
                       "%.3f mm in height: if they are of two rounds, give each a file of its own, "
                       "the newest last; else touch there again",
                       one, other, at.x_mm, at.y_mm, spread_mm);
    return tu_fail(error, TU_DATA_CONFLICT, NULL,
                   "%s and %s are of one place, X %.3f Y %.3f, but differ by %.3f mm in height: "
                   "touch there again and remove the wrong one",
                   one, other, at.x_mm, at.y_mm, spread_mm);
}

/* Repeats of the places: whether they agree, and what they say of a touch's scatter. */
static tu_status judge_repeats(work *w, tu_error *error)
{
    tu_bed_places *places = w->places;
    const double agree = isnan(w->touches->agree_mm) ? TU_BED_AGREE_MM : w->touches->agree_mm;
    double squares = 0;
    size_t worst = 0;

    for (size_t i = 0; i < places->count; i++) {
        const double spread =
            w->touches->point[w->highest[i]].z_mm - w->touches->point[w->lowest[i]].z_mm;
        squares += w->squares[i];
        places->repeat_dof += (double)(places->touches[i] - 1);
        if (spread > places->worst_spread_mm) {
            places->worst_spread_mm = spread;
            worst = i;
        }
    }
    if (places->worst_spread_mm > agree)
        return refuse_two_heights(w, worst, places->worst_spread_mm, error);
    if (places->repeat_dof > 0)
        places->repeat_sd_mm = sqrt(squares / places->repeat_dof);
    return TU_OK;
}

static tu_status check_spread(const tu_bed_places *places, tu_error *error)
{
    double x = 0, y = 0, xx = 0, xy = 0, yy = 0;
    const double n = (double)places->count;

    if (places->count < 3)
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "a bed needs touches at 3 places or more, not all on one line; found %zu",
                       places->count);
    for (size_t i = 0; i < places->count; i++) {
        x += places->point[i].x_mm / n;
        y += places->point[i].y_mm / n;
    }
    for (size_t i = 0; i < places->count; i++) {
        const double dx = places->point[i].x_mm - x, dy = places->point[i].y_mm - y;
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
    }
    const double middle = (xx + yy) / 2, half = hypot((xx - yy) / 2, xy);
    if (middle - half < NARROW * NARROW * (middle + half))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "all %zu places lie on one line: that shows no tilt across it; touch places "
                       "beside the line too",
                       places->count);
    return TU_OK;
}

/* Whether coordinates times 25.4 would still be a bed of this machine. */
static bool looks_like_inches(const tu_bed_places *places, const tu_machine *machine)
{
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        double low = INFINITY, high = -INFINITY;
        for (size_t i = 0; i < places->count; i++) {
            const tu_bed_point p = places->point[i];
            low = fmin(low, axis == TU_AXIS_X ? p.x_mm : p.y_mm);
            high = fmax(high, axis == TU_AXIS_X ? p.x_mm : p.y_mm);
        }
        const double travel_low = machine ? machine->travel_low_mm[axis] : NAN;
        const double travel_high = machine ? machine->travel_high_mm[axis] : NAN;
        const double travel = travel_high - travel_low;
        if (isnan(travel)) {
            if (high - low >= BED_WITHOUT_TRAVEL_MM)
                return false;
        } else if (high - low >= SHARE_OF_TRAVEL * travel ||
                   INCH_MM * low < travel_low - 0.1 * travel ||
                   INCH_MM * high > travel_high + 0.1 * travel) {
            return false;
        }
    }
    return true;
}

static tu_status take_touches(work *w, tu_error *error)
{
    for (size_t i = 0; i < w->touches->count; i++) {
        tu_status status = check_touch(w->touches, i, error);
        if (status)
            return status;
        if (round_of(w, i) > 0)
            continue;
        const int32_t place = place_of(w, w->touches->point[i]);
        if (place < 0)
            start_place(w, i);
        else
            add_to_place(w, (size_t)place, i);
    }
    for (size_t i = 0; w->touches->round && i < w->touches->count; i++)
        if (round_of(w, i) > 0)
            touch_again(w, i);
    return TU_OK;
}

static tu_status check_request(const tu_bed_touches *touches, const tu_bed_places *places,
                               tu_error *error)
{
    if (!touches || !places || !touches->point || !places->point || !places->touches)
        return tu_fail(error, TU_USAGE, NULL, "touches and room for the places are needed");
    if (touches->count > INT32_MAX / 4)
        return tu_fail(error, TU_DATA_RANGE, NULL, "%zu points are too many", touches->count);
    if (touches->same_place_mm < SMALLEST_PLACE_MM || touches->agree_mm < 0 ||
        isinf(touches->same_place_mm))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "places have to be told apart by a length above zero, and may not have to "
                       "agree better than to 0");
    return TU_OK;
}

tu_status tu_bed_merge_touches(const tu_bed_touches *touches, void *memory, size_t bytes,
                               tu_bed_places *places, tu_warnings *warnings, tu_error *error)
{
    tu_bed_memory block;
    tu_status status = check_request(touches, places, error);
    if (!status)
        status =
            tu_bed_memory_start(&block, memory, bytes, tu_bed_merge_bytes(touches->count), error);
    if (status)
        return status;

    const size_t n = touches->count;
    work w = {.touches = touches,
              .places = places,
              .same_mm = touches->same_place_mm,
              .touched_last = -1,
              .slots = slots_for(n)};
    if (isnan(w.same_mm))
        w.same_mm = TU_BED_SAME_PLACE_MM;
    w.square_mm = 4 * w.same_mm;
    w.slot = tu_bed_memory_take(&block, w.slots, sizeof *w.slot);
    w.origin = tu_bed_memory_take(&block, n, sizeof *w.origin);
    w.lowest = tu_bed_memory_take(&block, n, sizeof *w.lowest);
    w.highest = tu_bed_memory_take(&block, n, sizeof *w.highest);
    w.squares = tu_bed_memory_take(&block, n, sizeof *w.squares);
    w.renewed = tu_bed_memory_take(&block, n, sizeof *w.renewed);
    memset(w.slot, 0, w.slots * sizeof *w.slot);
    places->count = 0;
    places->repeat_sd_mm = NAN;
    places->repeat_dof = places->worst_spread_mm = 0;
    places->renewed = places->replaced = places->strays = 0;
    places->likely_inches = false;

    status = take_touches(&w, error);
    if (!status)
        status = judge_repeats(&w, error);
    if (!status)
        status = check_spread(places, error);
    if (status)
        return status;
    places->likely_inches = looks_like_inches(places, touches->machine);
    if (places->likely_inches)
        tu_warn(warnings,
                "the points take up very little room for a bed: if they are in inches, say so with "
                "{unit} in");
    return TU_OK;
}
