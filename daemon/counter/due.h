/* SPDX-License-Identifier: MIT
 * due: the verb that says what comes due, worst first, with hours left, date and bounds. */
#ifndef METERPOST_DAEMON_COUNTER_DUE_H
#define METERPOST_DAEMON_COUNTER_DUE_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status: 0 nothing is due, 1 something is (or has no record), else as in sysexits.h. */
int due_verb(const struct options *options, FILE *out, FILE *err);

#endif
