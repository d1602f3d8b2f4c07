/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * main.c - counts steps, waits for touches, sends a sentence for each.
 *
 * The loop never waits for anything. It has to come round within 32 ms, a turn of the 16-bit
 * timer, and within 32 767 steps; writing a sentence takes longest.
 */
#include "board.h"
#include "contact.h"
#include "ring.h"
#include "sentence.h"

#define TICKS_PER_SECOND (1000000UL * BOARD_TICKS_PER_US)
#define SETTLE_TICKS     (1000UL * SETTLE_MS * BOARD_TICKS_PER_US)
/* An axis has moved into the touch if it made a step in the last 262 to 524 ms. */
#define MOVED_TICKS (1UL << 19)

enum { QUEUE_SIZE = 8 };

/* The timer, carried on: 32 bits for differences, seconds and a rest for the sentence. */
static struct {
    uint32_t ticks;
    uint32_t seconds;
    uint32_t rest_ticks;
} now;

static struct {
    uint16_t counted[BOARD_AXES]; /* as the interrupts count */
    int32_t total[BOARD_AXES];    /* since the reset */
    int32_t newer[BOARD_AXES], older[BOARD_AXES];
    uint32_t newer_ticks;
} steps;

/* Touches that wait for room in the ring. One too many is lost; its number is missing then. */
static struct {
    touch_report report[QUEUE_SIZE];
    uint8_t first, count;
} queue;

static contact touched;
static touch_report report; /* of the touch that settles now */
static uint32_t next_sequence;
static uint8_t boot;
static ring waiting;

static void follow_time(void)
{
    uint16_t passed = (uint16_t)(board_ticks() - (uint16_t)now.ticks);
    now.ticks += passed;
    now.rest_ticks += passed;
    if (now.rest_ticks >= TICKS_PER_SECOND) {
        now.rest_ticks -= TICKS_PER_SECOND;
        now.seconds++;
    }
}

/* How far an axis went from one count to another, positive in the positive direction. */
static int16_t difference(uint8_t axis, uint16_t from, uint16_t to)
{
    uint16_t steps_up = (uint16_t)(to - from);
    return (int16_t)(BOARD_DIR_INVERTED & (1 << axis) ? 0U - steps_up : steps_up);
}

static void follow_steps(void)
{
    uint16_t counted[BOARD_AXES];
    board_steps(counted);
    for (uint8_t i = 0; i < BOARD_AXES; i++) {
        steps.total[i] += difference(i, steps.counted[i], counted[i]);
        steps.counted[i] = counted[i];
    }
    if (now.ticks - steps.newer_ticks >= MOVED_TICKS) {
        steps.newer_ticks = now.ticks;
        for (uint8_t i = 0; i < BOARD_AXES; i++) {
            steps.older[i] = steps.newer[i];
            steps.newer[i] = steps.total[i];
        }
    }
}

/* The moment so many ticks ago. */
static device_time time_before(uint32_t ticks)
{
    device_time time = {.seconds = now.seconds};
    uint32_t rest_ticks = now.rest_ticks;
    if (ticks > rest_ticks) {
        time.seconds--;
        rest_ticks += TICKS_PER_SECOND;
    }
    time.microseconds = (rest_ticks - ticks) / BOARD_TICKS_PER_US;
    return time;
}

static void note_first_edge(void)
{
    uint16_t latched[BOARD_AXES];
    board_latched_steps(latched);
    report = (touch_report){.time = time_before(now.ticks - touched.first), .counted = COUNT_STEPS};
    if (COUNT_STEPS) {
        for (uint8_t i = 0; i < BOARD_AXES; i++)
            report.counts[i] = steps.total[i] + difference(i, steps.counted[i], latched[i]);
        sentence_set_axis(&report, steps.older);
    }
}

static void queue_touch(void)
{
    board_disarm();
    report.bounces = contact_bounces(&touched);
    report.bounce_us = contact_bounce_ticks(&touched) / BOARD_TICKS_PER_US;
    report.sequence = next_sequence++;
    report.boot = boot;
    if (queue.count < QUEUE_SIZE)
        queue.report[(queue.first + queue.count++) % QUEUE_SIZE] = report;
}

static void follow_contact(void)
{
    contact_edges edges;
    bool closed = board_contact_closed();
    board_edges(&edges);
    /* The time last: no edge may lie after it. */
    follow_time();
    switch (contact_poll(&touched, now.ticks, closed, &edges)) {
    case CONTACT_FIRST_EDGE:
        note_first_edge();
        break;
    case CONTACT_TOUCH:
        queue_touch();
        break;
    case CONTACT_GLITCH:
    case CONTACT_ARM:
        board_arm();
        break;
    case CONTACT_NOTHING:
        break;
    }
}

static void send(void)
{
    if (!ring_empty(&waiting) && board_can_send())
        board_send(ring_take(&waiting));
    if (queue.count > 0 && ring_free(&waiting) >= SENTENCE_MAX) {
        char text[SENTENCE_MAX];
        ring_put(&waiting, text, sentence_write_touch(text, &queue.report[queue.first]));
        queue.first = (queue.first + 1) % QUEUE_SIZE;
        queue.count--;
    }
}

static void greet(void)
{
    char text[SENTENCE_MAX];
    ring_put(&waiting, text,
             sentence_write_hello(text, DEVICE_NAME, FIRMWARE_VERSION, next_sequence++, boot));
}

int main(void)
{
    board_start();
    boot = board_boot(); /* steps are counted meanwhile */
    follow_time();
    touched = contact_start(SETTLE_TICKS, now.ticks, board_contact_closed());
    greet();
    for (;;) {
        follow_steps();
        follow_contact();
        send();
    }
}
