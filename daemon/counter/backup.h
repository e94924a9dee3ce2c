/* SPDX-License-Identifier: MIT
 * backup: the verb that writes a consistent copy of the ledger, while the daemon runs too. */
#ifndef METERPOST_DAEMON_COUNTER_BACKUP_H
#define METERPOST_DAEMON_COUNTER_BACKUP_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status: 0 once the copy is checked and on disk under its name, else as in sysexits.h. */
int backup_verb(const struct options *options, FILE *out, FILE *err);

#endif
