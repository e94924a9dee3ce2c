/* SPDX-License-Identifier: MIT
 *
 * Time stamps by 3GPP TS 23.040 9.2.3.11; the day count against the C library's gmtime_r. The
 * octets with their meaning are those of oFono's unit/test-sms.c and ModemManager's
 * src/tests/test-sms-part-3gpp.c. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <time.h>
#include <cmocka.h>

#include "parsers/tpdu_time.h"

#define QUARTER_S 900

static const struct {
    uint8_t octets[TPDU_TIME_OCTETS];
    struct tpdu_time time;
} published[] = {
    {{0x20, 0x80, 0x62, 0x91, 0x73, 0x14, 0x48}, {2, 8, 26, 19, 37, 41, -4, true}},
    {{0x80, 0x80, 0x31, 0x21, 0x70, 0x22, 0x40}, {8, 8, 13, 12, 7, 22, 4, true}},
    {{0x11, 0x10, 0x10, 0x21, 0x43, 0x65, 0x00}, {11, 1, 1, 12, 34, 56, 0, true}},
    {{0x11, 0x30, 0x92, 0x91, 0x02, 0x40, 0x61}, {11, 3, 29, 19, 20, 4, 16, true}},
    {{0x21, 0x40, 0x52, 0x91, 0x65, 0x05, 0x69}, {12, 4, 25, 19, 56, 50, -16, true}},
    {{0x01, 0x60, 0x12, 0x41, 0x30, 0x34, 0x0A}, {10, 6, 21, 14, 3, 43, -20, true}},
};
#define PUBLISHED (sizeof published / sizeof published[0])

static void assert_same(const struct tpdu_time *got, const struct tpdu_time *wanted)
{
    assert_int_equal(got->year, wanted->year);
    assert_int_equal(got->month, wanted->month);
    assert_int_equal(got->day, wanted->day);
    assert_int_equal(got->hour, wanted->hour);
    assert_int_equal(got->minute, wanted->minute);
    assert_int_equal(got->second, wanted->second);
    assert_int_equal(got->zone_quarters, wanted->zone_quarters);
    assert_int_equal(got->valid, wanted->valid);
}

static void published_stamps_read_right_and_write_the_same(void **state)
{
    (void)state;
    for (size_t c = 0; c < PUBLISHED; c++) {
        struct tpdu_time time;
        uint8_t octets[TPDU_TIME_OCTETS + 1];
        tpdu_time_read(published[c].octets, 0, &time);
        assert_same(&time, &published[c].time);
        assert_true(tpdu_time_write(&time, octets, 1));
        assert_memory_equal(octets + 1, published[c].octets, TPDU_TIME_OCTETS);
    }
}

static void each_zone_octet_reads_by_its_sign_and_digits(void **state)
{
    (void)state;
    for (unsigned octet = 0; octet < 256; octet++) {
        uint8_t octets[TPDU_TIME_OCTETS] = {0x11, 0x10, 0x10, 0x21, 0x43, 0x65, (uint8_t)octet};
        struct tpdu_time time;
        int quarters = (int)((octet & 7u) * 10 + (octet >> 4));
        tpdu_time_read(octets, 0, &time);
        assert_int_equal(time.zone_quarters, (octet & 8u) != 0 ? -quarters : quarters);
        assert_int_equal(time.valid, octet >> 4 <= 9);
    }
}

static void a_stamp_that_is_no_time_is_read_and_marked(void **state)
{
    (void)state;
    static const struct {
        uint8_t octets[TPDU_TIME_OCTETS];
        struct tpdu_time time;
    } cases[] = {
        {{0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF}, {165, 165, 165, 165, 165, 165, -85, false}},
        {{0, 0, 0, 0, 0, 0, 0}, {0, 0, 0, 0, 0, 0, 0, false}},
        {{0x01, 0x90, 0x12, 0x41, 0x30, 0x64, 0xA0}, {10, 9, 21, 14, 3, 46, 10, false}},
        {{0xA1, 0x10, 0x10, 0, 0, 0, 0}, {20, 1, 1, 0, 0, 0, 0, false}}, /* 1 and ten */
        {{0x11, 0x31, 0x10, 0, 0, 0, 0}, {11, 13, 1, 0, 0, 0, 0, false}},
        {{0x11, 0x10, 0x00, 0, 0, 0, 0}, {11, 1, 0, 0, 0, 0, 0, false}},
        {{0x11, 0x20, 0x92, 0, 0, 0, 0}, {11, 2, 29, 0, 0, 0, 0, false}},
        {{0x21, 0x20, 0x03, 0, 0, 0, 0}, {12, 2, 30, 0, 0, 0, 0, false}},
        {{0x11, 0x40, 0x13, 0, 0, 0, 0}, {11, 4, 31, 0, 0, 0, 0, false}},
        {{0x11, 0x10, 0x10, 0x42, 0, 0, 0}, {11, 1, 1, 24, 0, 0, 0, false}},
        {{0x11, 0x10, 0x10, 0, 0x06, 0, 0}, {11, 1, 1, 0, 60, 0, 0, false}},
        {{0x11, 0x10, 0x10, 0, 0, 0x06, 0}, {11, 1, 1, 0, 0, 60, 0, false}},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_time time;
        uint8_t octets[TPDU_TIME_OCTETS];
        int64_t unix_s = 7;
        tpdu_time_read(cases[c].octets, 0, &time);
        assert_same(&time, &cases[c].time);
        assert_false(tpdu_time_unix(&time, &unix_s));
        assert_int_equal(unix_s, 0);
        time.valid = true; /* does not make it one */
        assert_int_equal(tpdu_time_unix(&time, &unix_s), c == 2 || c == 3);
        assert_int_equal(tpdu_time_write(&time, octets, 0), c == 2 || c == 3);
    }
}

static void each_day_and_zone_agrees_with_the_c_library(void **state)
{
    (void)state;
    int zone = -79;
    for (int64_t day_s = INT64_C(631152000); day_s < INT64_C(3786912000); day_s += 86400) {
        int64_t unix_s = day_s + 86399 - day_s / 86400 * 7919 % 86400;
        struct tpdu_time time;
        int64_t back_s = 0;
        struct tm tm;
        time_t local_s = (time_t)unix_s;
        assert_non_null(gmtime_r(&local_s, &tm));
        assert_true(tpdu_time_set(&time, unix_s - zone * QUARTER_S, zone));
        assert_int_equal(time.year, tm.tm_year % 100);
        assert_int_equal(time.month, tm.tm_mon + 1);
        assert_int_equal(time.day, tm.tm_mday);
        assert_int_equal(time.hour, tm.tm_hour);
        assert_int_equal(time.minute, tm.tm_min);
        assert_int_equal(time.second, tm.tm_sec);
        assert_int_equal(time.zone_quarters, zone);
        assert_true(tpdu_time_unix(&time, &back_s));
        assert_int_equal(back_s, unix_s - zone * QUARTER_S);
        zone = zone == 79 ? -79 : zone + 1;
    }
}

static void a_time_that_two_digits_cannot_say_is_refused(void **state)
{
    (void)state;
    static const struct {
        int64_t unix_s;
        int zone;
        bool fits;
    } cases[] = {
        {INT64_C(631152000), 0, true},   /* 1990-01-01 00:00:00 */
        {INT64_C(631152000), -1, false}, /* 1989-12-31 23:45:00 */
        {INT64_C(3786911999), 0, true},  /* 2089-12-31 23:59:59 */
        {INT64_C(3786911999), 1, false}, /* 2090-01-01 00:14:59 */
        {-1, 0, false},
        {INT64_MIN, 0, false},
        {INT64_MAX, 0, false},
        {INT64_C(1000000000), 80, false},
        {INT64_C(1000000000), -80, false},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_time time;
        assert_int_equal(tpdu_time_set(&time, cases[c].unix_s, cases[c].zone), cases[c].fits);
        assert_int_equal(time.valid, cases[c].fits);
    }
}

static void a_time_out_of_range_is_not_written(void **state)
{
    (void)state;
    static const struct tpdu_time cases[] = {
        {100, 1, 1, 0, 0, 0, 0, true},  {26, 0, 1, 0, 0, 0, 0, true},
        {26, 1, 1, 0, 0, 0, 0, false},  {26, 1, 1, 0, 0, 0, 80, true},
        {26, 1, 1, 0, 0, 0, -80, true},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        uint8_t octets[TPDU_TIME_OCTETS];
        assert_false(tpdu_time_write(&cases[c], octets, 0));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_stamps_read_right_and_write_the_same),
        cmocka_unit_test(each_zone_octet_reads_by_its_sign_and_digits),
        cmocka_unit_test(a_stamp_that_is_no_time_is_read_and_marked),
        cmocka_unit_test(each_day_and_zone_agrees_with_the_c_library),
        cmocka_unit_test(a_time_that_two_digits_cannot_say_is_refused),
        cmocka_unit_test(a_time_out_of_range_is_not_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
