/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_track.c - gaps, wraps and restarts, against a device that is played here and knows what it
 * lost.
 */
#include "check.h"
#include "decode_bench.h"

#include <stdio.h>
#include <string.h>

static decode_bench bench;

/* A device, and the line between it and the decoder. */
typedef struct device {
    check_random random;
    tu_decoder decoder;
    uint32_t next;     /* number of the next sentence */
    uint64_t us;       /* its clock */
    bool received_any; /* since its last start that the decoder knows of */
    uint64_t hidden;   /* lines lost since the last one that came through */
    uint64_t hits, lost, restarts;
} device;

static void send(device *d, const char *body)
{
    char text[120];
    size_t length = decode_bench_sentence(text, sizeof text, body);
    bench.count = bench.used = 0;
    tu_decoder_feed(&d->decoder, text, length, decode_bench_take, &bench);
}

/* A touch, which comes through or not. */
static void touch(device *d, bool comes_through)
{
    char body[100];
    d->us += 1 + check_random_below(&d->random, 5000000);
    snprintf(body, sizeof body, "TUHIT,%u,%llu,Z-,1.0,2.0,-3.0,0,0", (unsigned)d->next,
             (unsigned long long)d->us);
    d->next++;
    if (!comes_through) {
        d->hidden++;
        return;
    }
    send(d, body);
    if (d->received_any)
        d->lost += d->hidden;
    d->hidden = 0;
    d->received_any = true;
    d->hits++;
}

static void hello(device *d)
{
    char body[100];
    snprintf(body, sizeof body, "TUHLO,bench probe,1.0,%u", (unsigned)d->next++);
    send(d, body);
    d->hidden = 0;
    d->received_any = true;
}

static device start(uint64_t seed, uint32_t number)
{
    tu_decode_setup setup = decode_bench_setup();
    return (device){.random = check_random_seed(seed),
                    .decoder = tu_decoder_start(&setup),
                    .next = number,
                    .us = 1};
}

static void check_device(const device *d)
{
    assert_int_equal(d->decoder.hits, d->hits);
    assert_int_equal(d->decoder.lost, d->lost);
    assert_int_equal(d->decoder.restarts, d->restarts);
    assert_int_equal(d->decoder.unread, 0);
}

static void gaps_are_counted_to_the_line(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 50; seed++) {
        device d = start(seed, (uint32_t)check_random_bits(&(check_random){seed}));
        for (int i = 0; i < 200; i++)
            touch(&d, check_random_below(&d.random, 4) > 0);
        check_device(&d);
        assert_true(d.lost > 20 && d.hits > 100);
    }
}

static void the_end_of_32_bits_is_no_gap(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 50; seed++) {
        device d = start(seed, UINT32_MAX - (uint32_t)(seed * 2));
        for (int i = 0; i < 200; i++)
            touch(&d, check_random_below(&d.random, 4) > 0);
        assert_true(d.next < 1000); /* it went over */
        check_device(&d);
    }
}

static void a_restart_with_a_hello_is_no_gap(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 50; seed++) {
        device d = start(seed, 0);
        hello(&d);
        for (int i = 0; i < 300; i++) {
            if (check_random_below(&d.random, 20) == 0) {
                d.next = 0;
                d.us = 1;
                hello(&d);
                d.restarts++;
            }
            touch(&d, check_random_below(&d.random, 4) > 0);
        }
        assert_true(d.restarts > 3);
        check_device(&d);
    }
}

/* Without the hello, number or clock give it away, as long as one of them is behind. */
static void a_restart_whose_hello_was_lost_is_no_gap(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 50; seed++) {
        device d = start(seed, 0);
        hello(&d);
        for (int i = 0; i < 300; i++) {
            if (check_random_below(&d.random, 20) == 0 && d.us > 60000000) {
                d.next = 1; /* 0 was the hello */
                d.us = 1;
                d.hidden = 0;
                d.received_any = false; /* what is lost at once, nobody can know */
                touch(&d, true);
                d.restarts++;
            }
            touch(&d, check_random_below(&d.random, 4) > 0);
        }
        assert_true(d.restarts > 3);
        check_device(&d);
    }
}

/* Where number and clock both ran on: one lost line and a start look the same, but for the boot
 * number. */
static void a_hidden_restart_that_ran_past_is_told_by_the_boot_number(void **state)
{
    (void)state;
    for (unsigned boots = 0; boots < 2; boots++) {
        device d = start(1, 0);
        for (unsigned i = 1; i <= 100; i++) {
            char body[100];
            unsigned number = 3 * i, boot = i / 10;
            int length =
                snprintf(body, sizeof body, "TUCNT,%u,%u,Z-,80,80,-400,0,0", number, 1000 * i);
            if (boots)
                snprintf(body + length, sizeof body - (size_t)length, ",%u", boot);
            send(&d, body);
        }
        assert_int_equal(d.decoder.restarts, boots ? 10 : 0);
        assert_int_equal(d.decoder.hits, boots ? 9 : 100);
        /* two lines in each gap; a restart is none */
        assert_int_equal(d.decoder.lost, boots ? 2 * (99 - 10) : 2 * 99);
    }
}

static void a_late_start_has_lost_nothing(void **state)
{
    (void)state;
    device d = start(1, 4711);
    touch(&d, true);
    check_device(&d);
}

/* A second hello on the way, with the number that is next, is neither gap nor restart. */
static void an_introduction_is_no_restart(void **state)
{
    (void)state;
    device d = start(1, 0);
    hello(&d);
    touch(&d, true);
    hello(&d);
    touch(&d, true);
    check_device(&d);
}

static void counts_are_refused_after_a_restart_only(void **state)
{
    (void)state;
    device d = start(1, 0);
    hello(&d);
    send(&d, "TUCNT,1,1000,Z-,80,80,-400,0,0");
    assert_int_equal(bench.record[0].kind, TU_DECODED_HIT);
    check_same(bench.record[0].position_mm[TU_AXIS_Z], -1, "z, mm: 400 steps of 1/400 mm");
    send(&d, "TUCNT,9,2000,Z-,80,80,-400,0,0"); /* a gap leaves the counts alone */
    assert_int_equal(bench.record[1].kind, TU_DECODED_HIT);
    d.next = 0;
    hello(&d);
    send(&d, "TUCNT,1,3000,Z-,80,80,-400,0,0");
    assert_int_equal(bench.count, 1);
    assert_int_equal(bench.record[0].kind, TU_DECODED_UNREAD);
    assert_int_equal(d.decoder.hits, 2);
}

static void
counts_are_refused_after_the_plug_was_pulled_until_the_boot_number_proves_them(void **state)
{
    (void)state;
    device d = start(1, 0);
    hello(&d);
    send(&d, "TUCNT,1,1000,Z-,80,80,-400,0,0");
    assert_int_equal(bench.record[0].kind, TU_DECODED_HIT);
    tu_decoder_finish(&d.decoder, decode_bench_take, &bench);
    /* number and clock go on, as those of a device that restarted unheard may */
    send(&d, "TUCNT,2,2000,Z-,0,0,-7,0,0");
    assert_int_equal(bench.record[0].kind, TU_DECODED_UNREAD);
    check_contains(bench.record[0].reason, "no boot number");
    send(&d, "TUHIT,3,3000,Z-,1.0,2.0,-3.0,0,0"); /* positions have no origin to lose */
    assert_int_equal(bench.record[0].kind, TU_DECODED_HIT);
    for (int i = 4; i < 6; i++) { /* there is none from before to compare it with */
        char body[60];
        snprintf(body, sizeof body, "TUCNT,%d,%d000,Z-,80,80,-400,0,0,5", i, i);
        send(&d, body);
        assert_int_equal(bench.record[0].kind, TU_DECODED_UNREAD);
    }

    d = start(1, 0);
    send(&d, "TUCNT,1,1000,Z-,80,80,-400,0,0,5");
    tu_decoder_finish(&d.decoder, decode_bench_take, &bench);
    send(&d, "TUCNT,2,2000,Z-,80,80,-400,0,0,5");
    assert_int_equal(bench.record[0].kind, TU_DECODED_HIT);
    send(&d, "TUCNT,3,3000,Z-,80,80,-400,0,0"); /* proved, also for those without it */
    assert_int_equal(bench.record[0].kind, TU_DECODED_HIT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gaps_are_counted_to_the_line),
        cmocka_unit_test(the_end_of_32_bits_is_no_gap),
        cmocka_unit_test(a_restart_with_a_hello_is_no_gap),
        cmocka_unit_test(a_restart_whose_hello_was_lost_is_no_gap),
        cmocka_unit_test(a_hidden_restart_that_ran_past_is_told_by_the_boot_number),
        cmocka_unit_test(a_late_start_has_lost_nothing),
        cmocka_unit_test(an_introduction_is_no_restart),
        cmocka_unit_test(counts_are_refused_after_a_restart_only),
        cmocka_unit_test(
            counts_are_refused_after_the_plug_was_pulled_until_the_boot_number_proves_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
