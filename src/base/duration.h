/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * duration.h - about how long something takes, in words (internal).
 */
#ifndef TRUEUP_BASE_DURATION_H
#define TRUEUP_BASE_DURATION_H

typedef struct tu_duration {
    char text[32];
} tu_duration;

/* Rounded up: "66 s"; from ten minutes on "12 min"; from an hour on "1 h 40 min". Seconds that are
 * no finite number or below 0: "? s". The same in every locale. */
tu_duration tu_duration_about(double seconds);

#endif
