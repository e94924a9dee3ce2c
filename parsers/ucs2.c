/* SPDX-License-Identifier: MIT
 *
 * UCS-2 to UTF-8 and back. */
#include "parsers/ucs2.h"

#include "parsers/utf8.h"

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
