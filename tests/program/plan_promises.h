/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_promises.h - what the summary of a plan promises, held against a rehearsal of its program.
 */
#ifndef TRUEUP_TESTS_PLAN_PROMISES_H
#define TRUEUP_TESTS_PLAN_PROMISES_H

#include "sample_scene.h"
#include "trueup/plan.h"

/*
 * The tip stayed in the stated space; a circuit that went dead at any touch would have pressed no
 * more than stated, and enough to be sure of the contact. Looks at the moves that run keeps. False:
 * text says which line broke what.
 */
bool plan_promises_hold(const sample_run *run, const char *program, const tu_plan_style *style,
                        const tu_plan_summary *summary, char *text, size_t size);

#endif
