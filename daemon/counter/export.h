/* SPDX-License-Identifier: MIT
 * export: the verb that gives readings, services, changes of meter, spells laid up or texts as CSV
 * (RFC 4180), whole. */
#ifndef METERPOST_DAEMON_COUNTER_EXPORT_H
#define METERPOST_DAEMON_COUNTER_EXPORT_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* The word after the verb says which. Exit status: 0, else as in sysexits.h. */
int export_verb(const struct options *options, FILE *out, FILE *err);

#endif
