/* SPDX-License-Identifier: MIT
 * Where the hours of a span went. Day 0 is a Monday. */
#include "tests/yard_room.h"

#include "daemon/ledger/record.h"
#include "daemon/yard/hours_run.h"

static int32_t monday;

static int hours_enter(void **state)
{
    int result = yard_enter(state);
    monday = zone_civil(room_at(0, 12)).day;
    return result;
}

/* "name hundredths machines; ... = total" */
static const char *run_says(struct yard_room *room, int32_t from, int32_t until,
                            enum hours_run_by by)
{
    static char says[512];
    struct hours_run run;
    size_t length = 0;
    assert_int_equal(hours_run_reckon(&room->yard, monday + from, monday + until, by, &run),
                     LEDGER_OK);
    for (size_t i = 0; i < run.row_count; i++) {
        length +=
            (size_t)snprintf(says + length, sizeof says - length, "%s %lld %zu; ", run.rows[i].name,
                             (long long)run.rows[i].hundredths, run.rows[i].machine_count);
    }
    (void)snprintf(says + length, sizeof says - length, "= %lld", (long long)run.total_hundredths);
    hours_run_free(&run);
    return says;
}

/* 24 h a week on M12, all on M14 between two readings far apart. */
static void what_ran_is_apportioned_by_day(void **state)
{
    struct yard_room *room = *state;
    static const struct {
        int32_t from, until;
        const char *says;
    } cases[] = {
        {0, 6, "M12 2400 1; M14 700 1; = 3100"},
        {0, 0, "M12 342 1; M14 100 1; = 442"},
        {7, 13, "M14 700 1; M12 0 1; = 700"},
        {-7, -1, "M12 0 1; M14 0 1; = 0"},
        {-90, 90, "M14 2800 1; M12 2400 1; = 5200"},
        {20, 27, "M14 800 1; M12 0 1; = 800"},
        {3, 2, "M12 0 1; M14 0 1; = 0"},
    };
    room_read(room, M12, 10000, room_at(0, 0));
    room_read(room, M12, 12400, room_at(7, 0));
    room_read(room, M14, 5000, room_at(0, 0));
    room_read(room, M14, 7800, room_at(28, 0));
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_string_equal(run_says(room, cases[i].from, cases[i].until, HOURS_RUN_BY_MACHINE),
                            cases[i].says);
    }
}

static void spells_swaps_and_struck_readings_are_heeded(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 10000, room_at(0, 0));
    room_read(room, M12, 10800, room_at(8, 0));
    assert_string_equal(run_says(room, 0, 3, HOURS_RUN_BY_MACHINE), "M12 400 1; = 400");
    /* laid up from day 2 to day 6: it ran on four days */
    assert_int_equal(machines_park(room->yard.ledger, room->ids[M12], room_at(2, 0), 0, 0),
                     LEDGER_OK);
    assert_int_equal(machines_back(room->yard.ledger, room->ids[M12], room_at(6, 0), 0, 0),
                     LEDGER_OK);
    assert_string_equal(run_says(room, 0, 1, HOURS_RUN_BY_MACHINE), "M12 400 1; = 400");
    assert_string_equal(run_says(room, 2, 5, HOURS_RUN_BY_MACHINE), "M12 0 1; = 0");
    assert_string_equal(run_says(room, 6, 7, HOURS_RUN_BY_MACHINE), "M12 400 1; = 400");
    /* a new meter begins at nothing, and a figure struck out never was */
    struct meter_change swap = {.machine_id = room->ids[M12],
                                .at_s = room_at(9, 0),
                                .old_last_hundredths = 11000,
                                .new_first_hundredths = 0};
    assert_int_equal(readings_change_meter(room->yard.ledger, &swap), LEDGER_OK);
    int64_t wrong = room_read(room, M12, 99000, room_at(10, 0));
    room_read(room, M12, 100, room_at(11, 0));
    assert_int_equal(
        record_strike(room->yard.ledger, RECORD_READING, 0, wrong, 0, room_at(11, 1), "wrong"),
        LEDGER_OK);
    assert_string_equal(run_says(room, 8, 20, HOURS_RUN_BY_MACHINE), "M12 300 1; = 300");
    assert_string_equal(run_says(room, 8, 8, HOURS_RUN_BY_MACHINE), "M12 100 1; = 100");
}

static void hours_are_summed_by_whom_they_concern(void **state)
{
    struct yard_room *room = *state;
    room->machines[M12].site = room->machines[TR9].site = "Harbor Park";
    room->machines[M14].owner = "Alder Works";
    room->machines[TR9].crew_count = 0;
    room->machines[TR9].gone = true;
    for (int machine = 0; machine < MACHINES; machine++) {
        room_read(room, machine, 1000, room_at(0, 0));
        room_read(room, machine, 1000 + 700 * (machine + 1), room_at(7, 0));
    }
    assert_string_equal(run_says(room, 0, 6, HOURS_RUN_BY_MACHINE),
                        "TR-9 2100 1; M14 1400 1; M12 700 1; = 4200");
    assert_string_equal(run_says(room, 0, 6, HOURS_RUN_BY_SITE),
                        "Harbor Park 2800 2;  1400 1; = 4200");
    assert_string_equal(run_says(room, 0, 6, HOURS_RUN_BY_CREW),
                        "Ines, Rosa 2100 2;  2100 1; = 4200");
    assert_string_equal(run_says(room, 0, 6, HOURS_RUN_BY_OWNER),
                        " 2800 2; Alder Works 1400 1; = 4200");
    assert_string_equal(hours_run_by_word(HOURS_RUN_BY_CREW), "crew");
}

#define HOURS_TEST(name) cmocka_unit_test_setup_teardown(name, hours_enter, yard_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        HOURS_TEST(what_ran_is_apportioned_by_day),
        HOURS_TEST(spells_swaps_and_struck_readings_are_heeded),
        HOURS_TEST(hours_are_summed_by_whom_they_concern),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
