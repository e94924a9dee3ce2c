/* SPDX-License-Identifier: MIT
 * Telephone numbers. At most 15 digits: ITU-T E.164 clause 6; "+" before the country code: ITU-T
 * E.123. North American numbers have ten digits, area and exchange beginning with 2 to 9: the North
 * American Numbering Plan, from memory. Short codes of up to six digits: common practice, no source.
 * The numbers are from ranges kept for fiction. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/phone.h"

struct phone_case {
    const char *text, *country, *phone;
};

static void every_way_to_write_a_number_gives_the_same(void **state)
{
    (void)state;
    static const struct phone_case cases[] = {
        {"+12065550110", "1", "+12065550110"},
        {"12065550110", "1", "+12065550110"},
        {"2065550110", "1", "+12065550110"},
        {"+1 (206) 555-0110", "1", "+12065550110"},
        {"206.555.0110", "1", "+12065550110"},
        {"206/555/0110", "1", "+12065550110"},
        {"\t206 555 0110 ", "1", "+12065550110"},
        {"0012065550110", "49", "+12065550110"},
        {"0114915550110", "1", "+4915550110"},
        {"+12065550110", "", "+12065550110"},
        {"015550110", "49", "+4915550110"},
        {"15550110", "49", "+4915550110"},
        {"4915550110", "49", "+4915550110"},
        {"+49 1555 0110", "1", "+4915550110"},
        {"49155501", "49", "+4949155501"},
        {"+123456789012345", "49", ""},
        {"+223456789012345", "49", "+223456789012345"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char phone[PHONE_OCTETS];
        enum phone_result result =
            phone_normalise(cases[i].text, strlen(cases[i].text), cases[i].country, phone);
        assert_string_equal(phone, cases[i].phone);
        assert_int_equal(result, phone[0] == '\0' ? PHONE_MALFORMED : PHONE_OK);
    }
}

static void what_is_no_number_says_why(void **state)
{
    (void)state;
    static const struct {
        const char *text, *country;
        enum phone_result result;
    } cases[] = {
        {"12345", "1", PHONE_SHORT_CODE},
        {"+12345", "1", PHONE_SHORT_CODE},
        {"0", "1", PHONE_SHORT_CODE},
        {"ALDER", "1", PHONE_NAME},
        {"206555CALL", "1", PHONE_NAME},
        {"zed7", "1", PHONE_NAME},
        {"", "1", PHONE_MALFORMED},
        {"+", "1", PHONE_MALFORMED},
        {"++12065550110", "1", PHONE_MALFORMED},
        {"1+2065550110", "1", PHONE_MALFORMED},
        {"2065550110", "", PHONE_MALFORMED},
        {"5550110", "1", PHONE_MALFORMED},
        {"+1206555011", "1", PHONE_MALFORMED},
        {"+120655501100", "1", PHONE_MALFORMED},
        {"+11065550110", "1", PHONE_MALFORMED},
        {"+12061550110", "1", PHONE_MALFORMED},
        {"+02065550110", "1", PHONE_MALFORMED},
        {"+2234567890123456", "49", PHONE_MALFORMED},
        {"2234567890123456789012345678", "49", PHONE_MALFORMED},
        {"+1206_5550110", "1", PHONE_MALFORMED},
        {"+1206@5550110", "1", PHONE_MALFORMED},
        {"+1206{5550110", "1", PHONE_MALFORMED},
        {"\xEF\xBC\x8B"
         "12065550110",
         "1", PHONE_MALFORMED},
        {"5550110", "12345678901234567", PHONE_MALFORMED},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char phone[PHONE_OCTETS] = "x";
        assert_int_equal(
            phone_normalise(cases[i].text, strlen(cases[i].text), cases[i].country, phone),
            cases[i].result);
        assert_string_equal(phone, "");
    }
}

static void a_normal_number_stays_as_it_is(void **state)
{
    (void)state;
    char once[PHONE_OCTETS], twice[PHONE_OCTETS];
    assert_int_equal(phone_normalise("(206) 555-0199", 14, "1", once), PHONE_OK);
    assert_int_equal(phone_normalise(once, strlen(once), "49", twice), PHONE_OK);
    assert_string_equal(once, twice);
}

/* E.164: at most fifteen digits with the country code. */
static void a_number_ends_at_fifteen_digits(void **state)
{
    (void)state;
    static const struct {
        const char *typed, *country, *number;
    } cases[] = {
        {"+491234567890123", "1", "+491234567890123"}, {"+4912345678901234", "1", ""},
        {"1234567890123", "49", "+491234567890123"},   {"12345678901234", "49", ""},
        {"0123456789012345678901234567890", "49", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char number[PHONE_OCTETS];
        enum phone_result result =
            phone_normalise(cases[i].typed, strlen(cases[i].typed), cases[i].country, number);
        assert_string_equal(number, cases[i].number);
        assert_int_equal(result, number[0] != '\0' ? PHONE_OK : PHONE_MALFORMED);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_way_to_write_a_number_gives_the_same),
        cmocka_unit_test(what_is_no_number_says_why),
        cmocka_unit_test(a_normal_number_stays_as_it_is),
        cmocka_unit_test(a_number_ends_at_fifteen_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
