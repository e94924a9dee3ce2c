/* SPDX-License-Identifier: MIT
 *
 * What was meant by a figure that cannot be true: one slip of a hand undone, a meter that rolled over
 * or was changed. The slips are common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "daemon/upkeep/doubt.h"

#define M12 12

static struct doubt_search search_slips(int64_t typed, int32_t decimals, int64_t least,
                                        int64_t most, int64_t predicted)
{
    struct doubt_search search = {0};
    struct doubt_range range = {least, most};
    doubt_add_slips(&search, M12, typed, decimals, &range, predicted);
    return search;
}

static void a_single_slip_is_found_and_named(void **state)
{
    (void)state;
    static const struct {
        int64_t typed;
        int32_t decimals;
        int64_t least, most, predicted;
        enum doubt_slip slip;
        int64_t meant;
    } cases[] = {
        /* last 1338.0, a day at most 16.2 h, 6 h a day */
        {1340500, 0, 133800, 135420, 134100, DOUBT_SLIP_POINT_LOST, 134050},
        {13405000, 0, 133800, 135420, 134400, DOUBT_SLIP_POINT_LOST, 134050},
        {143050, 1, 133800, 135420, 134400, DOUBT_SLIP_EXCHANGED, 134050},
        {314050, 1, 133800, 135420, 134400, DOUBT_SLIP_EXCHANGED, 134050},
        {734400, 0, 133800, 135420, 134400, DOUBT_SLIP_WRONG, 134400},
        {194450, 1, 133800, 135420, 134400, DOUBT_SLIP_WRONG, 134450},
        {14400, 0, 133800, 135420, 134400, DOUBT_SLIP_MISSING, 134400},
        {34400, 0, 133800, 135420, 134400, DOUBT_SLIP_MISSING, 134400},
        {1334400, 0, 133800, 135420, 134400, DOUBT_SLIP_EXTRA, 134400},
        {1344450, 1, 134300, 134500, 134440, DOUBT_SLIP_EXTRA, 134450},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct doubt_search search = search_slips(cases[i].typed, cases[i].decimals, cases[i].least,
                                                  cases[i].most, cases[i].predicted);
        assert_true(search.found > 0);
        assert_int_equal(search.best.hundredths, cases[i].meant);
        assert_int_equal(search.best.slip, cases[i].slip);
        assert_int_equal(search.best.machine, M12);
    }
}

static void found_alone(int64_t typed_hours, int64_t meant_hours)
{
    int64_t meant = meant_hours * 100;
    struct doubt_search search = search_slips(typed_hours * 100, 0, meant, meant, meant);
    if (typed_hours != meant_hours) {
        assert_int_equal(search.found, 1);
        assert_int_equal(search.best.hundredths, meant);
    }
}

/* Every slip at every place of figures of two to five digits: where the range lets in nothing else,
 * what was meant is found, and nothing else. */
static void what_was_meant_is_found_alone_in_a_narrow_range(void **state)
{
    (void)state;
    for (int64_t meant = 10; meant < 99999; meant = meant * 8 / 7 + 1) {
        for (int64_t place = 1; place <= meant; place *= 10) {
            int64_t digit = meant / place % 10;
            int64_t next = meant / place / 10 % 10;
            int64_t before = meant / place / 10 * place;
            found_alone(meant + ((digit + 3) % 10 - digit) * place, meant);             /* wrong */
            found_alone(meant / place * place * 10 + 7 * place + meant % place, meant); /* extra */
            found_alone(meant / place * place * 10 + digit * place + meant % place, meant);
            if (place * 10 <= meant) {
                found_alone(meant + (next - digit) * (place - place * 10), meant); /* exchanged */
                found_alone(before + meant % place, meant);                        /* missing */
            }
        }
    }
}

static void a_figure_without_a_slip_in_range_has_none(void **state)
{
    (void)state;
    assert_int_equal(search_slips(812300, 0, 133800, 135420, 134400).found, 0);
    assert_int_equal(search_slips(0, 0, 133800, 135420, 134400).found, 0);
    assert_int_equal(search_slips(-5, 0, 0, 135420, 134400).found, 0);
    assert_int_equal(search_slips(INT64_MAX, 2, 0, INT64_MAX, 0).found, 0);
}

static void digits_are_not_exchanged_across_the_point(void **state)
{
    (void)state;
    /* 1304.5 would be 1305.4 with its point jumped over. */
    struct doubt_search search = search_slips(130450, 1, 130540, 130540, 130540);
    assert_int_equal(search.found, 0);
    search = search_slips(130425, 2, 130452, 130452, 130452);
    assert_int_equal(search.found, 1);
    assert_int_equal(search.best.slip, DOUBT_SLIP_EXCHANGED);
}

static void a_figure_with_a_point_has_not_lost_it(void **state)
{
    (void)state;
    assert_int_equal(search_slips(1340500, 1, 134050, 134050, 134050).found, 0);
    assert_int_equal(search_slips(1340500, 0, 134050, 134050, 134050).found, 1);
}

static struct doubt_candidate candidate(int32_t machine, int64_t hundredths, int64_t away)
{
    return (struct doubt_candidate){
        .machine = machine, .hundredths = hundredths, .away_hundredths = away};
}

static void the_best_must_be_four_times_nearer_than_the_next(void **state)
{
    (void)state;
    static const struct {
        int64_t best, next;
        bool clear;
    } cases[] = {
        {0, 399, false},  {0, 400, true},     {100, 400, true},  {101, 403, false},
        {101, 404, true}, {500, 1999, false}, {500, 2000, true}, {700, 700, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        for (int turned = 0; turned < 2; turned++) {
            struct doubt_search search = {0};
            struct doubt_candidate best = candidate(1, 1000, cases[i].best);
            struct doubt_candidate next = candidate(1, 2000, cases[i].next);
            doubt_consider(&search, turned ? &next : &best);
            doubt_consider(&search, turned ? &best : &next);
            assert_int_equal(doubt_clearly_best(&search), cases[i].clear);
        }
    }
}

static void the_only_candidate_is_clearly_best(void **state)
{
    (void)state;
    struct doubt_search search = {0};
    assert_false(doubt_clearly_best(&search));
    struct doubt_candidate only = candidate(1, 1000, 90000);
    doubt_consider(&search, &only);
    doubt_consider(&search, &only); /* come upon by two slips */
    assert_true(doubt_clearly_best(&search));
    struct doubt_candidate elsewhere = candidate(2, 1000, 90000);
    doubt_consider(&search, &elsewhere); /* another machine is another candidate */
    assert_false(doubt_clearly_best(&search));
}

static void a_third_candidate_does_not_hide_the_second(void **state)
{
    (void)state;
    static const int64_t away[3] = {100, 300, 900};
    for (int first = 0; first < 3; first++) {
        for (int second = 0; second < 3; second++) {
            struct doubt_search search = {0};
            for (int i = 0; i < 3 && first != second; i++) {
                int which = i == 0 ? first : i == 1 ? second : 3 - first - second;
                struct doubt_candidate one = candidate(1, which, away[which]);
                doubt_consider(&search, &one);
            }
            if (first != second) {
                assert_int_equal(search.best.hundredths, 0);
                assert_int_equal(search.next.hundredths, 1);
            }
        }
    }
}

static void a_point_is_lost_only_where_tenths_are_read(void **state)
{
    (void)state;
    static const struct {
        int64_t typed;
        int32_t decimals;
        int64_t last;
        bool tenths, lost;
    } cases[] = {
        {1340500, 0, 133850, true, true},  {1340500, 0, 133850, false, false},
        {1340500, 1, 133850, true, false}, {134000, 0, 133850, true, false},
        {100200, 0, 99850, true, true}, /* whether it is plausible is another matter */
        {9900, 0, 950, true, true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(
            doubt_lost_point(cases[i].typed, cases[i].decimals, cases[i].last, cases[i].tenths),
            cases[i].lost);
    }
    assert_int_equal(doubt_point_before_last(1340500), 134050);
}

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
        cmocka_unit_test(a_single_slip_is_found_and_named),
        cmocka_unit_test(what_was_meant_is_found_alone_in_a_narrow_range),
        cmocka_unit_test(a_figure_without_a_slip_in_range_has_none),
        cmocka_unit_test(digits_are_not_exchanged_across_the_point),
        cmocka_unit_test(a_figure_with_a_point_has_not_lost_it),
        cmocka_unit_test(the_best_must_be_four_times_nearer_than_the_next),
        cmocka_unit_test(the_only_candidate_is_clearly_best),
        cmocka_unit_test(a_third_candidate_does_not_hide_the_second),
        cmocka_unit_test(a_point_is_lost_only_where_tenths_are_read),
        cmocka_unit_test(digits_before_the_point_are_counted),
        cmocka_unit_test(a_meter_begins_anew_one_step_past_its_limit),
        cmocka_unit_test(a_roll_over_needs_the_limit_near_and_the_time),
        cmocka_unit_test(a_new_meter_shows_little_and_no_more_than_the_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
