/* SPDX-License-Identifier: MIT
 * Readings, changes of meter, and what striking them out does. */
#include "tests/ledger_room.h"

#include "daemon/ledger/alerts.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/record.h"

#define ROWS_MAX 8
static struct reading_row rows[ROWS_MAX];
static size_t count;

static void latest(struct room *room, int64_t until_s)
{
    assert_int_equal(readings_latest(room->ledger, room->m12, until_s, ROWS_MAX, rows, &count),
                     LEDGER_OK);
}

static void strike_change(struct room *room, int64_t id)
{
    assert_int_equal(store_change(room->ledger, STATEMENT_METER_CHANGE_STRIKE, LEDGER_ALREADY,
                                  STORE_VALUES(store_integer(id), store_integer(ROOM_NOON_S),
                                               store_id(room->rosa), store_text("no swap"))),
                     LEDGER_OK);
}

static int64_t change_meter(struct room *room, int64_t at_s, int64_t old_last, int64_t new_first)
{
    struct meter_change change = {.machine_id = room->m12,
                                  .at_s = at_s,
                                  .old_last_hundredths = old_last,
                                  .new_first_hundredths = new_first,
                                  .person_id = room->rosa};
    assert_int_equal(readings_change_meter(room->ledger, &change), LEDGER_OK);
    return change.id;
}

static void the_latest_come_newest_first_up_to_a_moment(void **state)
{
    struct room *room = *state;
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    (void)room_reading(room, room->m12, 133000, ROOM_NOON_S - ROOM_DAY_S, 0); /* came late */
    (void)room_reading(room, room->m12, 135000, ROOM_NOON_S + ROOM_DAY_S, 0);
    (void)room_reading(room, room->m14, 100, ROOM_NOON_S, 0);
    latest(room, ROOM_NOON_S);
    assert_int_equal(count, 2);
    assert_int_equal(rows[0].meter_hundredths, 134000);
    assert_int_equal(rows[1].meter_hundredths, 133000);
    latest(room, ROOM_NOON_S - 2 * ROOM_DAY_S);
    assert_int_equal(count, 0);
}

static void of_two_at_one_moment_the_higher_figure_is_newer(void **state)
{
    struct room *room = *state;
    (void)room_reading(room, room->m12, 134100, ROOM_NOON_S, 0);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    latest(room, ROOM_NOON_S);
    assert_int_equal(rows[0].meter_hundredths, 134100);
}

static void no_more_are_given_than_there_is_room_for(void **state)
{
    struct room *room = *state;
    for (int i = 0; i < ROWS_MAX + 3; i++) {
        (void)room_reading(room, room->m12, 100 * i, ROOM_NOON_S + i, 0);
    }
    latest(room, ROOM_NOON_S + ROOM_DAY_S);
    assert_int_equal(count, ROWS_MAX);
    assert_int_equal(rows[ROWS_MAX - 1].meter_hundredths, 300);
}

static void a_reading_keeps_all_that_was_said(void **state)
{
    struct room *room = *state;
    int64_t text_id = room_text(room, room->ines, "M12 1340.25 tyres low", ROOM_NOON_S);
    struct reading_row row = {.machine_id = room->m12,
                              .meter_hundredths = 134025,
                              .read_s = ROOM_NOON_S - 60,
                              .noted_s = ROOM_NOON_S,
                              .person_id = room->ines,
                              .text_id = text_id,
                              .remark = "tyres low"};
    assert_int_equal(readings_add(room->ledger, &row), LEDGER_OK);
    latest(room, ROOM_NOON_S);
    assert_int_equal(rows[0].id, row.id);
    assert_int_equal(rows[0].read_s, ROOM_NOON_S - 60);
    assert_int_equal(rows[0].noted_s, ROOM_NOON_S);
    assert_int_equal(rows[0].person_id, room->ines);
    assert_int_equal(rows[0].text_id, text_id);
    assert_string_equal(rows[0].remark, "tyres low");
    assert_false(rows[0].struck);
}

static void one_struck_out_no_longer_counts_but_stays_with_who_when_and_why(void **state)
{
    struct room *room = *state;
    int64_t id = room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    assert_int_equal(record_strike(room->ledger, RECORD_READING, 0, id, room->rosa,
                                   ROOM_NOON_S + 60, "two digits exchanged"),
                     LEDGER_OK);
    latest(room, ROOM_NOON_S);
    assert_int_equal(count, 0);
    char sql[160];
    (void)snprintf(sql, sizeof sql,
                   "SELECT count(*) FROM readings WHERE meter_hundredths = 134000 AND struck_s = "
                   "%lld AND struck_by = %d AND struck_why = 'two digits exchanged'",
                   (long long)(ROOM_NOON_S + 60), (int)room->rosa);
    assert_int_equal(room_number(room->ledger, sql), 1);
    assert_int_equal(
        record_strike(room->ledger, RECORD_READING, 0, id, room->ines, ROOM_NOON_S + 90, "again"),
        LEDGER_ALREADY);
    assert_int_equal(room_number(room->ledger, sql), 1);
    assert_int_equal(record_unstrike(room->ledger, RECORD_READING, id), LEDGER_OK);
    latest(room, ROOM_NOON_S);
    assert_int_equal(count, 1);
    assert_int_equal(record_unstrike(room->ledger, RECORD_READING, id), LEDGER_ALREADY);
}

static void the_neighbours_in_time_are_the_standing_ones(void **state)
{
    struct room *room = *state;
    struct reading_row row;
    assert_int_equal(readings_first(room->ledger, room->m12, &row), LEDGER_NONE);
    int64_t first = room_reading(room, room->m12, 100, ROOM_NOON_S, 0);
    int64_t second = room_reading(room, room->m12, 200, ROOM_NOON_S + 10, 0);
    int64_t third = room_reading(room, room->m12, 300, ROOM_NOON_S + 20, 0);
    assert_int_equal(readings_next_after(room->ledger, room->m12, ROOM_NOON_S, &row), LEDGER_OK);
    assert_int_equal(row.id, second);
    assert_int_equal(
        record_strike(room->ledger, RECORD_READING, 0, second, 0, ROOM_NOON_S, "wrong"), LEDGER_OK);
    assert_int_equal(readings_next_after(room->ledger, room->m12, ROOM_NOON_S, &row), LEDGER_OK);
    assert_int_equal(row.id, third);
    assert_int_equal(readings_next_after(room->ledger, room->m12, ROOM_NOON_S + 20, &row),
                     LEDGER_NONE);
    assert_int_equal(readings_first(room->ledger, room->m12, &row), LEDGER_OK);
    assert_int_equal(row.id, first);
}

static void true_hours_go_on_through_changes_of_meter(void **state)
{
    struct room *room = *state;
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    int64_t swap = change_meter(room, ROOM_NOON_S + 10, 134050, 0);
    (void)room_reading(room, room->m12, 500, ROOM_NOON_S + 20, 0);
    (void)change_meter(room, ROOM_NOON_S + 30, 600, 20000); /* a used meter put in */
    (void)room_reading(room, room->m12, 20100, ROOM_NOON_S + 40, 0);
    latest(room, ROOM_NOON_S + ROOM_DAY_S);
    assert_int_equal(rows[2].true_hundredths, 134000);
    assert_int_equal(rows[1].true_hundredths, 134050 + 500);
    assert_int_equal(rows[0].true_hundredths, 134050 + 600 + 100);
    /* taken back, everything after it is right again */
    strike_change(room, swap);
    latest(room, ROOM_NOON_S + ROOM_DAY_S);
    assert_int_equal(rows[1].true_hundredths, 500);
}

static void a_figure_read_at_the_change_is_the_new_meters(void **state)
{
    struct room *room = *state;
    int64_t offset;
    (void)change_meter(room, ROOM_NOON_S, 134050, 50);
    static const struct {
        int64_t at_s, offset;
    } cases[] = {{ROOM_NOON_S - 1, 0}, {ROOM_NOON_S, 134000}, {ROOM_NOON_S + 1, 134000}};
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(readings_offset(room->ledger, room->m12, cases[i].at_s, &offset),
                         LEDGER_OK);
        assert_int_equal(offset, cases[i].offset);
    }
    assert_int_equal(readings_offset(room->ledger, room->m14, ROOM_NOON_S, &offset), LEDGER_OK);
    assert_int_equal(offset, 0);
    struct reading_row row = {
        .machine_id = room->m12, .meter_hundredths = 60, .read_s = ROOM_NOON_S};
    assert_int_equal(readings_add(room->ledger, &row), LEDGER_OK);
    assert_int_equal(row.true_hundredths, 134060);
}

/* readings_recent reckons by itself what readings_latest leaves to SQL. */
static void the_recent_points_agree_with_the_latest_readings(void **state)
{
    struct room *room = *state;
    struct reading_point points[ROWS_MAX];
    size_t point_count;
    int64_t offset, expected_offset;
    for (int i = 0; i < 5; i++) {
        (void)room_reading(room, room->m12, 1000 + 100 * i, ROOM_NOON_S + 10 * i, 0);
    }
    (void)change_meter(room, ROOM_NOON_S + 15, 1150, 1160);
    int64_t struck = change_meter(room, ROOM_NOON_S + 20, 9999, 0);
    (void)change_meter(room, ROOM_NOON_S + 30, 1300, 1200);
    (void)change_meter(room, ROOM_NOON_S + 99, 7777, 0); /* after the moment asked about */
    strike_change(room, struck);
    latest(room, ROOM_NOON_S + 40);
    assert_int_equal(readings_recent(room->ledger, room->m12, ROOM_NOON_S + 40, ROWS_MAX, points,
                                     &point_count, &offset),
                     LEDGER_OK);
    assert_int_equal(readings_offset(room->ledger, room->m12, ROOM_NOON_S + 40, &expected_offset),
                     LEDGER_OK);
    assert_int_equal(offset, expected_offset);
    assert_int_equal(offset, -10 + 100);
    assert_int_equal(point_count, count);
    assert_int_equal(count, 5);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(points[i].id, rows[i].id);
        assert_int_equal(points[i].read_s, rows[i].read_s);
        assert_int_equal(points[i].meter_hundredths, rows[i].meter_hundredths);
        assert_int_equal(points[i].true_hundredths, rows[i].true_hundredths);
    }
}

/* A reading every ten seconds; two one by one, then steps back from the one before. */
static void older_readings_are_thinned_out(void **state)
{
    struct room *room = *state;
    static const int64_t steps_s[] = {15, 10, 30, 1000};
    static const int64_t wanted_s[] = {90, 80, 60, 50, 20};
    struct reading_point points[6];
    size_t recent_count, point_count;
    int64_t offset;
    for (int i = 0; i < 10; i++) {
        (void)room_reading(room, room->m12, 1000 + 100 * i, ROOM_NOON_S + 10 * i, 0);
    }
    (void)change_meter(room, ROOM_NOON_S + 55, 1550, 1560);
    struct readings_choice choice = {.machine_id = room->m12,
                                     .from_s = ROOM_NOON_S + 5,
                                     .until_s = ROOM_NOON_S + 95,
                                     .recent = 2,
                                     .steps_s = steps_s,
                                     .step_count = 4};
    assert_int_equal(
        readings_thinned(room->ledger, &choice, points, &recent_count, &point_count, &offset),
        LEDGER_OK);
    assert_int_equal(recent_count, 2);
    assert_int_equal(offset, -10);
    assert_int_equal(point_count, 5);
    for (size_t i = 0; i < point_count; i++) {
        assert_int_equal(points[i].read_s, ROOM_NOON_S + wanted_s[i]);
        int64_t changed = wanted_s[i] >= 55 ? -10 : 0;
        assert_int_equal(points[i].true_hundredths, 1000 + 10 * wanted_s[i] + changed);
    }
    choice.from_s = ROOM_NOON_S + 55; /* older ones are left out */
    assert_int_equal(
        readings_thinned(room->ledger, &choice, points, &recent_count, &point_count, &offset),
        LEDGER_OK);
    assert_int_equal(point_count, 3);
    choice.recent = 40; /* as many as there are: nothing older */
    choice.step_count = 0;
    struct reading_point all[40];
    assert_int_equal(
        readings_thinned(room->ledger, &choice, all, &recent_count, &point_count, &offset),
        LEDGER_OK);
    assert_int_equal(point_count, 10);
}

static void striking_a_reading_voids_its_alerts_and_lifting_the_strike_restores_them(void **state)
{
    struct room *room = *state;
    int64_t id = room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    struct alert_row alert = {.machine_id = room->m12,
                              .plan = "drive",
                              .cycle = 3,
                              .stage = "due",
                              .raised_s = ROOM_NOON_S,
                              .cause_reading_id = id};
    assert_int_equal(alerts_raise(room->ledger, &alert), LEDGER_OK);
    assert_int_equal(record_strike(room->ledger, RECORD_READING, 0, id, 0, ROOM_NOON_S, "wrong"),
                     LEDGER_OK);
    assert_int_equal(alerts_last(room->ledger, room->m12, "drive", 3, &alert), LEDGER_NONE);
    assert_int_equal(record_unstrike(room->ledger, RECORD_READING, id), LEDGER_OK);
    assert_int_equal(alerts_last(room->ledger, room->m12, "drive", 3, &alert), LEDGER_OK);
    assert_int_equal(record_strike(room->ledger, RECORD_READING, 0, id, 0, ROOM_NOON_S, "wrong"),
                     LEDGER_OK);
    /* a true cause raised it again meanwhile: that one stands alone */
    alert.cause_reading_id = 0;
    assert_int_equal(alerts_raise(room->ledger, &alert), LEDGER_OK);
    assert_int_equal(record_unstrike(room->ledger, RECORD_READING, id), LEDGER_OK);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM alerts WHERE void_s IS NULL"),
                     1);
}

static void note_one(void *ctx, const struct reading_row *row)
{
    (void)ctx;
    rows[count++] = *row;
}

static void the_history_shows_struck_ones_too_oldest_first(void **state)
{
    struct room *room = *state;
    (void)room_reading(room, room->m12, 300, ROOM_NOON_S + 20, 0);
    int64_t struck = room_reading(room, room->m12, 100, ROOM_NOON_S, 0);
    assert_int_equal(
        record_strike(room->ledger, RECORD_READING, 0, struck, 0, ROOM_NOON_S, "wrong"), LEDGER_OK);
    count = 0;
    assert_int_equal(readings_each(room->ledger, room->m12, note_one, NULL), LEDGER_OK);
    assert_int_equal(count, 2);
    assert_true(rows[0].struck);
    assert_int_equal(rows[0].meter_hundredths, 100);
    assert_false(rows[1].struck);
}

static void what_breaks_a_rule_is_refused_and_leaves_nothing_behind(void **state)
{
    struct room *room = *state;
    struct reading_row bad[] = {
        {.machine_id = 999, .meter_hundredths = 1, .read_s = ROOM_NOON_S},
        {.machine_id = room->m12, .meter_hundredths = -1, .read_s = ROOM_NOON_S},
        {.machine_id = room->m12, .meter_hundredths = 1, .person_id = 999},
        {.machine_id = room->m12, .meter_hundredths = 1, .text_id = 999},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(readings_add(room->ledger, &bad[i]), LEDGER_REFUSED);
        assert_non_null(strstr(ledger_says(room->ledger), "constraint"));
    }
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings"), 0);
}

/* A text in, received at that moment, and a reading that it brings. */
static int64_t text_with_remark(struct room *room, int64_t received_s, const char *remark)
{
    struct texts_kept kept;
    struct texts_incoming incoming = {.hex = "",
                                      .from = "+12065550110",
                                      .from_number = true,
                                      .sent_s = received_s,
                                      .received_s = received_s,
                                      .body = "M12 1340h",
                                      .readable = true,
                                      .parts = 1,
                                      .part = 1};
    assert_int_equal(texts_keep(room->ledger, &incoming, &kept), LEDGER_OK);
    struct reading_row row = {.machine_id = room->m12,
                              .meter_hundredths = 134000,
                              .read_s = received_s,
                              .noted_s = received_s,
                              .person_id = room->ines,
                              .text_id = kept.text_id};
    (void)snprintf(row.remark, sizeof row.remark, "%s", remark);
    assert_int_equal(readings_add(room->ledger, &row), LEDGER_OK);
    return kept.text_id;
}

static void join_remarks(void *ctx, const struct reading_row *row)
{
    char *all = ctx;
    size_t length = strlen(all);
    (void)snprintf(all + length, 64 - length, "%s;", row->remark);
}

static void remarks_are_found_by_when_their_texts_came(void **state)
{
    struct room *room = *state;
    char all[64] = "";
    struct reading_row row;
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    (void)text_with_remark(room, ROOM_NOON_S, "before");
    (void)text_with_remark(room, ROOM_NOON_S + 1, "left tyre");
    (void)text_with_remark(room, ROOM_NOON_S + 2, "");
    int64_t last = text_with_remark(room, ROOM_NOON_S + 3, "oil leak");
    assert_int_equal(readings_remarked_since(room->ledger, ROOM_NOON_S + 1, join_remarks, all),
                     LEDGER_OK);
    assert_string_equal(all, "left tyre;oil leak;");
    assert_int_equal(readings_of_text(room->ledger, last, &row), LEDGER_OK);
    assert_string_equal(row.remark, "oil leak");
    assert_int_equal(readings_of_text(room->ledger, last + 1, &row), LEDGER_NONE);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(remarks_are_found_by_when_their_texts_came),
        IN_MEMORY(the_latest_come_newest_first_up_to_a_moment),
        IN_MEMORY(of_two_at_one_moment_the_higher_figure_is_newer),
        IN_MEMORY(no_more_are_given_than_there_is_room_for),
        IN_MEMORY(a_reading_keeps_all_that_was_said),
        IN_MEMORY(one_struck_out_no_longer_counts_but_stays_with_who_when_and_why),
        IN_MEMORY(the_neighbours_in_time_are_the_standing_ones),
        IN_MEMORY(true_hours_go_on_through_changes_of_meter),
        IN_MEMORY(a_figure_read_at_the_change_is_the_new_meters),
        IN_MEMORY(the_recent_points_agree_with_the_latest_readings),
        IN_MEMORY(older_readings_are_thinned_out),
        IN_MEMORY(striking_a_reading_voids_its_alerts_and_lifting_the_strike_restores_them),
        IN_MEMORY(the_history_shows_struck_ones_too_oldest_first),
        IN_MEMORY(what_breaks_a_rule_is_refused_and_leaves_nothing_behind),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
