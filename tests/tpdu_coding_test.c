/* SPDX-License-Identifier: MIT
 *
 * TP-DCS by 3GPP TS 23.038 clause 4, all 256 values: a table of its groups, written down again from
 * the clause. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "parsers/tpdu_coding.h"

#define NONE TPDU_CLASS_NONE
#define GSM7 TPDU_ALPHABET_GSM7
#define OCTETS TPDU_ALPHABET_OCTETS
#define UCS2 TPDU_ALPHABET_UCS2

static void each_value_of_the_general_groups_reads_by_its_bits(void **state)
{
    (void)state;
    static const enum tpdu_alphabet alphabets[] = {GSM7, OCTETS, UCS2, GSM7};
    for (unsigned dcs = 0x00; dcs < 0x80; dcs++) {
        struct tpdu_coding coding = tpdu_coding_of((uint8_t)dcs);
        assert_int_equal(coding.dcs, dcs);
        assert_int_equal(coding.alphabet, alphabets[dcs / 4 % 4]);
        assert_int_equal(coding.class, dcs / 16 % 2 == 1 ? (int)(dcs % 4) : NONE);
        assert_int_equal(coding.compressed, dcs / 32 % 2);
        assert_int_equal(coding.delete_after_reading, dcs / 64);
        assert_false(tpdu_coding_waiting((uint8_t)dcs).present);
    }
}

static void each_reserved_group_reads_as_the_default_alphabet(void **state)
{
    (void)state;
    for (unsigned dcs = 0x80; dcs < 0xC0; dcs++) {
        struct tpdu_coding coding = tpdu_coding_of((uint8_t)dcs);
        assert_int_equal(coding.dcs, dcs);
        assert_int_equal(coding.alphabet, GSM7);
        assert_int_equal(coding.class, NONE);
        assert_false(coding.compressed);
        assert_false(coding.delete_after_reading);
        assert_false(tpdu_coding_waiting((uint8_t)dcs).present);
    }
}

static void each_waiting_group_says_what_waits(void **state)
{
    (void)state;
    for (unsigned dcs = 0xC0; dcs < 0xF0; dcs++) {
        struct tpdu_coding coding = tpdu_coding_of((uint8_t)dcs);
        struct tpdu_waiting waiting = tpdu_coding_waiting((uint8_t)dcs);
        assert_int_equal(coding.alphabet, dcs >= 0xE0 ? UCS2 : GSM7);
        assert_int_equal(coding.class, NONE);
        assert_false(coding.compressed);
        assert_true(waiting.present);
        assert_int_equal(waiting.store, dcs >= 0xD0);
        assert_int_equal(waiting.active, dcs / 8 % 2);
        assert_int_equal(waiting.kind, dcs % 4);
        assert_int_equal(waiting.count, 0);
    }
}

static void each_value_of_the_class_group_has_a_class(void **state)
{
    (void)state;
    for (unsigned dcs = 0xF0; dcs <= 0xFF; dcs++) {
        struct tpdu_coding coding = tpdu_coding_of((uint8_t)dcs);
        assert_int_equal(coding.alphabet, dcs / 4 % 2 == 1 ? OCTETS : GSM7);
        assert_int_equal(coding.class, dcs % 4);
        assert_false(coding.compressed);
        assert_false(tpdu_coding_waiting((uint8_t)dcs).present);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_value_of_the_general_groups_reads_by_its_bits),
        cmocka_unit_test(each_reserved_group_reads_as_the_default_alphabet),
        cmocka_unit_test(each_waiting_group_says_what_waits),
        cmocka_unit_test(each_value_of_the_class_group_has_a_class),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
