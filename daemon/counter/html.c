/* SPDX-License-Identifier: MIT
 * html: see html.h. */
#include "daemon/counter/html.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include "parsers/utf8.h"

#define REPLACEMENT "\xEF\xBF\xBD"

/* NULL where the character may stand as it is. What turns the direction of writing could make a
 * page say another thing than it holds (Unicode UAX #9). */
static const char *reference_of(uint32_t character)
{
    bool turns = (character >= 0x202A && character <= 0x202E) ||
                 (character >= 0x2066 && character <= 0x2069);
    switch (character) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    case '\n':
    case '\r':
    case '\t':
        return " ";
    default:
        return character < 0x20 || (character >= 0x7F && character < 0xA0) || turns ? REPLACEMENT
                                                                                    : NULL;
    }
}

void html_text(FILE *out, const char *text)
{
    size_t length = strlen(text);
    for (size_t at = 0; at < length;) {
        uint32_t character = 0;
        size_t octets = utf8_read(text, length, at, &character);
        const char *reference = octets == 0 ? REPLACEMENT : reference_of(character);
        octets = octets == 0 ? 1 : octets;
        if (reference != NULL) {
            (void)fputs(reference, out);
        } else {
            (void)fwrite(&text[at], 1, octets, out);
        }
        at += octets;
    }
}
