/* SPDX-License-Identifier: MIT
 *
 * Hours that the clock allows between two moments, in the zone of Los Angeles: its clocks went
 * forward on 2027-03-14 and back on 2027-11-07 (zone database). */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "daemon/upkeep/civil.h"
#include "daemon/yard/allowance.h"
#include "daemon/ground/zone.h"

static int64_t at(int32_t year, int32_t month, int32_t day, int32_t hour)
{
    return zone_unix(civil_day((struct civil_date){year, month, day}), hour * 3600);
}

static void each_day_allows_the_lesser_of_its_most_and_its_time(void **state)
{
    (void)state;
    assert_true(zone_set("America/Los_Angeles"));
    const struct {
        int64_t from_s, until_s, most_day, allowed;
    } cases[] = {
        /* one day: 10 h of it */
        {at(2027, 5, 3, 7), at(2027, 5, 3, 17), 2400, 1000},
        {at(2027, 5, 3, 7), at(2027, 5, 3, 17), 800, 800},
        /* 7 h of Monday, 17 h of Tuesday */
        {at(2027, 5, 3, 17), at(2027, 5, 4, 17), 2400, 2400},
        {at(2027, 5, 3, 17), at(2027, 5, 4, 17), 1600, 700 + 1600},
        {at(2027, 5, 3, 17), at(2027, 5, 4, 7), 1600, 700 + 700},
        /* 7 h, two whole days, 7 h */
        {at(2027, 5, 3, 17), at(2027, 5, 6, 7), 1600, 700 + 2 * 1600 + 700},
        /* days of 23 and 25 hours */
        {at(2027, 3, 14, 0), at(2027, 3, 15, 0), 2400, 2300},
        {at(2027, 11, 7, 0), at(2027, 11, 8, 0), 2500, 2500},
        {at(2027, 11, 7, 0), at(2027, 11, 8, 0), 2400, 2400},
        {at(2027, 3, 13, 12), at(2027, 3, 14, 12), 2400, 2300},
        /* no time, and time turned round */
        {at(2027, 5, 3, 7), at(2027, 5, 3, 7), 2400, 0},
        {at(2027, 5, 3, 7), at(2027, 5, 2, 7), 2400, 0},
        /* five years, past the days that are looked at one by one */
        {at(2022, 5, 3, 0), at(2027, 5, 3, 0), 1600, 1826 * 1600},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(allowance_between(cases[i].from_s, cases[i].until_s, cases[i].most_day),
                         cases[i].allowed + ALLOWANCE_ROUNDING_HUNDREDTHS);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_day_allows_the_lesser_of_its_most_and_its_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
