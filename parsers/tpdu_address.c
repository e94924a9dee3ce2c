/* SPDX-License-Identifier: MIT
 *
 * Addresses of SMS. Semi-octets are counted from the low nibble of the first octet of the value; an
 * odd number of them is padded with F. */
#include "parsers/tpdu_address.h"

#include "parsers/septets.h"

#define SEMI_OCTETS_MAX 20
#define VALUE_OCTETS (SEMI_OCTETS_MAX / 2)
#define NAME_SEPTETS_MAX (SEMI_OCTETS_MAX * 4 / 7)
#define FILLER 0xFu
#define PLAN_E164 1u
#define NO_EXTENSION 0x80u

/* TS 23.040 9.1.2.3; the filler has no character. */
static const char digits[] = "0123456789*#abc";

static const struct septets_shift default_alphabet = {0, 0};

static uint8_t semi_octet(const uint8_t *value, size_t at)
{
    return at % 2 == 0 ? value[at / 2] & 0xFu : value[at / 2] >> 4;
}

/* Fillers at the end that were counted as digits are let go, as their character is the NUL; a digit
 * after one is an error. */
static bool read_number(const uint8_t *value, size_t count, struct tpdu_address *address)
{
    size_t plus = 0;
    if (address->type == TPDU_NUMBER_TYPE_INTERNATIONAL && semi_octet(value, 0) != FILLER) {
        address->text[0] = '+';
        plus = 1;
    }
    for (size_t at = 0; at < count; at++) {
        uint8_t semi = semi_octet(value, at);
        if (semi != FILLER && at > 0 && semi_octet(value, at - 1) == FILLER) {
            return false;
        }
        address->text[plus + at] = digits[semi];
    }
    address->text[plus + count] = '\0';
    return true;
}

static void read_name(const uint8_t *value, size_t count, struct tpdu_address *address)
{
    uint8_t septets[SEPTETS_MAX] = {0};
    size_t held = septets_unpack(value, VALUE_OCTETS, septets, count * 4 / 7);
    (void)septets_to_utf8(septets, 0, held, default_alphabet, address->text, TPDU_ADDRESS_TEXT_MAX);
}

/* The type octet at *at and count semi-octets of value behind it; ill_formed is what to say where
 * they make no address. */
static enum tpdu_error read_typed(const uint8_t *octets, size_t len, size_t *at, size_t count,
                                  enum tpdu_error ill_formed, struct tpdu_address *address)
{
    uint8_t value[VALUE_OCTETS] = {0};
    address->text[0] = '\0';
    if (count > SEMI_OCTETS_MAX) {
        return ill_formed;
    }
    size_t value_len = (count + 1) / 2;
    if (*at >= len) {
        return TPDU_ERROR_CUT;
    }
    address->type = (enum tpdu_number_type)(octets[*at] >> 4 & 7u);
    address->plan = octets[*at] & 0xFu;
    size_t from = *at + 1;
    size_t held = 0;
    for (; held < value_len && from < len; held++, from++) {
        value[held] = octets[from];
    }
    *at = from;
    if (held < value_len) {
        return TPDU_ERROR_CUT;
    }
    if (count > 0 && address->type == TPDU_NUMBER_TYPE_ALPHANUMERIC) {
        read_name(value, count, address);
    } else if (count > 0 && !read_number(value, count, address)) {
        return ill_formed;
    }
    return TPDU_OK;
}

enum tpdu_error tpdu_address_read(const uint8_t *octets, size_t len, size_t *at,
                                  struct tpdu_address *address)
{
    if (*at >= len) {
        return TPDU_ERROR_CUT;
    }
    size_t count = octets[*at];
    *at += 1;
    return read_typed(octets, len, at, count, TPDU_ERROR_ADDRESS, address);
}

enum tpdu_error tpdu_address_read_centre(const uint8_t *octets, size_t len, size_t *at,
                                         struct tpdu_address *address)
{
    *address = (struct tpdu_address){.type = TPDU_NUMBER_TYPE_UNKNOWN};
    if (*at >= len) {
        return TPDU_ERROR_CUT;
    }
    size_t count = octets[*at];
    *at += 1;
    if (count == 0) {
        return TPDU_OK;
    }
    return read_typed(octets, len, at, (count - 1) * 2, TPDU_ERROR_CENTRE, address);
}

static size_t text_len(const struct tpdu_address *address)
{
    size_t len = 0;
    while (len < TPDU_ADDRESS_TEXT_MAX && address->text[len] != '\0') {
        len++;
    }
    return len;
}

/* Sets value from a number; *count is its semi-octets. */
static bool write_number(const struct tpdu_address *address, uint8_t *value, size_t *count)
{
    size_t len = text_len(address);
    size_t plus = address->type == TPDU_NUMBER_TYPE_INTERNATIONAL && address->text[0] == '+';
    size_t at = plus;
    size_t held = 0;
    for (size_t i = 0; i < VALUE_OCTETS; i++) {
        value[i] = FILLER << 4 | FILLER;
    }
    for (; at < len && held < SEMI_OCTETS_MAX; at++, held++) {
        uint8_t semi = 0;
        while (semi < FILLER && digits[semi] != address->text[at]) {
            semi++;
        }
        if (semi == FILLER) {
            return false;
        }
        unsigned shift = held % 2 * 4;
        value[held / 2] = (uint8_t)((value[held / 2] & ~(0xFu << shift)) | (unsigned)semi << shift);
    }
    *count = held;
    return at == len;
}

static bool write_name(const struct tpdu_address *address, uint8_t *value, size_t *count)
{
    uint8_t septets[NAME_SEPTETS_MAX] = {0};
    size_t len = text_len(address);
    size_t held = 0;
    if (septets_from_utf8(address->text, 0, len, default_alphabet, septets, NAME_SEPTETS_MAX,
                          &held) != len) {
        return false;
    }
    (void)septets_pack(septets, held, value, VALUE_OCTETS);
    *count = (held * 7 + 3) / 4;
    return true;
}

/* Type octet and value from octets[1] on; returns the octets up to the end, or 0. */
static size_t write_typed(const struct tpdu_address *address, uint8_t *octets, size_t *count)
{
    bool name = address->type == TPDU_NUMBER_TYPE_ALPHANUMERIC;
    uint8_t value[VALUE_OCTETS] = {0};
    if (!(name ? write_name(address, value, count) : write_number(address, value, count))) {
        return 0;
    }
    octets[1] =
        (uint8_t)(NO_EXTENSION | ((unsigned)address->type & 7u) << 4 | (address->plan & 0xFu));
    for (size_t i = 0; i < VALUE_OCTETS; i++) {
        octets[2 + i] = value[i];
    }
    return 2 + (*count + 1) / 2;
}

size_t tpdu_address_write(const struct tpdu_address *address, uint8_t *octets)
{
    size_t count = 0;
    size_t len = write_typed(address, octets, &count);
    octets[0] = (uint8_t)count;
    return len;
}

size_t tpdu_address_write_centre(const struct tpdu_address *address, uint8_t *octets)
{
    size_t count = 0;
    if (address->text[0] == '\0') {
        octets[0] = 0;
        return 1;
    }
    size_t len = write_typed(address, octets, &count);
    octets[0] = (uint8_t)(len > 0 ? len - 1 : 0);
    return len;
}

/* Digits, star and hash only, at least one. */
static bool is_number(const char *text, size_t from, size_t to)
{
    for (size_t at = from; at < to; at++) {
        if (!(text[at] >= '0' && text[at] <= '9') && text[at] != '*' && text[at] != '#') {
            return false;
        }
    }
    return from < to;
}

bool tpdu_address_set(struct tpdu_address *address, const char *text, size_t len)
{
    uint8_t octets[TPDU_ADDRESS_OCTETS_MAX];
    *address = (struct tpdu_address){.type = TPDU_NUMBER_TYPE_ALPHANUMERIC};
    if (len == 0 || len >= TPDU_ADDRESS_TEXT_MAX) {
        return false;
    }
    if (text[0] == '+' && is_number(text, 1, len)) {
        address->type = TPDU_NUMBER_TYPE_INTERNATIONAL;
        address->plan = PLAN_E164;
    } else if (is_number(text, 0, len)) {
        address->type = TPDU_NUMBER_TYPE_UNKNOWN;
        address->plan = PLAN_E164;
    }
    for (size_t i = 0; i < len; i++) {
        address->text[i] = text[i];
    }
    return text_len(address) == len && tpdu_address_write(address, octets) > 0;
}
