/* SPDX-License-Identifier: MIT
 * run: the daemon, in the foreground. */
#ifndef METERPOST_DAEMON_RUN_H
#define METERPOST_DAEMON_RUN_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Opens in order, loops, closes in reverse. SIGHUP reloads, SIGTERM and SIGINT end it. Exit
 * status: 0 ended cleanly, else as in sysexits.h. */
int run_verb(const struct options *options, FILE *out, FILE *err);

#endif
