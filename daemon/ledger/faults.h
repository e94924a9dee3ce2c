/* SPDX-License-Identifier: MIT
 * faults: what SQLite and the system report, turned into the ledger's results and into a sentence
 * that says what to do. Inside this room only. */
#ifndef METERPOST_DAEMON_LEDGER_FAULTS_H
#define METERPOST_DAEMON_LEDGER_FAULTS_H

#include "daemon/ledger/ledger.h"

/* An extended result code of SQLite with the errno behind it (0 none). */
enum ledger_result faults_of_sqlite(int code, int system_error);
/* errno of a system call on one of the ledger's files. */
enum ledger_result faults_of_errno(int system_error);

/* "PATH: what is wrong (detail): what to do". detail "" is left out. Returns result. */
enum ledger_result faults_say(enum ledger_result result, const char *path, const char *detail,
                              char says[LEDGER_SAYS_OCTETS]);

#endif
