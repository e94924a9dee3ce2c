/* SPDX-License-Identifier: MIT
 * sheet: the verb that prints a job sheet for one service of one machine: cautions first, the kit,
 * the steps, boxes to fill in, and the words to text when it is done. */
#ifndef METERPOST_DAEMON_COUNTER_SHEET_H
#define METERPOST_DAEMON_COUNTER_SHEET_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status: 0, else as in sysexits.h. */
int sheet_verb(const struct options *options, FILE *out, FILE *err);

#endif
