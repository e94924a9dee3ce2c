/* SPDX-License-Identifier: MIT
 *
 * Writes short messages, field by field in the order of 3GPP TS 23.040 9.2.2. */
#include "parsers/tpdu_write.h"

#define SUBMIT 0x01u
#define STATUS_REPORT 0x02u
#define RESERVED 0x03u
#define NO_MORE_WAITING 0x04u
#define REJECT_DUPLICATES 0x04u
#define LOOP_PREVENTION 0x08u
#define REPORT 0x20u
#define HEADER 0x40u
#define REPLY_PATH 0x80u

#define HAS_PROTOCOL 0x01u
#define HAS_CODING 0x02u
#define HAS_USER 0x04u

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

static void put(struct sheet *sheet, uint8_t octet)
{
    if (sheet->len >= TPDU_LINE_OCTETS_MAX) {
        fail(sheet, TPDU_ERROR_LONG);
        return;
    }
    sheet->octets[sheet->len] = octet;
    sheet->len++;
}

static void put_all(struct sheet *sheet, const uint8_t *octets, size_t len)
{
    for (size_t i = 0; i < len; i++) {
        put(sheet, octets[i]);
    }
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

static void put_centre(struct sheet *sheet, const struct tpdu_address *address)
{
    uint8_t octets[TPDU_ADDRESS_OCTETS_MAX] = {0};
    size_t len = tpdu_address_write_centre(address, octets);
    put_all(sheet, octets, len);
    if (len == 0) {
        fail(sheet, TPDU_ERROR_CENTRE);
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
    put(sheet, bit(tpdu->deliver.reserved_type, RESERVED) |
                   bit(!tpdu->deliver.more_waiting, NO_MORE_WAITING) |
                   bit(tpdu->loop_prevention, LOOP_PREVENTION) |
                   bit(tpdu->deliver.report_wanted, REPORT) | bit(tpdu->user.has_header, HEADER) |
                   bit(tpdu->reply_path, REPLY_PATH));
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
    put(sheet, SUBMIT | form | bit(tpdu->submit.reject_duplicates, REJECT_DUPLICATES) |
                   bit(tpdu->submit.report_wanted, REPORT) | bit(tpdu->user.has_header, HEADER) |
                   bit(tpdu->reply_path, REPLY_PATH));
    put(sheet, tpdu->submit.reference);
    put_address(sheet, &tpdu->other);
    put(sheet, tpdu->protocol);
    put(sheet, tpdu->user.coding.dcs);
    put_all(sheet, validity->octets, tpdu_validity_octets(validity->form));
    put_user(sheet, &tpdu->user);
}

static void put_report(struct sheet *sheet, const struct tpdu *tpdu)
{
    uint8_t options = bit(tpdu->report.has_protocol, HAS_PROTOCOL) |
                      bit(tpdu->report.has_coding, HAS_CODING) |
                      bit(tpdu->report.has_user, HAS_USER);
    put(sheet, STATUS_REPORT | bit(!tpdu->report.more_waiting, NO_MORE_WAITING) |
                   bit(tpdu->loop_prevention, LOOP_PREVENTION) |
                   bit(tpdu->report.of_command, REPORT) | bit(tpdu->user.has_header, HEADER));
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

static void to_hex(const struct sheet *sheet, struct tpdu_line *line)
{
    static const char digits[] = "0123456789ABCDEF";
    for (size_t i = 0; i < sheet->len; i++) {
        line->hex[2 * i] = digits[sheet->octets[i] >> 4];
        line->hex[2 * i + 1] = digits[sheet->octets[i] & 0xFu];
    }
    line->hex_len = 2 * sheet->len;
    line->hex[line->hex_len] = '\0';
}

enum tpdu_error tpdu_write(const struct tpdu *tpdu, struct tpdu_line *line)
{
    struct sheet sheet = {.len = 0, .error = TPDU_OK};
    *line = (struct tpdu_line){.hex_len = 0};
    put_centre(&sheet, &tpdu->centre);
    size_t centre_len = sheet.len;
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
        to_hex(&sheet, line);
        line->tpdu_octets = sheet.len - centre_len;
    }
    return sheet.error;
}

/* Looks no further than an address can be long. */
static bool set_address(struct tpdu_address *address, const char *text)
{
    size_t len = 0;
    while (len < TPDU_ADDRESS_TEXT_MAX && text[len] != '\0') {
        len++;
    }
    return tpdu_address_set(address, text, len);
}

static bool set_centre(struct tpdu_address *address, const char *text)
{
    *address = (struct tpdu_address){.type = TPDU_NUMBER_TYPE_UNKNOWN};
    return text == NULL || text[0] == '\0' || set_address(address, text);
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
    if (!set_address(&tpdu.other, order->to)) {
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

enum tpdu_error tpdu_write_deliver(const struct tpdu_deliver_order *order, struct tpdu_line *line)
{
    struct tpdu tpdu = {.kind = TPDU_KIND_DELIVER};
    *line = (struct tpdu_line){.hex_len = 0};
    if (!set_centre(&tpdu.centre, order->centre)) {
        return TPDU_ERROR_CENTRE;
    }
    if (!set_address(&tpdu.other, order->from)) {
        return TPDU_ERROR_ADDRESS;
    }
    enum tpdu_error error = tpdu_user_set(&tpdu.user, &order->part);
    if (error != TPDU_OK) {
        return error;
    }
    if (!tpdu_time_set(&tpdu.deliver.sent_at, order->sent_at_s, order->zone_quarters)) {
        return TPDU_ERROR_FIELD;
    }
    tpdu.protocol = order->protocol;
    tpdu.loop_prevention = order->loop_prevention;
    tpdu.deliver.more_waiting = order->more_waiting;
    return tpdu_write(&tpdu, line);
}

enum tpdu_error tpdu_write_status_report(const struct tpdu_report_order *order,
                                         struct tpdu_line *line)
{
    struct tpdu tpdu = {.kind = TPDU_KIND_STATUS_REPORT};
    *line = (struct tpdu_line){.hex_len = 0};
    if (!set_centre(&tpdu.centre, order->centre)) {
        return TPDU_ERROR_CENTRE;
    }
    if (!set_address(&tpdu.other, order->to)) {
        return TPDU_ERROR_ADDRESS;
    }
    if (!tpdu_time_set(&tpdu.report.sent_at, order->sent_at_s, order->zone_quarters) ||
        !tpdu_time_set(&tpdu.report.done_at, order->done_at_s, order->zone_quarters)) {
        return TPDU_ERROR_FIELD;
    }
    tpdu.report.reference = order->reference;
    tpdu.report.status = order->status;
    return tpdu_write(&tpdu, line);
}
