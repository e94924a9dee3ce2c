/* SPDX-License-Identifier: MIT
 *
 * Usage: the slope against SciPy's theilslopes, kept as data in fixtures/series and reckoned anew
 * where SciPy is there; and what the slope is asked of. Forecast: when a machine will have run so
 * many hours more. How often the bounds hold is measured by `make bench-season`; here is what they
 * must do in every case. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/upkeep/forecast.h"

#define SERIES "fixtures/series/theil-sen.tsv"
#define DAY_S 86400
#define TYPICAL 4.0

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
        assert_true(usage_slope(series.readings, series.count, NULL, 0, 0, &slope));
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
static size_t read_daily(struct usage_reading *readings, size_t count)
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
    read_daily(readings, 20);
    readings[11].true_hundredths *= 10;
    struct usage usage = usage_of(readings, 20, NULL, 0, TYPICAL);
    close_to(usage.hours_a_day, 8);
    assert_int_equal(usage.rests_on, 20);
}

static void until_there_is_enough_the_typical_figure_holds(void **state)
{
    (void)state;
    struct usage_reading readings[4];
    read_daily(readings, 4);
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
    read_daily(readings, 20);
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
    read_daily(readings, 6);
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
    assert_false(usage_slope(readings, 4, NULL, 0, 0, &slope));
    assert_false(usage_slope(readings, 1, NULL, 0, 0, &slope));
    assert_false(usage_slope(readings, 0, NULL, 0, 0, &slope));
    close_to(slope, 77);
    close_to(usage_of(readings, 4, NULL, 0, TYPICAL).hours_a_day, TYPICAL);
}

/* Newest first: `count` readings `gap` days apart, so many hundredths between two. */
static void steady(struct usage_reading *readings, size_t count, int gap, int64_t hundredths)
{
    for (size_t i = 0; i < count; i++) {
        readings[i].at_s = (int64_t)(count - i) * gap * DAY_S;
        readings[i].true_hundredths = 100000 + (int64_t)(count - i) * hundredths;
    }
}

static struct forecast_pace pace_at_newest(const struct usage_reading *readings, size_t count)
{
    return forecast_pace_of(readings, count, NULL, NULL, 0, readings[0].at_s, TYPICAL);
}

static void steady_use_reaches_the_point_on_time(void **state)
{
    (void)state;
    struct usage_reading readings[30];
    steady(readings, 30, 1, 500);
    struct forecast_pace pace = pace_at_newest(readings, 30);
    close_to(pace.hours_a_day, 5);
    assert_int_equal(pace.week_count, 4);
    close_to(pace.silent_days, 0);
    struct forecast forecast = forecast_of(10000, &pace);
    assert_true(forecast.known);
    close_to(forecast.days, 20);
}

static void a_point_reached_is_due_at_once(void **state)
{
    (void)state;
    struct forecast_pace pace = {.hours_a_day = 5, .week_spread = 10};
    for (int64_t left = -500; left <= 0; left += 500) {
        struct forecast forecast = forecast_of(left, &pace);
        assert_true(forecast.known);
        close_to(forecast.days + forecast.early_days + forecast.late_days, 0);
    }
}

static void what_stands_or_lies_years_off_has_no_forecast(void **state)
{
    (void)state;
    struct forecast_pace pace = {.hours_a_day = 0, .week_spread = 10};
    assert_false(forecast_of(1, &pace).known);
    pace.hours_a_day = 0.01;
    assert_true(forecast_of(3000, &pace).known);
    assert_false(forecast_of(3700, &pace).known);
}

static void bounds_enclose_the_forecast_and_widen(void **state)
{
    (void)state;
    double width_by_spread = 0;
    for (int spread = 1; spread <= 100; spread += 3) {
        struct forecast_pace pace = {.hours_a_day = 5, .week_spread = spread, .week_count = 8};
        double width = 0;
        for (int64_t left = 100; left <= 60000; left += 1700) {
            struct forecast forecast = forecast_of(left, &pace);
            assert_true(forecast.early_days > 0 && forecast.early_days < forecast.days);
            assert_true(forecast.late_days > forecast.days);
            assert_true(forecast.late_days - forecast.early_days > width);
            width = forecast.late_days - forecast.early_days;
        }
        assert_true(width >= width_by_spread);
        width_by_spread = width;
    }
}

static void more_weeks_narrow_the_bounds(void **state)
{
    (void)state;
    struct forecast_pace pace = {.hours_a_day = 5, .week_spread = 10};
    double width = 1e9;
    for (int32_t weeks = 0; weeks <= FORECAST_WEEKS_MAX; weeks++) {
        pace.week_count = weeks;
        struct forecast forecast = forecast_of(14000, &pace);
        assert_true(forecast.late_days - forecast.early_days < width);
        width = forecast.late_days - forecast.early_days;
    }
}

/* Weeks of 10 and of 30 hours in turn, read now and then. */
static void the_spread_is_that_of_weekly_totals(void **state)
{
    (void)state;
    struct usage_reading readings[9];
    int64_t total = 0;
    for (size_t i = 9; i > 0; i--) {
        readings[i - 1].at_s = (int64_t)(9 - i) * 7 * DAY_S;
        readings[i - 1].true_hundredths = total;
        total += i % 2 == 0 ? 1000 : 3000;
    }
    struct forecast_pace uneven = pace_at_newest(readings, 9);
    assert_int_equal(uneven.week_count, 8);
    assert_true(uneven.week_spread > 8 && uneven.week_spread < 12);
    steady(readings, 9, 7, 2000);
    assert_true(pace_at_newest(readings, 9).week_spread < 4);
}

static void the_season_moves_on(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    steady(readings, 40, 7, 2000);
    for (size_t i = 0; i < 12; i++) {
        readings[i].true_hundredths += (int64_t)(12 - i) * 2000;
    }
    /* forty weeks at 20 h, the last twelve of them at 40 h */
    double pace = pace_at_newest(readings, 40).hours_a_day;
    assert_true(pace > 38.0 / 7 && pace <= 40.0 / 7);
}

/* Forty days read daily, and what was read at the start of a year that this ends. */
static void what_may_be_chance_is_drawn_to_the_years_average(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    steady(readings, 40, 1, 500);
    struct usage_reading oldest = {readings[0].at_s - 365 * DAY_S,
                                   readings[0].true_hundredths - 365 * 470};
    struct forecast_pace pace =
        forecast_pace_of(readings, 40, &oldest, NULL, 0, readings[0].at_s, TYPICAL);
    close_to(pace.hours_a_day, 4.7);
    /* half the use last year: no chance */
    oldest.true_hundredths = readings[0].true_hundredths - 365 * 250;
    pace = forecast_pace_of(readings, 40, &oldest, NULL, 0, readings[0].at_s, TYPICAL);
    assert_true(pace.hours_a_day > 4.7 && pace.hours_a_day < 5);
    /* a reading that is among them says nothing new */
    pace = forecast_pace_of(readings, 40, &readings[39], NULL, 0, readings[0].at_s, TYPICAL);
    close_to(pace.hours_a_day, 5);
}

/* The same machine, read weekly or every four weeks: long gaps must not look like even weeks. */
static void seldom_read_weeks_do_not_look_even(void **state)
{
    (void)state;
    struct usage_reading weekly[40], seldom[10];
    int64_t total = 0;
    for (size_t i = 40; i > 0; i--) {
        weekly[i - 1].at_s = (int64_t)(40 - i) * 7 * DAY_S;
        weekly[i - 1].true_hundredths = total;
        total += i * i * 13 % 17 % 2 == 0 ? 3000 : 1000; /* in no order */
    }
    for (size_t i = 0; i < 10; i++) {
        seldom[i] = weekly[4 * i];
    }
    struct forecast_pace often = pace_at_newest(weekly, 40);
    struct forecast_pace rare = pace_at_newest(seldom, 10);
    assert_int_equal(often.week_count, FORECAST_WEEKS_MAX);
    assert_int_equal(rare.week_count, 7);
    assert_true(rare.week_spread > 0.7 * often.week_spread);
}

static void one_odd_reading_does_not_move_the_pace(void **state)
{
    (void)state;
    struct usage_reading readings[30];
    steady(readings, 30, 1, 500);
    readings[9].true_hundredths += 30000;
    close_to(pace_at_newest(readings, 30).hours_a_day, 5);
}

static void a_winter_in_which_it_stood_does_not_count(void **state)
{
    (void)state;
    struct usage_reading readings[20];
    steady(readings, 20, 2, 1000);
    for (size_t i = 6; i < 20; i++) {
        readings[i].at_s -= 120 * DAY_S;
    }
    struct forecast_pace pace = pace_at_newest(readings, 20);
    assert_true(pace.hours_a_day > 4.9 && pace.hours_a_day < 5.6);
    /* laid up by word, the same */
    struct usage_spell spell = {readings[6].at_s + DAY_S, readings[5].at_s - DAY_S};
    pace = forecast_pace_of(readings, 20, NULL, &spell, 1, readings[0].at_s, TYPICAL);
    close_to(pace.hours_a_day, 5);
}

static void long_silence_counts_as_standing(void **state)
{
    (void)state;
    struct usage_reading readings[30];
    steady(readings, 30, 2, 1000);
    struct forecast_pace pace =
        forecast_pace_of(readings, 30, NULL, NULL, 0, readings[0].at_s + 4 * DAY_S, TYPICAL);
    close_to(pace.silent_days, 0); /* a text left out is nothing unusual */
    pace = forecast_pace_of(readings, 30, NULL, NULL, 0, readings[0].at_s + 24 * DAY_S, TYPICAL);
    close_to(pace.silent_days, 20);
    struct forecast forecast = forecast_of(10000, &pace);
    assert_true(forecast.days >= 40 && forecast.days < 60);
    assert_true(forecast.early_days < 30 && forecast.late_days > 60);
}

static void without_history_the_typical_figure_holds(void **state)
{
    (void)state;
    struct usage_reading readings[3];
    steady(readings, 3, 1, 900);
    assert_int_equal(forecast_pace_of(readings, 0, NULL, NULL, 0, 0, TYPICAL).week_count, 0);
    close_to(forecast_pace_of(readings, 0, NULL, NULL, 0, 0, TYPICAL).hours_a_day, TYPICAL);
    for (size_t count = 1; count <= 3; count++) {
        struct forecast_pace pace = pace_at_newest(readings, count);
        close_to(pace.hours_a_day, TYPICAL);
        struct forecast forecast = forecast_of(2800, &pace);
        close_to(forecast.days, 7);
        assert_true(forecast.early_days < 6 && forecast.late_days > 9);
    }
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
        cmocka_unit_test(steady_use_reaches_the_point_on_time),
        cmocka_unit_test(a_point_reached_is_due_at_once),
        cmocka_unit_test(what_stands_or_lies_years_off_has_no_forecast),
        cmocka_unit_test(bounds_enclose_the_forecast_and_widen),
        cmocka_unit_test(more_weeks_narrow_the_bounds),
        cmocka_unit_test(the_spread_is_that_of_weekly_totals),
        cmocka_unit_test(the_season_moves_on),
        cmocka_unit_test(what_may_be_chance_is_drawn_to_the_years_average),
        cmocka_unit_test(seldom_read_weeks_do_not_look_even),
        cmocka_unit_test(one_odd_reading_does_not_move_the_pace),
        cmocka_unit_test(a_winter_in_which_it_stood_does_not_count),
        cmocka_unit_test(long_silence_counts_as_standing),
        cmocka_unit_test(without_history_the_typical_figure_holds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
