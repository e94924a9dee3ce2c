/* SPDX-License-Identifier: MIT
 * import: readings or services of the past from a CSV file, such as `meterpost export` writes or a
 * spreadsheet. Tried first and taken back, unless --apply says otherwise: all of it or nothing, in
 * one transaction, by a ledger that no daemon holds. */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_H
#define METERPOST_DAEMON_COUNTER_IMPORT_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status 0, 64, 65 (the file has mistakes), 66 (no such file, no ledger), 74 or 78. */
int import_verb(const struct options *options, FILE *out, FILE *err);

#endif
