/* SPDX-License-Identifier: MIT
 * migrations: schema.sql is always the whole of the present version, so that it can be read; a new
 * ledger is made from it at once. An older one goes through the steps, one at a time. */
#include "daemon/ledger/store.h"

#include <stdio.h>

static const char schema[] = {
#include "schema.inc"
    0};

/* A step is added here when schema.sql changes, with the next number; a test holds what they lead to
 * against schema.sql. */
static const struct migration steps_so_far[] = {
    {2, "ALTER TABLE texts_in ADD COLUMN outcome TEXT "
        "CHECK (outcome IN ('asked', 'refused', 'not-understood'))"},
    {3,
     "ALTER TABLE services ADD COLUMN undated INTEGER NOT NULL DEFAULT 0 CHECK (undated IN (0, 1));"
     "ALTER TABLE questions ADD COLUMN says TEXT NOT NULL DEFAULT '';"
     "CREATE TABLE troubles (id INTEGER PRIMARY KEY, "
     "machine_id INTEGER REFERENCES machines (id), "
     "weight INTEGER NOT NULL CHECK (weight BETWEEN 0 AND 2), since_s INTEGER NOT NULL, "
     "person_id INTEGER REFERENCES people (id), text_id INTEGER REFERENCES texts_in (id), "
     "words TEXT NOT NULL, told_s INTEGER, solved_s INTEGER, "
     "solved_by INTEGER REFERENCES people (id), solved_words TEXT, struck_s INTEGER, "
     "struck_by INTEGER REFERENCES people (id), struck_why TEXT, "
     "CHECK ((struck_s IS NULL) = (struck_why IS NULL))) STRICT;"
     "CREATE INDEX troubles_open ON troubles (machine_id, since_s) "
     "WHERE weight > 0 AND solved_s IS NULL AND struck_s IS NULL;"
     "CREATE INDEX troubles_untold ON troubles (since_s) "
     "WHERE told_s IS NULL AND struck_s IS NULL;"
     "CREATE INDEX troubles_by_person ON troubles (person_id, told_s);"
     "CREATE INDEX troubles_by_text ON troubles (text_id)"},
    {4,
     "CREATE TABLE movements (id INTEGER PRIMARY KEY, "
     "machine_id INTEGER NOT NULL REFERENCES machines (id), "
     "what TEXT NOT NULL CHECK (what IN ('book', 'in', 'out', 'gone', 'back')), day INTEGER, "
     "at_s INTEGER NOT NULL, person_id INTEGER REFERENCES people (id), "
     "text_id INTEGER REFERENCES texts_in (id), struck_s INTEGER, "
     "struck_by INTEGER REFERENCES people (id), struck_why TEXT, "
     "CHECK (what IN ('book', 'gone') OR day IS NULL), "
     "CHECK (what <> 'book' OR day IS NOT NULL), "
     "CHECK ((struck_s IS NULL) = (struck_why IS NULL))) STRICT;"
     "CREATE INDEX movements_by_machine ON movements (machine_id, at_s);"
     "ALTER TABLE put_offs ADD COLUMN at_s INTEGER;"
     "UPDATE put_offs SET at_s = said_s FROM (SELECT e.row_id AS said_id, t.received_s AS said_s "
     "FROM effects e JOIN texts_in t ON t.id = e.text_id WHERE e.what = 'later') "
     "WHERE said_id = put_offs.id;"
     "INSERT OR IGNORE INTO marks (name, value) VALUES ('yard', random() & 0xffffffffffff)"},
    {5, "ALTER TABLE texts_in ADD COLUMN modem TEXT;"
        "ALTER TABLE parts_out ADD COLUMN modem TEXT"},
};

const struct migration *migrations_steps(size_t *count)
{
    *count = sizeof steps_so_far / sizeof steps_so_far[0];
    return steps_so_far;
}

int migrations_pragma(sqlite3 *connection, const char *name, int64_t *value)
{
    char sql[48];
    sqlite3_stmt *statement = NULL;
    int length = snprintf(sql, sizeof sql, "PRAGMA %s", name);
    if (length < 0 || (size_t)length >= sizeof sql) {
        return SQLITE_TOOBIG;
    }
    int code = sqlite3_prepare_v2(connection, sql, -1, &statement, NULL);
    if (code == SQLITE_OK) {
        code = sqlite3_step(statement);
    }
    if (code == SQLITE_ROW) {
        *value = sqlite3_column_int64(statement, 0);
        code = SQLITE_OK;
    }
    int ended = sqlite3_finalize(statement);
    return code == SQLITE_OK ? ended : code;
}

/* Runs sql and sets user_version (unless 0: the SQL does it) in one transaction. */
static int in_one_transaction(sqlite3 *connection, const char *sql, int version)
{
    char set_version[48] = "";
    if (version != 0) {
        (void)snprintf(set_version, sizeof set_version, "PRAGMA user_version = %d", version);
    }
    int code = sqlite3_exec(connection, "BEGIN IMMEDIATE", NULL, NULL, NULL);
    if (code != SQLITE_OK) {
        return code;
    }
    code = sqlite3_exec(connection, sql, NULL, NULL, NULL);
    if (code == SQLITE_OK) {
        code = sqlite3_exec(connection, set_version, NULL, NULL, NULL);
    }
    if (code == SQLITE_OK) {
        code = sqlite3_exec(connection, "COMMIT", NULL, NULL, NULL);
    }
    if (code != SQLITE_OK && sqlite3_get_autocommit(connection) == 0) {
        (void)sqlite3_exec(connection, "ROLLBACK", NULL, NULL, NULL);
    }
    return code;
}

int migrations_make(sqlite3 *connection)
{
    int code = sqlite3_exec(connection, STORE_SMALL_PAGES, NULL, NULL, NULL);
    return code == SQLITE_OK ? in_one_transaction(connection, schema, 0) : code;
}

int migrations_apply(sqlite3 *connection, const struct migration *steps, size_t count)
{
    int64_t version = 0;
    int code = migrations_pragma(connection, "user_version", &version);
    for (size_t i = 0; i < count && code == SQLITE_OK; i++) {
        if (steps[i].to_version > version) {
            code = in_one_transaction(connection, steps[i].sql, steps[i].to_version);
        }
    }
    return code;
}
