/* SPDX-License-Identifier: MIT
 * The moment that a day in a text stands for, on the shop's wall clock. */
#include "tests/desk_room.h"

#include "daemon/desk/when.h"

#define SENT "2027-05-12 09:00" /* a Wednesday */

static const struct {
    const char *says;
    struct crew_when when;
    enum when_result result;
    const char *moment; /* local, to the minute */
} cases[] = {
    {"nothing", {.minute_of_day = -1}, WHEN_OK, SENT},
    {"today", {CREW_WHEN_DAYS_AGO, .minute_of_day = -1}, WHEN_OK, SENT},
    {"yesterday",
     {CREW_WHEN_DAYS_AGO, .days_ago = 1, .minute_of_day = -1},
     WHEN_OK,
     "2027-05-11 23:59"},
    {"tomorrow", {CREW_WHEN_DAYS_AGO, .days_ago = -1, .minute_of_day = -1}, WHEN_FUTURE, SENT},
    {"wednesday", {CREW_WHEN_WEEKDAY, .weekday = 2, .minute_of_day = -1}, WHEN_OK, SENT},
    {"thursday",
     {CREW_WHEN_WEEKDAY, .weekday = 3, .minute_of_day = -1},
     WHEN_OK,
     "2027-05-06 23:59"},
    {"at 7:30", {.minute_of_day = 450}, WHEN_OK, "2027-05-12 07:30"},
    {"at 17:00", {.minute_of_day = 1020}, WHEN_FUTURE, SENT},
    {"yesterday at 17:00",
     {CREW_WHEN_DAYS_AGO, .days_ago = 1, .minute_of_day = 1020},
     WHEN_OK,
     "2027-05-11 17:00"},
    {"5/10",
     {CREW_WHEN_DATE, .month = 5, .day = 10, .minute_of_day = -1},
     WHEN_OK,
     "2027-05-10 23:59"},
    {"5/13", {CREW_WHEN_DATE, .month = 5, .day = 13, .minute_of_day = -1}, WHEN_UNCLEAR, SENT},
    {"3/13, sixty days past",
     {CREW_WHEN_DATE, .month = 3, .day = 13, .minute_of_day = -1},
     WHEN_OK,
     "2027-03-13 23:59"},
    {"3/12, a day more",
     {CREW_WHEN_DATE, .month = 3, .day = 12, .minute_of_day = -1},
     WHEN_UNCLEAR,
     SENT},
    {"2/29", {CREW_WHEN_DATE, .month = 2, .day = 29, .minute_of_day = -1}, WHEN_UNCLEAR, SENT},
    {"13/45", {CREW_WHEN_DATE, .month = 13, .day = 45, .minute_of_day = -1}, WHEN_UNCLEAR, SENT},
    {"2026-12-01",
     {CREW_WHEN_DATE, .year = 2026, .month = 12, .day = 1, .minute_of_day = -1},
     WHEN_OK,
     "2026-12-01 23:59"},
    {"5/11/27",
     {CREW_WHEN_DATE, .year = 27, .month = 5, .day = 11, .minute_of_day = -1},
     WHEN_OK,
     "2027-05-11 23:59"},
    {"2028-01-01",
     {CREW_WHEN_DATE, .year = 2028, .month = 1, .day = 1, .minute_of_day = -1},
     WHEN_FUTURE,
     SENT},
};

static void a_day_stands_for_its_end_and_never_for_the_future(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int64_t at_s = 0;
        enum when_result result = when_resolve(&cases[i].when, local_s(SENT), &at_s);
        if (result != cases[i].result ||
            (result == WHEN_OK && at_s / 60 != local_s(cases[i].moment) / 60)) {
            fail_msg("%s: %d, %lld", cases[i].says, result, (long long)at_s);
        }
    }
}

/* In January a date without a year is last December's. */
static void a_date_without_a_year_may_be_of_the_year_before(void **state)
{
    struct crew_when when = {CREW_WHEN_DATE, .month = 12, .day = 20, .minute_of_day = -1};
    int64_t at_s = 0;
    (void)state;
    assert_int_equal(when_resolve(&when, local_s("2027-01-05 09:00"), &at_s), WHEN_OK);
    assert_int_equal(at_s / 60, local_s("2026-12-20 23:59") / 60);
}

/* Clocks go forward on 2027-03-14 at 2:00 (zone database): the day ends an hour sooner. */
static void a_day_of_twenty_three_hours_ends_at_midnight_too(void **state)
{
    struct crew_when when = {CREW_WHEN_DAYS_AGO, .days_ago = 1, .minute_of_day = -1};
    int64_t at_s = 0;
    (void)state;
    assert_int_equal(when_resolve(&when, local_s("2027-03-15 09:00"), &at_s), WHEN_OK);
    assert_int_equal(at_s, local_s("2027-03-15 00:00") - 1);
}

#define ROOM_TEST(test) cmocka_unit_test_setup_teardown(test, room_open, room_close)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ROOM_TEST(a_day_stands_for_its_end_and_never_for_the_future),
        ROOM_TEST(a_date_without_a_year_may_be_of_the_year_before),
        ROOM_TEST(a_day_of_twenty_three_hours_ends_at_midnight_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
