/* SPDX-License-Identifier: MIT
 *
 * Addresses by 3GPP TS 23.040 9.1.2.5. The packed examples are those of ModemManager's
 * src/tests/test-sms-part-3gpp.c (numbers) and oFono's unit/test-sms.c (the name "sipgate"). */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/tpdu_address.h"

struct packed {
    size_t len;
    uint8_t octets[14];
    enum tpdu_number_type type;
    uint8_t plan;
    const char *text;
};

static const struct packed published[] = {
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
#define PUBLISHED (sizeof published / sizeof published[0])

static void published_addresses_read_right_and_write_the_same(void **state)
{
    (void)state;
    for (size_t c = 0; c < PUBLISHED; c++) {
        const struct packed *packed = &published[c];
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
    for (size_t c = 0; c < PUBLISHED; c++) {
        for (size_t len = 0; len < published[c].len; len++) {
            struct tpdu_address address;
            size_t at = 0;
            assert_int_equal(tpdu_address_read(published[c].octets, len, &at, &address),
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
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
