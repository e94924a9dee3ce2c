/* SPDX-License-Identifier: MIT
 *
 * How machines stand, from config and ledger. */
#include "tests/yard_room.h"

#include "daemon/ledger/store.h"
#include "daemon/ledger/movements.h"

static void a_machine_goes_from_unread_to_overdue(void **state)
{
    struct yard_room *room = *state;
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(0, 12));
    assert_int_equal(standing.stage, DUE_STAGE_UNREAD);
    assert_false(standing.read || standing.has_due || standing.has_forecast);
    static const struct {
        int64_t hundredths;
        enum due_stage stage;
    } cases[] = {
        {0, DUE_STAGE_FINE},         {4990, DUE_STAGE_COMING_UP}, {5000, DUE_STAGE_COMING_UP},
        {7490, DUE_STAGE_COMING_UP}, {7500, DUE_STAGE_DUE},       {7510, DUE_STAGE_DUE},
        {8500, DUE_STAGE_DUE},       {8510, DUE_STAGE_OVERDUE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int64_t now_s = room_at((int32_t)i, 17);
        int64_t id = room_read(room, M12, cases[i].hundredths, now_s);
        standing = room_stand(room, M12, DRIVE, now_s);
        assert_int_equal(standing.stage, cases[i].stage);
        assert_int_equal(standing.meter_hundredths, cases[i].hundredths);
        assert_int_equal(standing.read_s, now_s);
        assert_int_equal(standing.cause_reading_id, id);
        assert_int_equal(standing.due_meter_hundredths, 7500);
        assert_int_equal(standing.left_hundredths, 7500 - cases[i].hundredths);
    }
}

static void a_service_restarts_the_count(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 7000, room_at(0, 17));
    room_read(room, M12, 7600, room_at(1, 17));
    int64_t before = room_stand(room, M12, DRIVE, room_at(1, 18)).cycle;
    int64_t id = room_serve(room, M12, "drive", 7600, room_at(1, 19));
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(2, 12));
    assert_int_equal(standing.stage, DUE_STAGE_FINE);
    assert_int_equal(standing.due_true_hundredths, 57600);
    assert_int_equal(standing.last_done_meter_hundredths, 7600);
    assert_int_equal(standing.last_done_day, zone_civil(room_at(1, 19)).day);
    assert_int_equal(standing.cause_service_id, id);
    assert_int_equal(standing.limit_day, civil_day((struct civil_date){2028, 5, 4}));
    assert_true(standing.cycle != before);
    /* and taken back, the cycle is the one it was */
    assert_int_equal(
        record_strike(room->yard.ledger, RECORD_SERVICE, 0, id, 0, room_at(2, 13), "UNDO"),
        LEDGER_OK);
    assert_int_equal(room_stand(room, M12, DRIVE, room_at(2, 14)).cycle, before);
    assert_int_equal(room_stand(room, M12, DRIVE, room_at(2, 14)).stage, DUE_STAGE_DUE);
}

static void no_record_ends_with_a_service_at_any_earlier_figure(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 134000, room_at(0, 17));
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(0, 18));
    assert_int_equal(standing.stage, DUE_STAGE_NO_RECORD);
    assert_false(standing.has_due || standing.serviced);
    room_serve(room, M12, "drive", 107500, room_at(0, 18));
    standing = room_stand(room, M12, DRIVE, room_at(0, 19));
    assert_int_equal(standing.due_true_hundredths, 157500);
    assert_int_equal(standing.stage, DUE_STAGE_FINE);
}

static void a_machine_known_before_its_first_service_has_a_record(void **state)
{
    struct yard_room *room = *state;
    room->machines[M12].started_hundredths = 6000;
    room_read(room, M12, 8000, room_at(0, 17));
    assert_int_equal(room_stand(room, M12, DRIVE, room_at(0, 18)).stage, DUE_STAGE_DUE);
    room->machines[M12].started_hundredths = 7900;
    assert_int_equal(room_stand(room, M12, DRIVE, room_at(0, 18)).stage, DUE_STAGE_NO_RECORD);
}

static void the_config_seeds_and_the_ledger_wins(void **state)
{
    struct yard_room *room = *state;
    struct settings_last_done *seed = &room->machines[M12].last_done[0];
    *seed = (struct settings_last_done){.present = true, .hundredths = 57500};
    room_read(room, M12, 60000, room_at(0, 17));
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(0, 18));
    assert_int_equal(standing.due_true_hundredths, 107500);
    assert_true(standing.serviced);
    assert_false(standing.last_done_day_known);
    /* its months count from the first reading */
    assert_int_equal(standing.limit_day, civil_day((struct civil_date){2028, 5, 3}));
    assert_int_equal(standing.cause_service_id, 0);
    /* a date gives it a calendar limit */
    seed->day_known = true;
    seed->day = civil_day((struct civil_date){2026, 5, 10});
    standing = room_stand(room, M12, DRIVE, room_at(0, 18));
    assert_int_equal(standing.limit_day, civil_day((struct civil_date){2027, 5, 10}));
    assert_int_equal(standing.stage, DUE_STAGE_COMING_UP);
    assert_int_equal(standing.due_day, standing.limit_day);
    /* one of the past, noted later, does not set it back; a later one wins, and a seed made greater
       than it afterwards counts for nothing */
    room_serve(room, M12, "drive", 7500, room_at(0, 18));
    assert_int_equal(room_stand(room, M12, DRIVE, room_at(1, 9)).due_true_hundredths, 107500);
    room_serve(room, M12, "drive", 60500, room_at(1, 17));
    assert_int_equal(room_stand(room, M12, DRIVE, room_at(1, 18)).due_true_hundredths, 110500);
    seed->hundredths = 65000;
    assert_int_equal(room_stand(room, M12, DRIVE, room_at(1, 18)).due_true_hundredths, 110500);
}

static void true_hours_go_on_over_swaps_and_roll_over(void **state)
{
    struct yard_room *room = *state;
    struct meter_change swap = {.machine_id = room->ids[M12],
                                .at_s = room_at(1, 12),
                                .old_last_hundredths = 6000,
                                .new_first_hundredths = 100};
    room_read(room, M12, 5900, room_at(0, 17));
    assert_int_equal(readings_change_meter(room->yard.ledger, &swap), LEDGER_OK);
    room_read(room, M12, 1200, room_at(2, 17));
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(2, 18));
    assert_int_equal(standing.meter_hundredths, 1200);
    assert_int_equal(standing.true_hundredths, 7100);
    assert_int_equal(standing.due_meter_hundredths, 1600);
    assert_int_equal(standing.left_hundredths, 400);
    /* the limit: 9999.9 -> 0 */
    struct meter_change roll = {.machine_id = room->ids[M12],
                                .at_s = room_at(9, 12),
                                .old_last_hundredths = 1000000,
                                .new_first_hundredths = 0};
    assert_int_equal(readings_change_meter(room->yard.ledger, &roll), LEDGER_OK);
    room_read(room, M12, 300, room_at(9, 17));
    standing = room_stand(room, M12, DRIVE, room_at(9, 18));
    assert_int_equal(standing.true_hundredths, 1000000 + 5900 + 300);
    /* a swap taken back puts every later figure right */
    assert_int_equal(store_run(room->yard.ledger, STATEMENT_METER_CHANGE_STRIKE,
                               STORE_VALUES(store_integer(swap.id), store_integer(room_at(10, 9)),
                                            store_id(0), store_text("UNDO"))),
                     LEDGER_OK);
    standing = room_stand(room, M12, DRIVE, room_at(10, 10));
    assert_int_equal(standing.true_hundredths, 1000000 + 300);
}

static void steady_use_is_forecast_to_the_day(void **state)
{
    struct yard_room *room = *state;
    for (int32_t day = 0; day < 20; day++) {
        room_read(room, M12, 100 + day * 200, room_at(day, 12));
    }
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(19, 13));
    assert_true(standing.has_forecast);
    assert_int_equal(standing.usage_rests, 11); /* ten, and one about a week before them */
    /* nearly: its kind's 5 h a day count for a little still */
    assert_true(standing.hours_a_day > 1.99 && standing.hours_a_day < 2.4);
    /* 39.0 h on day 19, 2 h a day: 75.0 h on day 37 at noon */
    int32_t away = zone_civil(room_at(37, 12)).day - standing.due_day;
    assert_true(away >= 0 && away <= 3);
    assert_true(standing.earliest_day < standing.due_day);
    assert_true(standing.latest_day > standing.due_day);
}

/* 2 h a day until day 36, one hour before the point; then no reading. */
static void what_no_reading_says_is_not_forecast_into_the_past(void **state)
{
    struct yard_room *room = *state;
    for (int32_t day = 0; day < 37; day++) {
        room_read(room, M12, 200 + day * 200, room_at(day, 12));
    }
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(36, 13));
    assert_int_equal(standing.left_hundredths, 100);
    assert_false(standing.wanted); /* tomorrow at midnight */
    for (int32_t day = 37; day < 90; day++) {
        int32_t today = zone_civil(room_at(day, 13)).day;
        standing = room_stand(room, M12, DRIVE, room_at(day, 13));
        assert_true(standing.due_day >= today);
        assert_true(standing.earliest_day >= zone_civil(room_at(36, 12)).day);
        assert_true(standing.earliest_day <= standing.due_day);
        assert_true(standing.due_day <= standing.latest_day);
        assert_true(standing.wanted);
        int64_t ran = standing.likely_meter_hundredths - 7400;
        assert_true(ran > (day - 36) * 198 && ran < (day - 35) * 210);
        assert_int_equal(standing.stage, DUE_STAGE_COMING_UP);
    }
    room_read(room, M12, 7600, room_at(90, 12));
    standing = room_stand(room, M12, DRIVE, room_at(92, 13));
    assert_false(standing.wanted);
    assert_int_equal(standing.due_day, zone_civil(room_at(90, 12)).day);
    assert_int_equal(standing.stage, DUE_STAGE_DUE);
}

/* A day of the calendar that has passed is no forecast. */
static void a_limit_that_has_passed_stays_where_it_is(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 8000, room_at(0, 12));
    struct service_row service = {.machine_id = room->ids[M12],
                                  .plan = "drive",
                                  .meter_hundredths = 8000,
                                  .done_s = room_at(0, 12),
                                  .noted_s = room_at(0, 12)};
    assert_int_equal(services_add(room->yard.ledger, &service), LEDGER_OK);
    for (int32_t day = 7; day < 371; day += 7) {
        room_read(room, M12, 8000 + day * 100, room_at(day, 12));
    }
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(375, 13));
    assert_true(standing.left_hundredths > 0);
    assert_int_equal(standing.due_day, standing.limit_day);
    assert_true(standing.limit_day < zone_civil(room_at(375, 13)).day);
    assert_false(standing.wanted);
}

/* The forecast looks at 40 readings and at the first of the last year: a machine read daily with
 * the same use all year is forecast by the year, not by a quiet fortnight at its end. */
static void the_first_reading_of_the_year_steadies_the_forecast(void **state)
{
    struct yard_room *room = *state;
    int64_t meter = 100;
    room->plans[DRIVE].plan.first_hundredths = 200000;
    room->plans[DRIVE].plan.months = 0;
    for (int32_t day = 0; day < 300; day++) {
        int32_t hours = day * 7919 % 5; /* 0 to 4, 2 on average */
        meter += day >= 290 ? 100 : hours * 100;
        room_read(room, M12, meter, room_at(day, 12));
    }
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(299, 13));
    double days = (double)standing.left_hundredths / 100 / 1.97;
    int32_t by_the_year = zone_civil(room_at(299, 12)).day + (int32_t)days;
    assert_true(standing.due_day > by_the_year - 20 && standing.due_day < by_the_year + 20);
}

static void a_parked_machine_is_asked_for_nothing_by_hours(void **state)
{
    struct yard_room *room = *state;
    for (int32_t day = 0; day < 9; day++) {
        room_read(room, M12, 5000 + day * 200, room_at(day, 12));
    }
    assert_int_equal(machines_park(room->yard.ledger, room->ids[M12], room_at(9, 12), 0, 0),
                     LEDGER_OK);
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(60, 12));
    assert_int_equal(standing.stage, DUE_STAGE_PARKED);
    assert_true(standing.parked && standing.has_due && standing.has_forecast);
    assert_int_equal(standing.by, DUE_BY_DATE); /* the calendar goes on */
    assert_int_equal(standing.due_day, civil_day((struct civil_date){2028, 5, 3}));
    assert_true(standing.hours_a_day == 0);
    assert_false(room_stand(room, M12, DRIVE, room_at(8, 13)).parked); /* a day before */
    assert_int_equal(machines_back(room->yard.ledger, room->ids[M12], room_at(61, 7), 0, 0),
                     LEDGER_OK);
    standing = room_stand(room, M12, DRIVE, room_at(61, 12));
    int32_t today = zone_civil(room_at(61, 12)).day; /* what it rested is no work done */
    assert_in_range(standing.due_day - today, 2, 6);
    assert_false(standing.wanted);
    room_read(room, M12, 6800, room_at(61, 12));
    standing = room_stand(room, M12, DRIVE, room_at(61, 12));
    assert_int_equal(standing.stage, DUE_STAGE_COMING_UP);
    assert_true(standing.hours_a_day > 1.9);
}

static void a_later_reading(struct yard_room *room)
{
    room_read(room, M12, 9000, room_at(20, 12));
}
static void a_later_service(struct yard_room *room)
{
    room_serve(room, M12, "drive", 6500, room_at(20, 12));
}
static void a_later_swap(struct yard_room *room)
{
    struct meter_change swap = {.machine_id = room->ids[M12],
                                .at_s = room_at(20, 12),
                                .old_last_hundredths = 7000,
                                .new_first_hundredths = 0};
    assert_int_equal(readings_change_meter(room->yard.ledger, &swap), LEDGER_OK);
}
static void a_later_spell(struct yard_room *room)
{
    assert_int_equal(machines_park(room->yard.ledger, room->ids[M12], room_at(20, 12), 0, 0),
                     LEDGER_OK);
}
static void a_later_end_of_a_spell(struct yard_room *room)
{
    assert_int_equal(machines_back(room->yard.ledger, room->ids[M14], room_at(20, 12), 0, 0),
                     LEDGER_OK);
}

/* What came after the moment asked about is not known then. */
static void a_report_of_the_past_knows_only_what_was_taken_up_to_then(void **state)
{
    static void (*const later[])(struct yard_room *) = {
        a_later_reading, a_later_service, a_later_swap, a_later_spell, a_later_end_of_a_spell};
    struct yard_room *room = *state;
    int64_t now_s = room_at(10, 12);
    for (int32_t day = 0; day < 9; day++) {
        room_read(room, M12, 5000 + day * 200, room_at(day, 12));
        room_read(room, M14, 5000 + day * 200, room_at(day, 12));
    }
    room_serve(room, M12, "drive", 5100, room_at(1, 12));
    assert_int_equal(machines_park(room->yard.ledger, room->ids[M14], room_at(9, 12), 0, 0),
                     LEDGER_OK);
    struct yard_standing before[] = {room_stand(room, M12, DRIVE, now_s),
                                     room_stand(room, M14, DRIVE, now_s)};
    for (size_t i = 0; i < sizeof later / sizeof later[0]; i++) {
        later[i](room);
        struct yard_standing after[] = {room_stand(room, M12, DRIVE, now_s),
                                        room_stand(room, M14, DRIVE, now_s)};
        assert_memory_equal(after, before, sizeof after);
    }
    assert_true(before[1].parked);
    assert_false(room_stand(room, M14, DRIVE, room_at(21, 12)).parked);
    assert_true(room_stand(room, M12, DRIVE, room_at(21, 12)).parked);
}

static void say_moved(struct yard_room *room, enum movement_kind kind, int32_t day, int64_t at_s)
{
    struct movement movement = {.kind = kind, .day = day, .at_s = at_s};
    assert_int_equal(movements_add(room->yard.ledger, room->ids[M12], &movement), LEDGER_OK);
}

/* The latest movement that stands holds, and only from when it was said. */
static void a_machine_is_where_it_was_last_said_to_be(void **state)
{
    struct yard_room *room = *state;
    int32_t monday = zone_civil(room_at(0, 12)).day;
    static const struct {
        enum movement_kind kind;
        int32_t day;   /* from the Monday on; 0 none */
        char expected; /* booked, in, gone, or at work */
        int32_t expected_day;
    } steps[] = {
        {MOVEMENT_BOOK, 9, 'b', 9}, {MOVEMENT_BOOK, 7, 'b', 7}, {MOVEMENT_IN, 0, 'i', 2},
        {MOVEMENT_OUT, 0, 'w', 0},  {MOVEMENT_GONE, 0, 'g', 4}, {MOVEMENT_BACK, 0, 'w', 0},
        {MOVEMENT_GONE, 2, 'g', 2}, {MOVEMENT_BACK, 0, 'w', 0}, {MOVEMENT_GONE, 60, 'w', 0},
    };
    room_read(room, M12, 7600, room_at(0, 7));
    for (int32_t i = 0; i < (int32_t)(sizeof steps / sizeof steps[0]); i++) {
        say_moved(room, steps[i].kind, steps[i].day > 0 ? monday + steps[i].day : 0,
                  room_at(i, 12));
        struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(i, 13));
        assert_int_equal(standing.booked, steps[i].expected == 'b');
        assert_int_equal(standing.in_shop, steps[i].expected == 'i');
        assert_int_equal(standing.gone, steps[i].expected == 'g');
        int32_t day = standing.booked    ? standing.booked_day
                      : standing.in_shop ? zone_civil(standing.in_since_s).day
                      : standing.gone    ? standing.gone_day
                                         : monday;
        assert_int_equal(day - monday, steps[i].expected_day);
        assert_false(room_stand(room, M12, DRIVE, room_at(i, 11)).booked && i == 0);
        struct yard_standing *all = NULL;
        size_t count = 0;
        assert_int_equal(yard_stand_all(&room->yard, room_at(i, 13), &all, &count), LEDGER_OK);
        assert_int_equal(count, standing.gone ? MACHINES - 1 : MACHINES);
        free(all);
    }
    assert_true(room_stand(room, M12, DRIVE, room_at(60, 13)).gone);
}

static void a_service_recorded_after_it_ends_a_booking(void **state)
{
    struct yard_room *room = *state;
    int32_t monday = zone_civil(room_at(0, 12)).day;
    room->kind.plan_count = 2;
    room_read(room, M12, 7600, room_at(0, 7));
    room_serve(room, M12, "drive", 7600, room_at(0, 8));
    say_moved(room, MOVEMENT_BOOK, monday + 3, room_at(0, 9));
    assert_true(room_stand(room, M12, DRIVE, room_at(1, 9)).booked);
    int64_t id = room_serve(room, M12, "deck", 7600, room_at(1, 10));
    assert_false(room_stand(room, M12, DRIVE, room_at(1, 11)).booked);
    assert_true(room_stand(room, M12, DRIVE, room_at(1, 9)).booked);
    assert_int_equal(
        record_strike(room->yard.ledger, RECORD_SERVICE, 0, id, 0, room_at(1, 12), "UNDO"),
        LEDGER_OK);
    assert_true(room_stand(room, M12, DRIVE, room_at(1, 13)).booked);
}

/* Its record is shown as before, but it is on no list. */
static void the_config_says_who_is_gone(void **state)
{
    struct yard_room *room = *state;
    struct yard_standing *all = NULL;
    size_t count = 0;
    room_read(room, M12, 7400, room_at(0, 1));
    room_read(room, M12, 7600, room_at(0, 7));
    say_moved(room, MOVEMENT_IN, 0, room_at(0, 9));
    room->machines[M12].gone = true;
    room->machines[M12].gone_day = zone_civil(room_at(2, 12)).day;
    assert_true(room_stand(room, M12, DRIVE, room_at(1, 23)).in_shop);
    struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(2, 0));
    assert_true(standing.gone && !standing.in_shop);
    assert_int_equal(standing.gone_day, room->machines[M12].gone_day);
    assert_int_equal(standing.stage, DUE_STAGE_DUE);
    assert_int_equal(yard_stand_all(&room->yard, room_at(2, 0), &all, &count), LEDGER_OK);
    assert_int_equal(count, MACHINES - 1);
    for (size_t i = 0; i < count; i++) {
        assert_int_not_equal(all[i].machine, M12);
    }
    free(all);
}

/* Worst first in this order, whichever two are held against each other: so a sort may rely on it. */
static void within_a_stage_the_earliest_day_comes_first(void **state)
{
    (void)state;
    static const struct yard_standing rows[] = {
        {.stage = DUE_STAGE_DUE, .left_hundredths = 0},
        {.stage = DUE_STAGE_COMING_UP,
         .has_forecast = true,
         .due_day = 9,
         .left_hundredths = 40000,
         .by = DUE_BY_DATE},
        {.stage = DUE_STAGE_COMING_UP, .has_forecast = true, .due_day = 10, .left_hundredths = 500},
        {.stage = DUE_STAGE_COMING_UP, .has_forecast = true, .due_day = 10, .left_hundredths = 600},
        {.stage = DUE_STAGE_COMING_UP, .left_hundredths = 200},
        {.stage = DUE_STAGE_COMING_UP, .left_hundredths = 300},
        {.stage = DUE_STAGE_FINE, .has_forecast = true, .due_day = 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        for (size_t j = 0; j < sizeof rows / sizeof rows[0]; j++) {
            int order = yard_worst_first(&rows[i], &rows[j]);
            assert_int_equal((order > 0) - (order < 0), (i > j) - (i < j));
        }
    }
}

/* Use of an hour a day towards 75 h, and a limit of the calendar: what stands at which point, told
 * by what comes first. */
static void whichever_of_hours_and_date_comes_first_is_said(void **state)
{
    struct yard_room *room = *state;
    static const struct {
        int32_t months, started_before, read_days;
        enum due_by by;
        enum due_stage stage;
    } cases[] = {
        {0, 0, 30, DUE_BY_HOURS, DUE_STAGE_FINE},      /* no calendar */
        {12, 0, 30, DUE_BY_HOURS, DUE_STAGE_FINE},     /* a year is far */
        {2, 0, 30, DUE_BY_DATE, DUE_STAGE_FINE},       /* two months after the first reading */
        {2, 20, 30, DUE_BY_DATE, DUE_STAGE_COMING_UP}, /* or after it was put to work */
        {12, 350, 30, DUE_BY_DATE, DUE_STAGE_DUE},     {12, 280, 30, DUE_BY_HOURS, DUE_STAGE_FINE},
        {12, 320, 76, DUE_BY_DATE, DUE_STAGE_OVERDUE}, /* both have come, the date before */
        {12, 280, 76, DUE_BY_HOURS, DUE_STAGE_DUE},    {1, 0, 76, DUE_BY_DATE, DUE_STAGE_OVERDUE},
    };
    int32_t day = 0;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        for (; day < cases[i].read_days; day++) {
            room_read(room, M12, 100 + day * 100, room_at(day, 12));
        }
        struct settings_machine *machine = &room->machines[M12];
        machine->started_day_known = cases[i].started_before > 0;
        machine->started_day = zone_civil(room_at(0, 12)).day - cases[i].started_before;
        room->plans[DRIVE].plan.months = cases[i].months;
        struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(day - 1, 18));
        assert_int_equal(standing.by, cases[i].by);
        assert_int_equal(standing.stage, cases[i].stage);
        if (standing.by == DUE_BY_DATE) {
            assert_int_equal(standing.due_day, standing.limit_day);
        }
    }
}

static void the_yard_is_listed_worst_first(void **state)
{
    struct yard_room *room = *state;
    struct yard_standing *standings = NULL;
    size_t count = 0;
    room->kind.plan_count = 2;
    room_read(room, M12, 1000, room_at(0, 12));
    room_read(room, M12, 7600, room_at(5, 12));
    room_read(room, M14, 134000, room_at(0, 12));
    room_serve(room, M14, "drive", 84000, room_at(0, 13));
    assert_int_equal(yard_stand_all(&room->yard, room_at(5, 13), &standings, &count), LEDGER_OK);
    static const struct {
        int32_t machine, plan;
        enum due_stage stage;
    } wanted[] = {
        {M14, DRIVE, DUE_STAGE_DUE},      {M12, DRIVE, DUE_STAGE_DUE},
        {M14, DECK, DUE_STAGE_NO_RECORD}, {M12, DECK, DUE_STAGE_COMING_UP},
        {TR9, DRIVE, DUE_STAGE_UNREAD},   {TR9, DECK, DUE_STAGE_UNREAD},
    };
    assert_int_equal(count, sizeof wanted / sizeof wanted[0]);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(standings[i].machine, wanted[i].machine);
        assert_int_equal(standings[i].plan, wanted[i].plan);
        assert_int_equal(standings[i].stage, wanted[i].stage);
        struct yard_standing alone =
            room_stand(room, standings[i].machine, standings[i].plan, room_at(5, 13));
        assert_memory_equal(&alone, &standings[i], sizeof alone);
    }
    free(standings);
}

/* A small generator of our own, so that a seed means the same on every box. */
static uint32_t next_random(uint32_t *random)
{
    *random = *random * 1664525U + 1013904223U;
    return *random >> 8;
}

#define EVENTS 24

static void add_event(struct yard_room *room, int event)
{
    if (event % 8 == 7) {
        room_serve(room, M12, "drive", 5000 + event * 400, room_at(event, 18));
    } else {
        /* two readings of one moment among them */
        int day = event == 13 ? 12 : event;
        room_read(room, M12, 5000 + event * 400, room_at(day, 12));
    }
}

static void the_order_of_arrival_does_not_matter(void **state)
{
    (void)state;
    struct yard_standing first = {0};
    uint32_t random = 48213;
    print_message("order of arrival: seed %u\n", random);
    for (int round = 0; round < 60; round++) {
        struct yard_room *room = NULL;
        int order[EVENTS];
        assert_int_equal(yard_enter((void **)&room), 0);
        for (int i = 0; i < EVENTS; i++) {
            int j = (int)(next_random(&random) % (uint32_t)(i + 1));
            order[i] = order[j];
            order[j] = i;
        }
        for (int i = 0; i < EVENTS; i++) {
            add_event(room, round == 0 ? i : order[i]);
        }
        struct yard_standing standing = room_stand(room, M12, DRIVE, room_at(EVENTS, 12));
        /* the ledger's own numbers are given in the order of arrival */
        standing.cause_reading_id = standing.cause_service_id = 0;
        first = round == 0 ? standing : first;
        assert_memory_equal(&standing, &first, sizeof first);
        assert_int_equal(yard_leave((void **)&room), 0);
    }
    assert_true(first.has_due && first.serviced && first.usage_rests > 0);
}

#define YARD_TEST(test) cmocka_unit_test_setup_teardown(test, yard_enter, yard_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        YARD_TEST(a_machine_goes_from_unread_to_overdue),
        YARD_TEST(a_service_restarts_the_count),
        YARD_TEST(no_record_ends_with_a_service_at_any_earlier_figure),
        YARD_TEST(a_machine_known_before_its_first_service_has_a_record),
        YARD_TEST(the_config_seeds_and_the_ledger_wins),
        YARD_TEST(true_hours_go_on_over_swaps_and_roll_over),
        YARD_TEST(steady_use_is_forecast_to_the_day),
        YARD_TEST(what_no_reading_says_is_not_forecast_into_the_past),
        YARD_TEST(a_limit_that_has_passed_stays_where_it_is),
        YARD_TEST(the_first_reading_of_the_year_steadies_the_forecast),
        YARD_TEST(a_parked_machine_is_asked_for_nothing_by_hours),
        YARD_TEST(a_report_of_the_past_knows_only_what_was_taken_up_to_then),
        YARD_TEST(a_machine_is_where_it_was_last_said_to_be),
        YARD_TEST(a_service_recorded_after_it_ends_a_booking),
        YARD_TEST(the_config_says_who_is_gone),
        YARD_TEST(the_yard_is_listed_worst_first),
        YARD_TEST(whichever_of_hours_and_date_comes_first_is_said),
        cmocka_unit_test(within_a_stage_the_earliest_day_comes_first),
        cmocka_unit_test(the_order_of_arrival_does_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
