/* SPDX-License-Identifier: MIT
 *
 * Usage: the slope against SciPy's theilslopes, kept as data in fixtures/series and reckoned anew
 * where SciPy is there; what the slope is asked of; and the line of working days: what stands on it and
 * what is left out. */
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
        double days[USAGE_READINGS_MAX], hours[USAGE_READINGS_MAX], slope = 0;
        read_series(file, line, sizeof line, &series);
        for (size_t i = 0; i < series.count; i++) {
            days[i] = (double)(series.readings[i].at_s - series.readings[0].at_s) / DAY_S;
            hours[i] = (double)series.readings[i].true_hundredths / 100;
        }
        assert_true(usage_slope(days, hours, series.count, &slope));
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

static void points_of_one_moment_have_no_slope(void **state)
{
    (void)state;
    double days[4] = {1, 1, 1, 1}, hours[4] = {1, 2, 3, 4}, slope = 77;
    assert_false(usage_slope(days, hours, 4, &slope));
    assert_false(usage_slope(days, hours, 1, &slope));
    assert_false(usage_slope(days, hours, 0, &slope));
    close_to(slope, 77);
}

static void an_open_spell_ends_the_time_that_counts(void **state)
{
    (void)state;
    struct usage_spell open = {5 * DAY_S, INT64_MAX};
    struct usage_record record = {.spell_count = 1, .spells = &open};
    assert_int_equal(usage_working_s(&record, 0, 9 * DAY_S), 5 * DAY_S);
    assert_int_equal(usage_working_s(&record, 6 * DAY_S, 9 * DAY_S), 0);
    assert_int_equal(usage_working_s(&record, 0, 4 * DAY_S), 4 * DAY_S);
}

/* What lies between two readings, the newest first. */
struct gap {
    int days, hours;
};

/* How much of it is working days, and how often it stood. */
static const struct stop_case {
    const char *says;
    struct gap gaps[8];
    double days;
    int stops, squares;
} stop_cases[] = {
    {"at work", {{7, 30}, {7, 24}, {7, 28}}, 21, 0, 0},
    {"a gap in which it stood is a day", {{7, 30}, {40, 4}, {7, 28}}, 15, 1, 28 * 28},
    {"so is one in which it was read all the same",
     {{7, 30}, {7, 0}, {7, 1}, {7, 0}, {7, 28}},
     15,
     1,
     21 * 21},
    {"a still week is none", {{7, 30}, {7, 0}, {7, 28}}, 21, 0, 0},
    {"two stops", {{7, 30}, {12, 0}, {7, 28}, {20, 2}, {7, 20}}, 23, 2, 12 * 12 + 20 * 20},
    {"one that lasts", {{7, 0}, {7, 0}, {7, 28}, {7, 25}}, 15, 1, 14 * 14},
    {"little used, seldom read: at work", {{14, 4}, {21, 5}, {14, 4}, {28, 7}}, 77, 0, 0},
    {"never used", {{14, 0}, {21, 0}, {14, 0}}, 1, 1, 28 * 28},
    {"hours that go backwards are none", {{14, -3}, {21, -4}, {14, 2}}, 49, 0, 0},
    {"new, and hardly used", {{10, 5}}, 1, 1, 10 * 10},
};

static void what_stood_is_left_out(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof stop_cases / sizeof stop_cases[0]; i++) {
        const struct stop_case *row = &stop_cases[i];
        struct usage_reading readings[9] = {{.at_s = 1000 * DAY_S, .true_hundredths = 900000}};
        struct usage_record record = {
            .count = 1, .readings = readings, .typical_hours_a_day = TYPICAL};
        struct usage_line line;
        for (; record.count < 9 && row->gaps[record.count - 1].days > 0; record.count++) {
            struct usage_reading newer = readings[record.count - 1];
            struct gap gap = row->gaps[record.count - 1];
            readings[record.count].at_s = newer.at_s - (int64_t)gap.days * DAY_S;
            readings[record.count].true_hundredths = newer.true_hundredths - gap.hours * 100;
        }
        usage_draw(&record, 0, &line);
        print_message("%s\n", row->says);
        assert_int_equal(line.count, record.count);
        close_to(line.days[line.count - 1], row->days);
        assert_int_equal(line.stops, row->stops);
        close_to(line.stop_squares, row->squares);
    }
}

/* Read at noon and in the evening of each day: places are half a week apart or more, and between two of
 * them lie the hours of that time. */
static void totals_are_of_half_a_week_or_more(void **state)
{
    (void)state;
    struct usage_reading readings[28];
    struct usage_line line;
    for (int i = 0; i < 28; i++) {
        readings[i] = (struct usage_reading){(100 - i) * DAY_S / 2, 100000 - i * 200};
    }
    struct usage_record record = {
        .count = 28, .readings = readings, .typical_hours_a_day = TYPICAL};
    usage_draw(&record, 0, &line);
    assert_int_equal(line.week_count, 4);
    for (size_t i = 1; i < line.week_count; i++) {
        double weeks = usage_span_weeks(&line, i - 1, i);
        assert_true(weeks >= USAGE_WEEK_LEAST && weeks < 0.6);
        close_to(usage_span_hours(&line, i - 1, i), weeks * 7 * 4);
    }
    close_to(usage_span_hours(&line, 0, 3), 3 * 7 * 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_slope_is_that_of_scipy),
        cmocka_unit_test(scipy_still_says_what_was_noted),
        cmocka_unit_test(points_of_one_moment_have_no_slope),
        cmocka_unit_test(an_open_spell_ends_the_time_that_counts),
        cmocka_unit_test(what_stood_is_left_out),
        cmocka_unit_test(totals_are_of_half_a_week_or_more),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
