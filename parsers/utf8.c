/* SPDX-License-Identifier: MIT
 *
 * UTF-8, one character at a time. */
#include "parsers/utf8.h"

#define SURROGATE_FIRST 0xD800u
#define SURROGATE_LAST 0xDFFFu
#define CHARACTER_LAST 0x10FFFFu

/* The least character that needs as many octets: anything below it is overlong. */
static const uint32_t least[UTF8_OCTETS_MAX + 1] = {0, 0, 0x80, 0x800, 0x10000};

/* Octets announced by a first octet; 0 where it cannot be a first one. */
static size_t announced(uint32_t first)
{
    if (first < 0x80) {
        return 1;
    }
    if (first < 0xC0 || first > 0xF7) {
        return 0;
    }
    return first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
}

static uint32_t octet(const char *text, size_t at)
{
    return (uint32_t)(unsigned char)text[at];
}

size_t utf8_read(const char *text, size_t len, size_t at, uint32_t *character)
{
    *character = UTF8_REPLACEMENT;
    if (at >= len) {
        return 0;
    }
    uint32_t value = octet(text, at);
    size_t octets = announced(value);
    if (octets == 0) {
        return 0;
    }
    if (octets > 1) {
        value &= 0x7Fu >> octets;
    }
    for (size_t i = 1, from = at + 1; i < octets; i++, from++) {
        if (from >= len || (octet(text, from) & 0xC0u) != 0x80u) {
            return 0;
        }
        value = value << 6 | (octet(text, from) & 0x3Fu);
    }
    if (value < least[octets] || value > CHARACTER_LAST ||
        (value >= SURROGATE_FIRST && value <= SURROGATE_LAST)) {
        return 0;
    }
    *character = value;
    return octets;
}

size_t utf8_write(uint32_t character, char *text, size_t max, size_t at)
{
    static const uint8_t lead[UTF8_OCTETS_MAX + 1] = {0, 0, 0xC0, 0xE0, 0xF0};
    if (character > CHARACTER_LAST ||
        (character >= SURROGATE_FIRST && character <= SURROGATE_LAST)) {
        character = UTF8_REPLACEMENT;
    }
    size_t octets = character < 0x80 ? 1 : character < 0x800 ? 2 : character < 0x10000 ? 3 : 4;
    if (at >= max) {
        return 0;
    }
    size_t end = at + octets;
    if (end > max) {
        return 0;
    }
    for (size_t i = end - 1; i > at; i--) {
        text[i] = (char)(0x80u | (character & 0x3Fu));
        character >>= 6;
    }
    text[at] = (char)(lead[octets] | character);
    return octets;
}
