/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * contact.c - tells a touch from a bounce.
 */
#include "contact.h"

contact contact_start(uint32_t settle_ticks, uint32_t now, bool closed)
{
    return (contact){
        .state = CONTACT_RELEASING, .settle_ticks = settle_ticks, .changed = now, .closed = closed};
}

/* A moment of the 16-bit timer that lies less than one turn back. */
static uint32_t moment(uint32_t now, uint16_t tick)
{
    return now - (uint16_t)((uint16_t)now - tick);
}

static contact_event settle(contact *c, uint32_t now)
{
    if (now - c->changed < c->settle_ticks)
        return CONTACT_NOTHING;
    if (c->closed) {
        c->state = CONTACT_RELEASING;
        return CONTACT_TOUCH;
    }
    c->state = CONTACT_ARMED;
    return CONTACT_GLITCH;
}

static contact_event release(contact *c, uint32_t now)
{
    if (c->closed || now - c->changed < c->settle_ticks)
        return CONTACT_NOTHING;
    c->state = CONTACT_ARMED;
    return CONTACT_ARM;
}

contact_event contact_poll(contact *c, uint32_t now, bool closed, const contact_edges *edges)
{
    if (closed != c->closed) {
        c->closed = closed;
        c->changed = now;
    }
    if (c->state == CONTACT_RELEASING)
        return release(c, now);
    if (edges->count == 0)
        return CONTACT_NOTHING;
    bool first = c->state == CONTACT_ARMED;
    if (first) {
        c->state = CONTACT_SETTLING;
        c->first = moment(now, edges->first_tick);
    }
    if (first || edges->count != c->edges) {
        c->edges = edges->count;
        c->last = moment(now, edges->last_tick);
        c->changed = now;
    }
    return first ? CONTACT_FIRST_EDGE : settle(c, now);
}

uint8_t contact_bounces(const contact *c)
{
    return c->edges > 0 ? (uint8_t)(c->edges - 1) : 0;
}

uint32_t contact_bounce_ticks(const contact *c)
{
    return c->last - c->first;
}
