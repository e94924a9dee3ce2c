/* SPDX-License-Identifier: MIT
 * machine: the verb that shows one machine: how it stands, its hours as a plot, its record. */
#ifndef METERPOST_DAEMON_COUNTER_MACHINE_H
#define METERPOST_DAEMON_COUNTER_MACHINE_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status: 0 nothing is due on it, 1 something is, else as in sysexits.h. */
int machine_verb(const struct options *options, FILE *out, FILE *err);

#endif
