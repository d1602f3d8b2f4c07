/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_ask.h - a new shop file by questions at the terminal.
 */
#ifndef TU_CLI_SHOP_ASK_H
#define TU_CLI_SHOP_ASK_H

#include "trueup/task_shop.h"

/*
 * Asks at the terminal and takes the answers. Nothing is written here.
 * Returns TU_OK; TU_USAGE where there is no terminal, with what to do instead; TU_DATA_MISSING
 * where the answers end before the questions; TU_SYSTEM_MEMORY.
 */
tu_status tu_shop_ask(tu_task_shop_new *made, tu_error *error);

#endif
