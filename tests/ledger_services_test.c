/* SPDX-License-Identifier: MIT
 * The service record. */
#include "tests/ledger_room.h"

#include "daemon/ledger/alerts.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/services.h"

static int64_t serve(struct room *room, const char *plan, int64_t meter_hundredths, int64_t done_s)
{
    struct service_row row = {.machine_id = room->m12,
                              .meter_hundredths = meter_hundredths,
                              .done_s = done_s,
                              .noted_s = done_s,
                              .person_id = room->rosa,
                              .quantity_thousandths = 4700,
                              .unit = "l",
                              .remark = "filter changed"};
    (void)snprintf(row.plan, sizeof row.plan, "%s", plan);
    assert_int_equal(services_add(room->ledger, &row), LEDGER_OK);
    return row.id;
}

static void the_last_service_is_the_one_with_the_most_true_hours(void **state)
{
    struct room *room = *state;
    struct service_row row;
    assert_int_equal(services_last(room->ledger, room->m12, "drive", INT64_MAX, &row), LEDGER_NONE);
    int64_t at_575 = serve(room, "drive", 57500, ROOM_NOON_S);
    (void)serve(room, "drive", 7500, ROOM_NOON_S + 60); /* one of the past, told later */
    (void)serve(room, "engine", 99900, ROOM_NOON_S + 60);
    assert_int_equal(services_last(room->ledger, room->m12, "drive", INT64_MAX, &row), LEDGER_OK);
    assert_int_equal(row.id, at_575);
    assert_string_equal(row.plan, "drive");
    assert_string_equal(row.unit, "l");
    assert_string_equal(row.remark, "filter changed");
    assert_int_equal(row.quantity_thousandths, 4700);
    assert_int_equal(services_last(room->ledger, room->m14, "drive", INT64_MAX, &row), LEDGER_NONE);
}

static void after_a_swap_a_small_figure_may_be_the_last_service(void **state)
{
    struct room *room = *state;
    struct service_row row;
    (void)serve(room, "drive", 57500, ROOM_NOON_S);
    struct meter_change change = {.machine_id = room->m12,
                                  .at_s = ROOM_NOON_S + 10,
                                  .old_last_hundredths = 60000,
                                  .new_first_hundredths = 0};
    assert_int_equal(readings_change_meter(room->ledger, &change), LEDGER_OK);
    int64_t new_meter = serve(room, "drive", 47500, ROOM_NOON_S + 20);
    assert_int_equal(services_last(room->ledger, room->m12, "drive", INT64_MAX, &row), LEDGER_OK);
    assert_int_equal(row.id, new_meter);
    assert_int_equal(row.true_hundredths, 107500);
}

static void a_struck_service_gives_way_to_the_one_before(void **state)
{
    struct room *room = *state;
    struct service_row row;
    int64_t before = serve(room, "drive", 7500, ROOM_NOON_S);
    int64_t wrong = serve(room, "drive", 57500, ROOM_NOON_S + 60);
    struct alert_row alert = {.machine_id = room->m12,
                              .plan = "drive",
                              .stage = "coming-up",
                              .raised_s = ROOM_NOON_S,
                              .cause_service_id = wrong};
    assert_int_equal(alerts_raise(room->ledger, &alert), LEDGER_OK);
    assert_int_equal(record_strike(room->ledger, RECORD_SERVICE, 0, wrong, room->rosa,
                                   ROOM_NOON_S + 90, "other machine"),
                     LEDGER_OK);
    assert_int_equal(record_strike(room->ledger, RECORD_SERVICE, 0, wrong, room->rosa,
                                   ROOM_NOON_S + 91, "again"),
                     LEDGER_ALREADY);
    assert_int_equal(services_last(room->ledger, room->m12, "drive", INT64_MAX, &row), LEDGER_OK);
    assert_int_equal(row.id, before);
    assert_int_equal(alerts_last(room->ledger, room->m12, "drive", 0, &alert), LEDGER_NONE);
    assert_int_equal(record_unstrike(room->ledger, RECORD_SERVICE, wrong), LEDGER_OK);
    assert_int_equal(services_last(room->ledger, room->m12, "drive", INT64_MAX, &row), LEDGER_OK);
    assert_int_equal(row.id, wrong);
    assert_int_equal(alerts_last(room->ledger, room->m12, "drive", 0, &alert), LEDGER_OK);
}

struct seen {
    size_t count;
    bool struck[4];
    int64_t hundredths[4];
};

static void note_one(void *ctx, const struct service_row *row)
{
    struct seen *seen = ctx;
    seen->struck[seen->count] = row->struck;
    seen->hundredths[seen->count++] = row->meter_hundredths;
}

static void the_history_shows_struck_ones_too_oldest_first(void **state)
{
    struct room *room = *state;
    struct seen seen = {0};
    (void)serve(room, "drive", 57500, ROOM_NOON_S + 60);
    int64_t wrong = serve(room, "drive", 7500, ROOM_NOON_S);
    assert_int_equal(record_strike(room->ledger, RECORD_SERVICE, 0, wrong, 0, ROOM_NOON_S, "wrong"),
                     LEDGER_OK);
    assert_int_equal(services_each(room->ledger, room->m12, note_one, &seen), LEDGER_OK);
    assert_int_equal(seen.count, 2);
    assert_int_equal(seen.hundredths[0], 7500);
    assert_true(seen.struck[0]);
    assert_false(seen.struck[1]);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(the_last_service_is_the_one_with_the_most_true_hours),
        IN_MEMORY(after_a_swap_a_small_figure_may_be_the_last_service),
        IN_MEMORY(a_struck_service_gives_way_to_the_one_before),
        IN_MEMORY(the_history_shows_struck_ones_too_oldest_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
