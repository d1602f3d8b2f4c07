/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits_scan.c - a hit in the form that the writer gives it, read in one walk.
 *
 * Nearly every line of a log is in that form. It is looked for character by character; at the first
 * one that differs the line is left to the strict reader, which takes or refuses it.
 */
#include "record/hits_form.h"
#include "record/hits_read.h"

#include <float.h>
#include <string.h>

/* Digits that a double, and 2^53 - 1, hold for certain. */
enum { SURE_DIGITS = 15 };

typedef struct walk {
    const char *at, *end;
} walk;

/* Goes past the text, if it stands here. */
#define PAST(w, text) past((w), (text), sizeof(text) - 1)

static inline bool past(walk *w, const char *text, size_t length)
{
    if ((size_t)(w->end - w->at) < length || memcmp(w->at, text, length) != 0)
        return false;
    w->at += length;
    return true;
}

/* The digits that stand here, added to value; how many. */
static inline int digits(walk *w, uint64_t *value)
{
    const char *start = w->at;
    for (; w->at < w->end && (unsigned char)(*w->at - '0') <= 9 && w->at - start <= SURE_DIGITS;
         w->at++)
        *value = 10 * *value + (uint64_t)(*w->at - '0');
    return (int)(w->at - start);
}

static inline bool whole(walk *w, uint64_t *value)
{
    const char *start = w->at;
    *value = 0;
    int count = digits(w, value);
    return count > 0 && count <= SURE_DIGITS && (*start != '0' || count == 1);
}

/*
 * A number without an exponent. Its digits are a whole number below 2^53 and the power of ten is a
 * double too, so that one division gives the double nearest to what is written (IEEE 754-2019, 5.1:
 * operations round correctly), which is what the strict reader's conversion gives.
 */
static inline bool number(walk *w, double *value)
{
    static const double power[] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                   1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    bool negative = w->at < w->end && *w->at == '-';
    w->at += negative;
    const char *start = w->at;
    uint64_t mantissa = 0;
    int before = digits(w, &mantissa), behind = 0;
    if (before == 0 || before > SURE_DIGITS || (*start == '0' && before > 1))
        return false;
    if (w->at < w->end && *w->at == '.') {
        w->at++;
        behind = digits(w, &mantissa);
        if (behind == 0 || before + behind > SURE_DIGITS)
            return false;
    }
    double size = (double)mantissa / power[behind];
    *value = negative ? -size : size;
    return true;
}

/* Printable ASCII up to the closing quote, without a backslash, into text. */
static inline bool plain(walk *w, char *text, size_t size)
{
    size_t length = 0;
    for (; w->at < w->end && *w->at != '"'; w->at++) {
        if (*w->at < 0x20 || *w->at > 0x7E || *w->at == '\\' || length + 1 >= size)
            return false;
        text[length++] = *w->at;
    }
    text[length] = '\0';
    return PAST(w, "\"");
}

static inline bool letter(walk *w, const char *choices, size_t *index)
{
    const char *found = w->end - w->at >= 2 && w->at[1] == '"' ? strchr(choices, w->at[0]) : NULL;
    if (!found || !*found)
        return false;
    *index = (size_t)(found - choices);
    w->at += 2;
    return true;
}

static bool walk_through(walk *w, tu_hit *hit)
{
    size_t index = 0;
    if (!PAST(w, "{\"seq\":") || !whole(w, &hit->sequence))
        return false;
    if (PAST(w, ",\"utc\":\"") &&
        (!plain(w, hit->utc, sizeof hit->utc) || !tu_hits_is_utc(hit->utc)))
        return false;
    if (PAST(w, ",\"us\":") && !whole(w, &hit->device_us))
        return false;
    if (!PAST(w, ",\"x\":") || !number(w, &hit->position.x) || !PAST(w, ",\"y\":") ||
        !number(w, &hit->position.y) || !PAST(w, ",\"z\":") || !number(w, &hit->position.z))
        return false;
    if (!PAST(w, ",\"axis\":\"") || !letter(w, "xyz", &index))
        return false;
    hit->axis = (tu_axis)index;
    if (PAST(w, ",\"dir\":\"")) {
        if (!letter(w, "-+", &index))
            return false;
        hit->direction = index ? 1 : -1;
    }
    if (PAST(w, ",\"series\":\"") && !plain(w, hit->series, sizeof hit->series))
        return false;
    hit->ok = PAST(w, ",\"ok\":true");
    return (hit->ok || PAST(w, ",\"ok\":false")) && w->at == w->end;
}

bool tu_hits_scan(const char *text, size_t length, tu_hit *hit)
{
    walk w = {text, text + length};
    *hit = (tu_hit){0};
    /* where doubles are computed wider than they are stored, a division rounds twice */
    bool taken = FLT_EVAL_METHOD == 0 && walk_through(&w, hit);
    if (!taken)
        *hit = (tu_hit){0}; /* the members before the one that differs */
    return taken;
}
