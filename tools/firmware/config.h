/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * config.h - what differs from board to board. Each value can be given to make instead, as in
 * make OPTIONS='-DCOUNT_STEPS=0 -DDIR_INVERTED=4'.
 */
#ifndef FIRMWARE_CONFIG_H
#define FIRMWARE_CONFIG_H

/* The name in the hello: no comma, no asterisk. */
#ifndef DEVICE_NAME
#define DEVICE_NAME "touch-counter"
#endif
#define FIRMWARE_VERSION "1.1"

/* The crystal. Other ones need other dividers in board.c; the compiler says so there. */
#ifndef F_CPU
#define F_CPU 16000000UL
#endif

/* 1: counts STEP pulses and sends them with each touch. 0: the touch and its time alone. */
#ifndef COUNT_STEPS
#define COUNT_STEPS 1
#endif

/* 0: the contact closes at the touch (plate and clip). 1: it opens (a normally closed probe). */
#ifndef CONTACT_OPENS
#define CONTACT_OPENS 0
#endif

/* 0: a step is a rising edge. 1: a falling one (the driver's input is active low). */
#ifndef STEP_FALLING
#define STEP_FALLING 0
#endif

/* Axes whose DIR is low for the positive direction: 1 for X, 2 for Y, 4 for Z, added up. */
#ifndef DIR_INVERTED
#define DIR_INVERTED 0
#endif

/* A contact counts as settled when it has not changed for so long. */
#ifndef SETTLE_MS
#define SETTLE_MS 5
#endif

#endif
