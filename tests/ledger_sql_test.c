/* SPDX-License-Identifier: MIT
 * How SQLite goes about the statements that are run for every text: by an index, and without
 * sorting where much could be sorted (EXPLAIN QUERY PLAN, sqlite.org/eqp.html). */
#include "tests/ledger_room.h"

#include "daemon/ledger/store.h"

#define PLAN_OCTETS 2048
static char plan[PLAN_OCTETS];

static void explain(struct room *room, enum statement statement)
{
    char sql[4096];
    sqlite3_stmt *explained = NULL;
    (void)snprintf(sql, sizeof sql, "EXPLAIN QUERY PLAN %s", store_sql(statement));
    assert_int_equal(sqlite3_prepare_v2(room->ledger->connection, sql, -1, &explained, NULL),
                     SQLITE_OK);
    plan[0] = '\0';
    size_t length = 0;
    while (sqlite3_step(explained) == SQLITE_ROW) {
        int written =
            snprintf(plan + length, sizeof plan - length, "%s; ", store_column_text(explained, 3));
        assert_true(written > 0 && length + (size_t)written < sizeof plan);
        length += (size_t)written;
    }
    (void)sqlite3_finalize(explained);
}

static void the_latest_readings_are_looked_up_not_sorted(void **state)
{
    struct room *room = *state;
    explain(room, STATEMENT_READINGS_LATEST);
    assert_non_null(
        strstr(plan, "SEARCH r USING INDEX readings_by_machine (machine_id=? AND read_s<?)"));
    assert_non_null(
        strstr(plan, "SEARCH c USING INDEX meter_changes_by_machine (machine_id=? AND at_s<?)"));
    assert_null(strstr(plan, "TEMP B-TREE"));
    assert_null(strstr(plan, "SCAN"));
}

static void a_yard_is_reckoned_from_the_indexes_alone(void **state)
{
    struct room *room = *state;
    explain(room, STATEMENT_READINGS_RECENT);
    assert_non_null(strstr(plan, "USING COVERING INDEX readings_by_machine"));
    assert_null(strstr(plan, "TEMP B-TREE"));
    explain(room, STATEMENT_SERVICE_LAST);
    assert_non_null(strstr(plan, "USING COVERING INDEX services_by_machine"));
    /* Sorted is where a meter was changed, and only there. */
    const char *sorted = strstr(plan, "TEMP B-TREE");
    assert_non_null(sorted);
    assert_null(strstr(sorted + 1, "TEMP B-TREE"));
}

/* What a text or a turn of the queue runs. SCAN of a whole table grows with the years; of the index
 * of what waits it does not. */
static void nothing_that_a_text_runs_reads_a_whole_table(void **state)
{
    struct room *room = *state;
    static const enum statement statements[] = {
        STATEMENT_PERSON_FIND,
        STATEMENT_MACHINE_FIND,
        STATEMENT_PARKING_OPEN,
        STATEMENT_PARKING_END,
        STATEMENT_PARKING_EACH,
        STATEMENT_PUT_OFF_LATEST,
        STATEMENT_MOVEMENT_LAST,
        STATEMENT_MOVEMENTS_EACH,
        STATEMENT_ARRIVAL_FIND,
        STATEMENT_ARRIVAL_COUNT,
        STATEMENT_TEXT_IN_LACKING,
        STATEMENT_TEXT_IN_APPEND,
        STATEMENT_TEXT_IN_READ,
        STATEMENT_TEXT_IN_NEXT,
        STATEMENT_PARTS_EXPIRE,
        STATEMENT_PARTS_GIVE_WAY,
        STATEMENT_PART_NEXT,
        STATEMENT_PART_NEXT_TIME,
        STATEMENT_PARTS_FAIL_REST,
        STATEMENT_PARTS_RECOVER,
        STATEMENT_PART_REPORTED,
        STATEMENT_TEXTS_SENT,
        STATEMENT_TEXTS_STRANGERS_SINCE,
        STATEMENT_TEXTS_EACH,
        STATEMENT_READING_NEXT_AFTER,
        STATEMENT_READING_FIRST,
        STATEMENT_READINGS_EACH,
        STATEMENT_METER_OFFSET,
        STATEMENT_METER_CHANGES_UNTIL,
        STATEMENT_SERVICE_LAST,
        STATEMENT_SERVICES_EACH,
        STATEMENT_ALERT_RAISE,
        STATEMENT_ALERT_FIND,
        STATEMENT_ALERTS_UNTOLD,
        STATEMENT_ALERTS_OF_CYCLE,
        STATEMENT_ALERTS_VOID_BY_READING,
        STATEMENT_ALERTS_VOID_BY_SERVICE,
        STATEMENT_QUESTION_OPEN,
        STATEMENT_QUESTION_REPLACE,
        STATEMENT_QUESTIONS_WITHDRAW,
        STATEMENT_REFUSALS_SINCE,
        STATEMENT_EFFECT_LAST_TEXT,
        STATEMENT_EFFECTS_OF_TEXT,
        STATEMENT_EFFECTS_UNDONE,
        STATEMENT_MARK_GET,
        STATEMENT_TEXT_IN_OLDEST_WAITING,
    };
    static const char *const small[] = {
        "parts_out_waiting", "parts_out_under_way", "texts_in_waiting", "texts_in_arrived",
        "alerts_untold",     "CONSTANT ROW",        "(subquery"};
    for (size_t i = 0; i < sizeof statements / sizeof statements[0]; i++) {
        explain(room, statements[i]);
        for (const char *scan = strstr(plan, "SCAN"); scan != NULL;
             scan = strstr(scan + 1, "SCAN")) {
            char line[256];
            bool grows = true;
            (void)snprintf(line, sizeof line, "%.*s", (int)strcspn(scan, ";"), scan);
            for (size_t k = 0; k < sizeof small / sizeof small[0]; k++) {
                grows = grows && strstr(line, small[k]) == NULL;
            }
            if (grows) {
                fail_msg("%s: %s", store_sql(statements[i]), line);
            }
        }
    }
}

static void every_statement_has_its_sql(void **state)
{
    (void)state;
    for (int i = 0; i < STATEMENT_COUNT; i++) {
        assert_non_null(store_sql((enum statement)i));
    }
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(the_latest_readings_are_looked_up_not_sorted),
        IN_MEMORY(a_yard_is_reckoned_from_the_indexes_alone),
        IN_MEMORY(nothing_that_a_text_runs_reads_a_whole_table),
        cmocka_unit_test(every_statement_has_its_sql),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
