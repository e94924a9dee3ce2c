/* SPDX-License-Identifier: MIT
 * The schema, and how an older ledger would be brought up to date. */
#include "tests/ledger_room.h"

#include "daemon/ledger/migrations.h"

static const struct migration good_steps[] = {
    {2, "ALTER TABLE machines ADD COLUMN site TEXT NOT NULL DEFAULT ''"},
    {3, "UPDATE machines SET site = 'north'; CREATE TABLE sites (name TEXT) STRICT"},
};
static const struct migration bad_steps[] = {
    {2, "ALTER TABLE machines ADD COLUMN site TEXT NOT NULL DEFAULT ''"},
    {3, "CREATE TABLE sites (name TEXT) STRICT; INSERT INTO nowhere VALUES (1)"},
    {4, "CREATE TABLE later (name TEXT) STRICT"},
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

static void each_step_is_taken_once_in_order(void **state)
{
    struct room *room = *state;
    sqlite3 *connection = room->ledger->connection;
    int64_t version;
    assert_int_equal(migrations_apply(connection, good_steps, 2), SQLITE_OK);
    assert_int_equal(migrations_pragma(connection, "user_version", &version), SQLITE_OK);
    assert_int_equal(version, 3);
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
    assert_int_equal(version, 2);
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
        IN_MEMORY(each_step_is_taken_once_in_order),
        IN_MEMORY(a_step_that_fails_leaves_the_version_before_it_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
