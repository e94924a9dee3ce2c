/* SPDX-License-Identifier: MIT
 * store: what the files of this room share and nobody else sees: the one connection and its prepared
 * statements, the file as it lies on the disk, the versions of the schema.
 *
 * A statement is used in one of two ways: store_run where it has no rows to give; store_first, then
 * store_next until it gives LEDGER_NONE, where it has. Rows left before that end with store_done. */
#ifndef METERPOST_DAEMON_LEDGER_STORE_H
#define METERPOST_DAEMON_LEDGER_STORE_H

#include <sqlite3.h>
#include <sys/types.h>

#include "daemon/ledger/ledger.h"

enum statement {
#define STATEMENT(name, sql) STATEMENT_##name,
#include "daemon/ledger/sql.h"
#undef STATEMENT
    STATEMENT_COUNT
};

/* The SQL of a statement: NUL-terminated, its values numbered ?1 and up. */
const char *store_sql(enum statement statement);

#define STORE_PATH_OCTETS 4096

/* A name whose number was looked up. Numbers are given for good, so it holds until something is taken
 * back, which may have been the giving of it. */
struct store_name {
    enum statement found_by; /* whose name */
    char name[17];
    int64_t id; /* 0: an empty place */
};
#define STORE_NAMES 64

/* A file by what it is, not by its name. */
struct files_place {
    dev_t device;
    ino_t inode;
};
/* The ledger, its -wal and its -shm. */
#define FILES_PLACES 3

struct ledger {
    sqlite3 *connection;
    sqlite3_stmt *statements[STATEMENT_COUNT];
    bool open;                    /* a transaction is, well or not */
    enum ledger_result fault;     /* the first one in it: everything is refused until it ends */
    int steps;                    /* open steps, where they have the transaction to themselves */
    bool writes;                  /* opened with LEDGER_WRITE */
    bool hurt;                    /* damage or an I/O error was seen: no checkpoint at the end */
    int lock;                     /* descriptor of the lock file, -1 none */
    int work;                     /* descriptor of the mark of work, -1 none */
    char path[STORE_PATH_OCTETS]; /* resolved, or ":memory:" */
    struct files_place places[FILES_PLACES]; /* the open files, where writes; all 0 in memory */
    char says[LEDGER_SAYS_OCTETS];
    char trouble[LEDGER_SAYS_OCTETS]; /* what says said of the disk; "" once it was written again */
    enum ledger_result troubled;      /* and what that was */
    int changes;                      /* of the connection when the transaction began */
    struct store_name names[STORE_NAMES];
    size_t next_name; /* the place that is filled next */
};

enum store_kind { STORE_INTEGER, STORE_TEXT, STORE_NULL };
struct store_value {
    enum store_kind kind;
    int64_t integer;
    const char *text;
};

static inline struct store_value store_integer(int64_t integer)
{
    return (struct store_value){STORE_INTEGER, integer, NULL};
}

/* A row's number, or a moment, where 0 stands for none and is kept as NULL. */
static inline struct store_value store_id(int64_t id)
{
    return (struct store_value){id != 0 ? STORE_INTEGER : STORE_NULL, id, NULL};
}

/* NUL-terminated UTF-8, NULL for none; must live until the statement is done. */
static inline struct store_value store_text(const char *text)
{
    return (struct store_value){text != NULL ? STORE_TEXT : STORE_NULL, 0, text};
}

/* A row as a struct of its noun: what stands for ?1, ?2 ... of its INSERT and for the columns of its
 * SELECT, in their one order. An INSERT leaves out what only a SELECT gives. */
enum store_field_kind {
    STORE_NUMBER, /* a whole number or bool, of any width */
    STORE_ID,     /* a whole number, 0 where the column is NULL */
    STORE_WORDS,  /* char[], cut between two characters where it is longer */
    STORE_PHRASE  /* const char *, which lives as long as the row */
};
struct store_field {
    enum store_field_kind kind;
    size_t offset, size;
};
struct store_shape {
    const struct store_field *fields;
    size_t count;
    size_t size; /* of the struct */
};
#define STORE_FIELD(type, kind, member)                                                            \
    {                                                                                              \
        STORE_##kind, offsetof(type, member), sizeof(((type *)0)->member)                          \
    }
#define STORE_FIELDS_MOST 16
#define STORE_SHAPE(type, fields)                                                                  \
    {                                                                                              \
        fields, sizeof(fields) / sizeof(fields)[0], sizeof(type)                                   \
    }

/* The values of a statement, ?1 first, as the last two arguments of the functions below. */
#define STORE_VALUES(...)                                                                          \
    (const struct store_value[]){__VA_ARGS__},                                                     \
        sizeof((const struct store_value[]){__VA_ARGS__}) / sizeof(struct store_value)
#define STORE_NO_VALUES NULL, 0

/* Compiles the statements that open and end transactions, which no lack of memory may keep from being
 * run. The others are compiled when they are first run, and kept: all of them take a MiB, and a verb
 * runs a few. Where the ledger was opened to write each is compiled once, to know that its tables are
 * of its version. */
enum ledger_result store_prepare(struct ledger *ledger);
/* The compiled statement; NULL with a result that is not LEDGER_OK. */
enum ledger_result store_statement(struct ledger *ledger, enum statement statement,
                                   sqlite3_stmt **compiled);
void store_finalize(struct ledger *ledger);

enum ledger_result store_run(struct ledger *ledger, enum statement statement,
                             const struct store_value *values, size_t count);
/* LEDGER_OK: *row stands on the first row. Otherwise the statement is done, LEDGER_NONE for no row. */
enum ledger_result store_first(struct ledger *ledger, enum statement statement, sqlite3_stmt **row,
                               const struct store_value *values, size_t count);
enum ledger_result store_next(struct ledger *ledger, sqlite3_stmt *row);
void store_done(sqlite3_stmt *row);
/* The first column of the only row. */
enum ledger_result store_number(struct ledger *ledger, enum statement statement, int64_t *number,
                                const struct store_value *values, size_t count);
enum ledger_result store_count(struct ledger *ledger, enum statement statement, int *count,
                               const struct store_value *values, size_t values_count);
/* Runs it; `otherwise` where no row was changed. */
enum ledger_result store_change(struct ledger *ledger, enum statement statement,
                                enum ledger_result otherwise, const struct store_value *values,
                                size_t count);
/* Adds a row; *id is its number. LEDGER_ALREADY where a conflict kept it out, and then *id is 0. */
enum ledger_result store_add(struct ledger *ledger, enum statement statement,
                             const struct store_shape *shape, const void *row, int64_t *id);
/* The first row, whole; LEDGER_NONE, and *out untouched, where there is none; after a fault *out is zero. */
enum ledger_result store_find(struct ledger *ledger, enum statement statement,
                              const struct store_shape *shape, void *out,
                              const struct store_value *values, size_t count);
/* The first `most` rows. */
enum ledger_result store_list(struct ledger *ledger, enum statement statement,
                              const struct store_shape *shape, void *rows, size_t most,
                              size_t *found, const struct store_value *values, size_t count);
/* The row that *row stands on; the rest of the struct is zero. */
void store_read(sqlite3_stmt *row, const struct store_shape *shape, void *out);
int64_t store_inserted(const struct ledger *ledger); /* the id of the last row added */

/* Several writes that hold together, inside a transaction or outside: store_step, the writes, and
 * `return store_step_end(ledger, result)`. Outside one they have a transaction to themselves, which
 * is taken back unless result is LEDGER_OK; inside one a fault takes back all of it in the end, so
 * the writes need not look at each other's results. What ends a step with LEDGER_NONE or
 * LEDGER_ALREADY has to say so before it writes. */
void store_step(struct ledger *ledger);
enum ledger_result store_step_end(struct ledger *ledger, enum ledger_result result);

/* Runs one of the statements that open and end transactions: fault or not, and its own fault is none
 * of the transaction's. */
enum ledger_result store_control(struct ledger *ledger, enum statement statement);

/* Forgets the names that are known: after anything was taken back. */
void store_forget_names(struct ledger *ledger);

/* Columns of a row. NULL is 0 or "". A text longer than the room is cut between two characters. */
int64_t store_column(sqlite3_stmt *row, int column);
const char *store_column_text(sqlite3_stmt *row, int column);
void store_column_copy(sqlite3_stmt *row, int column, char *out, size_t size);

/* The same cut for any text. */
void store_copy(const char *text, char *out, size_t size);

/* Notes what SQLite reports about the last call, as a fault of the open transaction. */
enum ledger_result store_fault(struct ledger *ledger, int code);
/* The same for a fault whose sentence is written already. Returns result. */
enum ledger_result store_note(struct ledger *ledger, enum ledger_result result);
/* LEDGER_REFUSED with a reason of our own; store_refuse makes it a fault of the open transaction. */
enum ledger_result store_out_of_turn(struct ledger *ledger, const char *why);
enum ledger_result store_refuse(struct ledger *ledger, const char *why);

/* faults: what SQLite and the system report, turned into the ledger's results and into a sentence
 * that says what to do. */

/* An extended result code of SQLite with the errno behind it (0 none). */
enum ledger_result faults_of_sqlite(int code, int system_error);
/* errno of a system call on one of the ledger's files. */
enum ledger_result faults_of_errno(int system_error);

/* "PATH: what is wrong (detail): what to do". detail "" is left out. Returns result. */
enum ledger_result faults_say(enum ledger_result result, const char *path, const char *detail,
                              char says[LEDGER_SAYS_OCTETS]);

/* files: the ledger's file as it is found, before SQLite opens it, and the small files beside it
 * (.lock, .work). Paths are resolved ones of files_resolve. */

/* The path without links, so that one ledger has one name and one lock. The file need not be there,
 * its folder must. */
enum ledger_result files_resolve(const char *path, char *out, size_t size);

/* What the header says: LEDGER_OK a ledger of this version or an older one, LEDGER_MISSING none or
 * an empty file, LEDGER_FOREIGN, LEDGER_NEWER, LEDGER_DAMAGED where a WAL of another ledger lies
 * beside it, or why it cannot be read. Nothing is changed. *detail is more to say, "" none. */
enum ledger_result files_look(const char *path, const char **detail);

#define LOCK_SUFFIX ".lock"

/* Opens, makes if need be (0640 under the umask), path + suffix. What root makes here and below
 * belongs to the folder's owner, as SQLite makes its -wal belong to the ledger's. */
enum ledger_result files_open_beside(const char *path, const char *suffix, int *descriptor);
/* Takes the lock file for as long as *descriptor is open: LEDGER_HELD where another has it and keeps
 * it for longer than a verb takes. */
enum ledger_result files_lock(const char *path, int *descriptor);
/* Gives path + suffix, made just now, to the folder's owner where root made it. */
enum ledger_result files_give_away(const char *path, const char *suffix);

/* Was there a ledger under this name (as the config has it, not resolved), though none is there now?
 * What tells of it, NULL where nothing does. */
const char *files_tell_of_older(const char *name);
/* Leaves the mark that tells of it. */
void files_mark_made(const char *name);

/* Notes which files are open under the ledger's names, and whether they still stand there:
 * LEDGER_REPLACED, and *detail says which does not. */
void files_note_places(const char *path, struct files_place places[FILES_PLACES]);
enum ledger_result files_in_place(const char *path, const struct files_place places[FILES_PLACES],
                                  const char **detail);
/* Of the files that writing needs, the first that may not be written: its suffix; "" where it is the
 * ledger itself or none. */
const char *files_in_the_way(const char *path);

bool files_exists_beside(const char *path, const char *suffix);
bool files_has_wal(const char *path); /* one with something in it */
void files_remove_beside(const char *path, const char *suffix);
/* Syncs a file that no connection has open. */
enum ledger_result files_sync(const char *path);
/* Renames path + suffix to path and syncs the folder. */
enum ledger_result files_name(const char *path, const char *suffix);

/* migrations: makes a new ledger and brings an older one up to date. */

/* A commit writes whole pages, a text touches some twenty of them: small ones spare the card. A ledger
 * keeps the size that it was made with; a backup, and so what is restored from it, has this one. */
#define STORE_SMALL_PAGES "PRAGMA page_size = 1024"

#define MIGRATIONS_APPLICATION_ID 0x4d505354 /* "MPST"; schema.sql writes it too */
#define MIGRATIONS_VERSION 5                 /* user_version of schema.sql */

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
