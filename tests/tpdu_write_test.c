/* SPDX-License-Identifier: MIT
 *
 * Writing short messages: what is written reads back field by field, and what cannot be carried is
 * refused. The example is that of fixtures/vectors/tpdu-vectors.tsv, own-submit-hours, which tshark
 * reads. Splitting long texts: room by 3GPP TS 23.040 9.2.3.24.1, never through an escape or a
 * surrogate pair. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

#include "fixtures/standin/tpdu_network.h"
#include "parsers/tpdu_fields.h"
#include "parsers/tpdu_write.h"

static struct tpdu_part part_of(const char *text)
{
    return (struct tpdu_part){.text = text, .to = strlen(text), .alphabet = TPDU_ALPHABET_GSM7};
}

static void a_submit_is_written_as_others_write_it(void **state)
{
    (void)state;
    const struct tpdu_submit_order order = {
        .to = "+15557654321", .part = part_of("M12 1340h"), .validity_s = 4 * 86400};
    struct tpdu_line line;
    assert_int_equal(tpdu_write_submit(&order, &line), TPDU_OK);
    assert_string_equal(line.hex, "0011000B915155674523F10000AA09CD980C149BD16068");
    assert_int_equal(line.hex_len, strlen(line.hex));
    assert_int_equal(line.tpdu_octets, line.hex_len / 2 - 1);
}

static void a_submit_reads_back_as_ordered(void **state)
{
    (void)state;
    const struct tpdu_submit_order order = {
        .to = "+12065550110", .part = part_of("[M12] 1340 h €"), .report_wanted = true};
    struct tpdu_line line;
    struct tpdu tpdu;
    assert_int_equal(tpdu_write_submit(&order, &line), TPDU_OK);
    assert_int_equal(tpdu_from_hex(line.hex, line.hex_len, &tpdu), TPDU_OK);
    assert_int_equal(tpdu.kind, TPDU_KIND_SUBMIT);
    assert_int_equal(tpdu.octets, line.tpdu_octets);
    assert_string_equal(tpdu.centre.text, "");
    assert_string_equal(tpdu.other.text, "+12065550110");
    assert_true(tpdu.submit.report_wanted);
    assert_false(tpdu.submit.reject_duplicates);
    assert_int_equal(tpdu.submit.reference, 0);
    assert_int_equal(tpdu.submit.validity.form, TPDU_VALIDITY_FORM_NONE);
    assert_string_equal(tpdu.user.text, "[M12] 1340 h €");
}

static void a_deliver_reads_back_as_ordered(void **state)
{
    (void)state;
    struct tpdu_deliver_order order = {.centre = "+12065550199",
                                       .from = "Alder Works",
                                       .part = part_of("M12 ш"),
                                       .sent_at_s = INT64_C(1795616149),
                                       .zone_quarters = -28,
                                       .more_waiting = true,
                                       .loop_prevention = true,
                                       .protocol = 0x41};
    struct tpdu_line line;
    struct tpdu tpdu;
    int64_t unix_s = 0;
    order.part.alphabet = TPDU_ALPHABET_UCS2;
    order.part.concat = (struct tpdu_concat){true, true, 0xABCD, 3, 2};
    assert_int_equal(tpdu_write_deliver(&order, &line), TPDU_OK);
    assert_int_equal(tpdu_from_hex(line.hex, line.hex_len, &tpdu), TPDU_OK);
    assert_int_equal(tpdu.kind, TPDU_KIND_DELIVER);
    assert_string_equal(tpdu.centre.text, "+12065550199");
    assert_string_equal(tpdu.other.text, "Alder Works");
    assert_int_equal(tpdu.protocol, 0x41);
    assert_true(tpdu.loop_prevention);
    assert_true(tpdu.deliver.more_waiting);
    assert_false(tpdu.deliver.report_wanted);
    assert_true(tpdu_time_unix(&tpdu.deliver.sent_at, &unix_s));
    assert_int_equal(unix_s, INT64_C(1795616149));
    assert_int_equal(tpdu.deliver.sent_at.zone_quarters, -28);
    assert_memory_equal(&tpdu.user.concat, &order.part.concat, sizeof tpdu.user.concat);
    assert_string_equal(tpdu.user.text, "M12 ш");
}

static void a_status_report_reads_back_as_ordered(void **state)
{
    (void)state;
    const struct tpdu_report_order order = {.centre = NULL,
                                            .to = "+12065550110",
                                            .reference = 200,
                                            .sent_at_s = INT64_C(1795616149),
                                            .done_at_s = INT64_C(1795616160),
                                            .zone_quarters = 4,
                                            .status = 0x46};
    struct tpdu_line line;
    struct tpdu tpdu;
    int64_t sent_s = 0;
    int64_t done_s = 0;
    assert_int_equal(tpdu_write_status_report(&order, &line), TPDU_OK);
    assert_int_equal(tpdu_from_hex(line.hex, line.hex_len, &tpdu), TPDU_OK);
    assert_int_equal(tpdu.kind, TPDU_KIND_STATUS_REPORT);
    assert_string_equal(tpdu.other.text, "+12065550110");
    assert_int_equal(tpdu.report.reference, 200);
    assert_int_equal(tpdu.report.status, 0x46);
    assert_int_equal(tpdu.report.outcome, TPDU_OUTCOME_FAILED);
    assert_true(tpdu_time_unix(&tpdu.report.sent_at, &sent_s));
    assert_true(tpdu_time_unix(&tpdu.report.done_at, &done_s));
    assert_int_equal(sent_s, INT64_C(1795616149));
    assert_int_equal(done_s, INT64_C(1795616160));
}

static void eight_bit_data_are_carried_as_they_are(void **state)
{
    (void)state;
    const struct tpdu_submit_order order = {
        .to = "1002", .part = {.text = "M12 \0\xFF", .to = 6, .alphabet = TPDU_ALPHABET_OCTETS}};
    struct tpdu_line line;
    struct tpdu tpdu;
    assert_int_equal(tpdu_write_submit(&order, &line), TPDU_OK);
    assert_int_equal(tpdu_from_hex(line.hex, line.hex_len, &tpdu), TPDU_OK);
    assert_false(tpdu.user.has_text);
    assert_int_equal(tpdu.user.data_len, 6);
    assert_memory_equal(tpdu.user.data, "M12 \0\xFF", 6);
}

static void what_a_text_cannot_carry_is_refused(void **state)
{
    (void)state;
    static char long_text[200];
    memset(long_text, 'x', sizeof long_text);
    static const struct {
        const char *text;
        size_t len;
        enum tpdu_alphabet alphabet;
        struct tpdu_concat concat;
        enum tpdu_error error;
    } cases[] = {
        {long_text, 160, TPDU_ALPHABET_GSM7, {0}, TPDU_OK},
        {long_text, 161, TPDU_ALPHABET_GSM7, {0}, TPDU_ERROR_TOO_MUCH},
        {long_text, 71, TPDU_ALPHABET_UCS2, {0}, TPDU_ERROR_TOO_MUCH},
        {long_text, 141, TPDU_ALPHABET_OCTETS, {0}, TPDU_ERROR_TOO_MUCH},
        {long_text, 154, TPDU_ALPHABET_GSM7, {true, false, 1, 2, 1}, TPDU_ERROR_TOO_MUCH},
        {"M12 ş", 6, TPDU_ALPHABET_GSM7, {0}, TPDU_ERROR_TEXT},
        {"M12 \xC3", 5, TPDU_ALPHABET_UCS2, {0}, TPDU_ERROR_TEXT},
        {"M12", 3, TPDU_ALPHABET_GSM7, {true, false, 1, 2, 0}, TPDU_ERROR_FIELD},
        {"M12", 3, TPDU_ALPHABET_GSM7, {true, false, 1, 2, 3}, TPDU_ERROR_FIELD},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        const struct tpdu_part part = {.text = cases[c].text,
                                       .to = cases[c].len,
                                       .alphabet = cases[c].alphabet,
                                       .concat = cases[c].concat};
        const struct tpdu_submit_order submit = {.to = "1002", .part = part};
        const struct tpdu_deliver_order deliver = {
            .from = "1002", .part = part, .sent_at_s = INT64_C(1795616149)};
        struct tpdu_line line;
        assert_int_equal(tpdu_write_deliver(&deliver, &line), cases[c].error);
        assert_int_equal(tpdu_write_submit(&submit, &line), cases[c].error);
        assert_int_equal(line.hex_len > 0, cases[c].error == TPDU_OK);
        assert_int_equal(line.hex_len, strlen(line.hex));
    }
}

static void addresses_and_times_out_of_range_are_refused(void **state)
{
    (void)state;
    static const char wrong[] = "0123456789012345678901234567890123456789";
    const int64_t now_s = INT64_C(1795616149);
    const struct tpdu_part part = part_of("M12");
    struct tpdu_line line;
    assert_int_equal(tpdu_write_submit(&(struct tpdu_submit_order){.to = "", .part = part}, &line),
                     TPDU_ERROR_ADDRESS);
    assert_int_equal(
        tpdu_write_submit(&(struct tpdu_submit_order){.to = wrong, .part = part}, &line),
        TPDU_ERROR_ADDRESS);
    struct tpdu_deliver_order deliver = {
        .centre = wrong, .from = "1002", .part = part, .sent_at_s = now_s};
    assert_int_equal(tpdu_write_deliver(&deliver, &line), TPDU_ERROR_CENTRE);
    deliver.centre = "";
    deliver.from = wrong;
    assert_int_equal(tpdu_write_deliver(&deliver, &line), TPDU_ERROR_ADDRESS);
    deliver.from = "1002";
    deliver.zone_quarters = 80;
    assert_int_equal(tpdu_write_deliver(&deliver, &line), TPDU_ERROR_FIELD);
    struct tpdu_report_order report = {
        .centre = wrong, .to = "1002", .sent_at_s = now_s, .done_at_s = now_s};
    assert_int_equal(tpdu_write_status_report(&report, &line), TPDU_ERROR_CENTRE);
    report.centre = "+12065550199";
    report.to = "";
    assert_int_equal(tpdu_write_status_report(&report, &line), TPDU_ERROR_ADDRESS);
    report.to = "1002";
    report.sent_at_s = -1;
    assert_int_equal(tpdu_write_status_report(&report, &line), TPDU_ERROR_FIELD);
    report.sent_at_s = now_s;
    report.done_at_s = -1;
    assert_int_equal(tpdu_write_status_report(&report, &line), TPDU_ERROR_FIELD);
    report.done_at_s = now_s;
    assert_int_equal(tpdu_write_status_report(&report, &line), TPDU_OK);
}

/* A status report with all that it may carry has no room for 140 octets of user data. */
static void a_message_beyond_164_octets_is_refused(void **state)
{
    (void)state;
    struct tpdu tpdu = {.kind = TPDU_KIND_STATUS_REPORT};
    struct tpdu_line line;
    tpdu.report.has_protocol = tpdu.report.has_coding = tpdu.report.has_user = true;
    tpdu.user.coding.dcs = 0x04;
    assert_true(tpdu_time_set(&tpdu.report.sent_at, INT64_C(1795616149), 0));
    tpdu.report.done_at = tpdu.report.sent_at;
    assert_true(tpdu_address_set(&tpdu.other, "01234567890123456789", 20));
    assert_true(tpdu_address_set(&tpdu.centre, "01234567890123456789", 20));
    for (unsigned length = 0; length < 256; length++) {
        tpdu.user.length = (uint8_t)length;
        assert_int_equal(tpdu_write(&tpdu, &line), length <= 131   ? TPDU_OK
                                                   : length <= 140 ? TPDU_ERROR_LONG
                                                                   : TPDU_ERROR_USER_LENGTH);
        assert_int_equal(line.tpdu_octets, length <= 131 ? 33 + length : 0);
    }
    /* without a service centre the line has room, the message has not */
    tpdu.centre.text[0] = '\0';
    tpdu.user.length = 132;
    assert_int_equal(tpdu_write(&tpdu, &line), TPDU_ERROR_LONG);
}

static void fields_filled_in_wrongly_are_refused(void **state)
{
    (void)state;
    struct tpdu tpdu = {.kind = TPDU_KIND_DELIVER};
    struct tpdu_line line;
    assert_int_equal(tpdu_write(&tpdu, &line), TPDU_ERROR_FIELD); /* no time */
    assert_true(tpdu_time_set(&tpdu.deliver.sent_at, INT64_C(1795616149), 0));
    assert_int_equal(tpdu_write(&tpdu, &line), TPDU_OK);
    memcpy(tpdu.other.text, "12-34", 6);
    assert_int_equal(tpdu_write(&tpdu, &line), TPDU_ERROR_ADDRESS);
    memcpy(tpdu.centre.text, "12-34", 6);
    assert_int_equal(tpdu_write(&tpdu, &line), TPDU_ERROR_CENTRE); /* the first is told */
    tpdu = (struct tpdu){.kind = (enum tpdu_kind)7};
    assert_int_equal(tpdu_write(&tpdu, &line), TPDU_ERROR_FIELD);
}

static void each_flag_and_option_is_written_back(void **state)
{
    (void)state;
    static const char *const cases[] = {
        "00E7049121430411621152705194"
        "8A0A032401038081828384",
        "008C049121430841621152705194"
        "0A02C3A9",
        "0001FF0491214300"
        "0405"
        "0102030405",
        "003D00049121430004"
        "62115270519400"
        "00",
        "00A500049121430004"
        "00",
        "002D00049121430004"
        "02110000000000"
        "00",
        "004E07049121436211527051940062115270519400"
        "22"
        "07"
        "41"
        "04"
        "03"
        "0200AA",
        "00260704912143"
        "62115270519400"
        "62115270519400"
        "46"
        "01"
        "41",
        "00020704912143"
        "62115270519400"
        "62115270519400"
        "46"
        "02"
        "08",
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct tpdu tpdu;
        struct tpdu_line line;
        assert_int_equal(tpdu_from_hex(cases[c], strlen(cases[c]), &tpdu), TPDU_OK);
        assert_int_equal(tpdu_write(&tpdu, &line), TPDU_OK);
        assert_string_equal(line.hex, cases[c]);
    }
}

#define TEXT_MAX 60000

static char sent[TEXT_MAX];

static const struct tpdu_split_choice usual = {false, false};
static const struct tpdu_split_choice sixteen = {false, true};
static const struct tpdu_split_choice national = {true, false};

/* `count` times `piece` into sent. */
static size_t repeat(const char *piece, size_t count)
{
    size_t len = strlen(piece);
    assert_true(len * count <= sizeof sent);
    for (size_t i = 0; i < count; i++) {
        memcpy(sent + i * len, piece, len);
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
        assert_int_equal(tpdu_split(sent, len, cases[c].sixteen_bit ? sixteen : usual, &split),
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
        assert_int_equal(tpdu_split(sent, len, usual, &split), TPDU_OK);
        assert_true(split.parts > 1);
        for (size_t i = 0; i < split.parts; i++) {
            unsigned char next = split.ends[i] < len ? (unsigned char)sent[split.ends[i]] : 0;
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
                                                .part = tpdu_split_part(split, sent, i, 0xABCD)};
        assert_int_equal(tpdu_write_submit(&order, &line), TPDU_OK);
        assert_int_equal(tpdu_from_hex(line.hex, line.hex_len, &tpdu), TPDU_OK);
        assert_false(tpdu.user.text_damaged);
        assert_true(joined + tpdu.user.text_len <= len);
        assert_memory_equal(tpdu.user.text, sent + joined, tpdu.user.text_len);
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
            assert_int_equal(tpdu_split(sent, len, usual, &split), TPDU_OK);
            assert_parts_join(len, &split);
            assert_int_equal(tpdu_split(sent, len, sixteen, &split), TPDU_OK);
            assert_parts_join(len, &split);
            assert_int_equal(tpdu_split(sent, len, national, &split), TPDU_OK);
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
        assert_int_equal(tpdu_split(sent, len, national, &split), TPDU_OK);
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
    assert_int_equal(tpdu_split(sent, repeat("x", 255 * 153 + 1), usual, &split),
                     TPDU_ERROR_TOO_MUCH);
    assert_int_equal(tpdu_split(sent, repeat("я", 255 * 67 + 1), usual, &split),
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
        cmocka_unit_test(a_submit_is_written_as_others_write_it),
        cmocka_unit_test(a_submit_reads_back_as_ordered),
        cmocka_unit_test(a_deliver_reads_back_as_ordered),
        cmocka_unit_test(a_status_report_reads_back_as_ordered),
        cmocka_unit_test(eight_bit_data_are_carried_as_they_are),
        cmocka_unit_test(what_a_text_cannot_carry_is_refused),
        cmocka_unit_test(addresses_and_times_out_of_range_are_refused),
        cmocka_unit_test(a_message_beyond_164_octets_is_refused),
        cmocka_unit_test(fields_filled_in_wrongly_are_refused),
        cmocka_unit_test(each_flag_and_option_is_written_back),
        cmocka_unit_test(a_text_takes_as_few_parts_as_the_standard_allows),
        cmocka_unit_test(no_part_begins_inside_a_character),
        cmocka_unit_test(the_parts_join_to_the_text),
        cmocka_unit_test(national_tables_are_used_where_they_take_fewer_parts),
        cmocka_unit_test(what_no_parts_can_carry_is_refused),
        cmocka_unit_test(a_part_that_is_not_there_is_empty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
