/* SPDX-License-Identifier: MIT
 * Alerts: once for each machine, plan, cycle and stage among those that are not void. */
#include "tests/ledger_room.h"

#include "daemon/ledger/alerts.h"

static struct alert_row due(struct room *room, int64_t cycle, const char *stage)
{
    struct alert_row row = {
        .machine_id = room->m12, .plan = "drive", .cycle = cycle, .raised_s = ROOM_NOON_S};
    (void)snprintf(row.stage, sizeof row.stage, "%s", stage);
    return row;
}

static void an_alert_is_raised_exactly_once(void **state)
{
    struct room *room = *state;
    struct alert_row row = due(room, 1, "due");
    assert_int_equal(alerts_raise(room->ledger, &row), LEDGER_OK);
    int64_t first = row.id;
    for (int i = 0; i < 5; i++) {
        row.id = 0;
        row.raised_s += 60;
        assert_int_equal(alerts_raise(room->ledger, &row), LEDGER_ALREADY);
        assert_int_equal(row.id, first);
    }
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM alerts"), 1);
}

static void machine_plan_cycle_and_stage_each_make_another(void **state)
{
    struct room *room = *state;
    struct alert_row other_machine = due(room, 1, "due");
    struct alert_row other_plan = due(room, 1, "due");
    other_machine.machine_id = room->m14;
    (void)snprintf(other_plan.plan, sizeof other_plan.plan, "engine");
    struct alert_row rows[] = {due(room, 1, "due"), due(room, 2, "due"), due(room, 1, "overdue"),
                               other_machine, other_plan};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_int_equal(alerts_raise(room->ledger, &rows[i]), LEDGER_OK);
    }
}

static void a_void_one_makes_room_for_a_true_one(void **state)
{
    struct room *room = *state;
    struct alert_row row = due(room, 1, "due");
    assert_int_equal(alerts_raise(room->ledger, &row), LEDGER_OK);
    assert_int_equal(alerts_void(room->ledger, row.id, ROOM_NOON_S + 1), LEDGER_OK);
    assert_int_equal(alerts_void(room->ledger, row.id, ROOM_NOON_S + 2), LEDGER_ALREADY);
    assert_int_equal(alerts_raise(room->ledger, &row), LEDGER_OK);
    assert_int_equal(alerts_raise(room->ledger, &row), LEDGER_ALREADY);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM alerts"), 2);
}

static void what_was_told_is_no_longer_waiting_to_be(void **state)
{
    struct room *room = *state;
    struct alert_row rows[3];
    size_t count;
    struct alert_row one = due(room, 1, "coming-up"), two = due(room, 1, "due"),
                     void_one = due(room, 1, "overdue");
    one.raised_s += 60; /* raised first, stamped later */
    assert_int_equal(alerts_raise(room->ledger, &one), LEDGER_OK);
    assert_int_equal(alerts_raise(room->ledger, &two), LEDGER_OK);
    assert_int_equal(alerts_raise(room->ledger, &void_one), LEDGER_OK);
    assert_int_equal(alerts_void(room->ledger, void_one.id, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(alerts_untold(room->ledger, 3, rows, &count), LEDGER_OK);
    assert_int_equal(count, 2);
    assert_string_equal(rows[0].stage, "due");
    assert_int_equal(alerts_untold(room->ledger, 1, rows, &count), LEDGER_OK);
    assert_int_equal(count, 1);
    assert_int_equal(alerts_told(room->ledger, two.id, 0, ROOM_NOON_S + 5), LEDGER_OK);
    assert_int_equal(alerts_told(room->ledger, 999, 0, ROOM_NOON_S + 5), LEDGER_NONE);
    assert_int_equal(alerts_untold(room->ledger, 3, rows, &count), LEDGER_OK);
    assert_int_equal(count, 1);
    assert_string_equal(rows[0].stage, "coming-up");
}

static void the_last_of_a_cycle_is_the_latest_that_stands(void **state)
{
    struct room *room = *state;
    struct alert_row early = due(room, 1, "coming-up"), late = due(room, 1, "due"), found;
    late.raised_s += 60;
    assert_int_equal(alerts_raise(room->ledger, &early), LEDGER_OK);
    assert_int_equal(alerts_raise(room->ledger, &late), LEDGER_OK);
    assert_int_equal(alerts_told(room->ledger, late.id, 0, ROOM_NOON_S + 70), LEDGER_OK);
    assert_int_equal(alerts_last(room->ledger, room->m12, "drive", 1, &found), LEDGER_OK);
    assert_string_equal(found.stage, "due");
    assert_int_equal(found.told_s, ROOM_NOON_S + 70);
    assert_int_equal(alerts_void(room->ledger, late.id, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(alerts_last(room->ledger, room->m12, "drive", 1, &found), LEDGER_OK);
    assert_string_equal(found.stage, "coming-up");
    assert_int_equal(alerts_last(room->ledger, room->m12, "drive", 2, &found), LEDGER_NONE);
}

static void count_void(void *ctx, const struct alert_row *row, bool is_void)
{
    int *counts = ctx;
    assert_string_equal(row->plan, "drive");
    counts[is_void ? 1 : 0]++;
}

static void a_check_of_the_level_does_not_hide_the_stage_told(void **state)
{
    struct room *room = *state;
    struct alert_row told = due(room, 1, "due"), check = due(room, 1, "unchecked"), found;
    check.raised_s += 60;
    assert_int_equal(alerts_raise(room->ledger, &told), LEDGER_OK);
    assert_int_equal(alerts_raise(room->ledger, &check), LEDGER_OK);
    assert_int_equal(alerts_last(room->ledger, room->m12, "drive", 1, &found), LEDGER_OK);
    assert_string_equal(found.stage, "due");
}

static void the_history_shows_void_ones_too(void **state)
{
    struct room *room = *state;
    int counts[2] = {0, 0};
    struct alert_row row = due(room, 1, "due");
    assert_int_equal(alerts_raise(room->ledger, &row), LEDGER_OK);
    assert_int_equal(alerts_void(room->ledger, row.id, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(alerts_raise(room->ledger, &row), LEDGER_OK);
    assert_int_equal(alerts_each(room->ledger, room->m12, count_void, counts), LEDGER_OK);
    assert_int_equal(counts[0], 1);
    assert_int_equal(counts[1], 1);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(an_alert_is_raised_exactly_once),
        IN_MEMORY(machine_plan_cycle_and_stage_each_make_another),
        IN_MEMORY(a_void_one_makes_room_for_a_true_one),
        IN_MEMORY(what_was_told_is_no_longer_waiting_to_be),
        IN_MEMORY(the_last_of_a_cycle_is_the_latest_that_stands),
        IN_MEMORY(a_check_of_the_level_does_not_hide_the_stage_told),
        IN_MEMORY(the_history_shows_void_ones_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
