/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * theil_sen.c - the median of the slopes between all pairs, and the interval around it.
 *
 * P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379-1389, with ties. A slope of a given rank is
 * bracketed between two that are counted (pair_slopes.h) until no more slopes than touches lie
 * between; those are formed and sorted. A first bracket comes from pairs drawn with a fixed seed:
 * they decide how long the search takes, never what it finds. Where more pairs than there are
 * touches share one slope other than 0, the bracket ends at 1e-13 of it. Ten million touches take
 * about a minute.
 */
#include "trials/distribution.h"
#include "trials/pair_slopes.h"
#include "trials/trend.h"

#include <math.h>
#include <stdint.h>

/* Slopes in [low, high): below_low are below low, below_high below high. */
typedef struct slope_bracket {
    double low, high, below_low, below_high;
} slope_bracket;

/* A search among the slopes: how many are below 0, and how many are 0. */
typedef struct slope_search {
    tu_pair_slopes slopes;
    double below_zero, zero;
} slope_search;

static double gap(const slope_bracket *bracket)
{
    return bracket->below_high - bracket->below_low;
}

static void tighten(const slope_search *search, double rank, double probe, slope_bracket *bracket)
{
    if (!(probe > bracket->low && probe < bracket->high))
        return;
    double below = tu_pair_slopes_below(&search->slopes, probe);
    if (below <= rank) {
        bracket->low = probe;
        bracket->below_low = below;
    } else {
        bracket->high = probe;
        bracket->below_high = below;
    }
}

/* Draws pairs, and tightens to a little around their slope of the same rank. */
static void tighten_by_sample(const slope_search *search, double rank, slope_bracket *bracket)
{
    const tu_pair_slopes *slopes = &search->slopes;
    size_t wanted = slopes->count < 100000 ? slopes->count : 100000, met = 0;
    double *sample = slopes->work + 2 * slopes->count;
    uint64_t random = 1; /* Knuth's MMIX generator */
    for (size_t k = 0; k < wanted; k++) {
        random = random * 6364136223846793005u + 1442695040888963407u;
        size_t i = (size_t)(random >> 33) % slopes->count;
        random = random * 6364136223846793005u + 1442695040888963407u;
        size_t j = (size_t)(random >> 33) % slopes->count;
        double slope =
            i < j ? tu_pair_slopes_slope(slopes, i, j) : tu_pair_slopes_slope(slopes, j, i);
        if (slope >= bracket->low && slope < bracket->high)
            sample[met++] = slope;
    }
    tu_order_sort(sample, met, slopes->work);
    double place = (rank - bracket->below_low) / gap(bracket) * (double)met;
    double margin = 2.0 * sqrt((double)met);
    /* Probing overwrites work, but not its last third. */
    if (place - margin >= 0.0)
        tighten(search, rank, sample[(size_t)(place - margin)], bracket);
    if (place + margin < (double)met)
        tighten(search, rank, sample[(size_t)(place + margin)], bracket);
}

/* As if the slopes lay evenly in the bracket: a probe on each side of where the rank would be. */
static void tighten_by_interpolation(const slope_search *search, double rank,
                                     slope_bracket *bracket)
{
    double width = bracket->high - bracket->low, low = bracket->low;
    double share = (rank - bracket->below_low) / gap(bracket);
    tighten(search, rank, low + width * (share - 0.02), bracket);
    tighten(search, rank, low + width * (share + 0.02), bracket);
}

/* Both ends are at or below 0. Halves the logarithm while that is wide. */
static void halve(const slope_search *search, double rank, slope_bracket *bracket)
{
    double middle = bracket->low + (bracket->high - bracket->low) / 2.0;
    if (bracket->high == 0.0)
        middle = bracket->low / 1024.0;
    else if (bracket->low / bracket->high > 4.0)
        middle = -sqrt(bracket->low) * sqrt(bracket->high);
    tighten(search, rank, middle, bracket);
}

static void narrow(const slope_search *search, double rank, slope_bracket *bracket)
{
    double room = (double)search->slopes.count;
    int halvings = 0;
    if (gap(bracket) > 100.0 * room)
        tighten_by_sample(search, rank, bracket);
    while (gap(bracket) > room && bracket->high - bracket->low > -1e-13 * bracket->low) {
        double before = gap(bracket);
        if (halvings > 0) {
            halve(search, rank, bracket);
            halvings--;
        } else {
            tighten_by_interpolation(search, rank, bracket);
            halvings = gap(bracket) > before / 8.0 ? 6 : 0;
        }
    }
}

/* The steepest that a slope can be, and some more. */
static double steepest(const tu_pair_slopes *slopes)
{
    double low = slopes->values[0], high = low, apart = INFINITY;
    for (size_t i = 1; i < slopes->count; i++) {
        double step = tu_pair_slopes_time(slopes, i) - tu_pair_slopes_time(slopes, i - 1);
        low = fmin(low, slopes->values[i]);
        high = fmax(high, slopes->values[i]);
        apart = step > 0.0 ? fmin(apart, step) : apart;
    }
    return 2.0 * (high - low) / apart;
}

/* The slope of a rank from 0 that is below 0; *next: the one of the rank after it or, when
 * backwards, before it; NaN: it was not met. */
static double select_negative(const slope_search *search, double rank, bool backwards, double *next)
{
    slope_bracket bracket = {-steepest(&search->slopes), 0.0, 0.0, search->below_zero};
    narrow(search, rank, &bracket);
    *next = NAN;
    size_t met = tu_pair_slopes_collect(&search->slopes, bracket.low, bracket.high);
    double *slopes = search->slopes.work + 2 * search->slopes.count;
    if (met == 0) /* counting and forming may round one slope to different sides */
        return bracket.low + (bracket.high - bracket.low) / 2.0;
    tu_order_sort(slopes, met, search->slopes.work);
    if (gap(&bracket) > (double)search->slopes.count)
        return slopes[met / 2]; /* shared by more than fit, and all but equal */
    size_t place = (size_t)(rank - bracket.below_low);
    place = place < met ? place : met - 1;
    if (backwards && place > 0)
        *next = slopes[place - 1];
    else if (!backwards && place + 1 < met)
        *next = slopes[place + 1];
    return slopes[place];
}

static slope_search upside_down(const slope_search *search)
{
    slope_search other = *search;
    other.slopes.sign = -1.0;
    other.below_zero = search->slopes.pairs - search->below_zero - search->zero;
    return other;
}

/* The slope of a rank from 0, and of the rank after it where it was met (NaN: not). */
static double select_slope(const slope_search *search, double rank, double *next)
{
    double up_to_zero = search->below_zero + search->zero;
    if (rank < search->below_zero)
        return select_negative(search, rank, false, next);
    if (rank < up_to_zero) {
        *next = rank + 1.0 < up_to_zero ? 0.0 : NAN;
        return 0.0;
    }
    slope_search other = upside_down(search);
    double slope = select_negative(&other, search->slopes.pairs - 1.0 - rank, true, next);
    *next = -*next;
    return -slope;
}

static slope_search start_search(const double *times, const double *values, size_t count,
                                 const tu_order_counts *order, double *work)
{
    slope_search search = {tu_pair_slopes_of(times, values, count, work), 0.0, 0.0};
    tu_pair_slopes other = search.slopes;
    other.sign = -1.0;
    if (search.slopes.pairs == (double)count * ((double)count - 1.0) / 2.0) {
        search.below_zero = order->inverted; /* no times are equal, so this has been counted */
        search.zero = order->equal;
        return search;
    }
    search.below_zero = tu_pair_slopes_below(&search.slopes, 0.0);
    double above_zero = tu_pair_slopes_below(&other, 0.0);
    search.zero = search.slopes.pairs - search.below_zero - above_zero;
    return search;
}

static double middle_slope(const slope_search *search)
{
    double pairs = search->slopes.pairs, next;
    double rank = floor((pairs - 1.0) / 2.0);
    double lower = select_slope(search, rank, &next);
    if (fmod(pairs, 2.0) != 0.0)
        return lower;
    double unused;
    double upper = isnan(next) ? select_slope(search, rank + 1.0, &unused) : next;
    return lower + (upper - lower) / 2.0;
}

/* Sen's: the ranks that Kendall's S, normal with its variance, leaves out on each side. */
static tu_interval interval_of(const slope_search *search, const tu_order_counts *order)
{
    const tu_pair_slopes *slopes = &search->slopes;
    double n = (double)slopes->count, unused;
    double variance = n * (n - 1.0) * (2.0 * n + 5.0);
    variance -= order->tie_term;
    variance -= slopes->times != NULL ? tu_order_tie_term(slopes->times, slopes->count) : 0.0;
    double reach = 1.959963984540054 * sqrt(fmax(0.0, variance) / 18.0);
    double low = rint((slopes->pairs - reach) / 2.0) - 1.0;
    double high = rint((slopes->pairs + reach) / 2.0);
    if (low < 0.0 || high >= slopes->pairs)
        return tu_interval_none; /* too few to exclude any slope at 95 % */
    return (tu_interval){select_slope(search, low, &unused), select_slope(search, high, &unused)};
}

double tu_theil_sen_of(const double *times, const double *values, size_t count,
                       const tu_order_counts *order, double *work, tu_interval *interval95)
{
    *interval95 = tu_interval_none;
    if (count < 2)
        return NAN;
    slope_search search = start_search(times, values, count, order, work);
    if (!(search.slopes.pairs > 0.0))
        return NAN;
    double slope = middle_slope(&search);
    *interval95 = interval_of(&search, order);
    return slope;
}

double tu_trials_theil_sen(const double *times, const double *values, size_t count, double *work,
                           tu_interval *interval95)
{
    tu_order_counts order = tu_order_count(values, count, work);
    return tu_theil_sen_of(times, values, count, &order, work, interval95);
}
