/* SPDX-License-Identifier: MIT
 * ledger: opens and closes the record, and its transactions.
 *
 * WAL with synchronous=FULL: one sync a commit, and what is committed is on the disk. There is one
 * connection a process and one writer a ledger (the lock file), because SQLite before 3.51.3 has a
 * rare fault when a commit in one connection meets a checkpoint in another (sqlite.org/wal.html,
 * "The WAL Reset Bug"); readers never checkpoint. */
#include "daemon/ledger/ledger.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "daemon/ledger/store.h"

#define BUSY_WAIT_MS 2000
#define CLOSING_WAIT_MS 200
/* So large the WAL grows before it goes into the ledger: the longer, the more often a page is written
 * once for many texts. */
#define WAL_OCTETS (4 * 1024 * 1024)
/* The daemon lives for months: what it keeps in memory of the file is a few texts' pages. */
#define CACHE_OF_WRITER "PRAGMA cache_size = -512"
#define NEW_SUFFIX ".new"
static const char in_memory[] = ":memory:";

static enum ledger_result say(struct ledger *ledger, enum ledger_result result, const char *detail)
{
    return result == LEDGER_OK ? result : faults_say(result, ledger->path, detail, ledger->says);
}

bool ledger_vanished(const char *path)
{
    return files_tell_of_older(path) != NULL;
}

bool ledger_is_copy(const struct ledger *ledger)
{
    return !ledger->writes && !files_exists_beside(ledger->path, LOCK_SUFFIX);
}

/* `name` is the one that the config gives. */
static enum ledger_result look(struct ledger *ledger, const char *name)
{
    const char *detail = files_tell_of_older(name);
    if (detail != NULL) {
        return say(ledger, LEDGER_VANISHED, detail);
    }
    enum ledger_result result = files_look(ledger->path, &detail);
    return say(ledger, result, detail);
}

static enum ledger_result connect_to(struct ledger *ledger, const char *path, int flags)
{
    /* One thread a process: no locks, and no sums of memory. Once SQLite is in use this is refused, and
     * holds already. */
    (void)sqlite3_config(SQLITE_CONFIG_SINGLETHREAD);
    (void)sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
    int code = sqlite3_open_v2(path, &ledger->connection, flags, NULL);
    if (ledger->connection == NULL) {
        return say(ledger, LEDGER_IO, "out of memory");
    }
    if (code == SQLITE_OK) {
        code = sqlite3_extended_result_codes(ledger->connection, 1);
    }
    if (code == SQLITE_OK) {
        code = sqlite3_db_config(ledger->connection, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
    }
    if (code == SQLITE_OK) {
        code = sqlite3_db_config(ledger->connection, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    }
    if (code == SQLITE_OK) {
        code = sqlite3_busy_timeout(ledger->connection, BUSY_WAIT_MS);
    }
    return code == SQLITE_OK ? LEDGER_OK : store_fault(ledger, code);
}

static void disconnect(struct ledger *ledger)
{
    store_finalize(ledger);
    (void)sqlite3_close(ledger->connection); /* no statement is left: cannot be busy */
    ledger->connection = NULL;
}

/* A ledger appears under its name only when it is whole: a crash leaves no half of one. */
static enum ledger_result make_file(struct ledger *ledger)
{
    static const char *const leftovers[] = {NEW_SUFFIX, NEW_SUFFIX "-journal"};
    for (size_t i = 0; i < sizeof leftovers / sizeof leftovers[0]; i++) {
        files_remove_beside(ledger->path, leftovers[i]);
    }
    char name[STORE_PATH_OCTETS + sizeof NEW_SUFFIX];
    (void)snprintf(name, sizeof name, "%s%s", ledger->path, NEW_SUFFIX);
    enum ledger_result result =
        connect_to(ledger, name, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
    if (result == LEDGER_OK) {
        int code = migrations_make(ledger->connection);
        result = code == SQLITE_OK ? LEDGER_OK : store_fault(ledger, code);
    }
    disconnect(ledger);
    if (result == LEDGER_OK) {
        result = say(ledger, files_give_away(ledger->path, NEW_SUFFIX), "");
    }
    if (result == LEDGER_OK) {
        result = say(ledger, files_name(ledger->path, NEW_SUFFIX), "");
    }
    if (result != LEDGER_OK) {
        files_remove_beside(ledger->path, NEW_SUFFIX);
    }
    return result;
}

/* As a URI with immutable=1, for a ledger whose WAL holds nothing in a folder that cannot be written (a
 * backup, or one copied there): nobody has it open, or there would be a -shm. */
static enum ledger_result connect_unshared(struct ledger *ledger)
{
    char uri[3 * STORE_PATH_OCTETS + 32];
    size_t length = (size_t)snprintf(uri, sizeof uri, "file:");
    for (const char *c = ledger->path; *c != '\0'; c++) {
        bool plain = strchr("%?#", *c) == NULL;
        unsigned int octet = (unsigned char)*c;
        length += (size_t)(plain ? snprintf(uri + length, sizeof uri - length, "%c", (int)octet)
                                 : snprintf(uri + length, sizeof uri - length, "%%%02X", octet));
    }
    (void)snprintf(uri + length, sizeof uri - length, "?immutable=1");
    disconnect(ledger);
    return connect_to(ledger, uri, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI);
}

/* What the file says of itself through SQLite, the WAL included. This is the first access. */
static enum ledger_result check_identity(struct ledger *ledger, int64_t *version)
{
    int64_t application = 0;
    int code = migrations_pragma(ledger->connection, "application_id", &application);
    if (code == SQLITE_OK) {
        code = migrations_pragma(ledger->connection, "user_version", version);
    }
    if (code != SQLITE_OK) {
        return store_fault(ledger, code);
    }
    if (application != MIGRATIONS_APPLICATION_ID) {
        return say(ledger, LEDGER_FOREIGN, "");
    }
    return *version > MIGRATIONS_VERSION ? say(ledger, LEDGER_NEWER, "") : LEDGER_OK;
}

static enum ledger_result set_up(struct ledger *ledger)
{
    /* A verb looks at most pages once: few are kept, so that their room is used again. */
    const char *const settings[] = {
        "PRAGMA foreign_keys = ON",
        "PRAGMA trusted_schema = OFF",
        "PRAGMA temp_store = MEMORY",
        STORE_SMALL_PAGES, /* of a backup; in force that of the file is */
        ledger->writes ? "PRAGMA synchronous = FULL" : "PRAGMA cache_size = -400",
    };
    for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++) {
        int code = sqlite3_exec(ledger->connection, settings[i], NULL, NULL, NULL);
        if (code != SQLITE_OK) {
            return store_fault(ledger, code);
        }
    }
    int64_t enforced = 0, page_octets = 0;
    int code = ledger->writes ? sqlite3_exec(ledger->connection, CACHE_OF_WRITER, NULL, NULL, NULL)
                              : SQLITE_OK;
    if (code == SQLITE_OK) {
        code = migrations_pragma(ledger->connection, "foreign_keys", &enforced);
    }
    if (code == SQLITE_OK) {
        code = migrations_pragma(ledger->connection, "page_size", &page_octets);
    }
    if (code == SQLITE_OK && page_octets > 0) {
        code = sqlite3_wal_autocheckpoint(ledger->connection, (int)(WAL_OCTETS / page_octets));
    }
    if (code != SQLITE_OK) {
        return store_fault(ledger, code);
    }
    return enforced == 1 ? LEDGER_OK : store_refuse(ledger, "SQLite without foreign keys");
}

static enum ledger_result use_wal(struct ledger *ledger)
{
    sqlite3_stmt *statement = NULL;
    int code =
        sqlite3_prepare_v2(ledger->connection, "PRAGMA journal_mode = WAL", -1, &statement, NULL);
    if (code == SQLITE_OK) {
        code = sqlite3_step(statement);
    }
    bool in_force = code == SQLITE_ROW && strcmp(store_column_text(statement, 0), "wal") == 0;
    enum ledger_result result = code == SQLITE_ROW ? LEDGER_OK : store_fault(ledger, code);
    (void)sqlite3_finalize(statement); /* its result is known already */
    return result == LEDGER_OK && !in_force ? say(ledger, LEDGER_IO, "no WAL: not a local disk?")
                                            : result;
}

/* After a step the WAL goes into the file, so that its header tells the version to who looks. */
static enum ledger_result bring_up_to_date(struct ledger *ledger, int64_t version)
{
    size_t count = 0;
    const struct migration *steps = migrations_steps(&count);
    if (version >= MIGRATIONS_VERSION) {
        return LEDGER_OK;
    }
    int code = migrations_apply(ledger->connection, steps, count);
    if (code == SQLITE_ERROR) {
        return say(ledger, LEDGER_FOREIGN, "its tables are not of its version");
    }
    if (code == SQLITE_OK) {
        code = sqlite3_wal_checkpoint_v2(ledger->connection, "main", SQLITE_CHECKPOINT_TRUNCATE,
                                         NULL, NULL);
    }
    return code == SQLITE_OK || code == SQLITE_BUSY ? LEDGER_OK : store_fault(ledger, code);
}

static enum ledger_result open_in_memory(struct ledger *ledger)
{
    enum ledger_result result = connect_to(ledger, in_memory, SQLITE_OPEN_READWRITE);
    if (result == LEDGER_OK) {
        int code = migrations_make(ledger->connection);
        result = code == SQLITE_OK ? set_up(ledger) : store_fault(ledger, code);
    }
    return result;
}

/* What a WAL takes is not there and cannot be made: SQLite calls the folder read-only or the WAL not to be
 * opened. */
static bool lacks_wal(const struct ledger *ledger)
{
    int primary = sqlite3_errcode(ledger->connection) & 0xff;
    return (primary == SQLITE_CANTOPEN || primary == SQLITE_READONLY) &&
           !(files_exists_beside(ledger->path, "-wal") &&
             files_exists_beside(ledger->path, "-shm"));
}

/* Where the WAL holds something the file alone is of an earlier day. */
static enum ledger_result open_copy(struct ledger *ledger, int64_t *version)
{
    if (files_has_wal(ledger->path)) {
        return say(ledger, LEDGER_READ_ONLY, "a raw copy: copy what `meterpost backup` makes");
    }
    enum ledger_result result = connect_unshared(ledger);
    return result == LEDGER_OK ? check_identity(ledger, version) : result;
}

static enum ledger_result open_to_read(struct ledger *ledger, const char *name)
{
    int64_t version = 0;
    enum ledger_result result = look(ledger, name);
    if (result == LEDGER_OK) {
        result = connect_to(ledger, ledger->path, SQLITE_OPEN_READONLY);
    }
    if (result != LEDGER_OK) {
        return result;
    }
    result = check_identity(ledger, &version);
    if (result != LEDGER_OK && lacks_wal(ledger)) {
        result = open_copy(ledger, &version);
    }
    if (result == LEDGER_OK && version < MIGRATIONS_VERSION) {
        const char *detail = "a copy: update the box that it is from first";
        result = say(ledger, LEDGER_OLDER, ledger_is_copy(ledger) ? detail : "");
    }
    return result == LEDGER_OK ? set_up(ledger) : result;
}

static enum ledger_result open_the_file(struct ledger *ledger)
{
    enum ledger_result result = connect_to(ledger, ledger->path, SQLITE_OPEN_READWRITE);
    if (result == LEDGER_OK && sqlite3_db_readonly(ledger->connection, "main") != 0) {
        return say(ledger, LEDGER_READ_ONLY, "");
    }
    int64_t version = 0;
    result = result == LEDGER_OK ? check_identity(ledger, &version) : result;
    result = result == LEDGER_OK ? set_up(ledger) : result;
    result = result == LEDGER_OK ? use_wal(ledger) : result;
    return result == LEDGER_OK ? bring_up_to_date(ledger, version) : result;
}

static enum ledger_result open_to_write(struct ledger *ledger, const char *name)
{
    enum ledger_result found = look(ledger, name);
    if (found != LEDGER_OK && found != LEDGER_MISSING) {
        return found;
    }
    enum ledger_result result = say(ledger, files_lock(ledger->path, &ledger->lock), "");
    if (result != LEDGER_OK) {
        return result;
    }
    found = look(ledger, name); /* another may have made it before the lock was ours */
    result = found == LEDGER_MISSING ? make_file(ledger) : found;
    if (result == LEDGER_OK) {
        result = open_the_file(ledger);
    }
    if (result == LEDGER_OK) {
        result = say(ledger, files_open_beside(ledger->path, ".work", &ledger->work), "");
    }
    return result;
}

/* Which files are ours, and a mark that there is a ledger now. The WAL is there from the first look on. */
static enum ledger_result settle_files(struct ledger *ledger, const char *name)
{
    int64_t version = 0;
    int code = migrations_pragma(ledger->connection, "user_version", &version);
    if (code != SQLITE_OK) {
        return store_fault(ledger, code);
    }
    files_mark_made(name);
    files_note_places(ledger->path, ledger->places);
    return LEDGER_OK;
}

static enum ledger_result open_it(struct ledger *ledger, const char *path, enum ledger_mode mode)
{
    enum ledger_result result;
    (void)snprintf(ledger->path, sizeof ledger->path, "%s", path); /* for the sentence */
    if (strcmp(path, in_memory) == 0) {
        result = open_in_memory(ledger);
    } else {
        result = say(ledger, files_resolve(path, ledger->path, sizeof ledger->path), "");
        if (result == LEDGER_OK) {
            result =
                mode == LEDGER_WRITE ? open_to_write(ledger, path) : open_to_read(ledger, path);
        }
    }
    result = result == LEDGER_OK ? store_prepare(ledger) : result;
    bool on_disk = ledger->writes && strcmp(path, in_memory) != 0;
    return result == LEDGER_OK && on_disk ? settle_files(ledger, path) : result;
}

/* Of several files the one that keeps the ledger from being opened is named. */
static void name_the_file(struct ledger *ledger)
{
    char name[STORE_PATH_OCTETS + 8];
    const char *suffix = files_in_the_way(ledger->path);
    if (suffix[0] != '\0') {
        (void)snprintf(name, sizeof name, "%s%s", ledger->path, suffix);
        (void)faults_say(LEDGER_READ_ONLY, name, "", ledger->says);
    }
}

static void release(struct ledger *ledger)
{
    disconnect(ledger);
    if (ledger->work >= 0) {
        (void)close(ledger->work);
    }
    if (ledger->lock >= 0) {
        (void)close(ledger->lock); /* last: the lock goes with it */
    }
    free(ledger);
}

struct ledger *ledger_open(const char *path, enum ledger_mode mode, enum ledger_result *result,
                           char says[LEDGER_SAYS_OCTETS])
{
    struct ledger *ledger = calloc(1, sizeof *ledger);
    if (ledger == NULL) {
        *result = faults_say(LEDGER_IO, path, "out of memory", says);
        return NULL;
    }
    ledger->lock = -1;
    ledger->work = -1;
    ledger->writes = mode == LEDGER_WRITE;
    mode_t mask = umask(0027);
    *result = open_it(ledger, path, mode);
    if (*result == LEDGER_READ_ONLY && ledger->writes) {
        name_the_file(ledger);
    }
    (void)umask(mask);
    memcpy(says, ledger->says, LEDGER_SAYS_OCTETS);
    if (*result != LEDGER_OK) {
        release(ledger);
        return NULL;
    }
    return ledger;
}

/* All that the WAL holds into the one file; the WAL is left empty. A reader in the way is no harm: the
 * WAL keeps what is left. */
static void empty_wal(struct ledger *ledger)
{
    (void)sqlite3_busy_timeout(ledger->connection, CLOSING_WAIT_MS);
    (void)sqlite3_wal_checkpoint_v2(ledger->connection, "main", SQLITE_CHECKPOINT_TRUNCATE, NULL,
                                    NULL);
    (void)sqlite3_busy_timeout(ledger->connection, BUSY_WAIT_MS);
}

void ledger_close(struct ledger *ledger)
{
    if (ledger == NULL) {
        return;
    }
    ledger_rollback(ledger);
    if (ledger->writes && !ledger->hurt) {
        empty_wal(ledger); /* it stays behind, for readers who could not make one */
    }
    release(ledger);
}

const char *ledger_says(const struct ledger *ledger)
{
    return ledger->says;
}

/* Somebody may delete or move the files, or put a backup in their place: what is committed then goes
 * into a file without a name, and is lost. Where the ledger itself still stands, what is committed
 * already is saved into it. */
static enum ledger_result in_place(struct ledger *ledger)
{
    const char *detail;
    enum ledger_result result = files_in_place(ledger->path, ledger->places, &detail);
    if (result != LEDGER_OK) {
        (void)sqlite3_wal_checkpoint_v2(ledger->connection, "main", SQLITE_CHECKPOINT_PASSIVE, NULL,
                                        NULL); /* what can be saved */
        (void)store_note(ledger, say(ledger, result, detail));
    }
    return result;
}

static enum ledger_result begin(struct ledger *ledger, enum statement statement)
{
    if (ledger->open) {
        return store_out_of_turn(ledger, "a transaction is open already");
    }
    enum ledger_result result = in_place(ledger);
    result = result == LEDGER_OK ? store_control(ledger, statement) : result;
    if (result == LEDGER_OK) {
        ledger->open = true;
        ledger->changes = sqlite3_total_changes(ledger->connection);
        if (statement == STATEMENT_BEGIN &&
            (ledger->troubled == LEDGER_BUSY || ledger->troubled == LEDGER_REPLACED)) {
            ledger->trouble[0] = '\0'; /* it is over: no need to write to know it */
        }
    }
    return result;
}

const char *ledger_trouble(struct ledger *ledger)
{
    if (ledger->writes && !ledger->open) {
        (void)sqlite3_busy_timeout(ledger->connection, 0);
        if (begin(ledger, STATEMENT_BEGIN) == LEDGER_OK) {
            ledger_rollback(ledger);
        }
        (void)sqlite3_busy_timeout(ledger->connection, BUSY_WAIT_MS);
    }
    return ledger->trouble;
}

enum ledger_result ledger_begin(struct ledger *ledger)
{
    bool full = ledger->trouble[0] != '\0' && ledger->troubled == LEDGER_FULL;
    if (full && !ledger->open && ledger->writes) {
        empty_wal(ledger); /* else it takes the room that was made */
    }
    return begin(ledger, STATEMENT_BEGIN);
}

enum ledger_result ledger_look(struct ledger *ledger)
{
    return begin(ledger, STATEMENT_LOOK);
}

enum ledger_result ledger_fault(const struct ledger *ledger)
{
    return ledger->fault;
}

enum ledger_result ledger_commit(struct ledger *ledger)
{
    if (!ledger->open) {
        return store_out_of_turn(ledger, "no transaction is open");
    }
    enum ledger_result result = ledger->fault;
    if (result == LEDGER_OK) {
        result = store_control(ledger, STATEMENT_COMMIT);
        if (result == LEDGER_BUSY && sqlite3_get_autocommit(ledger->connection) == 0) {
            return result;
        }
    }
    if (result != LEDGER_OK) {
        ledger_rollback(ledger);
        return result;
    }
    ledger->open = false;
    result = in_place(ledger);
    if (result != LEDGER_OK) {
        return result; /* it went into a file that was taken away meanwhile */
    }
    if (sqlite3_total_changes(ledger->connection) != ledger->changes) {
        ledger->trouble[0] = '\0'; /* it was written */
    }
    return LEDGER_OK;
}

int64_t ledger_changes(const struct ledger *ledger)
{
    return sqlite3_total_changes(ledger->connection);
}

void ledger_rollback(struct ledger *ledger)
{
    ledger->open = false;
    ledger->fault = LEDGER_OK;
    ledger->steps = 0;
    store_forget_names(ledger);
    if (sqlite3_get_autocommit(ledger->connection) == 0) {
        char says[LEDGER_SAYS_OCTETS]; /* what led here is what is to be told */
        memcpy(says, ledger->says, sizeof says);
        (void)store_control(ledger, STATEMENT_ROLLBACK);
        memcpy(ledger->says, says, sizeof says);
    }
}

enum ledger_result ledger_end(struct ledger *ledger, enum ledger_result result)
{
    if (result == LEDGER_OK) {
        result = ledger_commit(ledger);
    }
    if (result != LEDGER_OK) {
        ledger_rollback(ledger);
    }
    return result;
}

enum ledger_result ledger_savepoint(struct ledger *ledger)
{
    if (!ledger->open) {
        return store_out_of_turn(ledger, "no transaction is open");
    }
    if (ledger->fault == LEDGER_OK) {
        ledger->fault = store_control(ledger, STATEMENT_DESK_SAVEPOINT);
    }
    return ledger->fault;
}

enum ledger_result ledger_release(struct ledger *ledger)
{
    enum ledger_result result = ledger->fault;
    if (result != LEDGER_OK) {
        ledger_back_to_savepoint(ledger);
        return result;
    }
    return store_control(ledger, STATEMENT_DESK_RELEASE);
}

void ledger_back_to_savepoint(struct ledger *ledger)
{
    char says[LEDGER_SAYS_OCTETS];
    memcpy(says, ledger->says, sizeof says);
    store_forget_names(ledger);
    enum ledger_result result = store_control(ledger, STATEMENT_DESK_BACK);
    if (result == LEDGER_OK) {
        result = store_control(ledger, STATEMENT_DESK_RELEASE);
    }
    if (result == LEDGER_OK && ledger->fault == LEDGER_REFUSED) {
        ledger->fault = LEDGER_OK; /* it lay in what was written, and that is gone */
    } else if (result != LEDGER_OK && ledger->open && ledger->fault == LEDGER_OK) {
        /* What the desk did could not be taken back: none of the text may be committed. */
        ledger->fault = result;
    }
    memcpy(ledger->says, says, sizeof says);
}
