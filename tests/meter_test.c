/* SPDX-License-Identifier: MIT
 *
 * What an hour meter can show. Figures of meters are common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "daemon/upkeep/meter.h"

static void digits_before_the_point_are_counted(void **state)
{
    (void)state;
    static const struct {
        int64_t hundredths;
        int32_t digits;
    } cases[] = {{0, 1},      {90, 1},     {999, 1},     {1000, 2},    {9999, 2},    {10000, 3},
                 {134050, 4}, {999990, 4}, {1000000, 5}, {9999990, 5}, {99999999, 6}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(meter_whole_digits(cases[i].hundredths), cases[i].digits);
    }
}

static void a_meter_begins_anew_one_step_past_its_limit(void **state)
{
    (void)state;
    assert_int_equal(meter_period(999990), 1000000);  /* 9999.9: tenths */
    assert_int_equal(meter_period(999900), 1000000);  /* 9999: whole hours */
    assert_int_equal(meter_period(999999), 1000000);  /* 9999.99: hundredths */
    assert_int_equal(meter_period(6553500), 6553600); /* 65 535: sixteen bits */
}

static void a_roll_over_needs_the_limit_near_and_the_time(void **state)
{
    (void)state;
    static const struct {
        int64_t last, now, allowed;
        bool rolled;
    } cases[] = {
        {999500, 320, 4800, true},    {980000, 100, 20100, true}, {980000, 100, 20099, false},
        {979000, 100, 900000, false}, {999500, 320, 819, false},  {999500, 999600, 900000, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(meter_rolled_over(999990, cases[i].last, cases[i].now, cases[i].allowed),
                         cases[i].rolled);
    }
}

static void a_new_meter_shows_little_and_no_more_than_the_time(void **state)
{
    (void)state;
    assert_true(meter_swapped(134000, 320, 2420));
    assert_true(meter_swapped(134000, 2420, 2420));
    assert_false(meter_swapped(134000, 2421, 2420));
    assert_false(meter_swapped(134000, 13400, 900000));
    assert_true(meter_swapped(134000, 13399, 900000));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(digits_before_the_point_are_counted),
        cmocka_unit_test(a_meter_begins_anew_one_step_past_its_limit),
        cmocka_unit_test(a_roll_over_needs_the_limit_near_and_the_time),
        cmocka_unit_test(a_new_meter_shows_little_and_no_more_than_the_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
