/* SPDX-License-Identifier: MIT
 * migrations: makes a new ledger and brings an older one up to date. Inside this room only. */
#ifndef METERPOST_DAEMON_LEDGER_MIGRATIONS_H
#define METERPOST_DAEMON_LEDGER_MIGRATIONS_H

#include <sqlite3.h>

#include "daemon/ledger/ledger.h"

#define MIGRATIONS_APPLICATION_ID 0x4d505354 /* "MPST"; schema.sql writes it too */
#define MIGRATIONS_VERSION 2                 /* user_version of schema.sql */

/* One step: the SQL that leads to that version from the one before. */
struct migration {
    int to_version;
    const char *sql;
};

/* The steps from version 1 to MIGRATIONS_VERSION; *count may be 0. */
const struct migration *migrations_steps(size_t *count);

/* All of them on an open connection, each step in one transaction that also writes user_version.
 * The code of SQLite, SQLITE_OK when done; the step that failed is rolled back. */
int migrations_make(sqlite3 *connection);
int migrations_apply(sqlite3 *connection, const struct migration *steps, size_t count);

/* user_version or application_id, as the connection sees it. */
int migrations_pragma(sqlite3 *connection, const char *name, int64_t *value);

#endif
