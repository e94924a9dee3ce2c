/* SPDX-License-Identifier: MIT
 * stock: the verb that says what oil and filters the next weeks need, for which machines, and
 * what the services of as many weeks back really took. */
#ifndef METERPOST_DAEMON_COUNTER_STOCK_H
#define METERPOST_DAEMON_COUNTER_STOCK_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status: 0, else as in sysexits.h. */
int stock_verb(const struct options *options, FILE *out, FILE *err);

#endif
