/* SPDX-License-Identifier: MIT
 * tpdu_write: short messages as hex, field by field in the order of 3GPP TS 23.040 9.2.2; and a long
 * text split into parts, each filled as it will be sent, so that what fits here fits there. */
#include "parsers/tpdu_write.h"

#include <string.h>

#include "parsers/tpdu_fields.h"

/* Octets under way; what does not fit makes the whole too long. */
struct sheet {
    uint8_t octets[TPDU_LINE_OCTETS_MAX];
    size_t len;
    enum tpdu_error error; /* the first that came */
};

static void fail(struct sheet *sheet, enum tpdu_error error)
{
    if (sheet->error == TPDU_OK) {
        sheet->error = error;
    }
}

static void put_all(struct sheet *sheet, const uint8_t *octets, size_t len)
{
    if (len > TPDU_LINE_OCTETS_MAX - sheet->len) {
        fail(sheet, TPDU_ERROR_LONG);
        return;
    }
    memcpy(sheet->octets + sheet->len, octets, len);
    sheet->len += len;
}

static void put(struct sheet *sheet, uint8_t octet)
{
    put_all(sheet, &octet, 1);
}

static void put_address(struct sheet *sheet, const struct tpdu_address *address)
{
    uint8_t octets[TPDU_ADDRESS_OCTETS_MAX] = {0};
    size_t len = tpdu_address_write(address, octets);
    put_all(sheet, octets, len);
    if (len == 0) {
        fail(sheet, TPDU_ERROR_ADDRESS);
    }
}

static void put_time(struct sheet *sheet, const struct tpdu_time *time)
{
    uint8_t octets[TPDU_TIME_OCTETS] = {0};
    if (!tpdu_time_write(time, octets, 0)) {
        fail(sheet, TPDU_ERROR_FIELD);
        return;
    }
    put_all(sheet, octets, TPDU_TIME_OCTETS);
}

static void put_user(struct sheet *sheet, const struct tpdu_user *user)
{
    size_t len = tpdu_user_octets(tpdu_coding_of(user->coding.dcs), user->length);
    if (len > TPDU_USER_OCTETS_MAX) {
        fail(sheet, TPDU_ERROR_USER_LENGTH);
        return;
    }
    put(sheet, user->length);
    put_all(sheet, user->data, len);
}

static uint8_t bit(bool set, uint8_t mask)
{
    return set ? mask : 0;
}

static void put_deliver(struct sheet *sheet, const struct tpdu *tpdu)
{
    put(sheet, bit(tpdu->deliver.reserved_type, TPDU_TYPE_RESERVED) |
                   bit(!tpdu->deliver.more_waiting, TPDU_NO_MORE_WAITING) |
                   bit(tpdu->loop_prevention, TPDU_LOOP_PREVENTION) |
                   bit(tpdu->deliver.report_wanted, TPDU_REPORT_BIT) |
                   bit(tpdu->user.has_header, TPDU_HEADER_BIT) |
                   bit(tpdu->reply_path, TPDU_REPLY_PATH));
    put_address(sheet, &tpdu->other);
    put(sheet, tpdu->protocol);
    put(sheet, tpdu->user.coding.dcs);
    put_time(sheet, &tpdu->deliver.sent_at);
    put_user(sheet, &tpdu->user);
}

static void put_submit(struct sheet *sheet, const struct tpdu *tpdu)
{
    const struct tpdu_validity *validity = &tpdu->submit.validity;
    uint8_t form = (uint8_t)(((unsigned)validity->form & 3u) << 3);
    put(sheet,
        TPDU_TYPE_SUBMIT | form | bit(tpdu->submit.reject_duplicates, TPDU_REJECT_DUPLICATES) |
            bit(tpdu->submit.report_wanted, TPDU_REPORT_BIT) |
            bit(tpdu->user.has_header, TPDU_HEADER_BIT) | bit(tpdu->reply_path, TPDU_REPLY_PATH));
    put(sheet, tpdu->submit.reference);
    put_address(sheet, &tpdu->other);
    put(sheet, tpdu->protocol);
    put(sheet, tpdu->user.coding.dcs);
    put_all(sheet, validity->octets, tpdu_validity_octets(validity->form));
    put_user(sheet, &tpdu->user);
}

static void put_report(struct sheet *sheet, const struct tpdu *tpdu)
{
    uint8_t options = bit(tpdu->report.has_protocol, TPDU_HAS_PROTOCOL) |
                      bit(tpdu->report.has_coding, TPDU_HAS_CODING) |
                      bit(tpdu->report.has_user, TPDU_HAS_USER);
    put(sheet, TPDU_TYPE_STATUS_REPORT | bit(!tpdu->report.more_waiting, TPDU_NO_MORE_WAITING) |
                   bit(tpdu->loop_prevention, TPDU_LOOP_PREVENTION) |
                   bit(tpdu->report.of_command, TPDU_REPORT_BIT) |
                   bit(tpdu->user.has_header, TPDU_HEADER_BIT));
    put(sheet, tpdu->report.reference);
    put_address(sheet, &tpdu->other);
    put_time(sheet, &tpdu->report.sent_at);
    put_time(sheet, &tpdu->report.done_at);
    put(sheet, tpdu->report.status);
    put(sheet, options);
    if (tpdu->report.has_protocol) {
        put(sheet, tpdu->protocol);
    }
    if (tpdu->report.has_coding) {
        put(sheet, tpdu->user.coding.dcs);
    }
    if (tpdu->report.has_user) {
        put_user(sheet, &tpdu->user);
    }
}

enum tpdu_error tpdu_write(const struct tpdu *tpdu, struct tpdu_line *line)
{
    static const char digits[] = "0123456789ABCDEF";
    struct sheet sheet = {.len = 0, .error = TPDU_OK};
    *line = (struct tpdu_line){.hex_len = 0};
    size_t centre_len = tpdu_address_write_centre(&tpdu->centre, sheet.octets);
    sheet.len = centre_len;
    if (centre_len == 0) {
        fail(&sheet, TPDU_ERROR_CENTRE);
    }
    switch (tpdu->kind) {
    case TPDU_KIND_DELIVER:
        put_deliver(&sheet, tpdu);
        break;
    case TPDU_KIND_SUBMIT:
        put_submit(&sheet, tpdu);
        break;
    case TPDU_KIND_STATUS_REPORT:
        put_report(&sheet, tpdu);
        break;
    }
    if (sheet.len == centre_len) { /* of no kind */
        fail(&sheet, TPDU_ERROR_FIELD);
    }
    if (sheet.len - centre_len > TPDU_OCTETS_MAX) {
        fail(&sheet, TPDU_ERROR_LONG);
    }
    if (sheet.error == TPDU_OK) {
        for (size_t i = 0; i < sheet.len; i++) {
            line->hex[2 * i] = digits[sheet.octets[i] >> 4];
            line->hex[2 * i + 1] = digits[sheet.octets[i] & 0xFu];
        }
        line->hex_len = 2 * sheet.len;
        line->hex[line->hex_len] = '\0';
        line->tpdu_octets = sheet.len - centre_len;
    }
    return sheet.error;
}

enum tpdu_error tpdu_user_set(struct tpdu_user *user, const struct tpdu_part *part)
{
    const struct tpdu_concat *concat = &part->concat;
    size_t stopped = tpdu_user_fill(user, part);
    if (concat->present && (concat->part < 1 || concat->part > concat->parts)) {
        return TPDU_ERROR_FIELD;
    }
    if (stopped == part->to) {
        return TPDU_OK;
    }
    /* Where the rest does not even begin in a part of its own, it is not for want of room. */
    struct tpdu_part rest = *part;
    struct tpdu_user scratch;
    rest.from = stopped;
    rest.concat.present = false;
    return tpdu_user_fill(&scratch, &rest) == stopped ? TPDU_ERROR_TEXT : TPDU_ERROR_TOO_MUCH;
}

enum tpdu_error tpdu_write_submit(const struct tpdu_submit_order *order, struct tpdu_line *line)
{
    struct tpdu tpdu = {.kind = TPDU_KIND_SUBMIT};
    *line = (struct tpdu_line){.hex_len = 0};
    if (!tpdu_address_set(&tpdu.other, order->to, strnlen(order->to, TPDU_ADDRESS_TEXT_MAX))) {
        return TPDU_ERROR_ADDRESS;
    }
    enum tpdu_error error = tpdu_user_set(&tpdu.user, &order->part);
    if (error != TPDU_OK) {
        return error;
    }
    tpdu.submit.report_wanted = order->report_wanted;
    tpdu_validity_set(&tpdu.submit.validity, order->validity_s);
    return tpdu_write(&tpdu, line);
}

struct candidate {
    enum tpdu_alphabet alphabet;
    struct septets_shift shift;
};

/* In order of preference where they take equally many parts. */
static const struct candidate candidates[] = {
    {TPDU_ALPHABET_GSM7, {0, 0}},
    {TPDU_ALPHABET_UCS2, {0, 0}},
    {TPDU_ALPHABET_GSM7, {0, SEPTETS_LANGUAGE_TURKISH}},
    {TPDU_ALPHABET_GSM7, {0, SEPTETS_LANGUAGE_SPANISH}},
    {TPDU_ALPHABET_GSM7, {0, SEPTETS_LANGUAGE_PORTUGUESE}},
    {TPDU_ALPHABET_GSM7, {SEPTETS_LANGUAGE_TURKISH, 0}},
    {TPDU_ALPHABET_GSM7, {SEPTETS_LANGUAGE_PORTUGUESE, 0}},
    {TPDU_ALPHABET_GSM7, {SEPTETS_LANGUAGE_TURKISH, SEPTETS_LANGUAGE_TURKISH}},
    {TPDU_ALPHABET_GSM7, {SEPTETS_LANGUAGE_PORTUGUESE, SEPTETS_LANGUAGE_PORTUGUESE}},
};
#define CANDIDATES (sizeof candidates / sizeof candidates[0])
#define CANDIDATES_USUAL 2

/* Fills at most so many parts. TPDU_ERROR_TEXT where a part gets no further, for a character that
 * is not in the alphabet. */
static enum tpdu_error fill(const struct candidate *candidate, struct tpdu_concat concat,
                            size_t most, const char *text, size_t len, struct tpdu_split *split)
{
    size_t from = 0;
    for (size_t n = 0; n < most; n++) {
        struct tpdu_user user;
        const struct tpdu_part part = {.text = text,
                                       .from = from,
                                       .to = len,
                                       .alphabet = candidate->alphabet,
                                       .shift = candidate->shift,
                                       .concat = concat};
        size_t end = tpdu_user_fill(&user, &part);
        if (end == from && end < len) {
            return TPDU_ERROR_TEXT;
        }
        split->ends[n] = end;
        split->parts = n + 1;
        if (end == len) {
            return TPDU_OK;
        }
        from = end;
    }
    return TPDU_ERROR_TOO_MUCH;
}

static enum tpdu_error try(const struct candidate *candidate, bool sixteen_bit, const char *text,
                           size_t len, struct tpdu_split *split)
{
    const struct tpdu_concat alone = {.present = false};
    const struct tpdu_concat one_of = {true, sixteen_bit, 0, 1, 1};
    *split = (struct tpdu_split){
        .alphabet = candidate->alphabet, .shift = candidate->shift, .sixteen_bit = sixteen_bit};
    enum tpdu_error error = fill(candidate, alone, 1, text, len, split);
    if (error == TPDU_ERROR_TOO_MUCH) {
        error = fill(candidate, one_of, TPDU_PARTS_MAX, text, len, split);
    }
    return error;
}

enum tpdu_error tpdu_split(const char *text, size_t len, struct tpdu_split_choice choice,
                           struct tpdu_split *split)
{
    size_t count = choice.national ? CANDIDATES : CANDIDATES_USUAL;
    enum tpdu_error worst = TPDU_ERROR_TEXT;
    *split = (struct tpdu_split){.parts = 0};
    for (size_t i = 0; i < count && split->parts != 1; i++) {
        struct tpdu_split trial;
        enum tpdu_error error = try(&candidates[i], choice.sixteen_bit, text, len, &trial);
        if (error == TPDU_OK && (split->parts == 0 || trial.parts < split->parts)) {
            *split = trial;
        } else if (error == TPDU_ERROR_TOO_MUCH) {
            worst = error;
        }
    }
    return split->parts > 0 ? TPDU_OK : worst;
}

struct tpdu_part tpdu_split_part(const struct tpdu_split *split, const char *text, size_t index,
                                 uint16_t reference)
{
    struct tpdu_part part = {.text = text, .alphabet = split->alphabet, .shift = split->shift};
    if (index >= split->parts || split->parts > TPDU_PARTS_MAX) {
        return part;
    }
    part.from = index > 0 ? split->ends[index - 1] : 0;
    part.to = split->ends[index];
    if (split->parts > 1) {
        part.concat = (struct tpdu_concat){
            .present = true,
            .sixteen_bit = split->sixteen_bit,
            .reference = split->sixteen_bit ? reference : (uint16_t)(reference & 0xFFu),
            .parts = (uint8_t)split->parts,
            .part = (uint8_t)(index + 1)};
    }
    return part;
}
