/* SPDX-License-Identifier: MIT
 * tpdu_user: the user data of SMS: how they are coded, the header, the text.
 *
 * Information elements that we do not know, or whose length is not theirs, are passed over; of one
 * that comes twice the last counts. */
#include "parsers/tpdu_fields.h"

#include "parsers/utf8.h"

/* Information element identifiers, TS 23.040 9.2.3.24. */
#define ELEMENT_CONCAT_8 0x00u
#define ELEMENT_WAITING 0x01u
#define ELEMENT_PORTS_8 0x04u
#define ELEMENT_PORTS_16 0x05u
#define ELEMENT_CONCAT_16 0x08u
#define ELEMENT_VOICE_MAIL 0x23u
#define ELEMENT_SINGLE_SHIFT 0x24u
#define ELEMENT_LOCKING_SHIFT 0x25u

/* Groups of TP-DCS, its four high bits, TS 23.038 clause 4. */
#define GROUP_GENERAL_LAST 0x7u /* 00xx and 01xx */
#define GROUP_WAITING_DISCARD 0xCu
#define GROUP_WAITING_STORE_UCS2 0xEu
#define GROUP_CLASS 0xFu

/* TP-DCS of what is written. */
#define DCS_GSM7 0x00u
#define DCS_OCTETS 0x04u
#define DCS_UCS2 0x08u

#define WAITING_STORE 0x80u
#define WAITING_KIND 0x03u

/* An element's octets, of which the longest that is known has four; zero past its end. */
#define ELEMENT_OCTETS_MAX 4

struct tpdu_coding tpdu_coding_of(uint8_t dcs)
{
    /* 11 is reserved, and read as the default. */
    static const enum tpdu_alphabet alphabets[] = {TPDU_ALPHABET_GSM7, TPDU_ALPHABET_OCTETS,
                                                   TPDU_ALPHABET_UCS2, TPDU_ALPHABET_GSM7};
    unsigned group = dcs >> 4;
    struct tpdu_coding coding = {.dcs = dcs, .class = TPDU_CLASS_NONE};
    if (group <= GROUP_GENERAL_LAST) {
        coding.alphabet = alphabets[dcs >> 2 & 3u];
        coding.class = (int8_t)((dcs & 0x10u) != 0 ? dcs & 3 : TPDU_CLASS_NONE);
        coding.compressed = (dcs & 0x20u) != 0;
        coding.delete_after_reading = (dcs & 0x40u) != 0;
    } else if (group == GROUP_WAITING_STORE_UCS2) {
        coding.alphabet = TPDU_ALPHABET_UCS2;
    } else if (group == GROUP_CLASS) {
        coding.alphabet = (dcs & 4u) != 0 ? TPDU_ALPHABET_OCTETS : TPDU_ALPHABET_GSM7;
        coding.class = (int8_t)(dcs & 3u);
    }
    return coding;
}

struct tpdu_waiting tpdu_coding_waiting(uint8_t dcs)
{
    unsigned group = dcs >> 4;
    struct tpdu_waiting waiting = {.present = false};
    if (group >= GROUP_WAITING_DISCARD && group <= GROUP_WAITING_STORE_UCS2) {
        waiting.present = true;
        waiting.active = (dcs & 8u) != 0;
        waiting.store = group != GROUP_WAITING_DISCARD;
        waiting.kind = dcs & 3u;
    }
    return waiting;
}

/* Septets that so many octets reach into. */
static size_t septets_over(size_t octets)
{
    return (octets * 8 + 6) / 7;
}

size_t tpdu_user_octets(struct tpdu_coding coding, uint8_t length)
{
    bool septets = coding.alphabet == TPDU_ALPHABET_GSM7 && !coding.compressed;
    return septets ? SEPTETS_PACKED((size_t)length) : length;
}

static uint16_t sixteen(const uint8_t *value, size_t at)
{
    return (uint16_t)(value[at] << 8 | value[at + 1]);
}

/* By 9.2.3.24.1 counts that make no sense have the element ignored. */
static void set_concat(struct tpdu_concat concat, struct tpdu_user *user)
{
    if (concat.part >= 1 && concat.part <= concat.parts) {
        user->concat = concat;
    }
}

/* One whose length is not its own is passed over. */
static void read_element(uint8_t id, uint8_t len, const uint8_t *value, struct tpdu_user *user)
{
    if (id == ELEMENT_CONCAT_8 && len == 3) {
        set_concat((struct tpdu_concat){true, false, value[0], value[1], value[2]}, user);
    } else if (id == ELEMENT_CONCAT_16 && len == 4) {
        set_concat((struct tpdu_concat){true, true, sixteen(value, 0), value[2], value[3]}, user);
    } else if (id == ELEMENT_WAITING && len == 2) {
        user->waiting = (struct tpdu_waiting){.present = true,
                                              .active = value[1] > 0,
                                              .store = (value[0] & WAITING_STORE) != 0,
                                              .kind = value[0] & WAITING_KIND,
                                              .count = value[1]};
    } else if (id == ELEMENT_VOICE_MAIL) {
        user->waiting = (struct tpdu_waiting){.present = true, .active = true};
    } else if (id == ELEMENT_PORTS_8 && len == 2) {
        user->ports = (struct tpdu_ports){true, value[0], value[1]};
    } else if (id == ELEMENT_PORTS_16 && len == 4) {
        user->ports = (struct tpdu_ports){true, sixteen(value, 0), sixteen(value, 2)};
    } else if (id == ELEMENT_SINGLE_SHIFT && len == 1) {
        user->shift.single = value[0];
    } else if (id == ELEMENT_LOCKING_SHIFT && len == 1) {
        user->shift.locking = value[0];
    }
}

/* By 9.2.3.24 a header whose lengths do not fit is ignored as a whole, but for its own length. */
static void read_elements(struct tpdu_user *user)
{
    size_t end = user->header_octets;
    size_t at = 1;
    while (at + 2 <= end) {
        uint8_t value[ELEMENT_OCTETS_MAX] = {0};
        uint8_t len = user->data[at + 1];
        for (size_t i = 0, from = at + 2; i < ELEMENT_OCTETS_MAX && from < end; i++, from++) {
            value[i] = user->data[from];
        }
        read_element(user->data[at], len, value, user);
        at += 2u + len;
    }
    if (at != end) {
        user->header_ill_formed = true;
        user->waiting = tpdu_coding_waiting(user->coding.dcs);
        user->concat = (struct tpdu_concat){.present = false};
        user->ports = (struct tpdu_ports){.present = false};
        user->shift = (struct septets_shift){0, 0};
    }
}

static void read_text(struct tpdu_user *user)
{
    uint8_t septets[SEPTETS_MAX] = {0};
    size_t used = 0;
    user->has_text = !user->coding.compressed && user->coding.alphabet != TPDU_ALPHABET_OCTETS;
    if (user->has_text && user->coding.alphabet == TPDU_ALPHABET_GSM7) {
        size_t count = septets_unpack(user->data, user->data_len, septets, user->length);
        used = septets_to_utf8(septets, septets_over(user->header_octets), count, user->shift,
                               user->text, TPDU_TEXT_OCTETS_MAX);
    } else if (user->has_text) {
        used = ucs2_to_utf8(user->data, user->header_octets, user->data_len, user->text,
                            TPDU_TEXT_OCTETS_MAX, &user->text_damaged);
    }
    user->text_len = (uint16_t)used;
}

/* What the filled-in coding, length and data say. */
static enum tpdu_error interpret(struct tpdu_user *user)
{
    user->waiting = tpdu_coding_waiting(user->coding.dcs);
    if (user->has_header) {
        if (user->data_len == 0 || user->data[0] >= user->data_len) {
            return TPDU_ERROR_HEADER;
        }
        user->header_octets = (uint8_t)(user->data[0] + 1);
        read_elements(user);
    }
    read_text(user);
    return TPDU_OK;
}

enum tpdu_error tpdu_user_read(const uint8_t *octets, size_t len, size_t *at, uint8_t dcs,
                               bool has_header, struct tpdu_user *user)
{
    *user = (struct tpdu_user){.coding = tpdu_coding_of(dcs), .has_header = has_header};
    if (*at >= len) {
        return TPDU_ERROR_CUT;
    }
    user->length = octets[*at];
    size_t data_len = tpdu_user_octets(user->coding, user->length);
    if (data_len > TPDU_USER_OCTETS_MAX) {
        return TPDU_ERROR_USER_LENGTH;
    }
    size_t from = *at + 1;
    size_t held = 0;
    for (; held < data_len && from < len; held++, from++) {
        user->data[held] = octets[from];
    }
    user->data_len = (uint8_t)held;
    *at = from;
    return held < data_len ? TPDU_ERROR_USER_CUT : interpret(user);
}

static void put_element(struct tpdu_user *user, uint8_t id, uint8_t len, const uint8_t *value)
{
    size_t at = user->header_octets > 0 ? user->header_octets : 1;
    user->data[at] = id;
    user->data[at + 1] = len;
    for (size_t i = 0; i < len; i++) {
        user->data[at + 2 + i] = value[i];
    }
    user->header_octets = (uint8_t)(at + 2 + len);
    user->data[0] = (uint8_t)(at + 1 + len);
    user->has_header = true;
}

static void put_header(struct tpdu_user *user, const struct tpdu_part *part)
{
    const struct tpdu_concat *concat = &part->concat;
    const uint8_t value[] = {(uint8_t)(concat->reference >> 8),
                             (uint8_t)(concat->reference & 0xFFu), concat->parts, concat->part};
    if (concat->present && concat->part >= 1 && concat->part <= concat->parts) {
        if (concat->sixteen_bit) {
            put_element(user, ELEMENT_CONCAT_16, 4, value);
        } else {
            put_element(user, ELEMENT_CONCAT_8, 3, value + 1);
        }
    }
    if (part->alphabet == TPDU_ALPHABET_GSM7 && part->shift.single != 0) {
        put_element(user, ELEMENT_SINGLE_SHIFT, 1, &part->shift.single);
    }
    if (part->alphabet == TPDU_ALPHABET_GSM7 && part->shift.locking != 0) {
        put_element(user, ELEMENT_LOCKING_SHIFT, 1, &part->shift.locking);
    }
}

size_t tpdu_user_fill(struct tpdu_user *user, const struct tpdu_part *part)
{
    uint8_t septets[SEPTETS_MAX] = {0};
    size_t at = part->from;
    *user = (struct tpdu_user){.has_header = false};
    put_header(user, part);
    size_t count = user->header_octets;
    if (part->alphabet == TPDU_ALPHABET_UCS2) {
        user->coding = tpdu_coding_of(DCS_UCS2);
        at = ucs2_from_utf8(part->text, at, part->to, user->data, TPDU_USER_OCTETS_MAX, &count);
        user->data_len = (uint8_t)count;
    } else if (part->alphabet == TPDU_ALPHABET_OCTETS) {
        user->coding = tpdu_coding_of(DCS_OCTETS);
        for (; at < part->to && count < TPDU_USER_OCTETS_MAX; at++) {
            user->data[count] = (uint8_t)part->text[at];
            count++;
        }
        user->data_len = (uint8_t)count;
    } else { /* the header too goes through the septets, so that the text begins on one */
        user->coding = tpdu_coding_of(DCS_GSM7);
        count = septets_unpack(user->data, TPDU_USER_OCTETS_MAX, septets, septets_over(count));
        at = septets_from_utf8(part->text, at, part->to, part->shift, septets, SEPTETS_MAX, &count);
        user->data_len = (uint8_t)septets_pack(septets, count, user->data, TPDU_USER_OCTETS_MAX);
    }
    user->length = (uint8_t)count;
    (void)interpret(user);
    return at;
}
