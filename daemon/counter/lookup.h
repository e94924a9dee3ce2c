/* SPDX-License-Identifier: MIT
 * lookup: a machine or a plan named on the command line; the nearest is suggested where none is
 * called so. */
#ifndef METERPOST_DAEMON_COUNTER_LOOKUP_H
#define METERPOST_DAEMON_COUNTER_LOOKUP_H

#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"

/* Indexes into the settings; -1 after saying so on err. */
int32_t lookup_machine(const struct settings *settings, const char *name, FILE *err);
/* Among the plans of that machine's kind. */
int32_t lookup_plan(const struct settings *settings, int32_t machine, const char *name, FILE *err);

#endif
