/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * status.h - how a call says that it failed, where and what to do about it.
 *
 * Every function that can fail returns a tu_status. Statuses are grouped by cause in tens, and the
 * tens digit is the exit code of the program: 1 a stated limit is exceeded, 2 usage, 3 bad data,
 * 4 device or system, 5 no solution.
 */
#ifndef TRUEUP_STATUS_H
#define TRUEUP_STATUS_H

#ifdef __GNUC__
#define TU_PRINTF(format_index, first_argument)                                                    \
    __attribute__((format(printf, format_index, first_argument)))
#else
#define TU_PRINTF(format_index, first_argument)
#endif

/*
 * Round the declarations of every public header: their names are C's in a C++ program too, and the
 * shared library exports them and nothing else (it is built with -fvisibility=hidden).
 */
#ifdef __GNUC__
#define TU_EXPORT_BEGIN _Pragma("GCC visibility push(default)")
#define TU_EXPORT_END   _Pragma("GCC visibility pop")
#else
#define TU_EXPORT_BEGIN
#define TU_EXPORT_END
#endif
#ifdef __cplusplus
#define TU_BEGIN_DECLS                                                                             \
    TU_EXPORT_BEGIN extern "C"                                                                     \
    {
#define TU_END_DECLS                                                                               \
    }                                                                                              \
    TU_EXPORT_END
#else
#define TU_BEGIN_DECLS TU_EXPORT_BEGIN
#define TU_END_DECLS   TU_EXPORT_END
#endif

TU_BEGIN_DECLS

typedef enum tu_status {
    TU_OK = 0,
    TU_LIMIT_EXCEEDED = 10, /* the figure asked about is worse than the limit that was given */
    TU_USAGE = 20,          /* a call or a command line that is incomplete or contradicts itself */
    TU_DATA_SYNTAX = 30,    /* text that is not in the form it should have */
    TU_DATA_RANGE = 31,     /* a value that cannot be: not finite, negative, outside the travel */
    TU_DATA_UNKNOWN = 32,   /* a name or a key that nobody knows */
    TU_DATA_MISSING = 33,   /* something that the result needs and nobody stated */
    TU_DATA_CONFLICT = 34,  /* data that contradict each other */
    TU_SYSTEM_IO = 40,      /* the operating system refused; the message carries its reason */
    TU_SYSTEM_MEMORY = 41,  /* no memory */
    TU_UNDETERMINED = 50,   /* what was given does not settle what was asked */
    TU_NUMERIC = 51         /* an iteration did not converge, or a matrix is singular */
} tu_status;

enum { TU_ERROR_WHERE_SIZE = 200, TU_ERROR_MESSAGE_SIZE = 600, TU_ERROR_FIELD_SIZE = 40 };

/*
 * The detail of a failure, owned by the caller; every function that takes one allows NULL.
 *   field    of the request that it is about ("depth", "touches.x"); empty where it is about none.
 *   where    the place: the field in braces ("{depth}"), a JSON path and line ("shop.json:12:
 *            plates[0].thickness"), a file and line; may be empty.
 *   message  what was found, what would be right, and the fix: one sentence or two, no newline.
 *            Fields that it names stand in braces; tu_face_say (face.h) puts a face's own words
 *            in their place.
 */
typedef struct tu_error {
    tu_status status;
    char field[TU_ERROR_FIELD_SIZE];
    char where[TU_ERROR_WHERE_SIZE];
    char message[TU_ERROR_MESSAGE_SIZE];
} tu_error;

/*
 * Fills error (may be NULL) and returns status, so that a failure is one statement:
 *     return tu_fail(error, TU_DATA_RANGE, "{depth}", "must be above zero, found %s", text);
 * where may be NULL for none; a field that it starts with is kept in error->field, too. Text that
 * does not fit is cut at a character boundary of UTF-8; control characters and bytes that are no
 * UTF-8 become '?'; numbers have a point in every locale.
 * where and the arguments may point into *error itself.
 */
tu_status tu_fail(tu_error *error, tu_status status, const char *where, const char *format, ...)
    TU_PRINTF(4, 5);

/* Says which field a failure is about that has no place of its own; error may be NULL. */
void tu_fail_at(tu_error *error, const char *where);

/* The exit code of the program for this status: 0 to 5. */
int tu_status_exit_code(tu_status status);

/* The status in a few words ("bad data: value out of range"); never NULL. */
const char *tu_status_text(tu_status status);

TU_END_DECLS

#endif
