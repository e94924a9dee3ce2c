/* SPDX-License-Identifier: MIT
 *
 * Reading short messages: first octets and optional fields by 3GPP TS 23.040 9.2.2 and 9.2.3, and
 * what is said of bad input. Published messages are in tpdu_vectors_test.c. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/tpdu.h"

/* "M12 1340h" from +12065550110, 2026-11-25 07:15:49 -07:00. */
#define ADDRESS "0B912160550511F0"
#define TIME "6211527051948A"
#define TEXT "09CD980C149BD16068"
#define DELIVER "0004" ADDRESS "0000" TIME TEXT
#define SUBMIT "001100" ADDRESS "0000AA" TEXT
#define REPORT "000607" ADDRESS TIME TIME "00"

static enum tpdu_error read_hex(const char *hex, struct tpdu *tpdu)
{
    return tpdu_from_hex(hex, strlen(hex), tpdu);
}

static void a_first_octet_says_what_it_is_and_what_it_carries(void **state)
{
    (void)state;
    for (unsigned first = 0; first < 256; first++) {
        static const size_t validity_digits[] = {0, 14, 2, 14};
        struct tpdu tpdu;
        char hex[TPDU_HEX_OCTETS];
        const char validity[] = "62115270519400";
        unsigned type = first % 4;
        /* a header of its length alone, where one is announced */
        const char *user = (first & 0x40u) != 0 ? "0100" : "00";
        if (type == 1) {
            (void)snprintf(hex, sizeof hex, "00%02X07" ADDRESS "0004%.*s%s", first,
                           (int)validity_digits[first / 8 % 4], validity, user);
        } else if (type == 2) {
            (void)snprintf(hex, sizeof hex, "00%02X07" ADDRESS TIME TIME "00070004%s", first, user);
        } else {
            (void)snprintf(hex, sizeof hex, "00%02X" ADDRESS "0004" TIME "%s", first, user);
        }
        assert_int_equal(read_hex(hex, &tpdu), TPDU_OK);
        assert_string_equal(tpdu.other.text, "+12065550110");
        assert_int_equal(tpdu.octets, strlen(hex) / 2 - 1);
        assert_int_equal(tpdu.user.has_header, first / 0x40 % 2);
        assert_int_equal(tpdu.user.coding.alphabet, TPDU_ALPHABET_OCTETS);
        if (type == 1) {
            assert_int_equal(tpdu.kind, TPDU_KIND_SUBMIT);
            assert_int_equal(tpdu.submit.reference, 7);
            assert_int_equal(tpdu.submit.reject_duplicates, first / 4 % 2);
            assert_int_equal(tpdu.submit.validity.form, first / 8 % 4);
            assert_int_equal(tpdu.submit.report_wanted, first / 0x20 % 2);
            assert_int_equal(tpdu.reply_path, first / 0x80);
            assert_false(tpdu.loop_prevention);
        } else if (type == 2) {
            assert_int_equal(tpdu.kind, TPDU_KIND_STATUS_REPORT);
            assert_int_equal(tpdu.report.reference, 7);
            assert_int_equal(tpdu.report.more_waiting, first / 4 % 2 == 0);
            assert_int_equal(tpdu.report.of_command, first / 0x20 % 2);
            assert_int_equal(tpdu.loop_prevention, first / 8 % 2);
            assert_false(tpdu.reply_path);
        } else {
            assert_int_equal(tpdu.kind, TPDU_KIND_DELIVER);
            assert_int_equal(tpdu.deliver.more_waiting, first / 4 % 2 == 0);
            assert_int_equal(tpdu.deliver.report_wanted, first / 0x20 % 2);
            assert_int_equal(tpdu.deliver.reserved_type, type == 3);
            assert_int_equal(tpdu.loop_prevention, first / 8 % 2);
            assert_int_equal(tpdu.reply_path, first / 0x80);
        }
    }
}

static void each_status_says_what_became_of_the_text(void **state)
{
    (void)state;
    static const enum tpdu_outcome outcomes[] = {
        TPDU_OUTCOME_DONE,    TPDU_OUTCOME_TRYING,  TPDU_OUTCOME_FAILED,  TPDU_OUTCOME_GAVE_UP,
        TPDU_OUTCOME_GAVE_UP, TPDU_OUTCOME_GAVE_UP, TPDU_OUTCOME_GAVE_UP, TPDU_OUTCOME_GAVE_UP};
    for (unsigned status = 0; status < 256; status++) {
        struct tpdu tpdu;
        char hex[TPDU_HEX_OCTETS];
        (void)snprintf(hex, sizeof hex, "000607" ADDRESS TIME TIME "%02X", status);
        assert_int_equal(read_hex(hex, &tpdu), TPDU_OK);
        assert_int_equal(tpdu.report.status, status);
        assert_int_equal(tpdu.report.outcome, outcomes[status / 0x20]);
    }
}

static void a_report_carries_what_its_parameter_indicator_says(void **state)
{
    (void)state;
    static const struct {
        const char *options;
        enum tpdu_error error;
        bool has_protocol, has_coding, has_user;
        uint8_t protocol, dcs;
        const char *text;
    } cases[] = {
        {"", TPDU_OK, false, false, false, 0, 0, ""},
        {"00", TPDU_OK, false, false, false, 0, 0, ""},
        {"0141", TPDU_OK, true, false, false, 0x41, 0, ""},
        {"0208", TPDU_OK, false, true, false, 0, 8, ""},
        {"04" TEXT, TPDU_OK, false, false, true, 0, 0, "M12 1340h"},
        {"0608040068006F", TPDU_OK, false, true, true, 0, 8, "ho"},
        {"07410804006800 6F", TPDU_ERROR_HEX, false, false, false, 0, 0, ""},
        {"0741080400680069", TPDU_OK, true, true, true, 0x41, 8, "hi"},
        {"0141FFFF", TPDU_OK, true, false, false, 0x41, 0, ""}, /* of later versions */
        {"7800", TPDU_OK, false, false, false, 0, 0, ""},       /* reserved bits */
        {"818041", TPDU_ERROR_CUT, true, false, false, 0, 0, ""},
        {"81800041", TPDU_OK, true, false, false, 0x41, 0, ""}, /* two more indicators */
        {"80", TPDU_OK, false, false, false, 0, 0, ""},
        {"01", TPDU_ERROR_CUT, false, false, false, 0, 0, ""},
        {"02", TPDU_ERROR_CUT, false, false, false, 0, 0, ""},
        {"0341", TPDU_ERROR_CUT, false, false, false, 0, 0, ""},
        {"04", TPDU_ERROR_CUT, false, false, false, 0, 0, ""},
        {"0409CD", TPDU_ERROR_USER_CUT, false, false, false, 0, 0, ""},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu tpdu;
        char hex[TPDU_HEX_OCTETS];
        (void)snprintf(hex, sizeof hex, REPORT "%s", cases[c].options);
        assert_int_equal(read_hex(hex, &tpdu), cases[c].error);
        if (cases[c].error == TPDU_OK) {
            assert_int_equal(tpdu.report.has_protocol, cases[c].has_protocol);
            assert_int_equal(tpdu.report.has_coding, cases[c].has_coding);
            assert_int_equal(tpdu.report.has_user, cases[c].has_user);
            assert_int_equal(tpdu.protocol, cases[c].protocol);
            assert_int_equal(tpdu.user.coding.dcs, cases[c].dcs);
            assert_int_equal(tpdu.user.coding.class, TPDU_CLASS_NONE);
            assert_string_equal(tpdu.user.text, cases[c].text);
        }
    }
}

static void hex_is_read_in_either_case(void **state)
{
    (void)state;
    struct tpdu upper;
    struct tpdu lower;
    assert_int_equal(read_hex("00040B912160550511f00000" TIME "06CD980C149BD1", &upper), TPDU_OK);
    assert_int_equal(read_hex("00040b912160550511F00000"
                              "6211527051948a"
                              "06cd980c149bd1",
                              &lower),
                     TPDU_OK);
    assert_string_equal(upper.user.text, "M12 13");
    assert_string_equal(lower.user.text, "M12 13");
    assert_string_equal(lower.other.text, "+12065550110");
}

static void a_stray_character_anywhere_is_no_hex(void **state)
{
    (void)state;
    static const char strays[] = {' ', '\r', '\n',   '\0',   'g',    'G', '/', ':',
                                  '@', '`',  '\x7F', '\x80', '\xFF', '+', '.'};
    for (size_t s = 0; s < sizeof strays; s++) {
        for (size_t at = 0; at < sizeof DELIVER - 1; at++) {
            char hex[] = DELIVER;
            struct tpdu tpdu;
            hex[at] = strays[s];
            assert_int_equal(tpdu_from_hex(hex, sizeof hex - 1, &tpdu), TPDU_ERROR_HEX);
        }
    }
}

/* In a buffer of its own length, so that a sanitizer sees a read past it. */
static enum tpdu_error read_exactly(const char *hex, size_t len, struct tpdu *tpdu)
{
    char *copy = malloc(len > 0 ? len : 1);
    assert_non_null(copy);
    memcpy(copy, hex, len);
    enum tpdu_error error = tpdu_from_hex(copy, len, tpdu);
    free(copy);
    return error;
}

static void a_message_cut_at_any_digit_is_an_error(void **state)
{
    (void)state;
    static const struct {
        const char *hex;
        size_t user; /* octets up to TP-UDL; 0 for none */
    } cases[] = {
        {"07911326040000F0"
         "04" ADDRESS "0000" TIME TEXT,
         27},
        {SUBMIT, 15},
        {"001900" ADDRESS "0000" TIME TEXT, 21},
        {"000100" ADDRESS "0000" TEXT, 14},
        {"0044" ADDRESS "0000" TIME "0C0500034C0201A061391D04", 20},
        {REPORT, 0},
        {"00040ED0F334FC1CA69701"
         "0000" TIME TEXT,
         21},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu tpdu;
        size_t whole = strlen(cases[c].hex);
        for (size_t len = 0; len < whole; len++) {
            enum tpdu_error error = read_exactly(cases[c].hex, len, &tpdu);
            if (len == 0) {
                assert_int_equal(error, TPDU_ERROR_EMPTY);
            } else if (len % 2 == 1) {
                assert_int_equal(error, TPDU_ERROR_HEX_ODD);
            } else if (cases[c].user > 0 && len / 2 >= cases[c].user) {
                assert_int_equal(error, TPDU_ERROR_USER_CUT);
            } else {
                assert_int_equal(error, TPDU_ERROR_CUT);
            }
        }
        assert_int_equal(read_exactly(cases[c].hex, whole, &tpdu), TPDU_OK);
    }
}

static void bad_input_is_named_for_what_it_is(void **state)
{
    (void)state;
    static const struct {
        const char *hex;
        enum tpdu_error error;
    } cases[] = {
        {"", TPDU_ERROR_EMPTY},
        {"00", TPDU_ERROR_CUT},
        {"0", TPDU_ERROR_HEX_ODD},
        {"0000", TPDU_ERROR_CUT},
        {"0001", TPDU_ERROR_CUT},
        {"0002", TPDU_ERROR_CUT},
        {"0C91000000000000000000000000", TPDU_ERROR_CENTRE},
        {"FF91", TPDU_ERROR_CENTRE},
        {"0791F1", TPDU_ERROR_CUT},
        {"0381F321"
         "0400",
         TPDU_ERROR_CENTRE},
        /* addresses that lie */
        {"0004"
         "1591"
         "0000000000000000000000"
         "0000" TIME "00",
         TPDU_ERROR_ADDRESS},
        {"0004"
         "FF91"
         "0000" TIME "00",
         TPDU_ERROR_ADDRESS},
        {"001100"
         "0481F321"
         "0000AA00",
         TPDU_ERROR_ADDRESS},
        {"000607"
         "0481F321" TIME TIME "00",
         TPDU_ERROR_ADDRESS},
        {"00040081"
         "0000" TIME "00",
         TPDU_OK},
        /* lengths that lie: too long, too short, beyond a text */
        {"0004" ADDRESS "0000" TIME "0ACD980C149BD16068", TPDU_ERROR_USER_CUT},
        {"0004" ADDRESS "0000" TIME "08CD980C149BD16068", TPDU_ERROR_USER_LEFT_OVER},
        {"0004" ADDRESS "0000" TIME "00CD", TPDU_ERROR_USER_LEFT_OVER},
        {"0004" ADDRESS "0000" TIME "A1CD", TPDU_ERROR_USER_LENGTH},
        {"0004" ADDRESS "0008" TIME "8D00", TPDU_ERROR_USER_LENGTH},
        {"0004" ADDRESS "0000" TIME "FF", TPDU_ERROR_USER_LENGTH},
        {"001100" ADDRESS "0000AA"
         "08CD980C149BD16068",
         TPDU_ERROR_USER_LEFT_OVER},
        /* headers that lie */
        {"0044" ADDRESS "0000" TIME "00", TPDU_ERROR_HEADER},
        {"0044" ADDRESS "0000" TIME "0105", TPDU_ERROR_HEADER},
        {"0044" ADDRESS "0004" TIME "03050003", TPDU_ERROR_HEADER},
        {"0044" ADDRESS "0004" TIME "0100", TPDU_OK},
        /* ModemManager's src/tests/test-sms-part-3gpp.c */
        {"000ABF00", TPDU_ERROR_CUT},
        {"001C011C", TPDU_ERROR_CUT},
        {"004100010100014B00002E", TPDU_ERROR_HEADER},
        {"00F101010C0000000000", TPDU_ERROR_HEADER},
        {"07912143658709F1040B918100551512F20000111010214365000BE8329BFD4697D9EC37",
         TPDU_ERROR_USER_CUT},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu tpdu;
        assert_int_equal(read_exactly(cases[c].hex, strlen(cases[c].hex), &tpdu), cases[c].error);
    }
}

static void more_octets_than_a_message_can_have_are_too_long(void **state)
{
    (void)state;
    char hex[TPDU_HEX_OCTETS + 1];
    struct tpdu tpdu;
    memset(hex, '0', sizeof hex);
    assert_int_equal(tpdu_from_hex(hex, 2 * 165, &tpdu), TPDU_ERROR_USER_LEFT_OVER);
    assert_int_equal(tpdu_from_hex(hex, 2 * 166, &tpdu), TPDU_ERROR_LONG);
    assert_int_equal(tpdu_from_hex(hex, 2 * 176, &tpdu), TPDU_ERROR_LONG);
    assert_int_equal(tpdu_from_hex(hex, 2 * 176 + 1, &tpdu), TPDU_ERROR_LONG);
}

static void the_longest_message_is_read(void **state)
{
    (void)state;
    /* centre and recipient of twenty digits each, absolute end, 140 octets */
    char hex[TPDU_HEX_OCTETS] = "0B9121436587092143658709"
                                "1900"
                                "14912143658709214365870900"
                                "04" TIME "8C";
    struct tpdu tpdu;
    size_t len = strlen(hex);
    memset(hex + len, 'A', sizeof hex - 1 - len);
    assert_int_equal(read_hex(hex, &tpdu), TPDU_OK);
    assert_int_equal(tpdu.octets, 164);
    assert_string_equal(tpdu.centre.text, "+12345678901234567890");
    assert_string_equal(tpdu.other.text, "+12345678901234567890");
    assert_int_equal(tpdu.user.data_len, 140);
    assert_int_equal(tpdu.user.data[139], 0xAA);
}

static void digits_above_nine_in_a_stamp_leave_the_text_readable(void **state)
{
    (void)state;
    struct tpdu tpdu;
    assert_int_equal(read_hex("0004" ADDRESS "0000"
                              "FFFFFFFFFFFFFF" TEXT,
                              &tpdu),
                     TPDU_OK);
    assert_false(tpdu.deliver.sent_at.valid);
    assert_int_equal(tpdu.deliver.sent_at.month, 165);
    assert_string_equal(tpdu.user.text, "M12 1340h");
}

static void each_error_says_what_is_wrong_in_words_of_its_own(void **state)
{
    (void)state;
    for (unsigned one = TPDU_OK; one <= TPDU_ERROR_FIELD + 1; one++) {
        const char *says = tpdu_error_says((enum tpdu_error)one);
        assert_true(strlen(says) > 6);
        for (unsigned other = TPDU_OK; other < one; other++) {
            assert_string_not_equal(says, tpdu_error_says((enum tpdu_error)other));
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_first_octet_says_what_it_is_and_what_it_carries),
        cmocka_unit_test(each_status_says_what_became_of_the_text),
        cmocka_unit_test(a_report_carries_what_its_parameter_indicator_says),
        cmocka_unit_test(hex_is_read_in_either_case),
        cmocka_unit_test(a_stray_character_anywhere_is_no_hex),
        cmocka_unit_test(a_message_cut_at_any_digit_is_an_error),
        cmocka_unit_test(bad_input_is_named_for_what_it_is),
        cmocka_unit_test(more_octets_than_a_message_can_have_are_too_long),
        cmocka_unit_test(the_longest_message_is_read),
        cmocka_unit_test(digits_above_nine_in_a_stamp_leave_the_text_readable),
        cmocka_unit_test(each_error_says_what_is_wrong_in_words_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
