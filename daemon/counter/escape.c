/* SPDX-License-Identifier: MIT
 * escape: see output.h. Foreign text made safe for where it goes. */
#include "daemon/counter/output.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include "parsers/utf8.h"

#define LINE_OCTETS 75 /* RFC 5545 3.1, the line break not counted */
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

/* Writes one octet, or the fold before it. */
static void put_octet(FILE *out, unsigned char octet, bool begins_character, size_t left,
                      size_t *column)
{
    if (begins_character && *column + left > LINE_OCTETS) {
        (void)fputs("\r\n ", out);
        *column = 1;
    }
    (void)fputc(octet, out);
    (*column)++;
}

void calendar_line(FILE *out, const char *name, const char *value)
{
    size_t column = strlen(name) + 1;
    (void)fprintf(out, "%s:", name);
    for (size_t i = 0; value[i] != '\0'; i++) {
        unsigned char octet = (unsigned char)value[i];
        bool escaped = strchr("\\;,", octet) != NULL || octet == '\n';
        bool begins = (octet & 0xC0) != 0x80;
        if ((octet < 0x20 && octet != '\n') || octet == 0x7F) {
            continue; /* no other control character may stand in a TEXT */
        }
        if (escaped) {
            put_octet(out, '\\', true, 2, &column);
            put_octet(out, octet == '\n' ? 'n' : octet, false, 1, &column);
        } else {
            size_t octets = octet < 0x80 ? 1 : octet < 0xE0 ? 2 : octet < 0xF0 ? 3 : 4;
            put_octet(out, octet, begins, octets, &column);
        }
    }
    (void)fputs("\r\n", out);
}
