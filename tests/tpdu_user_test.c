/* SPDX-License-Identifier: MIT
 *
 * User data and their header by 3GPP TS 23.040 9.2.3.24; TP-DCS by TS 23.038 clause 4, all 256 values:
 * a table of its groups, written down again from the clause. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/tpdu_fields.h"

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

#define OCTETS_DCS 0x04
#define UCS2_DCS 0x08

/* Reads user data of octets with a header, behind TP-UDL. */
static enum tpdu_error read_header(const uint8_t *header, size_t len, struct tpdu_user *user)
{
    uint8_t octets[1 + TPDU_USER_OCTETS_MAX];
    size_t at = 0;
    octets[0] = (uint8_t)len;
    memcpy(octets + 1, header, len);
    return tpdu_user_read(octets, len + 1, &at, OCTETS_DCS, true, user);
}

static void a_concatenation_names_its_part(void **state)
{
    (void)state;
    static const struct {
        size_t len;
        uint8_t header[12];
        struct tpdu_concat concat;
    } cases[] = {
        {6, {5, 0x00, 3, 0x4C, 2, 1}, {true, false, 0x4C, 2, 1}},
        {7, {6, 0x08, 4, 0x12, 0x34, 255, 255}, {true, true, 0x1234, 255, 255}},
        {6, {5, 0x00, 3, 0x4C, 0, 1}, {false, false, 0, 0, 0}}, /* none in all */
        {6, {5, 0x00, 3, 0x4C, 2, 0}, {false, false, 0, 0, 0}}, /* part number 0 */
        {6, {5, 0x00, 3, 0x4C, 2, 3}, {false, false, 0, 0, 0}}, /* third of two */
        {7, {6, 0x08, 4, 0, 1, 2, 3}, {false, false, 0, 0, 0}},
        {5, {4, 0x00, 2, 0x4C, 2}, {false, false, 0, 0, 0}},       /* too short for it */
        {7, {6, 0x00, 4, 0x4C, 2, 1, 0}, {false, false, 0, 0, 0}}, /* too long */
        {11, {10, 0x00, 3, 1, 2, 1, 0x00, 3, 2, 4, 3}, {true, false, 2, 4, 3}}, /* last wins */
        {9, {8, 0x70, 1, 0xFF, 0x00, 3, 9, 2, 2}, {true, false, 9, 2, 2}}, /* after an unknown */
        {8, {7, 0x71, 0, 0x00, 3, 9, 2, 2}, {true, false, 9, 2, 2}},       /* after an empty one */
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_user user;
        const struct tpdu_concat *wanted = &cases[c].concat;
        assert_int_equal(read_header(cases[c].header, cases[c].len, &user), TPDU_OK);
        assert_false(user.header_ill_formed);
        assert_true(user.has_header);
        assert_int_equal(user.header_octets, cases[c].len);
        assert_int_equal(user.concat.present, wanted->present);
        assert_int_equal(user.concat.sixteen_bit, wanted->sixteen_bit);
        assert_int_equal(user.concat.reference, wanted->reference);
        assert_int_equal(user.concat.parts, wanted->parts);
        assert_int_equal(user.concat.part, wanted->part);
    }
}

static void ports_say_that_it_is_for_an_application(void **state)
{
    (void)state;
    static const struct {
        size_t len;
        uint8_t header[7];
        struct tpdu_ports ports;
    } cases[] = {
        {5, {4, 0x04, 2, 0xF5, 0xF6}, {true, 0xF5, 0xF6}},
        {7, {6, 0x05, 4, 0x0B, 0x84, 0x23, 0xF0}, {true, 0x0B84, 0x23F0}},
        {6, {5, 0x05, 3, 0x0B, 0x84, 0x23}, {false, 0, 0}},
        {4, {3, 0x04, 1, 0xF5}, {false, 0, 0}},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_user user;
        assert_int_equal(read_header(cases[c].header, cases[c].len, &user), TPDU_OK);
        assert_int_equal(user.ports.present, cases[c].ports.present);
        assert_int_equal(user.ports.to, cases[c].ports.to);
        assert_int_equal(user.ports.from, cases[c].ports.from);
    }
}

static void a_special_indication_says_what_waits(void **state)
{
    (void)state;
    static const struct {
        size_t len;
        uint8_t header[8];
        struct tpdu_waiting waiting;
    } cases[] = {
        {5, {4, 0x01, 2, 0x80, 3}, {true, true, true, 0, 3}},
        {5, {4, 0x01, 2, 0x02, 0}, {true, false, false, 2, 0}},
        {4, {3, 0x01, 1, 0x02}, {false, false, false, 0, 0}},
        {6, {5, 0x23, 3, 0, 0, 0}, {true, true, false, 0, 0}},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_user user;
        assert_int_equal(read_header(cases[c].header, cases[c].len, &user), TPDU_OK);
        assert_int_equal(user.waiting.present, cases[c].waiting.present);
        assert_int_equal(user.waiting.active, cases[c].waiting.active);
        assert_int_equal(user.waiting.store, cases[c].waiting.store);
        assert_int_equal(user.waiting.kind, cases[c].waiting.kind);
        assert_int_equal(user.waiting.count, cases[c].waiting.count);
    }
}

static void the_shifts_name_their_language(void **state)
{
    (void)state;
    static const uint8_t both[] = {6, 0x24, 1, 3, 0x25, 1, 13};
    static const uint8_t wrong[] = {6, 0x24, 0, 0x25, 2, 1, 1};
    struct tpdu_user user;
    assert_int_equal(read_header(both, sizeof both, &user), TPDU_OK);
    assert_int_equal(user.shift.single, 3);
    assert_int_equal(user.shift.locking, 13);
    assert_int_equal(read_header(wrong, sizeof wrong, &user), TPDU_OK);
    assert_int_equal(user.shift.single, 0);
    assert_int_equal(user.shift.locking, 0);
}

static void an_ill_formed_header_is_ignored_but_for_its_length(void **state)
{
    (void)state;
    static const struct {
        size_t len;
        uint8_t header[14];
    } cases[] = {
        {2, {1, 0x00}},                                       /* an identifier alone */
        {7, {6, 0x00, 3, 1, 2, 1, 0x70}},                     /* one octet too many */
        {6, {5, 0x00, 4, 1, 2, 1}},                           /* one too few */
        {9, {8, 0x00, 3, 1, 2, 1, 0x70, 2, 0}},               /* in the second element */
        {12, {11, 0x25, 1, 1, 0x05, 4, 0, 1, 0, 2, 0x70, 1}}, /* one too few, at the end */
        {12, {11, 0x24, 1, 1, 0x01, 2, 0x80, 1, 0x70, 250, 1, 1}},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_user user;
        assert_int_equal(read_header(cases[c].header, cases[c].len, &user), TPDU_OK);
        assert_true(user.header_ill_formed);
        assert_int_equal(user.header_octets, cases[c].len);
        assert_false(user.concat.present);
        assert_false(user.ports.present);
        assert_false(user.waiting.present);
        assert_int_equal(user.shift.single, 0);
        assert_int_equal(user.shift.locking, 0);
    }
}

/* UDHL, one element that does not fit, then "hi" in UCS-2. */
static void the_text_behind_an_ill_formed_header_is_read(void **state)
{
    (void)state;
    static const uint8_t octets[] = {8, 3, 0x00, 3, 1, 0, 'h', 0, 'i'};
    struct tpdu_user user;
    size_t at = 0;
    assert_int_equal(tpdu_user_read(octets, sizeof octets, &at, UCS2_DCS, true, &user), TPDU_OK);
    assert_true(user.header_ill_formed);
    assert_string_equal(user.text, "hi");
}

static void a_header_longer_than_all_is_an_error(void **state)
{
    (void)state;
    static const struct {
        uint8_t dcs;
        size_t len;
        uint8_t octets[12];
    } cases[] = {
        {OCTETS_DCS, 1, {0}}, /* no octet for its length */
        {OCTETS_DCS, 2, {1, 1}},
        {UCS2_DCS, 4, {3, 255, 0, 0}},
        {0x00, 1, {0}},
        {0x00, 3, {2, 5, 0}},
        {0x00, 11, {0x0B, 0x0A, 0xE8, 0x32, 0x9B, 0xFD, 0x46, 0x97, 0xD9, 0xEC, 0x37}},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_user user;
        size_t at = 0;
        assert_int_equal(
            tpdu_user_read(cases[c].octets, cases[c].len, &at, cases[c].dcs, true, &user),
            TPDU_ERROR_HEADER);
    }
}

static void user_data_cut_at_any_octet_are_cut(void **state)
{
    (void)state;
    static const uint8_t octets[] = {9, 0xCD, 0x98, 0x0C, 0x14, 0x9B, 0xD1, 0x60, 0x68};
    for (size_t len = 0; len < sizeof octets; len++) {
        struct tpdu_user user;
        size_t at = 0;
        assert_int_equal(tpdu_user_read(octets, len, &at, 0x00, false, &user),
                         len == 0 ? TPDU_ERROR_CUT : TPDU_ERROR_USER_CUT);
    }
}

static void a_length_beyond_a_text_is_an_error(void **state)
{
    (void)state;
    static const uint8_t gsm7 = 0x00;
    static const uint8_t compressed = 0x20;
    for (unsigned length = 0; length < 256; length++) {
        uint8_t octets[300] = {(uint8_t)length};
        struct tpdu_user user;
        size_t at = 0;
        assert_int_equal(tpdu_user_read(octets, sizeof octets, &at, gsm7, false, &user),
                         length <= 160 ? TPDU_OK : TPDU_ERROR_USER_LENGTH);
        at = 0;
        assert_int_equal(tpdu_user_read(octets, sizeof octets, &at, compressed, false, &user),
                         length <= 140 ? TPDU_OK : TPDU_ERROR_USER_LENGTH);
        at = 0;
        assert_int_equal(tpdu_user_read(octets, sizeof octets, &at, UCS2_DCS, false, &user),
                         length <= 140 ? TPDU_OK : TPDU_ERROR_USER_LENGTH);
    }
}

static void octets_and_compressed_texts_have_no_text(void **state)
{
    (void)state;
    static const uint8_t codings[] = {0x04, 0xF4, 0x20, 0x28};
    static const uint8_t octets[] = {3, 'M', '1', '2'};
    for (size_t c = 0; c < sizeof codings; c++) {
        struct tpdu_user user;
        size_t at = 0;
        assert_int_equal(tpdu_user_read(octets, sizeof octets, &at, codings[c], false, &user),
                         TPDU_OK);
        assert_false(user.has_text);
        assert_string_equal(user.text, "");
        assert_int_equal(user.text_len, 0);
        assert_int_equal(user.data_len, 3);
        assert_memory_equal(user.data, "M12", 3);
        assert_int_equal(at, 4);
    }
}

static void a_text_fills_its_buffer_to_the_last_octet(void **state)
{
    (void)state;
    uint8_t octets[1 + TPDU_USER_OCTETS_MAX] = {160, 3, 0x25, 1, 1};
    struct tpdu_user user;
    size_t at = 0;
    /* 155 septets of 0x04, which the Turkish table shows as the euro sign: three octets each */
    for (size_t bit = 5 * 7; bit < 160 * 7; bit += 7) {
        size_t set = bit + 2;
        octets[1 + set / 8] |= (uint8_t)(1u << set % 8);
    }
    assert_int_equal(tpdu_user_read(octets, sizeof octets, &at, 0x00, true, &user), TPDU_OK);
    assert_int_equal(user.text_len, 155 * 3);
    for (size_t i = 0; i < user.text_len; i += 3) {
        assert_memory_equal(user.text + i, "€", 3);
    }
}

static void a_damaged_character_is_marked(void **state)
{
    (void)state;
    static const uint8_t lone[] = {4, 0xD8, 0x3D, 0, '5'};
    static const uint8_t half[] = {3, 0, '4', 0};
    struct tpdu_user user;
    size_t at = 0;
    assert_int_equal(tpdu_user_read(lone, sizeof lone, &at, UCS2_DCS, false, &user), TPDU_OK);
    assert_true(user.text_damaged);
    assert_string_equal(user.text, "\xEF\xBF\xBD"
                                   "5");
    at = 0;
    assert_int_equal(tpdu_user_read(half, sizeof half, &at, UCS2_DCS, false, &user), TPDU_OK);
    assert_true(user.text_damaged);
    assert_string_equal(user.text, "4\xEF\xBF\xBD");
}

/* 9.2.3.24.1 and .15, .16: septets that are left beside each combination of headers. */
static void a_header_leaves_the_room_the_standard_says(void **state)
{
    (void)state;
    static const struct {
        bool concat, sixteen_bit;
        struct septets_shift shift;
        size_t header_octets, septets, octets, units;
    } cases[] = {
        {false, false, {0, 0}, 0, 160, 140, 70}, {true, false, {0, 0}, 6, 153, 134, 67},
        {true, true, {0, 0}, 7, 152, 133, 66},   {false, false, {0, 1}, 4, 155, 0, 0},
        {false, false, {1, 1}, 7, 152, 0, 0},    {true, false, {3, 0}, 9, 149, 0, 0},
        {true, false, {3, 3}, 12, 146, 0, 0},    {true, true, {0, 2}, 10, 148, 0, 0},
        {true, true, {1, 1}, 13, 145, 0, 0},
    };
    char text[200];
    memset(text, 'x', sizeof text);
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_user user;
        struct tpdu_part part = {.text = text,
                                 .to = sizeof text,
                                 .alphabet = TPDU_ALPHABET_GSM7,
                                 .shift = cases[c].shift,
                                 .concat = {cases[c].concat, cases[c].sixteen_bit, 7, 2, 1}};
        assert_int_equal(tpdu_user_fill(&user, &part), cases[c].septets);
        assert_int_equal(user.length, 160);
        assert_int_equal(user.data_len, 140);
        assert_int_equal(user.header_octets, cases[c].header_octets);
        assert_int_equal(user.text_len, cases[c].septets);
        assert_memory_equal(user.text, text, user.text_len);
        assert_int_equal(user.shift.single, cases[c].shift.single);
        assert_int_equal(user.shift.locking, cases[c].shift.locking);
        assert_int_equal(user.concat.present, cases[c].concat);
        if (cases[c].units > 0) {
            part.alphabet = TPDU_ALPHABET_OCTETS;
            assert_int_equal(tpdu_user_fill(&user, &part), cases[c].octets);
            assert_int_equal(user.length, 140);
            assert_memory_equal(user.data + user.header_octets, text, cases[c].octets);
            part.alphabet = TPDU_ALPHABET_UCS2;
            assert_int_equal(tpdu_user_fill(&user, &part), cases[c].units);
            assert_int_equal(user.text_len, cases[c].units);
        }
    }
}

static void a_part_out_of_range_gets_no_header(void **state)
{
    (void)state;
    static const struct tpdu_concat cases[] = {
        {true, false, 1, 2, 0}, {true, false, 1, 2, 3}, {true, true, 1, 0, 0}};
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_user user;
        const struct tpdu_part part = {.text = "M12", .to = 3, .concat = cases[c]};
        assert_int_equal(tpdu_user_fill(&user, &part), 3);
        assert_false(user.has_header);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_value_of_the_general_groups_reads_by_its_bits),
        cmocka_unit_test(each_reserved_group_reads_as_the_default_alphabet),
        cmocka_unit_test(each_waiting_group_says_what_waits),
        cmocka_unit_test(each_value_of_the_class_group_has_a_class),
        cmocka_unit_test(a_concatenation_names_its_part),
        cmocka_unit_test(ports_say_that_it_is_for_an_application),
        cmocka_unit_test(a_special_indication_says_what_waits),
        cmocka_unit_test(the_shifts_name_their_language),
        cmocka_unit_test(an_ill_formed_header_is_ignored_but_for_its_length),
        cmocka_unit_test(the_text_behind_an_ill_formed_header_is_read),
        cmocka_unit_test(a_header_longer_than_all_is_an_error),
        cmocka_unit_test(user_data_cut_at_any_octet_are_cut),
        cmocka_unit_test(a_length_beyond_a_text_is_an_error),
        cmocka_unit_test(octets_and_compressed_texts_have_no_text),
        cmocka_unit_test(a_text_fills_its_buffer_to_the_last_octet),
        cmocka_unit_test(a_damaged_character_is_marked),
        cmocka_unit_test(a_header_leaves_the_room_the_standard_says),
        cmocka_unit_test(a_part_out_of_range_gets_no_header),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
