/* SPDX-License-Identifier: MIT
 * store: runs prepared statements and turns what they report into results.
 *
 * After a full disk, an I/O error or lack of memory SQLite may roll back the transaction by itself.
 * What the house would write next would then be committed on its own, half a text: so the
 * transaction counts as broken and everything is refused until its owner ends it. */
#include "daemon/ledger/store.h"

#include <assert.h>
#include <string.h>

#include "daemon/ledger/faults.h"

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

enum ledger_result store_fault(struct ledger *ledger, int code)
{
    int system_error = sqlite3_system_errno(ledger->connection);
    if ((code & 0xff) == SQLITE_IOERR) {
        int noted = errno_of_files(ledger->connection);
        system_error = noted != 0 ? noted : system_error;
    }
    enum ledger_result result = faults_of_sqlite(code, system_error);
    ledger->hurt = ledger->hurt || result == LEDGER_DAMAGED || result == LEDGER_IO;
    if (ledger->transaction == STORE_TRANSACTION_OPEN &&
        sqlite3_get_autocommit(ledger->connection) != 0) {
        ledger->transaction = STORE_TRANSACTION_BROKEN;
        ledger->broken_by = result;
    }
    (void)faults_say(result, ledger->path, sqlite3_errmsg(ledger->connection), ledger->says);
    return store_trouble(ledger, result);
}

enum ledger_result store_trouble(struct ledger *ledger, enum ledger_result result)
{
    if (result == LEDGER_FULL || result == LEDGER_READ_ONLY || result == LEDGER_IO ||
        result == LEDGER_DAMAGED) {
        memcpy(ledger->trouble, ledger->says, sizeof ledger->trouble);
    }
    return result;
}

enum ledger_result store_refuse(struct ledger *ledger, const char *why)
{
    return faults_say(LEDGER_REFUSED, ledger->path, why, ledger->says);
}

enum ledger_result store_prepare(struct ledger *ledger)
{
    for (int i = 0; i < STATEMENT_COUNT; i++) {
        int code = sqlite3_prepare_v3(ledger->connection, statement_sql((enum statement)i), -1,
                                      SQLITE_PREPARE_PERSISTENT, &ledger->statements[i], NULL);
        if (code != SQLITE_OK) {
            return store_fault(ledger, code);
        }
    }
    return LEDGER_OK;
}

void store_finalize(struct ledger *ledger)
{
    for (int i = 0; i < STATEMENT_COUNT; i++) {
        (void)sqlite3_finalize(ledger->statements[i]); /* repeats the last step's result */
        ledger->statements[i] = NULL;
    }
}

static int bind(sqlite3_stmt *statement, int position, const struct store_value *value)
{
    switch (value->kind) {
    case STORE_INTEGER:
        return sqlite3_bind_int64(statement, position, value->integer);
    case STORE_TEXT:
        return sqlite3_bind_text(statement, position, value->text, -1, SQLITE_STATIC);
    case STORE_NULL:
        break;
    }
    return sqlite3_bind_null(statement, position);
}

enum ledger_result store_first(struct ledger *ledger, enum statement statement, sqlite3_stmt **row,
                               const struct store_value *values, size_t count)
{
    *row = ledger->statements[statement];
    assert(!sqlite3_stmt_busy(*row));
    if (ledger->transaction == STORE_TRANSACTION_BROKEN) {
        return ledger->broken_by;
    }
    for (size_t i = 0; i < count; i++) {
        int code = bind(*row, (int)i + 1, &values[i]);
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

int64_t store_inserted(const struct ledger *ledger)
{
    return sqlite3_last_insert_rowid(ledger->connection);
}

enum ledger_result store_step(struct ledger *ledger)
{
    return store_run(ledger, STATEMENT_STEP_SAVEPOINT, STORE_NO_VALUES);
}

enum ledger_result store_step_end(struct ledger *ledger, enum ledger_result result)
{
    if (result != LEDGER_OK) {
        char says[LEDGER_SAYS_OCTETS]; /* the first fault is the one to tell */
        memcpy(says, ledger->says, sizeof says);
        (void)store_run(ledger, STATEMENT_STEP_BACK, STORE_NO_VALUES);
        (void)store_run(ledger, STATEMENT_STEP_RELEASE, STORE_NO_VALUES);
        memcpy(ledger->says, says, sizeof says);
        return result;
    }
    result = store_run(ledger, STATEMENT_STEP_RELEASE, STORE_NO_VALUES);
    if (result != LEDGER_OK && ledger->transaction == STORE_TRANSACTION_NONE &&
        sqlite3_get_autocommit(ledger->connection) == 0) {
        (void)store_run(ledger, STATEMENT_ROLLBACK, STORE_NO_VALUES);
    }
    return result;
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
