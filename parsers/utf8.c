/* SPDX-License-Identifier: MIT
 * utf8: UTF-8, one character at a time; UCS-2 to UTF-8 and back. */
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

static uint32_t unit(const uint8_t *octets, size_t at)
{
    return (uint32_t)octets[at] << 8 | octets[at + 1];
}

static void put_unit(uint8_t *octets, size_t at, uint32_t unit)
{
    octets[at] = (uint8_t)(unit >> 8);
    octets[at + 1] = (uint8_t)(unit & 0xFFu);
}

static bool is_high(uint32_t unit)
{
    return (unit & 0xFC00u) == 0xD800u;
}

static bool is_low(uint32_t unit)
{
    return (unit & 0xFC00u) == 0xDC00u;
}

/* Reads the character at `at`, at < to; returns the octets it takes. */
static size_t read_character(const uint8_t *octets, size_t to, size_t at, uint32_t *character)
{
    *character = UTF8_REPLACEMENT;
    if (at + 2 > to) {
        return 1;
    }
    uint32_t first = unit(octets, at);
    if (is_high(first) && at + 4 <= to) {
        uint32_t second = unit(octets, at + 2);
        if (is_low(second)) {
            *character = 0x10000u + ((first & 0x3FFu) << 10 | (second & 0x3FFu));
            return 4;
        }
    }
    if (first != 0 && !is_high(first) && !is_low(first)) {
        *character = first;
    }
    return 2;
}

size_t ucs2_to_utf8(const uint8_t *octets, size_t from, size_t to, char *text, size_t text_max,
                    bool *damaged)
{
    size_t used = 0;
    if (from < to && text_max <= UCS2_TEXT_OCTETS(to - from)) {
        to = from;
    }
    for (size_t at = from; at < to;) {
        uint32_t character = 0;
        at += read_character(octets, to, at, &character);
        *damaged = *damaged || character == UTF8_REPLACEMENT;
        used += utf8_write(character, text, text_max, used);
    }
    if (used < text_max) {
        text[used] = '\0';
    }
    return used;
}

size_t ucs2_from_utf8(const char *text, size_t from, size_t to, uint8_t *octets, size_t max,
                      size_t *count)
{
    size_t used = *count;
    size_t at = from;
    /*@ loop widen_hints used, 140; */ /* the most that a text has, for the analyser */
    while (at < to) {
        uint32_t character = 0;
        size_t read = utf8_read(text, to, at, &character);
        size_t end = used + (character < 0x10000 ? 2 : 4);
        if (read == 0 || character == 0 || end > max) {
            break;
        }
        if (character >= 0x10000) {
            put_unit(octets, used, 0xD800u + ((character - 0x10000u) >> 10));
            put_unit(octets, used + 2, 0xDC00u + (character & 0x3FFu));
        } else {
            put_unit(octets, used, character);
        }
        used = end;
        at += read;
    }
    *count = used;
    return at;
}
