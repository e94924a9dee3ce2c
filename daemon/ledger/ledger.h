/* SPDX-License-Identifier: MIT
 * ledger: the record on disk. One SQLite file; the daemon is its only writer. The rest of the
 * house sees these functions, never SQLite. */
#ifndef METERPOST_DAEMON_LEDGER_LEDGER_H
#define METERPOST_DAEMON_LEDGER_LEDGER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum ledger_result {
    LEDGER_OK,
    LEDGER_NONE,      /* there is no such row */
    LEDGER_ALREADY,   /* it is there already: nothing was changed */
    LEDGER_HELD,      /* another meterpost holds the ledger (lock file) */
    LEDGER_MISSING,   /* no such file (read-only opening), or folder */
    LEDGER_FOREIGN,   /* a file of another program, or no database */
    LEDGER_NEWER,     /* written by a newer meterpost */
    LEDGER_READ_ONLY, /* file or file system cannot be written */
    LEDGER_FULL,      /* disk full */
    LEDGER_DAMAGED,
    LEDGER_BUSY, /* try again */
    LEDGER_IO,
    LEDGER_OLDER,    /* read-only opening: `meterpost run` has to bring it up to date first */
    LEDGER_VANISHED, /* none is there, and one was: none is made in its place */
    LEDGER_REPLACED, /* taken away, or another put in its place, while it was open */
    LEDGER_REFUSED   /* a value broke a rule of the schema, or a call came out of turn: our fault */
};

#define LEDGER_SAYS_OCTETS 320

struct ledger;

enum ledger_mode {
    LEDGER_WRITE, /* takes the lock file, creates and migrates */
    LEDGER_READ   /* read-only, no checkpoint, for verbs that only read */
};

/* Opens it; ":memory:" is a ledger of tests that lives in this process alone. On failure returns NULL, sets *result, and writes to says what is wrong and what to do,
 * naming the file; the file is left untouched. Writing: what a crash left is recovered, modes are
 * 0640, and the folder must be there. A new one is made only where nothing tells of an older one: an
 * empty file, a link that leads nowhere, the mark PATH.made. Another's short hold is waited for. */
struct ledger *ledger_open(const char *path, enum ledger_mode mode, enum ledger_result *result,
                           char says[LEDGER_SAYS_OCTETS]);
void ledger_close(struct ledger *ledger); /* NULL is fine; keeps the WAL file */

/* What the last call that was not OK has to say. */
const char *ledger_says(const struct ledger *ledger);

/* What keeps the ledger from being written, with what to do as in ledger_says; "" while all is well.
 * What a look can tell (another program's lock, a file taken away) is looked for now, outside a
 * transaction; a fault of the disk stays until something was written again. */
const char *ledger_trouble(struct ledger *ledger);

/* Whether something tells that a ledger stood under that name before, as ledger_open sees it: what
 * is not there then has vanished, and is no new yard. */
bool ledger_vanished(const char *path);

/* Opened to read, and no meterpost ever wrote it where it lies: it was copied there. */
bool ledger_is_copy(const struct ledger *ledger);

/* The exit status of sysexits.h that a failure to open or use stands for: 66 or 74. */
int ledger_exit_status(enum ledger_result result);

/* BEGIN IMMEDIATE ... COMMIT. One at a time. The first fault in it stays: whatever is asked of the
 * ledger after it does nothing and gives that same result, and so does the end. So one who writes
 * one thing after the other looks once, at the end; what was to be read is zero or "" after a fault.
 * "No such row" and "there already" are answers, not faults. commit's BUSY leaves it open: try again;
 * any other failure of it rolls back. */
enum ledger_result ledger_begin(struct ledger *ledger);
enum ledger_result ledger_commit(struct ledger *ledger);
void ledger_rollback(struct ledger *ledger); /* fine outside a transaction */
/* Commits where all went well, else rolls back. Returns what went wrong, the commit's fault included. */
enum ledger_result ledger_end(struct ledger *ledger, enum ledger_result result);
/* The first fault of the open transaction, LEDGER_OK while all is well. */
enum ledger_result ledger_fault(const struct ledger *ledger);

/* One view for all that is read until ledger_rollback or the end: what others commit meanwhile is
 * not seen, and a thousand queries cost one lock. For a report, and briefly. */
enum ledger_result ledger_look(struct ledger *ledger);

/* How many rows this connection has written so far: as long as it stays the same, a ledger that nobody
 * else writes is the same. */
int64_t ledger_changes(const struct ledger *ledger);

/* The desk's savepoint inside a transaction; release keeps what was done since, or, where there was a
 * fault, takes it back and returns that; back_to_savepoint takes it back. Either closes it. With what
 * the ledger refused (LEDGER_REFUSED) the fault is gone too; one of the disk stays. */
enum ledger_result ledger_savepoint(struct ledger *ledger);
enum ledger_result ledger_release(struct ledger *ledger);
void ledger_back_to_savepoint(struct ledger *ledger);

/* A consistent copy, at a path that has no ledger in use: written beside it under another name,
 * checked whole, synced, then renamed; an earlier backup there is replaced, any other file is not
 * (LEDGER_FOREIGN). For either mode, outside a transaction. The copy is one file by itself. */
enum ledger_result ledger_backup(struct ledger *ledger, const char *to_path);

#endif
