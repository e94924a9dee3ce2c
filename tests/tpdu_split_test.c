/* SPDX-License-Identifier: MIT
 *
 * Splitting long texts: room by 3GPP TS 23.040 9.2.3.24.1, never through an escape or a surrogate
 * pair. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/tpdu_split.h"
#include "parsers/tpdu_write.h"

#define TEXT_MAX 60000

static char text[TEXT_MAX];

static const struct tpdu_split_choice usual = {false, false};
static const struct tpdu_split_choice sixteen = {false, true};
static const struct tpdu_split_choice national = {true, false};

/* `count` times `piece` into text. */
static size_t repeat(const char *piece, size_t count)
{
    size_t len = strlen(piece);
    assert_true(len * count <= sizeof text);
    for (size_t i = 0; i < count; i++) {
        memcpy(text + i * len, piece, len);
    }
    return len * count;
}

static void a_text_takes_as_few_parts_as_the_standard_allows(void **state)
{
    (void)state;
    static const struct {
        const char *piece;
        size_t count;
        bool sixteen_bit;
        enum tpdu_alphabet alphabet;
        size_t parts;
    } cases[] = {
        {"x", 0, false, TPDU_ALPHABET_GSM7, 1},
        {"x", 160, false, TPDU_ALPHABET_GSM7, 1},
        {"x", 161, false, TPDU_ALPHABET_GSM7, 2},
        {"x", 2 * 153, false, TPDU_ALPHABET_GSM7, 2},
        {"x", 2 * 153 + 1, false, TPDU_ALPHABET_GSM7, 3},
        {"x", 2 * 152, true, TPDU_ALPHABET_GSM7, 2},
        {"x", 2 * 152 + 1, true, TPDU_ALPHABET_GSM7, 3},
        {"x", 255 * 153, false, TPDU_ALPHABET_GSM7, 255},
        {"€", 80, false, TPDU_ALPHABET_GSM7, 1},
        {"€", 81, false, TPDU_ALPHABET_GSM7, 2},
        {"€", 2 * 76, false, TPDU_ALPHABET_GSM7, 2}, /* 153 is odd: one septet is left free */
        {"€", 2 * 76 + 1, false, TPDU_ALPHABET_GSM7, 3},
        {"я", 70, false, TPDU_ALPHABET_UCS2, 1},
        {"я", 71, false, TPDU_ALPHABET_UCS2, 2},
        {"я", 2 * 67, false, TPDU_ALPHABET_UCS2, 2},
        {"я", 2 * 67 + 1, false, TPDU_ALPHABET_UCS2, 3},
        {"я", 2 * 66, true, TPDU_ALPHABET_UCS2, 2},
        {"я", 2 * 66 + 1, true, TPDU_ALPHABET_UCS2, 3},
        {"😀", 35, false, TPDU_ALPHABET_UCS2, 1},
        {"😀", 36, false, TPDU_ALPHABET_UCS2, 2},
        {"😀", 2 * 33, false, TPDU_ALPHABET_UCS2, 2}, /* 67 is odd: one unit is left free */
        {"😀", 2 * 33 + 1, false, TPDU_ALPHABET_UCS2, 3},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_split split;
        size_t len = repeat(cases[c].piece, cases[c].count);
        assert_int_equal(tpdu_split(text, len, cases[c].sixteen_bit ? sixteen : usual, &split),
                         TPDU_OK);
        assert_int_equal(split.alphabet, cases[c].alphabet);
        assert_int_equal(split.parts, cases[c].parts);
        assert_int_equal(split.ends[split.parts - 1], len);
        assert_int_equal(split.shift.single, 0);
        assert_int_equal(split.shift.locking, 0);
    }
}

static void no_part_begins_inside_a_character(void **state)
{
    (void)state;
    static const char *const pieces[] = {"€", "a€", "[]b", "😀", "я😀", "x😀😀"};
    for (size_t p = 0; p < sizeof pieces / sizeof pieces[0]; p++) {
        struct tpdu_split split;
        size_t piece = strlen(pieces[p]);
        size_t len = repeat(pieces[p], 300);
        assert_int_equal(tpdu_split(text, len, usual, &split), TPDU_OK);
        assert_true(split.parts > 1);
        for (size_t i = 0; i < split.parts; i++) {
            unsigned char next = split.ends[i] < len ? (unsigned char)text[split.ends[i]] : 0;
            assert_true((next & 0xC0) != 0x80);
        }
        assert_true(piece > 0);
    }
}

/* Sends each part and reads it back. */
static void assert_parts_join(size_t len, const struct tpdu_split *split)
{
    size_t joined = 0;
    for (size_t i = 0; i < split->parts; i++) {
        struct tpdu_line line;
        struct tpdu tpdu;
        const struct tpdu_submit_order order = {.to = "+12065550110",
                                                .part = tpdu_split_part(split, text, i, 0xABCD)};
        assert_int_equal(tpdu_write_submit(&order, &line), TPDU_OK);
        assert_int_equal(tpdu_from_hex(line.hex, line.hex_len, &tpdu), TPDU_OK);
        assert_false(tpdu.user.text_damaged);
        assert_true(joined + tpdu.user.text_len <= len);
        assert_memory_equal(tpdu.user.text, text + joined, tpdu.user.text_len);
        joined += tpdu.user.text_len;
        assert_int_equal(tpdu.user.concat.present, split->parts > 1);
        if (split->parts > 1) {
            assert_int_equal(tpdu.user.concat.reference, split->sixteen_bit ? 0xABCD : 0xCD);
            assert_int_equal(tpdu.user.concat.sixteen_bit, split->sixteen_bit);
            assert_int_equal(tpdu.user.concat.parts, split->parts);
            assert_int_equal(tpdu.user.concat.part, i + 1);
        }
    }
    assert_int_equal(joined, len);
}

static void the_parts_join_to_the_text(void **state)
{
    (void)state;
    static const char *const pieces[] = {"M12 1340h, ", "a€", "я", "x😀", "şğ ", "não, "};
    static const size_t counts[] = {0, 1, 7, 30, 60, 100, 400};
    for (size_t p = 0; p < sizeof pieces / sizeof pieces[0]; p++) {
        for (size_t n = 0; n < sizeof counts / sizeof counts[0]; n++) {
            struct tpdu_split split;
            size_t len = repeat(pieces[p], counts[n]);
            assert_int_equal(tpdu_split(text, len, usual, &split), TPDU_OK);
            assert_parts_join(len, &split);
            assert_int_equal(tpdu_split(text, len, sixteen, &split), TPDU_OK);
            assert_parts_join(len, &split);
            assert_int_equal(tpdu_split(text, len, national, &split), TPDU_OK);
            assert_parts_join(len, &split);
        }
    }
}

static void national_tables_are_used_where_they_take_fewer_parts(void **state)
{
    (void)state;
    static const struct {
        const char *piece;
        size_t count;
        enum tpdu_alphabet alphabet;
        struct septets_shift shift;
        size_t parts;
    } cases[] = {
        {"plain text ", 20, TPDU_ALPHABET_GSM7, {0, 0}, 2},
        {"kaş", 10, TPDU_ALPHABET_UCS2, {0, 0}, 1}, /* one part either way */
        {"kaş", 30, TPDU_ALPHABET_GSM7, {0, 1}, 1},
        {"ş", 100, TPDU_ALPHABET_GSM7, {1, 0}, 1}, /* one septet each, not two */
        {"el niño está aquí ", 7, TPDU_ALPHABET_GSM7, {0, 2}, 1},
        {"não há ", 20, TPDU_ALPHABET_GSM7, {3, 0}, 1},
        {"não ê ", 23, TPDU_ALPHABET_GSM7, {3, 0}, 1},
        {"Φããã", 30, TPDU_ALPHABET_GSM7, {3, 3}, 1}, /* the locking table has no Φ */
        {"я ş ", 40, TPDU_ALPHABET_UCS2, {0, 0}, 3}, /* in no table together */
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu_split split;
        size_t len = repeat(cases[c].piece, cases[c].count);
        assert_int_equal(tpdu_split(text, len, national, &split), TPDU_OK);
        assert_int_equal(split.alphabet, cases[c].alphabet);
        assert_int_equal(split.shift.locking, cases[c].shift.locking);
        assert_int_equal(split.shift.single, cases[c].shift.single);
        assert_int_equal(split.parts, cases[c].parts);
    }
}

static void what_no_parts_can_carry_is_refused(void **state)
{
    (void)state;
    struct tpdu_split split;
    assert_int_equal(tpdu_split(text, repeat("x", 255 * 153 + 1), usual, &split),
                     TPDU_ERROR_TOO_MUCH);
    assert_int_equal(tpdu_split(text, repeat("я", 255 * 67 + 1), usual, &split),
                     TPDU_ERROR_TOO_MUCH);
    assert_int_equal(tpdu_split("M12 \xC3", 5, usual, &split), TPDU_ERROR_TEXT);
    assert_int_equal(tpdu_split("M12\0 1340h", 10, usual, &split), TPDU_ERROR_TEXT);
    assert_int_equal(tpdu_split("\xFF", 1, national, &split), TPDU_ERROR_TEXT);
    assert_int_equal(split.parts, 0);
}

static void a_part_that_is_not_there_is_empty(void **state)
{
    (void)state;
    struct tpdu_split split;
    assert_int_equal(tpdu_split("M12", 3, usual, &split), TPDU_OK);
    struct tpdu_part part = tpdu_split_part(&split, "M12", 1, 0);
    assert_int_equal(part.from, part.to);
    split.parts = TPDU_PARTS_MAX + 1;
    part = tpdu_split_part(&split, "M12", TPDU_PARTS_MAX, 0);
    assert_int_equal(part.from, part.to);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_text_takes_as_few_parts_as_the_standard_allows),
        cmocka_unit_test(no_part_begins_inside_a_character),
        cmocka_unit_test(the_parts_join_to_the_text),
        cmocka_unit_test(national_tables_are_used_where_they_take_fewer_parts),
        cmocka_unit_test(what_no_parts_can_carry_is_refused),
        cmocka_unit_test(a_part_that_is_not_there_is_empty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
