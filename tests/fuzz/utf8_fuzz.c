/* SPDX-License-Identifier: MIT
 *
 * ucs2 and utf8: the input as UCS-2, and as UTF-8. -max_len=300 */
#include <stdbool.h>
#include <string.h>

#include "parsers/utf8.h"
#include "tests/fuzz/fuzz.h"

#define OCTETS_MAX 300
#define TEXT_MAX (UCS2_TEXT_OCTETS(OCTETS_MAX) + 1)

/* A text shown from UCS-2 is UTF-8 in bounds; undamaged it is written as the same octets. */
static void shown(const uint8_t *octets, size_t len)
{
    char text[TEXT_MAX];
    uint8_t again[OCTETS_MAX];
    size_t count = 0;
    bool damaged = false;
    size_t text_len = ucs2_to_utf8(octets, 0, len, text, sizeof text, &damaged);
    PROPERTY(text_len <= UCS2_TEXT_OCTETS(len) && strlen(text) == text_len);
    PROPERTY(damaged == (strstr(text, "\xEF\xBF\xBD") != NULL));
    PROPERTY(len % 2 == 0 || damaged);
    PROPERTY(damaged || ucs2_from_utf8(text, 0, text_len, again, sizeof again, &count) == text_len);
    PROPERTY(damaged || (count == len && memcmp(again, octets, len) == 0));
}

/* As much of a text as is written is read back. */
static void written(const char *text, size_t len)
{
    uint8_t octets[OCTETS_MAX];
    char back[TEXT_MAX];
    size_t count = 0;
    bool damaged = false;
    size_t stopped = ucs2_from_utf8(text, 0, len, octets, sizeof octets, &count);
    PROPERTY(stopped <= len && count <= sizeof octets && count % 2 == 0);
    PROPERTY(ucs2_to_utf8(octets, 0, count, back, sizeof back, &damaged) == stopped);
    PROPERTY(memcmp(back, text, stopped) == 0);
}

/* Each character is in its one form: written again it takes the same octets. */
static void characters(const char *text, size_t len)
{
    size_t at = 0;
    while (at < len) {
        uint32_t character = 0;
        char again[UTF8_OCTETS_MAX];
        size_t read = utf8_read(text, len, at, &character);
        PROPERTY(read <= UTF8_OCTETS_MAX && read <= len - at);
        PROPERTY(read > 0 || character == UTF8_REPLACEMENT);
        if (read > 0) {
            PROPERTY(utf8_write(character, again, sizeof again, 0) == read);
            PROPERTY(memcmp(again, text + at, read) == 0);
        }
        at += read > 0 ? read : 1;
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    if (len <= OCTETS_MAX) {
        shown(input, len);
        written((const char *)input, len);
        characters((const char *)input, len);
    }
    return 0;
}
