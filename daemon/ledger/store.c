/* SPDX-License-Identifier: MIT
 * store: runs prepared statements and turns what they report into results and sentences.
 *
 * One table leads from SQLite's primary codes to results, one from errno; an I/O error of SQLite
 * hides why, and the errno behind it tells a full or a read-only disk from a broken one.
 *
 * The first fault of a transaction is kept in it, and everything is refused with that until its owner
 * ends it: who writes one thing after the other need look only once. After a full disk, an I/O error
 * or lack of memory SQLite may even have rolled back by itself, and what the house would write next
 * would be committed on its own, half a text. */
#include "daemon/ledger/store.h"

#include <assert.h>
#include <errno.h>
#include <stdio.h>
#include <string.h>

static const char *const texts_of_sql[STATEMENT_COUNT] = {
#define STATEMENT(name, sql) [STATEMENT_##name] = sql,
#include "daemon/ledger/sql.h"
#undef STATEMENT
};

const char *store_sql(enum statement statement)
{
    return texts_of_sql[statement];
}

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

/* A page that the disk cannot read (SQLITE_IOERR_CORRUPTFS is its EIO) is a fault of the disk: the
 * ledger is damaged where SQLite read a page and found it wrong. */
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

enum { NO_INPUT = 66, IO_ERROR = 74 };

/* What is wrong, what to do about it, and the status of sysexits.h. */
static const struct {
    const char *wrong, *todo;
    int exit_status;
} sentences[] = {
    [LEDGER_OK] = {"all is well", "nothing to do", IO_ERROR},
    [LEDGER_NONE] = {"no such row", "nothing to do", IO_ERROR},
    [LEDGER_ALREADY] = {"there already", "nothing to do", IO_ERROR},
    [LEDGER_HELD] = {"another meterpost holds this ledger",
                     "ask the running daemon, or stop it first", IO_ERROR},
    [LEDGER_MISSING] = {"no such file or folder",
                        "the config names it, as ledger = \"my.db\"; `meterpost run` and `text` "
                        "make the file, not its folder",
                        NO_INPUT},
    [LEDGER_FOREIGN] = {"this is not a ledger of meterpost",
                        "it was left as it is; name another file", NO_INPUT},
    [LEDGER_NEWER] = {"written by a newer meterpost",
                      "it was left as it is; install that version or restore an older backup",
                      NO_INPUT},
    [LEDGER_READ_ONLY] = {"permission denied, or the disk is read-only",
                          "to write, the user of meterpost must own file and folder; to read, "
                          "join its group; check the disk",
                          IO_ERROR},
    [LEDGER_FULL] = {"the disk is full", "make room; texts wait in the modem until then", IO_ERROR},
    [LEDGER_DAMAGED] = {"the ledger is damaged",
                        "stop meterpost, keep the file and its -wal, restore the last backup",
                        IO_ERROR},
    [LEDGER_BUSY] = {"another program has locked the ledger",
                     "close what has it open, a database browser or a copying tool; texts wait in "
                     "the modem until then",
                     IO_ERROR},
    [LEDGER_IO] = {"the disk reports an error", "look at the system log, check the disk", IO_ERROR},
    [LEDGER_OLDER] = {"written by an older meterpost",
                      "start `meterpost run` once, it brings the ledger up to date", NO_INPUT},
    [LEDGER_VANISHED] = {"the ledger that was here is gone",
                         "mount its disk, or put the last backup here; to begin with an empty one "
                         "remove what is named in brackets",
                         NO_INPUT},
    [LEDGER_REPLACED] = {"the ledger was taken away while in use",
                         "nothing is noted, texts wait in the modem: put back what was here, or "
                         "restart meterpost to go on with what is",
                         IO_ERROR},
    [LEDGER_REFUSED] = {"a fault of the program: the ledger refused it", "please report it",
                        IO_ERROR},
};

int ledger_exit_status(enum ledger_result result)
{
    return sentences[result].exit_status;
}

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

/* The errno of the call that failed, as SQLite's file layer noted it with the file: that of the
 * connection may be an older one, since a COMMIT that fails does not set it. 0 for none. */
static int errno_of_files(sqlite3 *connection)
{
    int system_error = 0;
    sqlite3_file *log = NULL; /* the WAL */
    (void)sqlite3_file_control(connection, "main", SQLITE_FCNTL_JOURNAL_POINTER, &log);
    if (log != NULL && log->pMethods != NULL) {
        (void)log->pMethods->xFileControl(log, SQLITE_FCNTL_LAST_ERRNO, &system_error);
    }
    if (system_error == 0) {
        (void)sqlite3_file_control(connection, "main", SQLITE_FCNTL_LAST_ERRNO, &system_error);
    }
    return system_error;
}

static enum ledger_result trouble(struct ledger *ledger, enum ledger_result result)
{
    if (result == LEDGER_FULL || result == LEDGER_READ_ONLY || result == LEDGER_IO ||
        result == LEDGER_DAMAGED || result == LEDGER_BUSY || result == LEDGER_REPLACED) {
        ledger->troubled = result;
        memcpy(ledger->trouble, ledger->says, sizeof ledger->trouble);
    }
    return result;
}

/* Says it, and keeps what is said of the disk for who asks for the ledger's health. */
static enum ledger_result report(struct ledger *ledger, int code)
{
    int system_error = sqlite3_system_errno(ledger->connection);
    if ((code & 0xff) == SQLITE_IOERR) {
        int noted = errno_of_files(ledger->connection);
        system_error = noted != 0 ? noted : system_error;
    }
    enum ledger_result result = faults_of_sqlite(code, system_error);
    ledger->hurt = ledger->hurt || result == LEDGER_DAMAGED || result == LEDGER_IO;
    (void)faults_say(result, ledger->path, sqlite3_errmsg(ledger->connection), ledger->says);
    return trouble(ledger, result);
}

static enum ledger_result latch(struct ledger *ledger, enum ledger_result result)
{
    if (ledger->open && ledger->fault == LEDGER_OK) {
        ledger->fault = result;
    }
    return result;
}

enum ledger_result store_fault(struct ledger *ledger, int code)
{
    return latch(ledger, report(ledger, code));
}

enum ledger_result store_note(struct ledger *ledger, enum ledger_result result)
{
    return latch(ledger, trouble(ledger, result));
}

enum ledger_result store_out_of_turn(struct ledger *ledger, const char *why)
{
    return faults_say(LEDGER_REFUSED, ledger->path, why, ledger->says);
}

enum ledger_result store_refuse(struct ledger *ledger, const char *why)
{
    return latch(ledger, store_out_of_turn(ledger, why));
}

static enum ledger_result compile(struct ledger *ledger, enum statement statement)
{
    int code = sqlite3_prepare_v3(ledger->connection, store_sql(statement), -1,
                                  SQLITE_PREPARE_PERSISTENT, &ledger->statements[statement], NULL);
    if (code == SQLITE_ERROR) {
        return store_note(ledger, faults_say(LEDGER_FOREIGN, ledger->path,
                                             "its tables are not of its version", ledger->says));
    }
    return code == SQLITE_OK ? LEDGER_OK : store_fault(ledger, code);
}

enum ledger_result store_prepare(struct ledger *ledger)
{
    enum ledger_result result = LEDGER_OK;
    for (int i = 0; i < STATEMENT_COUNT && result == LEDGER_OK; i++) {
        bool kept = i <= STATEMENT_DESK_BACK;
        if (kept || ledger->writes) {
            result = compile(ledger, (enum statement)i);
        }
        if (!kept) {
            (void)sqlite3_finalize(ledger->statements[i]); /* was never run */
            ledger->statements[i] = NULL;
        }
    }
    return result;
}

enum ledger_result store_statement(struct ledger *ledger, enum statement statement,
                                   sqlite3_stmt **compiled)
{
    enum ledger_result result = ledger->fault;
    if (result == LEDGER_OK && ledger->statements[statement] == NULL) {
        result = compile(ledger, statement);
    }
    *compiled = ledger->statements[statement];
    return result;
}

void store_finalize(struct ledger *ledger)
{
    for (int i = 0; i < STATEMENT_COUNT; i++) {
        (void)sqlite3_finalize(ledger->statements[i]); /* repeats the last step's result */
        ledger->statements[i] = NULL;
    }
}

static int bind(sqlite3_stmt *statement, int position, struct store_value value)
{
    switch (value.kind) {
    case STORE_INTEGER:
        return sqlite3_bind_int64(statement, position, value.integer);
    case STORE_TEXT:
        return sqlite3_bind_text(statement, position, value.text, -1, SQLITE_STATIC);
    case STORE_NULL:
        break;
    }
    return sqlite3_bind_null(statement, position);
}

enum ledger_result store_first(struct ledger *ledger, enum statement statement, sqlite3_stmt **row,
                               const struct store_value *values, size_t count)
{
    enum ledger_result result = store_statement(ledger, statement, row);
    assert(!sqlite3_stmt_busy(*row));
    if (result != LEDGER_OK) {
        return result;
    }
    for (size_t i = 0; i < count; i++) {
        int code = bind(*row, (int)i + 1, values[i]);
        if (code != SQLITE_OK) {
            return store_fault(ledger, code);
        }
    }
    return store_next(ledger, *row);
}

enum ledger_result store_next(struct ledger *ledger, sqlite3_stmt *row)
{
    int code = sqlite3_step(row);
    if (code == SQLITE_ROW) {
        return LEDGER_OK;
    }
    enum ledger_result result = code == SQLITE_DONE ? LEDGER_NONE : store_fault(ledger, code);
    store_done(row);
    return result;
}

void store_done(sqlite3_stmt *row)
{
    (void)sqlite3_reset(row); /* repeats the last step's result */
    (void)sqlite3_clear_bindings(row);
}

enum ledger_result store_run(struct ledger *ledger, enum statement statement,
                             const struct store_value *values, size_t count)
{
    sqlite3_stmt *row;
    enum ledger_result result = store_first(ledger, statement, &row, values, count);
    if (result == LEDGER_OK) {
        store_done(row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result store_number(struct ledger *ledger, enum statement statement, int64_t *number,
                                const struct store_value *values, size_t count)
{
    sqlite3_stmt *row;
    enum ledger_result result = store_first(ledger, statement, &row, values, count);
    *number = 0;
    if (result == LEDGER_OK) {
        *number = store_column(row, 0);
        store_done(row);
    }
    return result;
}

enum ledger_result store_count(struct ledger *ledger, enum statement statement, int *count,
                               const struct store_value *values, size_t values_count)
{
    int64_t number;
    enum ledger_result result = store_number(ledger, statement, &number, values, values_count);
    *count = (int)number;
    return result;
}

enum ledger_result store_change(struct ledger *ledger, enum statement statement,
                                enum ledger_result otherwise, const struct store_value *values,
                                size_t count)
{
    enum ledger_result result = store_run(ledger, statement, values, count);
    if (result == LEDGER_OK && sqlite3_changes(ledger->connection) == 0) {
        return otherwise;
    }
    return result;
}

/* A whole number of one of the widths that store_read fills. */
static int64_t number_at(const char *member, size_t size)
{
    int64_t wide = 0;
    int32_t narrow = 0;
    if (size == sizeof wide) {
        memcpy(&wide, member, sizeof wide);
        return wide;
    }
    if (size == sizeof narrow) {
        memcpy(&narrow, member, sizeof narrow);
        return narrow;
    }
    assert(size == sizeof(uint8_t));
    return *(const uint8_t *)member;
}

static struct store_value value_of(const struct store_field *field, const void *row)
{
    const char *member = (const char *)row + field->offset;
    int64_t number = 0;
    switch (field->kind) {
    case STORE_NUMBER:
    case STORE_ID:
        number = number_at(member, field->size);
        return field->kind == STORE_ID ? store_id(number) : store_integer(number);
    case STORE_WORDS:
        return store_text(member);
    case STORE_PHRASE:
        break;
    }
    return store_id(0);
}

enum ledger_result store_add(struct ledger *ledger, enum statement statement,
                             const struct store_shape *shape, const void *row, int64_t *id)
{
    struct store_value values[STORE_FIELDS_MOST];
    sqlite3_stmt *insert;
    enum ledger_result result = store_statement(ledger, statement, &insert);
    size_t taken = (size_t)sqlite3_bind_parameter_count(insert); /* 0 for none */
    assert(taken <= shape->count && taken <= STORE_FIELDS_MOST);
    for (size_t i = 0; i < taken; i++) {
        values[i] = value_of(&shape->fields[i], row);
    }
    result = result == LEDGER_OK ? store_change(ledger, statement, LEDGER_ALREADY, values, taken)
                                 : result;
    *id = result == LEDGER_OK ? store_inserted(ledger) : 0;
    return result;
}

static void read_field(sqlite3_stmt *row, int column, const struct store_field *field, char *member)
{
    int64_t number = 0;
    const char *phrase = NULL;
    switch (field->kind) {
    case STORE_NUMBER:
    case STORE_ID:
        number = store_column(row, column);
        if (field->size == sizeof number) {
            memcpy(member, &number, sizeof number);
        } else if (field->size == sizeof(int32_t)) {
            memcpy(member, &(int32_t){(int32_t)number}, sizeof(int32_t));
        } else {
            assert(field->size == sizeof(uint8_t));
            *member = (char)number;
        }
        break;
    case STORE_WORDS:
        store_column_copy(row, column, member, field->size);
        break;
    case STORE_PHRASE:
        phrase = store_column_text(row, column);
        memcpy(member, &phrase, sizeof phrase);
        break;
    }
}

void store_read(sqlite3_stmt *row, const struct store_shape *shape, void *out)
{
    memset(out, 0, shape->size);
    for (size_t i = 0; i < shape->count; i++) {
        read_field(row, (int)i, &shape->fields[i], (char *)out + shape->fields[i].offset);
    }
}

enum ledger_result store_find(struct ledger *ledger, enum statement statement,
                              const struct store_shape *shape, void *out,
                              const struct store_value *values, size_t count)
{
    sqlite3_stmt *row;
    enum ledger_result result = store_first(ledger, statement, &row, values, count);
    if (result == LEDGER_OK) {
        store_read(row, shape, out);
        store_done(row);
    } else if (result != LEDGER_NONE) {
        memset(out, 0, shape->size);
    }
    return result;
}

enum ledger_result store_list(struct ledger *ledger, enum statement statement,
                              const struct store_shape *shape, void *rows, size_t most,
                              size_t *found, const struct store_value *values, size_t count)
{
    sqlite3_stmt *row;
    *found = 0;
    enum ledger_result result = store_first(ledger, statement, &row, values, count);
    while (result == LEDGER_OK && *found < most) {
        store_read(row, shape, (char *)rows + (*found)++ * shape->size);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

int64_t store_inserted(const struct ledger *ledger)
{
    return sqlite3_last_insert_rowid(ledger->connection);
}

enum ledger_result store_control(struct ledger *ledger, enum statement statement)
{
    int code = sqlite3_step(ledger->statements[statement]);
    enum ledger_result result = code == SQLITE_DONE ? LEDGER_OK : report(ledger, code);
    store_done(ledger->statements[statement]);
    return result;
}

void store_step(struct ledger *ledger)
{
    bool own = ledger->steps > 0 || !ledger->open;
    if (own && ledger->steps++ == 0) {
        ledger->fault = ledger_begin(ledger);
        ledger->open = true; /* begun or not: store_step_end ends it */
    }
}

enum ledger_result store_step_end(struct ledger *ledger, enum ledger_result result)
{
    result = ledger->fault != LEDGER_OK ? ledger->fault : result;
    if (ledger->steps > 0 && --ledger->steps == 0) {
        result = ledger_end(ledger, result);
    }
    return result;
}

void store_forget_names(struct ledger *ledger)
{
    memset(ledger->names, 0, sizeof ledger->names);
    ledger->next_name = 0;
}

int64_t store_column(sqlite3_stmt *row, int column)
{
    return sqlite3_column_int64(row, column);
}

const char *store_column_text(sqlite3_stmt *row, int column)
{
    const unsigned char *text = sqlite3_column_text(row, column);
    return text != NULL ? (const char *)text : "";
}

void store_column_copy(sqlite3_stmt *row, int column, char *out, size_t size)
{
    store_copy(store_column_text(row, column), out, size);
}

void store_copy(const char *text, char *out, size_t size)
{
    size_t length = strlen(text);
    if (length >= size) {
        length = size - 1;
        while (length > 0 && ((unsigned char)text[length] & 0xc0) == 0x80) {
            length--; /* never half a character */
        }
    }
    memcpy(out, text, length);
    out[length] = '\0';
}
