/* SPDX-License-Identifier: MIT
 * import: readings, services, changes of meter and spells laid up from a CSV file, such as
 * `meterpost export` writes or a spreadsheet. A trial only reads, and works beside a running daemon;
 * with --apply all of it goes in or nothing, in one transaction, by a ledger that no daemon holds. */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_H
#define METERPOST_DAEMON_COUNTER_IMPORT_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status 0, 64, 65 (the file has mistakes), 66 (no such file, no ledger), 74 or 78. */
int import_verb(const struct options *options, FILE *out, FILE *err);

#endif
