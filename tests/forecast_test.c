/* SPDX-License-Identifier: MIT
 *
 * Forecast: when a machine will have run so many hours more. How often the bounds hold is measured by `make bench-season`; here is what they
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

#include "daemon/upkeep/almanac.h"
#include "daemon/upkeep/forecast.h"

#define DAY_S 86400
#define TYPICAL 4.0

static void close_to(double one, double other)
{
    if (!(one - other < 1e-9 && other - one < 1e-9)) {
        fail_msg("%.12g is not %.12g", one, other);
    }
}

/* Newest first: `count` readings `gap` days apart, so many hundredths between two. */
static struct usage_record steady(struct usage_reading *readings, size_t count, int gap,
                                  int64_t hundredths)
{
    for (size_t i = 0; i < count; i++) {
        readings[i].at_s = (int64_t)(count - i) * gap * DAY_S;
        readings[i].true_hundredths = 100000 + (int64_t)(count - i) * hundredths;
    }
    return (struct usage_record){
        .count = count, .readings = readings, .typical_hours_a_day = TYPICAL};
}

static struct forecast_pace pace_at_newest(const struct usage_record *record)
{
    return forecast_pace_of(record, record->readings[0].at_s);
}

static void one_odd_reading_does_not_move_the_pace(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    struct usage_record record = steady(readings, 40, 4, 2000);
    for (size_t odd = 3; odd < 37; odd++) {
        readings[odd].true_hundredths += 30000;
        struct forecast_pace pace = pace_at_newest(&record);
        close_to(pace.hours_a_day, 5);
        assert_int_equal(pace.rests_on, 40);
        readings[odd].true_hundredths -= 30000;
    }
}

/* A new machine at 12 h a day, of a kind that runs 4: from day to day the pace moves from the one to
 * the other, and by no leap. */
static void the_kinds_figure_fades_without_a_jump(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    double before = TYPICAL;
    for (size_t count = 1; count <= 40; count++) {
        struct usage_record record = steady(readings, count, 1, 1200);
        double pace = pace_at_newest(&record).hours_a_day;
        assert_true(pace >= before && pace - before < 1.3);
        assert_true(count > 1 || pace - TYPICAL < 1e-9);
        assert_true(count < 22 || pace > 11.5);
        before = pace;
    }
}

/* Morning, noon and evening of one day say little of a week. */
static void readings_of_a_day_weigh_little(void **state)
{
    (void)state;
    struct usage_reading readings[6];
    struct usage_record record = steady(readings, 6, 1, 200);
    for (size_t i = 0; i < 6; i++) {
        readings[i].at_s = 100000 - (int64_t)i * 7200;
    }
    struct forecast_pace pace = pace_at_newest(&record);
    assert_true(pace.hours_a_day > TYPICAL && pace.hours_a_day < TYPICAL + 2);
}

/* The first week it stood: there is a forecast all the same, by what its kind does. */
static void a_still_first_week_leaves_a_forecast(void **state)
{
    (void)state;
    struct usage_reading readings[6];
    struct usage_record record = steady(readings, 6, 1, 0);
    struct forecast_pace pace = pace_at_newest(&record);
    assert_true(pace.hours_a_day > 1 && pace.hours_a_day < TYPICAL);
    assert_true(forecast_of(10000, &pace).known);
}

/* Nor do months of the same figure texted every Friday, before its first day at work. */
static void one_that_never_ran_goes_by_its_kind(void **state)
{
    (void)state;
    struct usage_reading readings[12];
    struct usage_record record = steady(readings, 12, 7, 0);
    struct forecast_pace pace = pace_at_newest(&record);
    assert_true(pace.hours_a_day > 0.9 * TYPICAL && pace.hours_a_day <= TYPICAL);
    assert_true(forecast_of(10000, &pace).known);
}

static void time_laid_up_is_left_out(void **state)
{
    (void)state;
    struct usage_reading readings[20];
    struct usage_record record = steady(readings, 20, 2, 1600);
    for (size_t i = 10; i < 20; i++) {
        readings[i].at_s -= 6 * DAY_S;
    }
    struct usage_spell spells[2] = {
        {readings[10].at_s + 3600, readings[10].at_s + 6 * DAY_S + 3600},
        {readings[19].at_s - 20 * DAY_S, readings[19].at_s - DAY_S}};
    double with = pace_at_newest(&record).hours_a_day;
    record.spells = spells;
    record.spell_count = 2;
    double without = pace_at_newest(&record).hours_a_day;
    assert_true(without > with && without > 7.9 && without <= 8);
}

static void the_pace_is_never_negative(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    struct usage_record record = steady(readings, 40, 7, -800);
    struct forecast_pace pace = pace_at_newest(&record);
    assert_true(pace.hours_a_day >= 0 && pace.hours_a_day < 1e-9);
    close_to(pace.week_growth, 0);
}

static void readings_of_one_moment_have_no_pace(void **state)
{
    (void)state;
    struct usage_reading readings[4];
    struct usage_record record = steady(readings, 4, 0, 100);
    struct forecast_pace pace = pace_at_newest(&record);
    close_to(pace.hours_a_day, TYPICAL);
    assert_int_equal(pace.rests_on, 0);
}

static void steady_use_reaches_the_point_on_time(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    struct usage_record record = steady(readings, 40, 3, 1500);
    record.typical_hours_a_day = 5;
    struct forecast_pace pace = pace_at_newest(&record);
    close_to(pace.hours_a_day, 5);
    assert_true(pace.total_count > 16);
    close_to(pace.silent_days, 0);
    close_to(pace.week_growth, 0);
    struct forecast forecast = forecast_of(10000, &pace);
    assert_true(forecast.known);
    close_to(forecast.days, 20);
    close_to(forecast.worked_days, 20);
}

/* Fourteen weeks at 20 h, then each week 2 h more: what is likely lies above the average of the weeks
 * past, and goes on growing for a while. The same weeks in no order are no growth, fewer hours from
 * week to week neither. */
static void use_that_grows_is_followed(void **state)
{
    (void)state;
    static const int mixed[12] = {32, 24, 40, 22, 34, 28, 44, 38, 42, 26, 30, 36};
    struct usage_reading readings[26];
    for (int kind = 0; kind < 3; kind++) {
        struct usage_record record = steady(readings, 26, 7, kind == 1 ? 3300 : 2000);
        for (size_t i = 12; i > 0; i--) {
            int hours = kind == 0   ? 20 + 2 * (13 - (int)i)
                        : kind == 1 ? mixed[i - 1]
                                    : 20 + 2 * (int)i;
            readings[i - 1].true_hundredths = readings[i].true_hundredths + hours * 100;
        }
        struct forecast_pace pace = pace_at_newest(&record);
        if (kind == 0) {
            assert_true(pace.week_growth > 1.5 && pace.week_growth < 2.1);
            assert_true(pace.hours_a_day * 7 > 30);
            struct forecast forecast = forecast_of(16000, &pace);
            assert_true(forecast.days < 160 / pace.hours_a_day);
        } else {
            close_to(pace.week_growth, 0);
        }
    }
}

/* Weeks of 16 to 30 h in little order, later ones rather more: no growth that is sure, and yet the early
 * bound allows for it, and not the date. */
static void growth_that_may_be_is_for_the_early_bound(void **state)
{
    (void)state;
    static const int weeks[8] = {28, 17, 28, 25, 27, 16, 26, 18}; /* newest first */
    struct usage_reading readings[9];
    struct usage_record record = steady(readings, 9, 7, 0);
    for (size_t i = 8; i > 0; i--) {
        readings[i - 1].true_hundredths = readings[i].true_hundredths + weeks[i - 1] * 100;
    }
    struct forecast_pace pace = pace_at_newest(&record);
    close_to(pace.week_growth, 0);
    assert_true(pace.hidden_growth > 0.5 && pace.lag_weeks > 3.5 && pace.lag_weeks < 4.5);
    struct forecast with = forecast_of(16000, &pace);
    pace.hidden_growth = 0;
    struct forecast without = forecast_of(16000, &pace);
    assert_true(with.early_days < without.early_days - 3);
    close_to(with.days, without.days);
    close_to(with.late_days, without.late_days);
}

static double width(const struct forecast_pace *pace, int64_t left_hundredths)
{
    struct forecast forecast = forecast_of(left_hundredths, pace);
    return forecast.late_days - forecast.early_days;
}

/* Twice thirty-two weeks of 20 and 40 h: in the one they take turns, in the other eight of the one kind
 * follow on eight of the other. As far as weeks go they differ alike; only the second pace wanders. */
static void a_pace_that_wandered_has_wide_bounds(void **state)
{
    (void)state;
    struct usage_reading readings[33];
    double stays = 0;
    for (int wandered = 0; wandered < 2; wandered++) {
        struct usage_record record = steady(readings, 33, 7, 0);
        for (size_t i = 32; i > 0; i--) {
            bool more = wandered ? (i - 1) / 8 % 2 == 0 : i % 2 == 0;
            readings[i - 1].true_hundredths = readings[i].true_hundredths + (more ? 4000 : 2000);
        }
        struct forecast_pace pace = pace_at_newest(&record);
        struct forecast_pace staying = pace;
        assert_true(wandered ? pace.wander > 4 * stays : pace.wander > 0);
        stays = wandered ? stays : pace.wander;
        staying.wander = stays;
        assert_true(!wandered || width(&pace, 24000) > 1.2 * width(&staying, 24000));
    }
}

/* One that stood now and then may do so again: that makes room to the late side alone, and the more the
 * longer it takes. */
static void stops_make_room_to_the_late_side(void **state)
{
    (void)state;
    struct forecast_pace pace = {.hours_a_day = 5, .week_spread = 10, .total_count = 8};
    struct forecast near = forecast_of(5000, &pace), far = forecast_of(20000, &pace);
    pace.stops = 3.0 / 200;
    pace.stop_squares = 3.0 * 20 * 20 / 200;
    struct forecast near_stops = forecast_of(5000, &pace), far_stops = forecast_of(20000, &pace);
    close_to(near_stops.days, near.days);
    close_to(far_stops.early_days, far.early_days);
    double near_room = near_stops.late_days - near.late_days;
    double far_room = far_stops.late_days - far.late_days;
    assert_true(near_room > 5 && far_room > near_room && far_room < 40);
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
        struct forecast_pace pace = {.hours_a_day = 5, .week_spread = spread, .total_count = 8};
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
        pace.total_count = weeks;
        struct forecast forecast = forecast_of(14000, &pace);
        assert_true(forecast.late_days - forecast.early_days < width);
        width = forecast.late_days - forecast.early_days;
    }
}

/* Weeks of 10 and of 30 hours in turn, read weekly. */
static void the_spread_is_that_of_weekly_totals(void **state)
{
    (void)state;
    struct usage_reading readings[9];
    struct usage_record record = steady(readings, 9, 7, 2000);
    int64_t total = 0;
    for (size_t i = 9; i > 0; i--) {
        readings[i - 1].true_hundredths = total;
        total += i % 2 == 0 ? 1000 : 3000;
    }
    struct forecast_pace uneven = pace_at_newest(&record);
    assert_int_equal(uneven.total_count, 8);
    assert_true(uneven.week_spread > 8 && uneven.week_spread < 12);
    record = steady(readings, 9, 7, 2000);
    assert_true(pace_at_newest(&record).week_spread < 4);
}

static void the_season_moves_on(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    struct usage_record record = steady(readings, 40, 7, 2000);
    for (size_t i = 0; i < 20; i++) {
        readings[i].true_hundredths += (int64_t)(20 - i) * 2000;
    }
    /* forty weeks at 20 h, the last twenty of them at 40 h */
    double pace = pace_at_newest(&record).hours_a_day;
    assert_true(pace > 36.0 / 7 && pace <= 41.0 / 7);
}

/* Weeks read weekly, and a reading of a year before. */
static void what_may_be_chance_is_drawn_to_the_years_average(void **state)
{
    (void)state;
    struct usage_reading readings[22];
    struct usage_record record = steady(readings, 22, 7, 3500);
    readings[21].at_s = readings[0].at_s - 365 * DAY_S;
    readings[21].true_hundredths = readings[0].true_hundredths - 365 * 480;
    record.typical_hours_a_day = 4.8;
    double pace = pace_at_newest(&record).hours_a_day;
    assert_true(pace > 4.79 && pace < 4.96);
    /* half the use last year: no chance */
    readings[21].true_hundredths = readings[0].true_hundredths - 365 * 250;
    pace = pace_at_newest(&record).hours_a_day;
    assert_true(pace > 4.6 && pace < 5.1);
}

/* The same machine, read weekly or every four weeks: long gaps must not look like even weeks. */
static void seldom_read_weeks_do_not_look_even(void **state)
{
    (void)state;
    struct usage_reading weekly[40], seldom[10];
    struct usage_record often = steady(weekly, 40, 7, 0);
    int64_t total = 0;
    for (size_t i = 40; i > 0; i--) {
        weekly[i - 1].true_hundredths = total;
        total += i * i * 13 % 17 % 2 == 0 ? 3000 : 1000; /* in no order */
    }
    for (size_t i = 0; i < 10; i++) {
        seldom[i] = weekly[4 * i];
    }
    struct usage_record rare = {.count = 10, .readings = seldom, .typical_hours_a_day = TYPICAL};
    assert_int_equal(pace_at_newest(&often).total_count, FORECAST_WEEKS_MAX);
    assert_int_equal(pace_at_newest(&rare).total_count, 7);
    assert_true(pace_at_newest(&rare).week_spread > 0.7 * pace_at_newest(&often).week_spread);
}

/* Three readings a day or one a week: the same weeks, and nearly the same pace. */
static void how_often_it_is_read_makes_no_difference(void **state)
{
    (void)state;
    struct usage_reading often[40], weekly[3];
    struct usage_record record = steady(often, 40, 1, 500);
    for (size_t i = 0; i < 40; i++) {
        often[i].at_s = 100 * DAY_S - (int64_t)i * DAY_S / 3;
        often[i].true_hundredths = 100000 - (int64_t)i * 500 / 3;
    }
    for (size_t i = 0; i < 3; i++) {
        weekly[i] = often[i * 18];
    }
    struct usage_record rare = {.count = 3, .readings = weekly, .typical_hours_a_day = TYPICAL};
    double apart = pace_at_newest(&record).hours_a_day - pace_at_newest(&rare).hours_a_day;
    assert_true(apart < 0.1 && apart > -0.1);
}

static void a_winter_in_which_it_stood_does_not_count(void **state)
{
    (void)state;
    struct usage_reading readings[20];
    struct usage_record record = steady(readings, 20, 2, 1000);
    for (size_t i = 6; i < 20; i++) {
        readings[i].at_s -= 120 * DAY_S;
    }
    double pace = pace_at_newest(&record).hours_a_day;
    assert_true(pace > 4.9 && pace < 5.6);
    /* laid up by word, the same */
    struct usage_spell spell = {readings[6].at_s + DAY_S, readings[5].at_s - DAY_S};
    record.spells = &spell;
    record.spell_count = 1;
    pace = pace_at_newest(&record).hours_a_day;
    assert_true(pace > 4.9 && pace < 5.1);
}

/* Silence of 24 days where it was read every other day: by what its earlier gaps were, it is taken to
 * have stood, or to have worked on. */
static void silence_is_what_it_was_before(void **state)
{
    (void)state;
    struct usage_reading readings[30];
    for (int worked = 0; worked < 2; worked++) {
        struct usage_record record = steady(readings, 30, 2, 1000);
        for (size_t i = 15; i < 30; i++) {
            readings[i].at_s -= 20 * DAY_S;
            readings[i].true_hundredths -= worked * 10000;
        }
        struct forecast_pace pace = forecast_pace_of(&record, readings[0].at_s + 4 * DAY_S);
        close_to(pace.silent_days, 0); /* a text left out is nothing unusual */
        pace = forecast_pace_of(&record, readings[0].at_s + 24 * DAY_S);
        close_to(pace.since_days, 24);
        close_to(pace.silent_days, 20);
        assert_true(worked ? pace.stood_share < 0.3 : pace.stood_share > 0.7);
        struct forecast forecast = forecast_of(10000, &pace);
        assert_true(worked ? forecast.days < 28 : forecast.days > 34 && forecast.days < 60);
        assert_true(forecast.worked_days > 15 && forecast.worked_days < 22);
        assert_true(forecast.early_days < forecast.worked_days &&
                    forecast.late_days > forecast.days);
        /* it may have stood all these days, and for as long again, whatever it did before */
        assert_true(forecast.late_days > 2 * 20 + forecast.worked_days);
    }
}

/* Figures out of order, as a ledger may hold them: the more it seems to have run backwards, it stood all
 * the time and no longer. */
static void no_gap_has_more_days_than_it_has(void **state)
{
    (void)state;
    struct usage_reading readings[12];
    struct usage_record record = steady(readings, 12, 2, 1000);
    for (size_t i = 4; i < 12; i++) {
        readings[i].at_s -= 40 * DAY_S;
        readings[i].true_hundredths += 50000;
    }
    struct forecast_pace pace = forecast_pace_of(&record, readings[0].at_s + 60 * DAY_S);
    assert_true(pace.silent_days > 40);
    assert_true(pace.stood_share > 0.8 && pace.stood_share <= 1);
    struct forecast forecast = forecast_of(1000, &pace);
    assert_true(forecast.early_days <= forecast.days && forecast.days <= forecast.late_days);
}

static void without_history_the_typical_figure_holds(void **state)
{
    (void)state;
    struct usage_reading readings[1];
    struct usage_record record = steady(readings, 1, 1, 900);
    for (record.count = 0; record.count <= 1; record.count++) {
        struct forecast_pace pace = pace_at_newest(&record);
        assert_int_equal(pace.total_count, 0);
        assert_int_equal(pace.rests_on, 0);
        close_to(pace.hours_a_day, TYPICAL);
        struct forecast forecast = forecast_of(2800, &pace);
        close_to(forecast.days, 7);
        assert_true(record.count == 0 || (forecast.early_days < 6 && forecast.late_days > 9));
    }
}

/* A year whose first half works three times as much as its second, from the newest reading on too. */
static struct almanac half_year(int64_t now_s)
{
    struct almanac almanac = almanac_begin(now_s);
    almanac.votes = 10;
    for (int i = 0; i < ALMANAC_PERIODS; i++) {
        almanac.weights[i] = i < 6 ? 1.5 : i == 6 ? 1.0 : 0.5;
    }
    return almanac;
}

/* Forty readings nine days apart, each of nine days' hours by the weight that they had, or alike. */
static struct usage_record by_the_year(struct usage_reading *readings,
                                       const struct almanac *almanac, bool follows)
{
    struct usage_record record = steady(readings, 40, 9, 0);
    int64_t total = 1000000;
    for (size_t i = 0; i < 40; i++) {
        double weight = follows ? almanac_weight(almanac, readings[i].at_s - 9 * DAY_S / 2) : 1;
        readings[i].true_hundredths = total;
        total -= (int64_t)(9 * 400 * weight);
    }
    record.almanac = almanac;
    return record;
}

/* At the turn to the busy half: who went along with the year before is dated by it, who worked alike is
 * left alone, and without a year nothing is foreseen. The pace shown is that of the day itself. */
static void who_follows_the_year_is_dated_by_it(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    int64_t now_s = 40 * 9 * DAY_S;
    struct almanac almanac = half_year(now_s);
    struct usage_record record = by_the_year(readings, &almanac, true);
    struct forecast_pace pace = pace_at_newest(&record);
    assert_true(pace.follows > 0.9 && pace.follows < 1.1);
    assert_true(pace.hours_a_day > 3.5 && pace.hours_a_day < 4.5);
    struct forecast foreseen = forecast_of(50000, &pace);
    assert_true(foreseen.known && foreseen.days > 80 && foreseen.days < 95); /* 6 h a day by then */
    assert_true(foreseen.early_days < foreseen.days && foreseen.late_days > foreseen.days);
    record.almanac = NULL;
    pace = pace_at_newest(&record);
    close_to(pace.follows, 0);
    assert_true(forecast_of(50000, &pace).days > 120);
    record = by_the_year(readings, &almanac, false);
    pace = pace_at_newest(&record);
    assert_true(pace.follows < 0.01);
    assert_true(pace.hours_a_day > 3.99 && pace.hours_a_day < 4.01);
    assert_true(forecast_of(50000, &pace).days > 124 && forecast_of(50000, &pace).days < 126);
}

/* A winter as last year's is no silence of this one. */
static void silence_in_a_still_time_of_the_year_is_usual(void **state)
{
    (void)state;
    struct usage_reading readings[40];
    struct almanac almanac = half_year(40 * 9 * DAY_S);
    for (int i = 0; i < ALMANAC_PERIODS; i++) {
        almanac.weights[i] = i < 4 ? 0.1 : 1.4;
    }
    struct usage_record record = by_the_year(readings, &almanac, true);
    int64_t later_s = readings[0].at_s + 60 * DAY_S;
    double usual = forecast_pace_of(&record, later_s).silent_days;
    record.almanac = NULL;
    double unusual = forecast_pace_of(&record, later_s).silent_days;
    assert_true(unusual > 40 && usual < unusual / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_odd_reading_does_not_move_the_pace),
        cmocka_unit_test(the_kinds_figure_fades_without_a_jump),
        cmocka_unit_test(readings_of_a_day_weigh_little),
        cmocka_unit_test(a_still_first_week_leaves_a_forecast),
        cmocka_unit_test(one_that_never_ran_goes_by_its_kind),
        cmocka_unit_test(time_laid_up_is_left_out),
        cmocka_unit_test(the_pace_is_never_negative),
        cmocka_unit_test(readings_of_one_moment_have_no_pace),
        cmocka_unit_test(steady_use_reaches_the_point_on_time),
        cmocka_unit_test(use_that_grows_is_followed),
        cmocka_unit_test(growth_that_may_be_is_for_the_early_bound),
        cmocka_unit_test(a_pace_that_wandered_has_wide_bounds),
        cmocka_unit_test(stops_make_room_to_the_late_side),
        cmocka_unit_test(a_point_reached_is_due_at_once),
        cmocka_unit_test(what_stands_or_lies_years_off_has_no_forecast),
        cmocka_unit_test(bounds_enclose_the_forecast_and_widen),
        cmocka_unit_test(more_weeks_narrow_the_bounds),
        cmocka_unit_test(the_spread_is_that_of_weekly_totals),
        cmocka_unit_test(the_season_moves_on),
        cmocka_unit_test(what_may_be_chance_is_drawn_to_the_years_average),
        cmocka_unit_test(seldom_read_weeks_do_not_look_even),
        cmocka_unit_test(how_often_it_is_read_makes_no_difference),
        cmocka_unit_test(a_winter_in_which_it_stood_does_not_count),
        cmocka_unit_test(silence_is_what_it_was_before),
        cmocka_unit_test(no_gap_has_more_days_than_it_has),
        cmocka_unit_test(who_follows_the_year_is_dated_by_it),
        cmocka_unit_test(silence_in_a_still_time_of_the_year_is_usual),
        cmocka_unit_test(without_history_the_typical_figure_holds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
