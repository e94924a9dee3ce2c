/* SPDX-License-Identifier: MIT
 * backup: a copy that is consistent while the ledger is in use, and that is looked at whole before
 * it gets its name. VACUUM INTO reads under one read transaction and writes a file of its own, in
 * rollback mode: no -wal belongs to it, so it may be moved about alone. It promises nothing about
 * a power cut; hence the sync and the rename here. */
#include "daemon/ledger/ledger.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "daemon/ledger/faults.h"
#include "daemon/ledger/files.h"
#include "daemon/ledger/migrations.h"
#include "daemon/ledger/store.h"

#define PART_SUFFIX ".part"
#define PART_OCTETS (STORE_PATH_OCTETS + sizeof PART_SUFFIX)

static bool same_file(const char *one, const char *other)
{
    struct stat a, b;
    return stat(one, &a) == 0 && stat(other, &b) == 0 && a.st_dev == b.st_dev &&
           a.st_ino == b.st_ino;
}

/* May a backup take that name? */
static enum ledger_result may_take(struct ledger *ledger, const char *path)
{
    if (ledger->transaction != STORE_TRANSACTION_NONE) {
        return store_refuse(ledger, "a backup inside a transaction");
    }
    if (same_file(ledger->path, path) || files_exists_beside(path, "-wal")) {
        return faults_say(LEDGER_HELD, path, "a ledger in use is no place for a backup",
                          ledger->says);
    }
    const char *detail;
    enum ledger_result found = files_look(path, &detail);
    if (found == LEDGER_OK || found == LEDGER_MISSING || found == LEDGER_NEWER) {
        return LEDGER_OK;
    }
    return faults_say(found, path, detail, ledger->says);
}

static enum ledger_result copy_into(struct ledger *ledger, const char *name)
{
    sqlite3_stmt *statement = NULL;
    int code = sqlite3_prepare_v2(ledger->connection, "VACUUM INTO ?1", -1, &statement, NULL);
    if (code == SQLITE_OK) {
        code = sqlite3_bind_text(statement, 1, name, -1, SQLITE_STATIC);
    }
    if (code == SQLITE_OK) {
        code = sqlite3_step(statement);
    }
    enum ledger_result result = LEDGER_OK;
    if (code != SQLITE_DONE) {
        result = faults_say(faults_of_sqlite(code, sqlite3_system_errno(ledger->connection)), name,
                            sqlite3_errmsg(ledger->connection), ledger->says);
    }
    (void)sqlite3_finalize(statement); /* its result is known already */
    return result;
}

/* True where the only answer to sql is that word; no answer at all for "". */
static bool answers(sqlite3 *copy, const char *sql, const char *word)
{
    sqlite3_stmt *statement = NULL;
    bool as_expected = false;
    if (sqlite3_prepare_v2(copy, sql, -1, &statement, NULL) == SQLITE_OK) {
        int code = sqlite3_step(statement);
        as_expected = word[0] == '\0' ? code == SQLITE_DONE
                                      : code == SQLITE_ROW &&
                                            strcmp(store_column_text(statement, 0), word) == 0;
    }
    (void)sqlite3_finalize(statement); /* its result is known already */
    return as_expected;
}

static enum ledger_result check_copy(struct ledger *ledger, const char *name)
{
    sqlite3 *copy = NULL;
    const char *detail;
    bool good = sqlite3_open_v2(name, &copy, SQLITE_OPEN_READONLY | SQLITE_OPEN_NOMUTEX, NULL) ==
                    SQLITE_OK &&
                answers(copy, "PRAGMA integrity_check(1)", "ok") &&
                answers(copy, "PRAGMA foreign_key_check", "") &&
                files_look(name, &detail) == LEDGER_OK;
    (void)sqlite3_close(copy); /* no statement is left: cannot be busy */
    return good ? LEDGER_OK
                : faults_say(LEDGER_DAMAGED, ledger->path, "the copy does not hold together",
                             ledger->says);
}

static enum ledger_result make_copy(struct ledger *ledger, const char *path)
{
    char name[PART_OCTETS];
    (void)snprintf(name, sizeof name, "%s%s", path, PART_SUFFIX);
    enum ledger_result result = copy_into(ledger, name);
    if (result == LEDGER_OK) {
        result = check_copy(ledger, name);
    }
    if (result == LEDGER_OK) {
        result = files_sync(name);
        result = result == LEDGER_OK ? files_name(path, PART_SUFFIX) : result;
        if (result != LEDGER_OK) {
            (void)faults_say(result, path, "", ledger->says);
        }
    }
    return result;
}

enum ledger_result ledger_backup(struct ledger *ledger, const char *to_path)
{
    char path[STORE_PATH_OCTETS];
    enum ledger_result result = files_resolve(to_path, path, sizeof path);
    if (result != LEDGER_OK) {
        return faults_say(result, to_path, "", ledger->says);
    }
    result = may_take(ledger, path);
    if (result != LEDGER_OK) {
        return result;
    }
    files_remove_beside(path, PART_SUFFIX); /* of a backup that was cut short */
    mode_t mask = umask(0027);
    result = make_copy(ledger, path);
    (void)umask(mask);
    if (result != LEDGER_OK) {
        files_remove_beside(path, PART_SUFFIX);
    }
    return result;
}
