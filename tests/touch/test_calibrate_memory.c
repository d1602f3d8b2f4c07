/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_calibrate_memory.c - a calibration works on its caller's memory: neither it nor what it
 * calls of GSL allocates. The C library's own entry points are counted, so this needs glibc and no
 * sanitizer that replaces them.
 */
#include "plate_bench.h"

#include <stdlib.h>

#if defined(__GLIBC__) && !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define CAN_COUNT 1
extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *old, size_t size);

static size_t allocations;

void *malloc(size_t size)
{
    allocations++;
    return __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    allocations++;
    return __libc_calloc(count, size);
}

void *realloc(void *old, size_t size)
{
    allocations++;
    return __libc_realloc(old, size);
}
#else
#define CAN_COUNT 0
static size_t allocations;
#endif

static void touch_much(bench *on)
{
    bench_start(on, 1);
    on->noise_mm = 0.004;
    bench_state_block(on, 0.01);
    for (const char *edge = "lrfk"; *edge != '\0'; edge++) {
        bench_touch(on, *edge, 'a', 0, 3);
        bench_touch(on, *edge, '-', 1, 3);
    }
    bench_touch(on, 'l', 'b', 0, 2);
    bench_touch_z(on, 'f', 2);
}

static void solving_and_advising_allocate_nothing(void **state)
{
    (void)state;
    static bench on;
    touch_much(&on);
    size_t before = allocations;
    tu_status status = bench_solve(&on);
    size_t taken = allocations - before;
    check_status(status, TU_OK, &on.error);
    assert_true(on.result.advice_count > 0); /* the search for advice has run too */
    if (!CAN_COUNT)
        skip();
    assert_int_equal(taken, 0);
}

static void the_count_counts(void **state)
{
    (void)state;
    if (!CAN_COUNT)
        skip();
    size_t before = allocations;
    void *volatile block = malloc(8);
    free(block);
    assert_int_equal(allocations - before, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(solving_and_advising_allocate_nothing),
        cmocka_unit_test(the_count_counts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
