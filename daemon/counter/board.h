/* SPDX-License-Identifier: MIT
 * board: the verb that writes the yard at a glance: one page of HTML that needs nothing else, no
 * script and no net; for a screen in the shop, a phone, or paper. */
#ifndef METERPOST_DAEMON_COUNTER_BOARD_H
#define METERPOST_DAEMON_COUNTER_BOARD_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* To the file named, which is replaced whole if it is a page already, else to `out`. Exit status: 0,
 * else as in sysexits.h. */
int board_verb(const struct options *options, FILE *out, FILE *err);

#endif
