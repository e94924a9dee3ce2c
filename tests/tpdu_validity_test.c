/* SPDX-License-Identifier: MIT
 *
 * Validity periods by 3GPP TS 23.040 9.2.3.12. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "parsers/tpdu_validity.h"

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
