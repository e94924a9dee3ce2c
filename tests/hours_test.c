/* SPDX-License-Identifier: MIT
 * Hour-meter figures as hands write them. The forms are the project's own grammar; meters that show
 * tenths and at most six digits are common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/hours.h"

struct reading_case {
    const char *text;
    int64_t hundredths;
    int whole_digits, decimal_digits;
};

static void plain_figures_are_read_to_the_hundredth(void **state)
{
    (void)state;
    static const struct reading_case cases[] = {
        {"1340", 134000, 4, 0},
        {"0", 0, 0, 0},
        {"7", 700, 1, 0},
        {"1340.5", 134050, 4, 1},
        {"1340,5", 134050, 4, 1},
        {"1340.55", 134055, 4, 2},
        {"1340.05", 134005, 4, 2},
        {"0.5", 50, 0, 1},
        {"01340", 134000, 4, 0},
        {"0000000000000000001340", 134000, 4, 0},
        {"1,340.5", 134050, 4, 1},
        {"1.340,5", 134050, 4, 1},
        {"12,340.25", 1234025, 5, 2},
        {"999999.99", 99999999, 6, 2},
        {"999,999.9", 99999990, 6, 1},
        {"99999.9", 9999990, 5, 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hours_figure figure;
        enum hours_result result = hours_read(cases[i].text, strlen(cases[i].text), &figure);
        assert_int_equal(result, HOURS_OK);
        assert_true(figure.present);
        assert_false(figure.ambiguous);
        assert_false(figure.clock);
        assert_int_equal(figure.hundredths, cases[i].hundredths);
        assert_int_equal(figure.whole_digits, cases[i].whole_digits);
        assert_int_equal(figure.decimal_digits, cases[i].decimal_digits);
    }
}

static void three_digits_after_a_mark_give_both_readings(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int64_t hundredths, otherwise;
    } cases[] = {
        {"1,340", 134000, 134},
        {"1.340", 134000, 134},
        {"13.405", 1340500, 1340},
        {"134,055", 13405500, 13405},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hours_figure figure;
        assert_int_equal(hours_read(cases[i].text, strlen(cases[i].text), &figure), HOURS_OK);
        assert_true(figure.ambiguous);
        assert_int_equal(figure.hundredths, cases[i].hundredths);
        assert_int_equal(figure.otherwise_hundredths, cases[i].otherwise);
    }
}

static void hours_and_minutes_are_rounded_to_the_hundredth(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int64_t hundredths;
    } cases[] = {
        {"1340:30", 134050}, {"1340:00", 134000}, {"1340:20", 134033},
        {"1340:40", 134067}, {"1340:59", 134098}, {"0:01", 2},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hours_figure figure;
        assert_int_equal(hours_read(cases[i].text, strlen(cases[i].text), &figure), HOURS_OK);
        assert_true(figure.clock);
        assert_int_equal(figure.hundredths, cases[i].hundredths);
    }
}

static void what_is_no_figure_says_why(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum hours_result result;
    } cases[] = {
        {"", HOURS_NONE},
        {".", HOURS_NONE},
        {",:", HOURS_NONE},
        {"1340h", HOURS_MALFORMED},
        {"-5", HOURS_MALFORMED},
        {" 5", HOURS_MALFORMED},
        {"13 40", HOURS_MALFORMED},
        {"13A0", HOURS_MALFORMED},
        {"1340.", HOURS_MALFORMED},
        {".5", HOURS_MALFORMED},
        {"1340.555", HOURS_MALFORMED},
        {"0.340", HOURS_MALFORMED},
        {"1.3405", HOURS_MALFORMED},
        {"1.340.5", HOURS_MALFORMED},
        {"1,34,5", HOURS_MALFORMED},
        {"1,34.5", HOURS_MALFORMED},
        {"1340,340.5", HOURS_MALFORMED},
        {",340.5", HOURS_MALFORMED},
        {"1,340.500", HOURS_MALFORMED},
        {"1,340.", HOURS_MALFORMED},
        {"1.2.3.4", HOURS_MALFORMED},
        {"1.2.3.4.5", HOURS_MALFORMED},
        {"1340:3", HOURS_MALFORMED},
        {"1340:75", HOURS_MALFORMED},
        {"1340:300", HOURS_MALFORMED},
        {":30", HOURS_MALFORMED},
        {"1:30:00", HOURS_MALFORMED},
        {"1:340.5", HOURS_MALFORMED},
        {"1:340", HOURS_MALFORMED},
        {"1,340,500", HOURS_TOO_LARGE},
        {"1000000", HOURS_TOO_LARGE},
        {"1000000.5", HOURS_TOO_LARGE},
        {"1000000:30", HOURS_TOO_LARGE},
        {"9999999999999999999999999", HOURS_TOO_LARGE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hours_figure figure;
        enum hours_result result = hours_read(cases[i].text, strlen(cases[i].text), &figure);
        assert_int_equal(result, cases[i].result);
        assert_false(figure.present);
        assert_int_equal(figure.hundredths, 0);
    }
}

static void nothing_past_the_length_is_read(void **state)
{
    (void)state;
    struct hours_figure figure;
    assert_int_equal(hours_read("1340567", 4, &figure), HOURS_OK);
    assert_int_equal(figure.hundredths, 134000);
}

static void figures_are_written_with_as_few_decimals_as_say_them(void **state)
{
    (void)state;
    static const struct {
        int64_t hundredths;
        const char *text;
    } cases[] = {
        {134000, "1340"},
        {134050, "1340.5"},
        {134025, "1340.25"},
        {134005, "1340.05"},
        {0, "0"},
        {5, "0.05"},
        {50, "0.5"},
        {-50, "-0.5"},
        {-134025, "-1340.25"},
        {HOURS_HUNDREDTHS_MAX, "999999.99"},
        {INT64_MAX, "92233720368547758.07"},
        {INT64_MIN, "-92233720368547758.08"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[HOURS_TEXT_OCTETS];
        assert_int_equal(hours_write(cases[i].hundredths, text, sizeof text),
                         strlen(cases[i].text));
        assert_string_equal(text, cases[i].text);
    }
}

static void a_short_buffer_cuts_what_is_written(void **state)
{
    (void)state;
    char text[4];
    assert_int_equal(hours_write(134025, text, sizeof text), 3);
    char none = '.';
    assert_int_equal(hours_write(134025, &none, 0), 0);
    assert_int_equal(none, '.');
    assert_string_equal(text, "134");
}

static void what_is_written_reads_back(void **state)
{
    (void)state;
    for (int64_t hundredths = 0; hundredths <= HOURS_HUNDREDTHS_MAX; hundredths += 997) {
        char text[HOURS_TEXT_OCTETS];
        struct hours_figure figure;
        size_t length = hours_write(hundredths, text, sizeof text);
        assert_int_equal(hours_read(text, length, &figure), HOURS_OK);
        assert_int_equal(figure.hundredths, hundredths);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_figures_are_read_to_the_hundredth),
        cmocka_unit_test(three_digits_after_a_mark_give_both_readings),
        cmocka_unit_test(hours_and_minutes_are_rounded_to_the_hundredth),
        cmocka_unit_test(what_is_no_figure_says_why),
        cmocka_unit_test(nothing_past_the_length_is_read),
        cmocka_unit_test(figures_are_written_with_as_few_decimals_as_say_them),
        cmocka_unit_test(a_short_buffer_cuts_what_is_written),
        cmocka_unit_test(what_is_written_reads_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
