/* SPDX-License-Identifier: MIT
 * faults: one table from SQLite's primary codes, one from errno, one of sentences. An I/O error of
 * SQLite hides why; the errno behind it tells a full or a read-only disk from a broken one. */
#include "daemon/ledger/faults.h"

#include <errno.h>
#include <stdio.h>
#include <sqlite3.h>

enum ledger_result faults_of_errno(int system_error)
{
    switch (system_error) {
    case ENOSPC:
    case EDQUOT:
    case EFBIG:
        return LEDGER_FULL;
    case EROFS:
    case EACCES:
    case EPERM:
        return LEDGER_READ_ONLY;
    case ENOENT:
    case ENOTDIR:
    case ELOOP:
    case ENAMETOOLONG:
        return LEDGER_MISSING;
    case EWOULDBLOCK:
        return LEDGER_HELD;
    default:
        return LEDGER_IO;
    }
}

static const struct {
    int primary;
    enum ledger_result result;
} results[] = {
    {SQLITE_BUSY, LEDGER_BUSY},          {SQLITE_LOCKED, LEDGER_BUSY},
    {SQLITE_FULL, LEDGER_FULL},          {SQLITE_READONLY, LEDGER_READ_ONLY},
    {SQLITE_PERM, LEDGER_READ_ONLY},     {SQLITE_CORRUPT, LEDGER_DAMAGED},
    {SQLITE_NOTADB, LEDGER_DAMAGED},     {SQLITE_FORMAT, LEDGER_DAMAGED},
    {SQLITE_CONSTRAINT, LEDGER_REFUSED}, {SQLITE_TOOBIG, LEDGER_REFUSED},
    {SQLITE_MISMATCH, LEDGER_REFUSED},   {SQLITE_MISUSE, LEDGER_REFUSED},
    {SQLITE_RANGE, LEDGER_REFUSED},      {SQLITE_ERROR, LEDGER_REFUSED},
};

/* Calls that need room or leave to write. Only of these is the errno behind an I/O error believed,
 * and only where it says so: whatever SQLite does after a fault, or did before, leaves its own errno
 * ("no such file" of a journal it looked for), and a broken disk must not be called a missing
 * one. */
static bool writes(int code)
{
    static const int codes[] = {
        SQLITE_IOERR_WRITE,    SQLITE_IOERR_FSYNC,  SQLITE_IOERR_DIR_FSYNC,
        SQLITE_IOERR_TRUNCATE, SQLITE_IOERR_DELETE, SQLITE_IOERR_SHMOPEN,
        SQLITE_IOERR_SHMSIZE,  SQLITE_IOERR_SHMMAP, SQLITE_IOERR_GETTEMPPATH};
    for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++) {
        if (codes[i] == code) {
            return true;
        }
    }
    return false;
}

static enum ledger_result of_io_error(int code, int system_error)
{
    bool told = system_error == EROFS || faults_of_errno(system_error) == LEDGER_FULL;
    return told && writes(code) ? faults_of_errno(system_error) : LEDGER_IO;
}

/* Opening fails by EACCES or ENOENT in good faith; EWOULDBLOCK is none of its own. */
static enum ledger_result of_opening(int code, int system_error)
{
    if (code == SQLITE_CANTOPEN_ISDIR) {
        return LEDGER_FOREIGN;
    }
    enum ledger_result result = faults_of_errno(system_error);
    return result == LEDGER_HELD ? LEDGER_IO : result;
}

enum ledger_result faults_of_sqlite(int code, int system_error)
{
    int primary = code & 0xff;
    if (code == SQLITE_IOERR_CORRUPTFS) {
        return LEDGER_DAMAGED;
    }
    if (primary == SQLITE_IOERR) {
        return of_io_error(code, system_error);
    }
    if (primary == SQLITE_CANTOPEN) {
        return of_opening(code, system_error);
    }
    for (size_t i = 0; i < sizeof results / sizeof results[0]; i++) {
        if (results[i].primary == primary) {
            return results[i].result;
        }
    }
    return LEDGER_IO;
}

/* What is wrong, and what to do about it. */
static const struct {
    const char *wrong, *todo;
} sentences[] = {
    [LEDGER_OK] = {"all is well", "nothing to do"},
    [LEDGER_NONE] = {"no such row", "nothing to do"},
    [LEDGER_ALREADY] = {"there already", "nothing to do"},
    [LEDGER_HELD] = {"another meterpost holds this ledger",
                     "ask the running daemon, or stop it first"},
    [LEDGER_MISSING] = {"no such file or folder",
                        "the config names it, as ledger = \"my.db\"; `meterpost run` and `text` "
                        "make the file, not its folder"},
    [LEDGER_FOREIGN] = {"this is not a ledger of meterpost",
                        "it was left as it is; name another file"},
    [LEDGER_NEWER] = {"written by a newer meterpost",
                      "it was left as it is; install that version or restore an older backup"},
    [LEDGER_READ_ONLY] = {"permission denied, or the disk is read-only",
                          "to write, the user of meterpost must own file and folder; to read, "
                          "join its group; check the disk"},
    [LEDGER_FULL] = {"the disk is full", "make room; texts wait in the modem until then"},
    [LEDGER_DAMAGED] = {"the ledger is damaged",
                        "stop meterpost, keep the file and its -wal, restore the last backup"},
    [LEDGER_BUSY] = {"in use at this moment", "try again"},
    [LEDGER_IO] = {"the disk reports an error", "look at the system log, check the disk"},
    [LEDGER_OLDER] = {"written by an older meterpost",
                      "start `meterpost run` once, it brings the ledger up to date"},
    [LEDGER_REFUSED] = {"a fault of the program: the ledger refused it", "please report it"},
};

enum ledger_result faults_say(enum ledger_result result, const char *path, const char *detail,
                              char says[LEDGER_SAYS_OCTETS])
{
    /* What to do comes last: a long path or detail must not crowd it out. */
    int length = snprintf(says, LEDGER_SAYS_OCTETS, "%.96s: %s%s%.48s%s: %s", path,
                          sentences[result].wrong, detail[0] != '\0' ? " (" : "", detail,
                          detail[0] != '\0' ? ")" : "", sentences[result].todo);
    if (length < 0) {
        says[0] = '\0';
    }
    return result;
}
