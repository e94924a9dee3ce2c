/* SPDX-License-Identifier: MIT
 * What a machine had run between two readings. Common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "daemon/upkeep/apportion.h"

#define DAY INT64_C(86400)

/* 10.00 h on day 0, 18.00 on day 4, 20.00 on day 8, laid up from day 5 to day 7; newest first. */
static const struct usage_reading readings[] = {{8 * DAY, 2000}, {4 * DAY, 1800}, {0, 1000}};
static const struct usage_spell spells[] = {{5 * DAY, 7 * DAY}};

static void hours_go_in_step_with_time_at_work(void **state)
{
    static const struct {
        int64_t at_s, hundredths;
    } cases[] = {{-DAY, 1000},     {0, 1000},       {DAY, 1200},     {3 * DAY, 1600},
                 {4 * DAY, 1800},  {5 * DAY, 1900}, {6 * DAY, 1900}, {7 * DAY, 1900},
                 {8 * DAY, 2000},  {9 * DAY, 2000}, {DAY / 2, 1100}, {DAY + 60, 1200},
                 {INT64_MAX, 2000}};
    struct usage_record record = {
        .count = 3, .readings = readings, .spell_count = 1, .spells = spells};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(apportion_at(&record, cases[i].at_s), cases[i].hundredths);
    }
}

static void spans_that_meet_add_up(void **state)
{
    struct usage_record record = {
        .count = 3, .readings = readings, .spell_count = 1, .spells = spells};
    int64_t sum = 0;
    (void)state;
    for (int64_t at_s = -DAY; at_s < 10 * DAY; at_s += 12347) {
        int64_t ran = apportion_at(&record, at_s + 12347) - apportion_at(&record, at_s);
        assert_true(ran >= 0);
        sum += ran;
    }
    assert_int_equal(sum, 1000);
}

static void what_was_laid_up_is_found_with_the_later_reading(void **state)
{
    static const struct usage_spell all[] = {{0, 8 * DAY}};
    struct usage_record record = {
        .count = 3, .readings = readings, .spell_count = 1, .spells = all};
    (void)state;
    assert_int_equal(apportion_at(&record, 6 * DAY), 1800);
    assert_int_equal(apportion_at(&record, 8 * DAY - 1), 1800);
    assert_int_equal(apportion_at(&record, 8 * DAY), 2000);
}

static void without_readings_nothing_has_run(void **state)
{
    struct usage_record none = {.count = 0};
    struct usage_record one = {.count = 1, .readings = readings};
    static const struct usage_reading twice[] = {{DAY, 1100}, {DAY, 1000}};
    struct usage_record same = {.count = 2, .readings = twice};
    (void)state;
    assert_int_equal(apportion_at(&none, DAY), 0);
    assert_int_equal(apportion_at(&one, 0), 2000);
    assert_int_equal(apportion_at(&one, 9 * DAY), 2000);
    assert_int_equal(apportion_at(&same, DAY - 1), 1000);
    assert_int_equal(apportion_at(&same, DAY), 1100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hours_go_in_step_with_time_at_work),
        cmocka_unit_test(spans_that_meet_add_up),
        cmocka_unit_test(what_was_laid_up_is_found_with_the_later_reading),
        cmocka_unit_test(without_readings_nothing_has_run),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
