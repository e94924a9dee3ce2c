/* SPDX-License-Identifier: MIT
 * What a text costs the ledger: the statements that are run for one reading from the text to the
 * network's "taken", counted by SQLite itself (sqlite.org/c3ref/trace_v2.html). */
#include "tests/desk_room.h"

#include "daemon/ledger/store.h"

/* Of a reading with its answer; a little above what it is. */
#define STATEMENTS_MOST 46

struct count {
    int all;
    bool told; /* print each */
};

static int count_one(unsigned int what, void *ctx, void *statement, void *sql)
{
    struct count *count = ctx;
    (void)what;
    (void)sql;
    if (count->told) {
        print_message("%s\n", sqlite3_sql(statement));
    }
    count->all++;
    return 0;
}

static void a_reading_runs_few_statements(void **state)
{
    struct room *room = *state;
    struct count count = {.told = getenv("LEDGER_COST") != NULL};
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_true(take_out(room));
    at(room, "2027-04-01 12:00");
    assert_int_equal(
        sqlite3_trace_v2(room->ledger->connection, SQLITE_TRACE_STMT, count_one, &count),
        SQLITE_OK);
    receive(room, TOM, "M12 41.5h");
    int in = count.all;
    assert_true(take_out(room));
    print_message("a reading: %d statements for the text in, %d for the text out\n", in,
                  count.all - in);
    assert_in_range(count.all, 1, STATEMENTS_MOST);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_reading_runs_few_statements, room_open, room_close)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
