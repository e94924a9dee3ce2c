/* SPDX-License-Identifier: MIT
 * files: the ledger's file as it is found, before SQLite opens it, and the small files beside it
 * (.lock, .work). Inside this room only. Paths are resolved ones of files_resolve. */
#ifndef METERPOST_DAEMON_LEDGER_FILES_H
#define METERPOST_DAEMON_LEDGER_FILES_H

#include "daemon/ledger/ledger.h"

/* The path without links, so that one ledger has one name and one lock. The file need not be there,
 * its folder must. */
enum ledger_result files_resolve(const char *path, char *out, size_t size);

/* What the header says: LEDGER_OK a ledger of this version or an older one, LEDGER_MISSING none or
 * an empty file, LEDGER_FOREIGN, LEDGER_NEWER, LEDGER_DAMAGED where a WAL of another ledger lies
 * beside it, or why it cannot be read. Nothing is changed. *detail is more to say, "" none. */
enum ledger_result files_look(const char *path, const char **detail);

/* Opens, makes if need be (0640 under the umask), path + suffix. */
enum ledger_result files_open_beside(const char *path, const char *suffix, int *descriptor);
/* Takes the lock file for as long as *descriptor is open: LEDGER_HELD where another has it. */
enum ledger_result files_lock(const char *path, int *descriptor);

bool files_exists_beside(const char *path, const char *suffix);
void files_remove_beside(const char *path, const char *suffix);
/* Syncs a file that no connection has open. */
enum ledger_result files_sync(const char *path);
/* Renames path + suffix to path and syncs the folder. */
enum ledger_result files_name(const char *path, const char *suffix);

#endif
