/* SPDX-License-Identifier: MIT
 *
 * Addresses by 3GPP TS 23.040 9.1.2.5, time stamps by 9.2.3.11, validity periods by 9.2.3.12. The
 * packed examples are those of ModemManager's src/tests/test-sms-part-3gpp.c (numbers, stamps) and
 * oFono's unit/test-sms.c (the name "sipgate", stamps); days are counted against the C library's
 * gmtime_r. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <time.h>
#include <cmocka.h>

#include "parsers/tpdu_fields.h"

struct packed {
    size_t len;
    uint8_t octets[14];
    enum tpdu_number_type type;
    uint8_t plan;
    const char *text;
};

static const struct packed addresses[] = {
    {8, {0x0B, 0x91, 0x91, 0x30, 0x07, 0x92, 0x29, 0xF0}, 1, 1, "+19037029920"},
    {7, {0x0A, 0x81, 0x09, 0x73, 0x20, 0x99, 0x02}, 0, 1, "9037029920"},
    {9, {0x0D, 0xD0, 0xF3, 0x34, 0xFC, 0x1C, 0xA6, 0x97, 0x01}, 5, 0, "sipgate"},
    {4, {0x04, 0x85, 0x01, 0x20}, 0, 5, "1002"},
    /* the rest from 9.1.2.3: the five semi-octets that are no digits */
    {5, {0x05, 0x81, 0xBA, 0xDC, 0xFE}, 0, 1, "*#abc"},
    {3, {0x01, 0xA1, 0xF7}, 2, 1, "7"},
    {2, {0x00, 0x91}, 1, 1, ""},
    {2, {0x00, 0xD0}, 5, 0, ""},
    {12,
     {20, 0x91, 0x10, 0x32, 0x54, 0x76, 0x98, 0x10, 0x32, 0x54, 0x76, 0x98},
     1,
     1,
     "+01234567890123456789"},
    {12,
     {20, 0xD0, 0xFB, 0xFD, 0x7E, 0xBF, 0xDF, 0xEF, 0xF7, 0x7B, 0xFE, 0x1E},
     5,
     0,
     "äääääääääöä"}, /* oFono: unicode_deliver */
};
#define ADDRESSES (sizeof addresses / sizeof addresses[0])

static void published_addresses_read_right_and_write_the_same(void **state)
{
    (void)state;
    for (size_t c = 0; c < ADDRESSES; c++) {
        const struct packed *packed = &addresses[c];
        struct tpdu_address address;
        uint8_t octets[TPDU_ADDRESS_OCTETS_MAX] = {0};
        size_t at = 0;
        assert_int_equal(tpdu_address_read(packed->octets, packed->len, &at, &address), TPDU_OK);
        assert_int_equal(at, packed->len);
        assert_int_equal(address.type, packed->type);
        assert_int_equal(address.plan, packed->plan);
        assert_string_equal(address.text, packed->text);
        assert_int_equal(tpdu_address_write(&address, octets), packed->len);
        assert_memory_equal(octets, packed->octets, packed->len);
    }
}

static void each_type_of_number_reads_as_digits_but_the_name(void **state)
{
    (void)state;
    for (unsigned type = 0; type < 8; type++) {
        for (unsigned plan = 0; plan < 16; plan++) {
            const uint8_t octets[] = {4, (uint8_t)(0x80u | type << 4 | plan), 0x21, 0x43};
            struct tpdu_address address;
            size_t at = 0;
            assert_int_equal(tpdu_address_read(octets, sizeof octets, &at, &address), TPDU_OK);
            assert_int_equal(address.type, type);
            assert_int_equal(address.plan, plan);
            assert_string_equal(address.text, type == 1 ? "+1234" : type == 5 ? "!ù" : "1234");
        }
    }
}

static void an_address_cut_at_any_octet_is_cut(void **state)
{
    (void)state;
    for (size_t c = 0; c < ADDRESSES; c++) {
        for (size_t len = 0; len < addresses[c].len; len++) {
            struct tpdu_address address;
            size_t at = 0;
            assert_int_equal(tpdu_address_read(addresses[c].octets, len, &at, &address),
                             TPDU_ERROR_CUT);
        }
    }
}

static void fillers_counted_as_digits_are_let_go(void **state)
{
    (void)state;
    static const struct {
        size_t len;
        uint8_t octets[5];
        const char *text;
    } cases[] = {
        {5, {6, 0x91, 0x21, 0x43, 0xF5}, "+12345"},
        {5, {6, 0x81, 0x21, 0x43, 0xFF}, "1234"},
        {4, {3, 0x91, 0xFF, 0xFF}, ""},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_address address;
        size_t at = 0;
        assert_int_equal(tpdu_address_read(cases[c].octets, cases[c].len, &at, &address), TPDU_OK);
        assert_string_equal(address.text, cases[c].text);
    }
}

static void an_ill_formed_address_is_named_so(void **state)
{
    (void)state;
    static const struct {
        size_t len;
        uint8_t octets[14];
    } cases[] = {
        {5, {6, 0x81, 0x21, 0xF3, 0x54}},                     /* a filler before a digit */
        {14, {21, 0x81, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}}, /* 21 digits */
        {14, {255, 0x81, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_address address;
        size_t at = 0;
        assert_int_equal(tpdu_address_read(cases[c].octets, cases[c].len, &at, &address),
                         TPDU_ERROR_ADDRESS);
    }
}

static void a_service_centre_counts_octets(void **state)
{
    (void)state;
    static const struct packed cases[] = {
        {8, {0x07, 0x91, 0x91, 0x30, 0x07, 0x92, 0x29, 0xF0}, 1, 1, "+19037029920"},
        {7, {0x06, 0x81, 0x09, 0x73, 0x20, 0x99, 0x02}, 0, 1, "9037029920"},
        {1, {0x00}, 0, 0, ""},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_address address;
        uint8_t octets[TPDU_ADDRESS_OCTETS_MAX] = {0};
        size_t at = 0;
        assert_int_equal(tpdu_address_read_centre(cases[c].octets, cases[c].len, &at, &address),
                         TPDU_OK);
        assert_int_equal(at, cases[c].len);
        assert_int_equal(address.type, cases[c].type);
        assert_int_equal(address.plan, cases[c].plan);
        assert_string_equal(address.text, cases[c].text);
        assert_int_equal(tpdu_address_write_centre(&address, octets), cases[c].len);
        assert_memory_equal(octets, cases[c].octets, cases[c].len);
        for (size_t len = 0; len < cases[c].len; len++) {
            at = 0;
            assert_int_equal(tpdu_address_read_centre(cases[c].octets, len, &at, &address),
                             TPDU_ERROR_CUT);
        }
    }
}

static void a_service_centre_of_more_than_ten_octets_of_digits_is_ill_formed(void **state)
{
    (void)state;
    static const uint8_t octets[14] = {12, 0x91};
    struct tpdu_address address;
    size_t at = 0;
    assert_int_equal(tpdu_address_read_centre(octets, sizeof octets, &at, &address),
                     TPDU_ERROR_CENTRE);
}

static void a_text_becomes_a_number_or_a_name(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum tpdu_number_type type;
        uint8_t plan;
    } cases[] = {
        {"+12065550110", TPDU_NUMBER_TYPE_INTERNATIONAL, 1},
        {"1002", TPDU_NUMBER_TYPE_UNKNOWN, 1},
        {"*100#", TPDU_NUMBER_TYPE_UNKNOWN, 1},
        {"Alder Works", TPDU_NUMBER_TYPE_ALPHANUMERIC, 0},
        {"+", TPDU_NUMBER_TYPE_ALPHANUMERIC, 0},
        {"+1-206", TPDU_NUMBER_TYPE_ALPHANUMERIC, 0},
        {"01234567890123456789", TPDU_NUMBER_TYPE_UNKNOWN, 1},
        {"+01234567890123456789", TPDU_NUMBER_TYPE_INTERNATIONAL, 1},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_address address;
        struct tpdu_address back;
        uint8_t octets[TPDU_ADDRESS_OCTETS_MAX];
        size_t at = 0;
        assert_true(tpdu_address_set(&address, cases[c].text, strlen(cases[c].text)));
        assert_int_equal(address.type, cases[c].type);
        assert_int_equal(address.plan, cases[c].plan);
        assert_string_equal(address.text, cases[c].text);
        size_t len = tpdu_address_write(&address, octets);
        assert_int_equal(tpdu_address_read(octets, len, &at, &back), TPDU_OK);
        assert_string_equal(back.text, cases[c].text);
    }
}

static void what_cannot_be_carried_is_refused(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        size_t len;
    } cases[] = {
        {"", 0},
        {"012345678901234567890", 21}, /* 21 digits */
        {"+012345678901234567890", 22},
        {"0123456789012345678901234567890", 31},
        {"Alder Works!", 12}, /* 12 septets */
        {"[Alder]*[]", 10},   /* 14 septets */
        {"Álder", 6},         /* not in the default alphabet */
        {"Al\0der", 6},       /* a NUL */
        {"12\0", 3},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_address address;
        assert_false(tpdu_address_set(&address, cases[c].text, cases[c].len));
    }
}

static void an_address_filled_in_wrongly_is_not_written(void **state)
{
    (void)state;
    static const struct tpdu_address cases[] = {
        {TPDU_NUMBER_TYPE_UNKNOWN, 1, "+12065550110"}, /* a plus without its type */
        {TPDU_NUMBER_TYPE_NATIONAL, 1, "206-555"},
        {TPDU_NUMBER_TYPE_UNKNOWN, 1, "01234567890123456789012"},
        {TPDU_NUMBER_TYPE_ALPHANUMERIC, 0, "012345678901"},
        {TPDU_NUMBER_TYPE_UNKNOWN, 1, "012345678901234567890123"}, /* no NUL at all */
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        uint8_t octets[TPDU_ADDRESS_OCTETS_MAX];
        assert_int_equal(tpdu_address_write(&cases[c], octets), 0);
        assert_int_equal(tpdu_address_write_centre(&cases[c], octets), 0);
    }
}

static void an_international_number_may_come_without_its_plus(void **state)
{
    (void)state;
    static const struct tpdu_address address = {TPDU_NUMBER_TYPE_INTERNATIONAL, 1, "1206"};
    static const uint8_t expected[] = {4, 0x91, 0x21, 0x60};
    uint8_t octets[TPDU_ADDRESS_OCTETS_MAX];
    assert_int_equal(tpdu_address_write(&address, octets), sizeof expected);
    assert_memory_equal(octets, expected, sizeof expected);
}

#define QUARTER_S 900

static const struct {
    uint8_t octets[TPDU_TIME_OCTETS];
    struct tpdu_time time;
} stamps[] = {
    {{0x20, 0x80, 0x62, 0x91, 0x73, 0x14, 0x48}, {2, 8, 26, 19, 37, 41, -4, true}},
    {{0x80, 0x80, 0x31, 0x21, 0x70, 0x22, 0x40}, {8, 8, 13, 12, 7, 22, 4, true}},
    {{0x11, 0x10, 0x10, 0x21, 0x43, 0x65, 0x00}, {11, 1, 1, 12, 34, 56, 0, true}},
    {{0x11, 0x30, 0x92, 0x91, 0x02, 0x40, 0x61}, {11, 3, 29, 19, 20, 4, 16, true}},
    {{0x21, 0x40, 0x52, 0x91, 0x65, 0x05, 0x69}, {12, 4, 25, 19, 56, 50, -16, true}},
    {{0x01, 0x60, 0x12, 0x41, 0x30, 0x34, 0x0A}, {10, 6, 21, 14, 3, 43, -20, true}},
};
#define STAMPS (sizeof stamps / sizeof stamps[0])

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
    for (size_t c = 0; c < STAMPS; c++) {
        struct tpdu_time time;
        uint8_t octets[TPDU_TIME_OCTETS + 1];
        tpdu_time_read(stamps[c].octets, 0, &time);
        assert_same(&time, &stamps[c].time);
        assert_true(tpdu_time_write(&time, octets, 1));
        assert_memory_equal(octets + 1, stamps[c].octets, TPDU_TIME_OCTETS);
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

#define MINUTE 60
#define HOUR (60 * MINUTE)
#define DAY (24 * HOUR)
#define WEEK (7 * DAY)

static void a_relative_period_is_by_the_table_of_the_standard(void **state)
{
    (void)state;
    static const struct {
        uint8_t octet;
        int32_t period_s;
    } cases[] = {
        {0x00, 5 * MINUTE}, {0x0B, HOUR},    {143, 12 * HOUR},  {144, 12 * HOUR + 30 * MINUTE},
        {0xA7, DAY},        {168, 2 * DAY},  {0xAA, 4 * DAY},   {0xAD, 7 * DAY},
        {196, 30 * DAY},    {197, 5 * WEEK}, {0xFF, 63 * WEEK},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_validity validity;
        size_t at = 0;
        assert_true(
            tpdu_validity_read(&cases[c].octet, 1, &at, TPDU_VALIDITY_FORM_RELATIVE, &validity));
        assert_int_equal(at, 1);
        assert_int_equal(validity.form, TPDU_VALIDITY_FORM_RELATIVE);
        assert_int_equal(validity.octets[0], cases[c].octet);
        assert_int_equal(validity.period_s, cases[c].period_s);
    }
}

static void the_shortest_period_that_lasts_is_set(void **state)
{
    (void)state;
    int32_t before_s = 0;
    for (unsigned octet = 0; octet < 256; octet++) {
        struct tpdu_validity validity;
        struct tpdu_validity set;
        const uint8_t octets[] = {(uint8_t)octet};
        size_t at = 0;
        assert_true(tpdu_validity_read(octets, 1, &at, TPDU_VALIDITY_FORM_RELATIVE, &validity));
        tpdu_validity_set(&set, before_s + 1);
        assert_memory_equal(&set, &validity, sizeof set);
        tpdu_validity_set(&set, validity.period_s);
        assert_int_equal(set.octets[0], octet);
        before_s = validity.period_s;
    }
}

static void a_period_beyond_the_longest_is_the_longest(void **state)
{
    (void)state;
    struct tpdu_validity validity;
    tpdu_validity_set(&validity, INT64_MAX);
    assert_int_equal(validity.period_s, 63 * WEEK);
}

static void no_period_leaves_it_to_the_service_centre(void **state)
{
    (void)state;
    struct tpdu_validity validity;
    tpdu_validity_set(&validity, 0);
    assert_int_equal(validity.form, TPDU_VALIDITY_FORM_NONE);
    assert_int_equal(validity.period_s, TPDU_VALIDITY_UNKNOWN_S);
    tpdu_validity_set(&validity, -5);
    assert_int_equal(validity.form, TPDU_VALIDITY_FORM_NONE);
}

static void an_enhanced_period_is_read_by_its_format(void **state)
{
    (void)state;
    static const struct {
        uint8_t octets[TPDU_TIME_OCTETS];
        int32_t period_s;
        bool single_shot;
    } cases[] = {
        {{0x00}, TPDU_VALIDITY_UNKNOWN_S, false},
        {{0x40}, TPDU_VALIDITY_UNKNOWN_S, true},
        {{0x01, 0xA7}, DAY, false},
        {{0x02, 45}, 45, false},
        {{0x02, 0}, TPDU_VALIDITY_UNKNOWN_S, false},
        {{0x03, 0x21, 0x43, 0x55}, 12 * HOUR + 34 * MINUTE + 55, false},
        {{0x03, 0xA1, 0x43, 0x55}, TPDU_VALIDITY_UNKNOWN_S, false},
        {{0x03, 0x21, 0x4A, 0x55}, TPDU_VALIDITY_UNKNOWN_S, false},
        {{0x03, 0x21, 0x43, 0xF5}, TPDU_VALIDITY_UNKNOWN_S, false},
        {{0x04, 1}, TPDU_VALIDITY_UNKNOWN_S, false}, /* reserved */
        {{0x07, 1}, TPDU_VALIDITY_UNKNOWN_S, false},
        {{0xC2, 0x00, 9}, 9, true}, /* a further indicator octet before the period */
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_validity validity;
        size_t at = 0;
        assert_true(tpdu_validity_read(cases[c].octets, TPDU_TIME_OCTETS, &at,
                                       TPDU_VALIDITY_FORM_ENHANCED, &validity));
        assert_int_equal(at, TPDU_TIME_OCTETS);
        assert_int_equal(validity.period_s, cases[c].period_s);
        assert_int_equal(validity.single_shot, cases[c].single_shot);
        assert_memory_equal(validity.octets, cases[c].octets, TPDU_TIME_OCTETS);
    }
}

static void an_absolute_end_is_a_time_stamp(void **state)
{
    (void)state;
    static const uint8_t octets[] = {9, 0x62, 0x11, 0x52, 0x70, 0x51, 0x94, 0x8A};
    struct tpdu_validity validity;
    int64_t unix_s = 0;
    size_t at = 1;
    assert_true(
        tpdu_validity_read(octets, sizeof octets, &at, TPDU_VALIDITY_FORM_ABSOLUTE, &validity));
    assert_int_equal(validity.period_s, TPDU_VALIDITY_UNKNOWN_S);
    assert_true(tpdu_time_unix(&validity.until, &unix_s));
    assert_int_equal(unix_s, INT64_C(1795616149)); /* 2026-11-25T07:15:49-07:00, by GNU date */
}

static void what_is_cut_is_said_to_be(void **state)
{
    (void)state;
    static const uint8_t octets[TPDU_TIME_OCTETS] = {0};
    for (unsigned form = 0; form < 4; form++) {
        size_t need = tpdu_validity_octets((enum tpdu_validity_form)form);
        assert_int_equal(need, form == 0 ? 0 : form == TPDU_VALIDITY_FORM_RELATIVE ? 1 : 7);
        for (size_t len = 0; len <= TPDU_TIME_OCTETS; len++) {
            struct tpdu_validity validity;
            size_t at = 0;
            assert_int_equal(
                tpdu_validity_read(octets, len, &at, (enum tpdu_validity_form)form, &validity),
                len >= need);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_addresses_read_right_and_write_the_same),
        cmocka_unit_test(each_type_of_number_reads_as_digits_but_the_name),
        cmocka_unit_test(an_address_cut_at_any_octet_is_cut),
        cmocka_unit_test(fillers_counted_as_digits_are_let_go),
        cmocka_unit_test(an_ill_formed_address_is_named_so),
        cmocka_unit_test(a_service_centre_counts_octets),
        cmocka_unit_test(a_service_centre_of_more_than_ten_octets_of_digits_is_ill_formed),
        cmocka_unit_test(a_text_becomes_a_number_or_a_name),
        cmocka_unit_test(what_cannot_be_carried_is_refused),
        cmocka_unit_test(an_address_filled_in_wrongly_is_not_written),
        cmocka_unit_test(an_international_number_may_come_without_its_plus),
        cmocka_unit_test(published_stamps_read_right_and_write_the_same),
        cmocka_unit_test(each_zone_octet_reads_by_its_sign_and_digits),
        cmocka_unit_test(a_stamp_that_is_no_time_is_read_and_marked),
        cmocka_unit_test(each_day_and_zone_agrees_with_the_c_library),
        cmocka_unit_test(a_time_that_two_digits_cannot_say_is_refused),
        cmocka_unit_test(a_time_out_of_range_is_not_written),
        cmocka_unit_test(a_relative_period_is_by_the_table_of_the_standard),
        cmocka_unit_test(the_shortest_period_that_lasts_is_set),
        cmocka_unit_test(a_period_beyond_the_longest_is_the_longest),
        cmocka_unit_test(no_period_leaves_it_to_the_service_centre),
        cmocka_unit_test(an_enhanced_period_is_read_by_its_format),
        cmocka_unit_test(an_absolute_end_is_a_time_stamp),
        cmocka_unit_test(what_is_cut_is_said_to_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
