/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * check.c - what every C test may use beside cmocka.
 */
#include "check.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void check_close_at(double actual, double expected, double tolerance, const char *what,
                    const char *file, int line)
{
    double off = actual - expected;
    if (fabs(off) <= tolerance)
        return;
    print_error("%s: got %.17g, expected %.17g within %.3g, off by %.3g\n", what, actual, expected,
                tolerance, off);
    _fail(file, line);
}

void check_relative_at(double actual, double expected, double relative, const char *what,
                       const char *file, int line)
{
    double off = actual - expected;
    if (fabs(off) <= relative * fabs(expected))
        return;
    print_error("%s: got %.17g, expected %.17g within %.3g of it, off by %.3g of it\n", what,
                actual, expected, relative, off / fabs(expected));
    _fail(file, line);
}

void check_same_at(double actual, double expected, const char *what, const char *file, int line)
{
    if (actual == expected && signbit(actual) == signbit(expected))
        return;
    print_error("%s: got %.17g (%a), expected exactly %.17g (%a)\n", what, actual, actual, expected,
                expected);
    _fail(file, line);
}

void check_nan_at(double actual, const char *what, const char *file, int line)
{
    if (isnan(actual))
        return;
    print_error("%s: got %.17g, expected NaN (not stated)\n", what, actual);
    _fail(file, line);
}

void check_between_at(double actual, double low, double high, const char *what, const char *file,
                      int line)
{
    if (actual >= low && actual <= high)
        return;
    print_error("%s: got %.17g, expected %.17g to %.17g\n", what, actual, low, high);
    _fail(file, line);
}

void check_status_at(tu_status actual, tu_status expected, const tu_error *error, const char *file,
                     int line)
{
    if (actual == expected)
        return;
    print_error("status %d (%s), expected %d (%s)\n", (int)actual, tu_status_text(actual),
                (int)expected, tu_status_text(expected));
    if (error != NULL && actual)
        print_error("the error says: [%s] %s\n", error->where, error->message);
    _fail(file, line);
}

void check_contains_at(const char *text, const char *part, bool wanted, const char *file, int line)
{
    if ((strstr(text, part) != NULL) == wanted)
        return;
    print_error("%s \"%s\" in:\n%s\n", wanted ? "missing" : "unwanted", part, text);
    _fail(file, line);
}

check_random check_random_seed(uint64_t seed)
{
    return (check_random){seed};
}

uint64_t check_random_bits(check_random *random)
{
    uint64_t z = random->state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ z >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ z >> 27) * UINT64_C(0x94D049BB133111EB);
    return z ^ z >> 31;
}

size_t check_random_below(check_random *random, size_t count)
{
    return (size_t)(check_random_bits(random) % count); /* its bias, count/2^64, is of no matter */
}

double check_random_uniform(check_random *random, double low, double high)
{
    double unit = (double)(check_random_bits(random) >> 11) * 0x1p-53;
    return low + (high - low) * unit;
}

double check_random_normal(check_random *random, double mean, double standard_deviation)
{
    double u, square;
    do {
        u = check_random_uniform(random, -1.0, 1.0);
        double v = check_random_uniform(random, -1.0, 1.0);
        square = u * u + v * v;
    } while (square >= 1.0 || square == 0.0);
    return mean + standard_deviation * u * sqrt(-2.0 * log(square) / square);
}

static uint64_t told(const char *name, uint64_t otherwise)
{
    const char *text = getenv(name);
    return text && *text ? strtoull(text, NULL, 10) : otherwise;
}

size_t check_runs(size_t sample, size_t full)
{
    return told("TRUEUP_RUNS", told("TRUEUP_LONG", 0) ? full : sample);
}

uint64_t check_seed(uint64_t given)
{
    return told("TRUEUP_SEED", given);
}

double check_share_allowance(double p, size_t runs, size_t full)
{
    double scatter = sqrt(p * (1.0 - p) / (double)runs) - sqrt(p * (1.0 - p) / (double)full);
    return 3.0 * fmax(scatter, 0.0);
}

bool check_enter_comma_locale(void)
{
    if (setlocale(LC_ALL, "de_DE.UTF-8") == NULL) {
        print_message("# needs the Debian package locales-all\n");
        return false;
    }
    char text[8];
    snprintf(text, sizeof text, "%.1f", 1.5);
    assert_string_equal(text, "1,5");
    return true;
}

int check_plain_locale(void **state)
{
    (void)state;
    setlocale(LC_ALL, "C");
    return 0;
}

void check_fixture_path(const char *name, char *path, size_t size)
{
    const char *folder = getenv("TRUEUP_FIXTURES");
    if (folder == NULL)
        fail_msg("TRUEUP_FIXTURES is not set; run the test through meson test");
    if (snprintf(path, size, "%s/%s", folder, name) >= (int)size)
        fail_msg("the path of fixture %s is too long", name);
}

char *check_fixture_read(const char *name, size_t *length)
{
    char path[1024];
    check_fixture_path(name, path, sizeof path);
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        fail_msg("cannot open fixture %s", path);
    char *text = NULL;
    size_t used = 0, room = 0, got = 1;
    while (got > 0) {
        if (used + 1 >= room) {
            room = room * 2 + 4096;
            text = realloc(text, room);
            assert_non_null(text);
        }
        got = fread(text + used, 1, room - used - 1, file);
        used += got;
    }
    bool bad = ferror(file) != 0;
    fclose(file);
    if (bad)
        fail_msg("cannot read fixture %s", path);
    text[used] = '\0';
    if (length != NULL)
        *length = used;
    return text;
}

cJSON *check_fixture_json(const char *name)
{
    size_t length;
    char *text = check_fixture_read(name, &length);
    cJSON *root = cJSON_ParseWithLength(text, length);
    free(text);
    if (root == NULL)
        fail_msg("fixture %s is not JSON", name);
    return root;
}

const cJSON *check_json_at(const cJSON *root, const char *path)
{
    const cJSON *item = root;
    const char *at = path;
    while (item != NULL && *at != '\0') {
        if (*at == '[') {
            char *end;
            item = cJSON_GetArrayItem(item, (int)strtol(at + 1, &end, 10));
            at = *end == ']' ? end + 1 : end;
        } else {
            char key[100];
            size_t n = strcspn(at, ".[");
            snprintf(key, sizeof key, "%.*s", (int)n, at);
            item = cJSON_GetObjectItemCaseSensitive(item, key);
            at += n;
        }
        if (*at == '.')
            at++;
    }
    if (item == NULL)
        fail_msg("no member %s in the JSON", path);
    return item;
}

double check_json_number(const cJSON *root, const char *path)
{
    const cJSON *item = check_json_at(root, path);
    if (!cJSON_IsNumber(item))
        fail_msg("%s in the JSON is no number", path);
    return item->valuedouble;
}

double *check_json_numbers(const cJSON *root, const char *path, size_t *count)
{
    const cJSON *array = check_json_at(root, path);
    if (!cJSON_IsArray(array) || cJSON_GetArraySize(array) == 0)
        fail_msg("%s in the JSON is no array with elements", path);
    double *values = calloc((size_t)cJSON_GetArraySize(array), sizeof *values);
    assert_non_null(values);
    *count = 0;
    const cJSON *item;
    cJSON_ArrayForEach(item, array)
    {
        if (!cJSON_IsNumber(item))
            fail_msg("%s[%zu] in the JSON is no number", path, *count);
        values[(*count)++] = item->valuedouble;
    }
    return values;
}
