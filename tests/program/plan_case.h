/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_case.h - the set-up that tests of plans share: each case begins with the sample plan in p.
 * For a test's own file, once.
 */
#ifndef TRUEUP_TESTS_PLAN_CASE_H
#define TRUEUP_TESTS_PLAN_CASE_H

#include "check.h"

#include "sample_plan.h"

static sample_plan p;

static int start_plan(void **unused)
{
    (void)unused;
    sample_plan_start(&p);
    return 0;
}

static int end_plan(void **unused)
{
    (void)unused;
    sample_plan_end(&p);
    return check_plain_locale(NULL);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, start_plan, end_plan)

#endif
