/* SPDX-License-Identifier: MIT
 * The schema, and how an older ledger would be brought up to date. */
#include "tests/ledger_room.h"

#include "daemon/ledger/movements.h"
#include "daemon/ledger/store.h"

static const struct migration good_steps[] = {
    {MIGRATIONS_VERSION + 1, "ALTER TABLE machines ADD COLUMN site TEXT NOT NULL DEFAULT ''"},
    {MIGRATIONS_VERSION + 2,
     "UPDATE machines SET site = 'north'; CREATE TABLE sites (name TEXT) STRICT"},
};
static const struct migration bad_steps[] = {
    {MIGRATIONS_VERSION + 1, "ALTER TABLE machines ADD COLUMN site TEXT NOT NULL DEFAULT ''"},
    {MIGRATIONS_VERSION + 2,
     "CREATE TABLE sites (name TEXT) STRICT; INSERT INTO nowhere VALUES (1)"},
    {MIGRATIONS_VERSION + 3, "CREATE TABLE later (name TEXT) STRICT"},
};

static void schema_and_program_agree_on_who_they_are(void **state)
{
    struct room *room = *state;
    int64_t value;
    assert_int_equal(migrations_pragma(room->ledger->connection, "application_id", &value),
                     SQLITE_OK);
    assert_int_equal(value, MIGRATIONS_APPLICATION_ID);
    assert_int_equal(migrations_pragma(room->ledger->connection, "user_version", &value),
                     SQLITE_OK);
    assert_int_equal(value, MIGRATIONS_VERSION);
}

static void the_steps_so_far_lead_to_the_present_version(void **state)
{
    (void)state;
    size_t count;
    const struct migration *steps = migrations_steps(&count);
    assert_int_equal(count, MIGRATIONS_VERSION - 1);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(steps[i].to_version, i + 2);
    }
}

/* The columns of every table, as text. */
static void columns_of(sqlite3 *connection, char *out, size_t size)
{
    sqlite3_stmt *row = NULL;
    size_t length = 0;
    assert_int_equal(sqlite3_prepare_v2(connection,
                                        "SELECT t.name || '.' || c.name || ' ' || c.type || ' ' || "
                                        "c.\"notnull\" || ' ' || coalesce(c.dflt_value, '') "
                                        "FROM pragma_table_list t, pragma_table_xinfo(t.name) c "
                                        "WHERE t.schema = 'main' ORDER BY t.name, c.cid",
                                        -1, &row, NULL),
                     SQLITE_OK);
    while (sqlite3_step(row) == SQLITE_ROW) {
        int wrote = snprintf(out + length, size - length, "%s\n",
                             (const char *)sqlite3_column_text(row, 0));
        length += (size_t)wrote;
        assert_true(length < size);
    }
    (void)sqlite3_finalize(row);
}

/* A ledger of version 1, which had no outcome, comes to be what schema.sql makes, and keeps its
 * rows. */
static void an_old_ledger_comes_to_be_a_new_one(void **state)
{
    static char made[16384], led[16384];
    struct room *room = *state;
    sqlite3 *connection = room->ledger->connection;
    size_t count;
    const struct migration *steps = migrations_steps(&count);
    (void)room_text(room, room->ines, "M12 1340h", ROOM_NOON_S);
    columns_of(connection, made, sizeof made);
    assert_non_null(strstr(made, "texts_in.outcome TEXT"));
    assert_int_equal(sqlite3_exec(connection,
                                  "ALTER TABLE texts_in DROP COLUMN outcome; "
                                  "ALTER TABLE texts_in DROP COLUMN modem; "
                                  "ALTER TABLE parts_out DROP COLUMN modem; "
                                  "ALTER TABLE services DROP COLUMN undated; "
                                  "ALTER TABLE questions DROP COLUMN says; DROP TABLE troubles; "
                                  "DROP TABLE movements; ALTER TABLE put_offs DROP COLUMN at_s; "
                                  "PRAGMA user_version = 1",
                                  NULL, NULL, NULL),
                     SQLITE_OK);
    assert_int_equal(migrations_apply(connection, steps, count), SQLITE_OK);
    columns_of(connection, led, sizeof led);
    assert_string_equal(led, made);
    assert_int_equal(room_number(room->ledger,
                                 "SELECT count(*) FROM texts_in WHERE body = 'M12 1340h' AND "
                                 "outcome IS NULL"),
                     1);
    assert_int_not_equal(
        sqlite3_exec(connection, "UPDATE texts_in SET outcome = 'lost'", NULL, NULL, NULL),
        SQLITE_OK);
}

/* A day of a yard, as the program of that version left it. */
static void lay_out(const struct room *room, const char *dump)
{
    static char sql[64 * 1024];
    sqlite3 *connection = NULL;
    FILE *file = fopen(dump, "r");
    assert_non_null(file);
    size_t length = fread(sql, 1, sizeof sql - 1, file);
    (void)fclose(file);
    assert_in_range(length, 1000, sizeof sql - 2);
    sql[length] = '\0';
    assert_int_equal(sqlite3_open(room->path, &connection), SQLITE_OK);
    assert_int_equal(sqlite3_exec(connection, sql, NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(connection), SQLITE_OK);
}

static void a_ledger_of_version_3_goes_on_with_all_that_it_had(void **state)
{
    static char made[16384], led[16384];
    struct room *room = *state;
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS];
    int64_t version = 0, id = 0;
    lay_out(room, "fixtures/ledgers/version-3.sql");
    assert_null(ledger_open(room->path, LEDGER_READ, &result, says)); /* a verb that only reads */
    assert_int_equal(result, LEDGER_OLDER);
    room_furnish(room);
    assert_int_equal(migrations_pragma(room->ledger->connection, "user_version", &version),
                     SQLITE_OK);
    assert_int_equal(version, MIGRATIONS_VERSION);
    columns_of(room->ledger->connection, led, sizeof led);
    struct ledger *fresh = room_open(":memory:", LEDGER_WRITE);
    columns_of(fresh->connection, made, sizeof made);
    ledger_close(fresh);
    assert_string_equal(led, made);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM pragma_foreign_key_check"), 0);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings"), 6);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings WHERE struck_s > 0"),
                     1);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM services"), 1);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM troubles"), 3);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM put_offs WHERE at_s = "
                                               "unixepoch('2027-03-13 18:05:00')"),
                     1);
    assert_int_equal(machines_id(room->ledger, "TR-9", &id), LEDGER_OK);
    int64_t since_s = 0;
    assert_int_equal(machines_parked(room->ledger, id, &since_s), LEDGER_OK);
    assert_int_not_equal(since_s, 0);
    struct movement booking = {.kind = MOVEMENT_BOOK, .day = 20838, .at_s = ROOM_NOON_S};
    assert_int_equal(movements_add(room->ledger, id, &booking), LEDGER_OK);
}

static void each_step_is_taken_once_in_order(void **state)
{
    struct room *room = *state;
    sqlite3 *connection = room->ledger->connection;
    int64_t version;
    assert_int_equal(migrations_apply(connection, good_steps, 2), SQLITE_OK);
    assert_int_equal(migrations_pragma(connection, "user_version", &version), SQLITE_OK);
    assert_int_equal(version, MIGRATIONS_VERSION + 2);
    assert_int_equal(
        room_number(room->ledger, "SELECT count(*) FROM machines WHERE site = 'north'"), 2);
    assert_int_equal(migrations_apply(connection, good_steps, 2), SQLITE_OK);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM pragma_foreign_key_check"), 0);
}

static void a_step_that_fails_leaves_the_version_before_it_whole(void **state)
{
    struct room *room = *state;
    sqlite3 *connection = room->ledger->connection;
    int64_t version;
    assert_int_not_equal(migrations_apply(connection, bad_steps, 3), SQLITE_OK);
    assert_int_equal(migrations_pragma(connection, "user_version", &version), SQLITE_OK);
    assert_int_equal(version, MIGRATIONS_VERSION + 1);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM sqlite_schema "
                                               "WHERE name IN ('sites', 'later')"),
                     0);
    assert_int_equal(sqlite3_get_autocommit(connection), 1);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(schema_and_program_agree_on_who_they_are),
        cmocka_unit_test(the_steps_so_far_lead_to_the_present_version),
        IN_MEMORY(an_old_ledger_comes_to_be_a_new_one),
        cmocka_unit_test_setup_teardown(a_ledger_of_version_3_goes_on_with_all_that_it_had,
                                        room_folder, room_leave),
        IN_MEMORY(each_step_is_taken_once_in_order),
        IN_MEMORY(a_step_that_fails_leaves_the_version_before_it_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
