/* SPDX-License-Identifier: MIT
 * What the shop has to do, day by day. How jobs are laid into days is tested with upkeep/workload; here
 * is what comes before it: what nears, what is booked, when parts can be there. Common practice, no
 * source. Day 0 is a Monday. */
#include "tests/yard_room.h"

#include "daemon/ledger/movements.h"
#include "daemon/yard/bay.h"

static int32_t monday;

static int bay_enter(void **state)
{
    int result = yard_enter(state);
    struct yard_room *room = *state;
    struct settings_shop *shop = &room->settings.shop;
    for (int i = 0; i < 5; i++) {
        shop->workdays[i] = true;
    }
    shop->bays = 1;
    shop->bay_minutes = 420;
    shop->alert_until_minute = 17 * 60;
    room->plans[DRIVE].plan.minutes = 90;
    room->plans[DECK].plan.minutes = 60;
    monday = zone_civil(room_at(0, 12)).day;
    return result;
}

static void move(struct yard_room *room, int machine, enum movement_kind kind, int32_t day,
                 int64_t at_s)
{
    struct movement movement = {.kind = kind, .day = day, .at_s = at_s};
    assert_int_equal(movements_add(room->yard.ledger, room->ids[machine], &movement), LEDGER_OK);
}

/* The days with jobs, as "day: machine plan minutes why free; ...": days from the Monday, b booked or s
 * suggested. */
static const char *bay_says(struct yard_room *room, int64_t now_s, int32_t days)
{
    static char says[512];
    struct bay bay;
    size_t length = 0;
    says[0] = '\0';
    assert_int_equal(bay_reckon(&room->yard, now_s, monday + days, &bay), LEDGER_OK);
    for (size_t i = 0; i < bay.day_count; i++) {
        const struct bay_day *day = &bay.days[i];
        assert_int_equal(day->day, zone_civil(now_s).day + (int32_t)i);
        for (size_t j = 0; j < day->job_count; j++) {
            const struct bay_job *job = &day->jobs[j];
            length += (size_t)snprintf(
                says + length, sizeof says - length, "%s%d: %s %s %d %c", length > 0 ? "; " : "",
                day->day - monday, room->machines[job->machine].name, room->plans[job->plan].name,
                job->minutes, job->booked ? 'b' : 's');
            int32_t suggested = 0;
            assert_int_equal(bay_suggested(&bay, job->machine, job->plan, &suggested),
                             !job->booked);
            assert_true(job->booked || suggested == day->day);
        }
    }
    bay_free(&bay);
    return says;
}

static void open_days_have_their_minutes(void **state)
{
    struct yard_room *room = *state;
    struct bay bay;
    room->settings.shop.bays = 2;
    room->settings.shop.holidays[0] = monday + 2;
    room->settings.shop.holiday_count = 1;
    static const int32_t minutes[] = {840, 840, 0, 840, 840, 0, 0, 840};
    assert_int_equal(bay_reckon(&room->yard, room_at(0, 12), monday + 7, &bay), LEDGER_OK);
    assert_int_equal(bay.day_count, 8);
    for (size_t i = 0; i < 8; i++) {
        assert_int_equal(bay.days[i].minutes, minutes[i]);
        assert_int_equal(bay.days[i].free_minutes, minutes[i]);
        assert_int_equal(bay.days[i].job_count, 0);
    }
    bay_free(&bay);
    /* a look back is a look at today, and a long one is cut short */
    assert_int_equal(bay_reckon(&room->yard, room_at(0, 12), monday - 9, &bay), LEDGER_OK);
    assert_int_equal(bay.day_count, 1);
    bay_free(&bay);
    assert_int_equal(bay_reckon(&room->yard, room_at(0, 12), INT32_MAX, &bay), LEDGER_OK);
    assert_int_equal(bay.day_count, BAY_DAYS_MOST);
    bay_free(&bay);
}

/* The early bound decides, on a day that the shop works; what is due comes at once. */
static void what_nears_is_suggested_by_its_early_bound(void **state)
{
    struct yard_room *room = *state;
    int64_t now_s = room_at(20, 12); /* a Sunday */
    for (int32_t day = 0; day <= 20; day++) {
        room_read(room, M12, 500 + day * 200, room_at(day, 11));
        room_read(room, M14, 3600 + day * 200, room_at(day, 11));
    }
    struct yard_standing standing = room_stand(room, M12, DRIVE, now_s);
    assert_int_equal(standing.stage, DUE_STAGE_FINE);
    assert_int_equal(room_stand(room, M14, DRIVE, now_s).stage, DUE_STAGE_DUE);
    char wanted[128];
    int32_t by = standing.earliest_day - monday;
    assert_true(by > 21 && by < 35);
    by -= by % 7 > 4 ? by % 7 - 4 : 0;
    (void)snprintf(wanted, sizeof wanted, "21: M14 drive 90 s; %d: M12 drive 90 s", by);
    assert_string_equal(bay_says(room, now_s, 56), wanted);
    /* beyond the days looked at nothing nears */
    assert_string_equal(bay_says(room, now_s, 21), "21: M14 drive 90 s");
    /* past closing time it is tomorrow's; on Friday Monday's */
    assert_string_equal(bay_says(room, room_at(21, 16), 21), "21: M14 drive 90 s");
    assert_string_equal(bay_says(room, room_at(21, 17), 21), "");
    assert_string_equal(bay_says(room, room_at(21, 17), 22), "22: M14 drive 90 s");
    assert_string_equal(bay_says(room, room_at(25, 17), 27), "");
}

/* Read this morning before and after its first service. */
static void make_due(struct yard_room *room, int machine, int64_t hundredths)
{
    room_read(room, machine, 7400, room_at(0, 1));
    room_read(room, machine, hundredths, room_at(0, 10));
}

static void who_is_left_out(void **state)
{
    struct yard_room *room = *state;
    make_due(room, M12, 7600);
    room_read(room, M14, 34000, room_at(0, 11)); /* no service on record */
    assert_string_equal(bay_says(room, room_at(0, 12), 56), "0: M12 drive 90 s");
    assert_int_equal(machines_park(room->yard.ledger, room->ids[M12], room_at(0, 12), 0, 0),
                     LEDGER_OK);
    assert_string_equal(bay_says(room, room_at(1, 12), 56), "");
    assert_int_equal(machines_back(room->yard.ledger, room->ids[M12], room_at(1, 13), 0, 0),
                     LEDGER_OK);
    assert_string_equal(bay_says(room, room_at(1, 14), 56), "1: M12 drive 90 s");
    move(room, M12, MOVEMENT_GONE, 0, room_at(2, 12));
    assert_string_equal(bay_says(room, room_at(2, 14), 56), "");
}

static void what_the_shop_says_comes_first(void **state)
{
    struct yard_room *room = *state;
    make_due(room, M12, 7600);
    room_read(room, M14, 100, room_at(0, 10));
    room_serve(room, M14, "drive", 100, room_at(0, 10)); /* 500 h to go */
    static const struct {
        enum movement_kind kind;
        int machine;
        int32_t day;
        const char *says;
    } steps[] = {
        {MOVEMENT_BOOK, M12, 3, "3: M12 drive 90 b"},
        {MOVEMENT_BOOK, M12, 5, "5: M12 drive 90 b"},  /* a Saturday: as it is given */
        {MOVEMENT_BOOK, M12, 70, ""},                  /* beyond what is looked at */
        {MOVEMENT_BOOK, M12, -1, "0: M12 drive 90 s"}, /* it has passed */
        {MOVEMENT_IN, M12, 0, "0: M12 drive 90 b"},
        {MOVEMENT_OUT, M12, 0, "0: M12 drive 90 s"},
        /* nothing of it nears: the worst plan stands for whatever it comes for */
        {MOVEMENT_BOOK, M14, 1, "0: M12 drive 90 s; 1: M14 drive 90 b"},
        {MOVEMENT_IN, M14, 0, "0: M12 drive 90 s"},
    };
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        bool book = steps[i].kind == MOVEMENT_BOOK;
        move(room, steps[i].machine, steps[i].kind, book ? monday + steps[i].day : 0,
             room_at(0, 11) + (int64_t)i);
        assert_string_equal(bay_says(room, room_at(0, 12), 14), steps[i].says);
    }
}

static void plans_of_one_machine_come_together(void **state)
{
    struct yard_room *room = *state;
    room->kind.plan_count = 2; /* the deck is due 25 h after the drive */
    make_due(room, M12, 7600);
    assert_string_equal(bay_says(room, room_at(0, 12), 56), "0: M12 drive 90 s; 0: M12 deck 60 s");
    move(room, M12, MOVEMENT_BOOK, monday + 3, room_at(0, 11));
    assert_string_equal(bay_says(room, room_at(0, 12), 56), "3: M12 drive 90 b; 3: M12 deck 60 b");
}

/* Both machines are due on Monday and take 2 filters each. */
static void nothing_comes_before_its_parts(void **state)
{
    struct yard_room *room = *state;
    static const struct {
        int64_t on_hand_thousandths;
        int32_t lead_days;
        const char *says;
    } cases[] = {
        {-1, 0, "0: M12 drive 90 s; 0: M14 drive 90 s"},
        {-1, 3, "3: M12 drive 90 s; 3: M14 drive 90 s"},
        {0, 3, "3: M12 drive 90 s; 3: M14 drive 90 s"},
        {1999, 3, "3: M12 drive 90 s; 3: M14 drive 90 s"},
        {2000, 3, "0: M12 drive 90 s; 3: M14 drive 90 s"},
        {4000, 3, "0: M12 drive 90 s; 0: M14 drive 90 s"},
        {2000, 5, "0: M12 drive 90 s; 7: M14 drive 90 s"}, /* a Saturday is waited out */
        {2000, 90, "0: M12 drive 90 s"},
    };
    room->plans[DRIVE].kit_count = 1;
    make_due(room, M12, 7700);
    make_due(room, M14, 7600);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        room->plans[DRIVE].kit[0] =
            (struct settings_kit_item){.item = "filter",
                                       .quantity_thousandths = 2000,
                                       .unit = KIT_UNIT_PIECE,
                                       .sold_in_thousandths = 1000,
                                       .lead_days = cases[i].lead_days,
                                       .on_hand_thousandths = cases[i].on_hand_thousandths};
        assert_string_equal(bay_says(room, room_at(0, 12), 56), cases[i].says);
    }
}

#define BAY_TEST(name) cmocka_unit_test_setup_teardown(name, bay_enter, yard_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        BAY_TEST(open_days_have_their_minutes),
        BAY_TEST(what_nears_is_suggested_by_its_early_bound),
        BAY_TEST(who_is_left_out),
        BAY_TEST(what_the_shop_says_comes_first),
        BAY_TEST(plans_of_one_machine_come_together),
        BAY_TEST(nothing_comes_before_its_parts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
