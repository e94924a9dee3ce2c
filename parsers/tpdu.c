/* SPDX-License-Identifier: MIT
 * tpdu: reads a short message: hex into octets, then field by field in the order of 3GPP TS 23.040
 * 9.2.2. */
#include "parsers/tpdu_fields.h"

/* TP-PI, 9.2.3.27: another octet of it follows. */
#define EXTENDED 0x80u

/* TP-ST, 9.2.3.15: what is above the last one reads as "service rejected". */
#define STATUS_LAST 0x7Fu
#define STATUS_SERVICE_REJECTED 0x63u

/* Value of a hex digit with this bit set; 0 for what is none. */
#define DIGIT 0x10u

static const uint8_t hex_digits[256] = {
    ['0'] = 0x10, ['1'] = 0x11, ['2'] = 0x12, ['3'] = 0x13, ['4'] = 0x14, ['5'] = 0x15,
    ['6'] = 0x16, ['7'] = 0x17, ['8'] = 0x18, ['9'] = 0x19, ['A'] = 0x1A, ['B'] = 0x1B,
    ['C'] = 0x1C, ['D'] = 0x1D, ['E'] = 0x1E, ['F'] = 0x1F, ['a'] = 0x1A, ['b'] = 0x1B,
    ['c'] = 0x1C, ['d'] = 0x1D, ['e'] = 0x1E, ['f'] = 0x1F,
};

static enum tpdu_error read_deliver(const uint8_t *octets, size_t len, size_t at, struct tpdu *tpdu)
{
    uint8_t first = octets[at];
    tpdu->kind = TPDU_KIND_DELIVER;
    tpdu->reply_path = (first & TPDU_REPLY_PATH) != 0;
    tpdu->loop_prevention = (first & TPDU_LOOP_PREVENTION) != 0;
    tpdu->deliver.more_waiting = (first & TPDU_NO_MORE_WAITING) == 0;
    tpdu->deliver.report_wanted = (first & TPDU_REPORT_BIT) != 0;
    tpdu->deliver.reserved_type = (first & TPDU_TYPE_BITS) == TPDU_TYPE_RESERVED;
    at += 1;
    enum tpdu_error error = tpdu_address_read(octets, len, &at, &tpdu->other);
    if (error != TPDU_OK) {
        return error;
    }
    if (at + 2 + TPDU_TIME_OCTETS > len) {
        return TPDU_ERROR_CUT;
    }
    uint8_t dcs = octets[at + 1];
    tpdu->protocol = octets[at];
    tpdu_time_read(octets, at + 2, &tpdu->deliver.sent_at);
    at += 2 + TPDU_TIME_OCTETS;
    error = tpdu_user_read(octets, len, &at, dcs, (first & TPDU_HEADER_BIT) != 0, &tpdu->user);
    return error == TPDU_OK && at < len ? TPDU_ERROR_USER_LEFT_OVER : error;
}

static enum tpdu_error read_submit(const uint8_t *octets, size_t len, size_t at, struct tpdu *tpdu)
{
    uint8_t first = octets[at];
    tpdu->kind = TPDU_KIND_SUBMIT;
    tpdu->reply_path = (first & TPDU_REPLY_PATH) != 0;
    tpdu->submit.report_wanted = (first & TPDU_REPORT_BIT) != 0;
    tpdu->submit.reject_duplicates = (first & TPDU_REJECT_DUPLICATES) != 0;
    if (at + 2 > len) {
        return TPDU_ERROR_CUT;
    }
    tpdu->submit.reference = octets[at + 1];
    at += 2;
    enum tpdu_error error = tpdu_address_read(octets, len, &at, &tpdu->other);
    if (error != TPDU_OK) {
        return error;
    }
    enum tpdu_validity_form form = (enum tpdu_validity_form)(first >> 3 & 3u);
    if (at + 2 > len) {
        return TPDU_ERROR_CUT;
    }
    uint8_t dcs = octets[at + 1];
    tpdu->protocol = octets[at];
    at += 2;
    if (!tpdu_validity_read(octets, len, &at, form, &tpdu->submit.validity)) {
        return TPDU_ERROR_CUT;
    }
    error = tpdu_user_read(octets, len, &at, dcs, (first & TPDU_HEADER_BIT) != 0, &tpdu->user);
    return error == TPDU_OK && at < len ? TPDU_ERROR_USER_LEFT_OVER : error;
}

/* What may follow a report: TP-PI, and what it announces. Octets after that are for later versions
 * of the standard, and passed over as it wants. */
static enum tpdu_error read_report_options(const uint8_t *octets, size_t len, size_t at,
                                           bool has_header, struct tpdu *tpdu)
{
    uint8_t options = at < len ? octets[at] : 0;
    uint8_t dcs = 0;
    while (at < len && (octets[at] & EXTENDED) != 0) {
        at++;
    }
    at++;
    tpdu->report.has_protocol = (options & TPDU_HAS_PROTOCOL) != 0;
    tpdu->report.has_coding = (options & TPDU_HAS_CODING) != 0;
    tpdu->report.has_user = (options & TPDU_HAS_USER) != 0;
    if (tpdu->report.has_protocol) {
        if (at >= len) {
            return TPDU_ERROR_CUT;
        }
        tpdu->protocol = octets[at];
        at++;
    }
    if (tpdu->report.has_coding) {
        if (at >= len) {
            return TPDU_ERROR_CUT;
        }
        dcs = octets[at];
        at++;
    }
    if (tpdu->report.has_user) {
        return tpdu_user_read(octets, len, &at, dcs, has_header, &tpdu->user);
    }
    tpdu->user.coding = tpdu_coding_of(dcs);
    return TPDU_OK;
}

static enum tpdu_error read_report(const uint8_t *octets, size_t len, size_t at, struct tpdu *tpdu)
{
    static const enum tpdu_outcome outcomes[] = {TPDU_OUTCOME_DONE, TPDU_OUTCOME_TRYING,
                                                 TPDU_OUTCOME_FAILED, TPDU_OUTCOME_GAVE_UP};
    uint8_t first = octets[at];
    tpdu->kind = TPDU_KIND_STATUS_REPORT;
    tpdu->loop_prevention = (first & TPDU_LOOP_PREVENTION) != 0;
    tpdu->report.more_waiting = (first & TPDU_NO_MORE_WAITING) == 0;
    tpdu->report.of_command = (first & TPDU_REPORT_BIT) != 0;
    if (at + 2 > len) {
        return TPDU_ERROR_CUT;
    }
    tpdu->report.reference = octets[at + 1];
    at += 2;
    enum tpdu_error error = tpdu_address_read(octets, len, &at, &tpdu->other);
    if (error != TPDU_OK) {
        return error;
    }
    if (at + 2 * TPDU_TIME_OCTETS + 1 > len) {
        return TPDU_ERROR_CUT;
    }
    tpdu_time_read(octets, at, &tpdu->report.sent_at);
    tpdu_time_read(octets, at + TPDU_TIME_OCTETS, &tpdu->report.done_at);
    uint8_t status = octets[at + 2 * TPDU_TIME_OCTETS];
    tpdu->report.status = status;
    tpdu->report.outcome = outcomes[(status > STATUS_LAST ? STATUS_SERVICE_REJECTED : status) >> 5];
    at += 2 * TPDU_TIME_OCTETS + 1;
    return read_report_options(octets, len, at, (first & TPDU_HEADER_BIT) != 0, tpdu);
}

enum tpdu_error tpdu_from_octets(const uint8_t *octets, size_t len, struct tpdu *tpdu)
{
    size_t at = 0;
    *tpdu = (struct tpdu){.kind = TPDU_KIND_DELIVER};
    if (len == 0) {
        return TPDU_ERROR_EMPTY;
    }
    enum tpdu_error error = tpdu_address_read_centre(octets, len, &at, &tpdu->centre);
    if (error != TPDU_OK) {
        return error;
    }
    if (len - at > TPDU_OCTETS_MAX) {
        return TPDU_ERROR_LONG;
    }
    if (at >= len) {
        return TPDU_ERROR_CUT;
    }
    tpdu->octets = (uint8_t)(len - at);
    switch (octets[at] & TPDU_TYPE_BITS) {
    case TPDU_TYPE_SUBMIT:
        return read_submit(octets, len, at, tpdu);
    case TPDU_TYPE_STATUS_REPORT:
        return read_report(octets, len, at, tpdu);
    default: /* TPDU_TYPE_RESERVED reads as a DELIVER */
        return read_deliver(octets, len, at, tpdu);
    }
}

enum tpdu_error tpdu_from_hex(const char *hex, size_t len, struct tpdu *tpdu)
{
    uint8_t octets[TPDU_LINE_OCTETS_MAX] = {0};
    uint8_t all = DIGIT;
    if (len > 2 * TPDU_LINE_OCTETS_MAX) {
        return TPDU_ERROR_LONG;
    }
    for (size_t i = 0; i < len / 2; i++) {
        uint8_t high = hex_digits[(unsigned char)hex[2 * i]];
        uint8_t low = hex_digits[(unsigned char)hex[2 * i + 1]];
        all &= high & low;
        octets[i] = (uint8_t)((high & 0xFu) << 4 | (low & 0xFu));
    }
    if ((all & DIGIT) == 0) {
        return TPDU_ERROR_HEX;
    }
    if (len % 2 != 0) {
        return TPDU_ERROR_HEX_ODD;
    }
    return tpdu_from_octets(octets, len / 2, tpdu);
}

const char *tpdu_error_says(enum tpdu_error error)
{
    static const char *const says[] = {
        [TPDU_OK] = "nothing is wrong",
        [TPDU_ERROR_EMPTY] = "there is nothing to read",
        [TPDU_ERROR_HEX] = "a character is no hex digit",
        [TPDU_ERROR_HEX_ODD] = "the last octet has one hex digit only",
        [TPDU_ERROR_LONG] = "it has more octets than a short message can have",
        [TPDU_ERROR_CUT] = "it ends before its fixed fields are complete",
        [TPDU_ERROR_CENTRE] = "the service centre's address is ill-formed",
        [TPDU_ERROR_ADDRESS] = "the other party's address is ill-formed",
        [TPDU_ERROR_USER_LENGTH] = "its user data length is more than a text can have",
        [TPDU_ERROR_USER_CUT] = "it has less user data than its length says",
        [TPDU_ERROR_USER_LEFT_OVER] = "it has more user data than its length says",
        [TPDU_ERROR_HEADER] = "its user data header is longer than its user data",
        [TPDU_ERROR_TEXT] = "the text is not UTF-8, or not in the alphabet asked for",
        [TPDU_ERROR_TOO_MUCH] = "the text has no room",
        [TPDU_ERROR_FIELD] = "a field is out of its range",
    };
    return (size_t)error < sizeof says / sizeof says[0] ? says[error] : "unknown";
}
