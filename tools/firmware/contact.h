/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * contact.h - tells a touch from a bounce. Pure: the caller says what the pin and the capture
 * interrupt saw, and when.
 *
 * The touch is where the first edge was. What follows is waited out until the contact has kept
 * still for the settling time. Then it was a touch if it is closed, and a glitch if it is open.
 * Nothing is taken for the next touch before the contact has been open for the settling time.
 */
#ifndef FIRMWARE_CONTACT_H
#define FIRMWARE_CONTACT_H

#include <stdbool.h>
#include <stdint.h>

/* Edges are counted up to here, then the interrupt is switched off: noise must not stop STEP. */
enum { CONTACT_EDGES_MAX = 200 };

/* What the interrupt found since it was armed. Ticks are those of a free-running 16-bit timer. */
typedef struct contact_edges {
    uint8_t count;
    uint16_t first_tick;
    uint16_t last_tick;
} contact_edges;

typedef enum contact_state {
    CONTACT_RELEASING, /* waits until it is open and still: also after a reset */
    CONTACT_ARMED,     /* the next edge is a touch */
    CONTACT_SETTLING   /* the first edge was seen */
} contact_state;

typedef enum contact_event {
    CONTACT_NOTHING,
    CONTACT_FIRST_EDGE, /* the latched counts may be fetched */
    CONTACT_TOUCH,      /* settled and closed: report it */
    CONTACT_GLITCH,     /* settled and open: forget it; arm the interrupt */
    CONTACT_ARM         /* open again: arm the interrupt */
} contact_event;

typedef struct contact {
    contact_state state;
    uint32_t settle_ticks;
    uint32_t changed; /* when the contact was last seen to change */
    uint32_t first;   /* the first edge */
    uint32_t last;    /* the last edge */
    uint8_t edges;
    bool closed;
} contact;

contact contact_start(uint32_t settle_ticks, uint32_t now, bool closed);

/*
 *   now     ticks, 32 bits, whose low half is the timer of the edges. Taken after
 *           closed and edges, at least once every turn of the 16-bit timer.
 *   closed  the pin now.
 *   edges   what the interrupt found; count 0 unless armed.
 */
contact_event contact_poll(contact *c, uint32_t now, bool closed, const contact_edges *edges);

/* How many edges followed the first one, and how long that went on, in ticks. */
uint8_t contact_bounces(const contact *c);
uint32_t contact_bounce_ticks(const contact *c);

#endif
