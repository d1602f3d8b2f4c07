/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_session.h - recording: from the port through the decoder into the log, and only then to the
 * screen.
 */
#ifndef TU_CLI_LOG_SESSION_H
#define TU_CLI_LOG_SESSION_H

#include "cli/log_options.h"
#include "program/log_plan.h"
#include "trueup/shop.h"

/*
 * Records until the source ends, the stated number or time is reached, all touches of the plan have
 * come, or SIGINT, SIGTERM or SIGHUP.
 *   shop, plan  may be NULL.
 * Returns TU_OK; what opening, reading or writing returned. The log then holds every touch that was
 * shown; touches that could not be recorded are listed on stderr.
 */
tu_status tu_log_record(const tu_log_options *options, const tu_shop *shop, tu_log_plan *plan,
                        tu_error *error);

#endif
