/* SPDX-License-Identifier: MIT
 *
 * Usage: the slope against SciPy's theilslopes, kept as data in fixtures/series and reckoned anew
 * where SciPy is there; and what the slope is asked of. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/upkeep/usage.h"

#define SERIES "fixtures/series/theil-sen.tsv"
#define DAY_S 86400
#define TYPICAL 4.5

static void close_to(double one, double other)
{
    if (!(one - other < 1e-9 && other - one < 1e-9)) {
        fail_msg("%.12g is not %.12g", one, other);
    }
}

struct series {
    char name[64];
    double slope;
    struct usage_reading readings[USAGE_READINGS_MAX];
    size_t count;
};

/* The next series of the file; the line that begins it is already in `line`. */
static void read_series(FILE *file, char *line, int size, struct series *series)
{
    series->count = 0;
    assert_int_equal(sscanf(line, "series\t%63s\t%lf", series->name, &series->slope), 2);
    while (fgets(line, size, file) != NULL && strncmp(line, "series", 6) != 0) {
        long long at_s = 0, hundredths = 0;
        assert_int_equal(sscanf(line, "%lld\t%lld", &at_s, &hundredths), 2);
        assert_true(series->count < USAGE_READINGS_MAX);
        series->readings[series->count].at_s = at_s;
        series->readings[series->count++].true_hundredths = hundredths;
    }
}

static void the_slope_is_that_of_scipy(void **state)
{
    (void)state;
    char line[128] = "#";
    int count = 0;
    FILE *file = fopen(SERIES, "r");
    assert_non_null(file);
    while (line[0] == '#') {
        assert_non_null(fgets(line, sizeof line, file));
    }
    while (!feof(file)) {
        struct series series;
        double slope = 0;
        read_series(file, line, sizeof line, &series);
        assert_true(usage_slope(series.readings, series.count, NULL, 0, &slope));
        close_to(slope, series.slope);
        count++;
    }
    assert_int_equal(fclose(file), 0);
    assert_true(count >= 20);
}

static void scipy_still_says_what_was_noted(void **state)
{
    (void)state;
    if (system("/usr/bin/python3 -c 'import scipy.stats' 2>/dev/null") != 0) {
        skip();
    }
    assert_int_equal(
        system("/usr/bin/python3 fixtures/series/theil_sen.py check " SERIES " >/dev/null"), 0);
}

/* Eight hours a day, one reading a day. */
static size_t steady(struct usage_reading *readings, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        readings[i].at_s = (int64_t)i * DAY_S;
        readings[i].true_hundredths = 100000 + (int64_t)i * 800;
    }
    return count;
}

static void one_odd_reading_does_not_move_the_usage(void **state)
{
    (void)state;
    struct usage_reading readings[20];
    steady(readings, 20);
    readings[11].true_hundredths *= 10;
    struct usage usage = usage_of(readings, 20, NULL, 0, TYPICAL);
    close_to(usage.hours_a_day, 8);
    assert_int_equal(usage.rests_on, 20);
}

static void until_there_is_enough_the_typical_figure_holds(void **state)
{
    (void)state;
    struct usage_reading readings[4];
    steady(readings, 4);
    for (size_t count = 0; count < USAGE_READINGS_MIN; count++) {
        struct usage usage = usage_of(readings, count, NULL, 0, TYPICAL);
        close_to(usage.hours_a_day, TYPICAL);
        assert_int_equal(usage.rests_on, 0);
    }
    struct usage usage = usage_of(readings, 4, NULL, 0, TYPICAL);
    close_to(usage.hours_a_day, 8);
    assert_int_equal(usage.rests_on, 4);
}

/* Morning, noon and evening of one day say nothing of a week. */
static void readings_of_a_day_or_two_are_not_enough(void **state)
{
    (void)state;
    struct usage_reading readings[6];
    for (size_t i = 0; i < 6; i++) {
        readings[i].at_s = (int64_t)i * 7200;
        readings[i].true_hundredths = 100000 + (int64_t)i * 200;
    }
    struct usage usage = usage_of(readings, 6, NULL, 0, TYPICAL);
    close_to(usage.hours_a_day, TYPICAL);
    assert_int_equal(usage.rests_on, 0);
}

static void time_laid_up_is_left_out(void **state)
{
    (void)state;
    struct usage_reading readings[20];
    struct usage_spell spells[2] = {{9 * DAY_S + 3600, 99 * DAY_S + 3600},
                                    {-50 * DAY_S, -20 * DAY_S}};
    steady(readings, 20);
    for (size_t i = 10; i < 20; i++) {
        readings[i].at_s += 90 * DAY_S;
    }
    close_to(usage_of(readings, 20, spells, 2, TYPICAL).hours_a_day, 8);
    assert_true(usage_of(readings, 20, NULL, 0, TYPICAL).hours_a_day < 7.9);
}

static void an_open_spell_ends_the_time_that_counts(void **state)
{
    (void)state;
    struct usage_spell open = {5 * DAY_S, INT64_MAX};
    assert_int_equal(usage_working_s(0, 9 * DAY_S, &open, 1), 5 * DAY_S);
    assert_int_equal(usage_working_s(6 * DAY_S, 9 * DAY_S, &open, 1), 0);
    assert_int_equal(usage_working_s(0, 4 * DAY_S, &open, 1), 4 * DAY_S);
}

static void usage_is_never_negative(void **state)
{
    (void)state;
    struct usage_reading readings[6];
    steady(readings, 6);
    for (size_t i = 0; i < 6; i++) {
        readings[i].true_hundredths = 100000 - (int64_t)i * 800;
    }
    close_to(usage_of(readings, 6, NULL, 0, TYPICAL).hours_a_day, 0);
}

static void readings_of_one_moment_have_no_slope(void **state)
{
    (void)state;
    struct usage_reading readings[4] = {{DAY_S, 100}, {DAY_S, 200}, {DAY_S, 300}, {DAY_S, 400}};
    double slope = 77;
    assert_false(usage_slope(readings, 4, NULL, 0, &slope));
    assert_false(usage_slope(readings, 1, NULL, 0, &slope));
    assert_false(usage_slope(readings, 0, NULL, 0, &slope));
    close_to(slope, 77);
    close_to(usage_of(readings, 4, NULL, 0, TYPICAL).hours_a_day, TYPICAL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_slope_is_that_of_scipy),
        cmocka_unit_test(scipy_still_says_what_was_noted),
        cmocka_unit_test(one_odd_reading_does_not_move_the_usage),
        cmocka_unit_test(until_there_is_enough_the_typical_figure_holds),
        cmocka_unit_test(readings_of_a_day_or_two_are_not_enough),
        cmocka_unit_test(time_laid_up_is_left_out),
        cmocka_unit_test(an_open_spell_ends_the_time_that_counts),
        cmocka_unit_test(usage_is_never_negative),
        cmocka_unit_test(readings_of_one_moment_have_no_slope),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
