/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * check.h - what every C test may use beside cmocka: checks of doubles that say what is off and by
 * how much, random numbers that are the same on every run, and files of fixtures/.
 *
 * Includes cmocka with what it needs. A check that fails ends the test at the line that asked.
 */
#ifndef TRUEUP_TESTS_CHECK_H
#define TRUEUP_TESTS_CHECK_H

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h> /* needs the above */

#include "trueup/status.h"

#include <cjson/cJSON.h>

/* --- Checks ---
 * what names the figure and its unit, as in "X zero, mm"; it stands in the failure's message.
 */

/* |actual - expected| <= tolerance. NaN on any side fails. */
#define check_close(actual, expected, tolerance, what)                                             \
    check_close_at((actual), (expected), (tolerance), (what), __FILE__, __LINE__)
/* |actual - expected| <= relative * |expected|. NaN fails. */
#define check_relative(actual, expected, relative, what)                                           \
    check_relative_at((actual), (expected), (relative), (what), __FILE__, __LINE__)
/* The same double to the last bit; 0 and -0 differ. NaN on any side fails. */
#define check_same(actual, expected, what)                                                         \
    check_same_at((actual), (expected), (what), __FILE__, __LINE__)
/* NaN: "not stated". */
#define check_nan(actual, what) check_nan_at((actual), (what), __FILE__, __LINE__)
/* low <= actual <= high. NaN fails. */
#define check_between(actual, low, high, what)                                                     \
    check_between_at((actual), (low), (high), (what), __FILE__, __LINE__)
/* The status of a call; on failure its error (may be NULL) is printed too. */
#define check_status(actual, expected, error)                                                      \
    check_status_at((actual), (expected), (error), __FILE__, __LINE__)
/* text holds part somewhere. */
#define check_contains(text, part) check_contains_at((text), (part), true, __FILE__, __LINE__)
/* text holds part nowhere. */
#define check_lacks(text, part) check_contains_at((text), (part), false, __FILE__, __LINE__)

void check_close_at(double actual, double expected, double tolerance, const char *what,
                    const char *file, int line);
void check_relative_at(double actual, double expected, double relative, const char *what,
                       const char *file, int line);
void check_same_at(double actual, double expected, const char *what, const char *file, int line);
void check_nan_at(double actual, const char *what, const char *file, int line);
void check_between_at(double actual, double low, double high, const char *what, const char *file,
                      int line);
void check_status_at(tu_status actual, tu_status expected, const tu_error *error, const char *file,
                     int line);
void check_contains_at(const char *text, const char *part, bool wanted, const char *file, int line);

/* --- Random numbers ---
 * SplitMix64: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators",
 * OOPSLA 2014, doi:10.1145/2660193.2660195. The same seed gives the same numbers everywhere.
 */
typedef struct check_random {
    uint64_t state;
} check_random;

check_random check_random_seed(uint64_t seed);
uint64_t check_random_bits(check_random *random);
/* A whole number from 0 to count - 1; count is above 0. */
size_t check_random_below(check_random *random, size_t count);
/* Uniform in [low, high), 53 random bits. */
double check_random_uniform(check_random *random, double low, double high);
/* Normal. Source: G. Marsaglia, T. A. Bray, SIAM Review 6 (1964) 260-264 (polar method). */
double check_random_normal(check_random *random, double mean, double standard_deviation);

/* --- How much of a simulation ---
 * The environment says: TRUEUP_RUNS=N so many; TRUEUP_LONG=1 full, as tools/check --all asks;
 * neither: sample. TRUEUP_SEED=N asks for another sample than that of the given seed.
 */
size_t check_runs(size_t sample, size_t full);
uint64_t check_seed(uint64_t given);
/* By how much a share of p seen in `runs` scatters more than in `full` runs, at three standard
 * deviations; 0 for a full run. */
double check_share_allowance(double p, size_t runs, size_t full);

/* --- A locale with a decimal comma ---
 * check_comma_locale makes de_DE.UTF-8 the program's locale and checks that it writes a comma;
 * where it is not installed the test is skipped, and says so. check_plain_locale goes back to "C";
 * as a teardown of the test it does so after a failure too.
 */
#define check_comma_locale()                                                                       \
    do {                                                                                           \
        if (!check_enter_comma_locale())                                                           \
            skip();                                                                                \
    } while (0)

bool check_enter_comma_locale(void);
int check_plain_locale(void **state);

/* --- Fixtures ---
 * Each fails the test, naming the file, where it cannot do as asked.
 */

/* The path of fixtures/NAME into path. */
void check_fixture_path(const char *name, char *path, size_t size);
/* The whole of fixtures/NAME, closed by a NUL that length (may be NULL) leaves out; free it. */
char *check_fixture_read(const char *name, size_t *length);
/* fixtures/NAME as JSON, such as "reference/nist_univariate_mavro.json"; cJSON_Delete it. */
cJSON *check_fixture_json(const char *name);

/* The member at a path of keys and indexes: "certified.mean", "data.pair[0]". */
const cJSON *check_json_at(const cJSON *root, const char *path);
double check_json_number(const cJSON *root, const char *path);
/* The numbers of the array at path; count out; free them. */
double *check_json_numbers(const cJSON *root, const char *path, size_t *count);

#endif
