/* SPDX-License-Identifier: MIT
 * import_add: puts the rows that were accepted on record. */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_ADD_H
#define METERPOST_DAEMON_COUNTER_IMPORT_ADD_H

#include "daemon/counter/import_rows.h"
#include "daemon/ledger/ledger.h"

/* Inside a transaction of the caller. */
enum ledger_result import_add_rows(struct ledger *ledger, const struct import_rows *rows);

#endif
