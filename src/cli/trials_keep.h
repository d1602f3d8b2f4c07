/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_keep.h - a judged repeatability into the shop file.
 */
#ifndef TU_CLI_TRIALS_KEEP_H
#define TU_CLI_TRIALS_KEEP_H

#include "cli/trials_gather.h"
#include "trueup/shop.h"

/*
 * Writes machine.repeatability of each axis that was judged; zero pools it with its own repeats.
 * Touches of a series from both sides are pooled (GUM 4.2.4). Refuses, with nothing written, what
 * would not hold for the next touch: a drift, outliers, a spread beyond --within (unless --despite;
 * TU_LIMIT_EXCEEDED), fewer than five touches, touches that are all equal, several series.
 * story->kept out. TU_DATA_CONFLICT, TU_DATA_MISSING, TU_USAGE, as tu_shop_write_edits.
 */
tu_status tu_trials_keep(const tu_shop *shop, const tu_trials_options *options,
                         const tu_trials_data *data, tu_trials_story *story, tu_error *error);

#endif
