/* SPDX-License-Identifier: MIT
 * neutral: see neutral.h. */
#include "daemon/ground/neutral.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "parsers/utf8.h"

#define REPLACEMENT "\xEF\xBF\xBD" /* U+FFFD */

static bool is_harmless(uint32_t character, enum neutral_form form)
{
    static const struct {
        uint32_t from, to;
    } commands[] = {{0x00, 0x1F},     {0x7F, 0x9F},     {0x061C, 0x061C}, {0x200E, 0x200F},
                    {0x2028, 0x202E}, {0x2066, 0x2069}, {0xFEFF, 0xFEFF}};
    if (character == '\n' || character == '\t') {
        return form != NEUTRAL_OCTETS;
    }
    for (size_t i = 0; i < sizeof commands / sizeof commands[0]; i++) {
        if (character >= commands[i].from && character <= commands[i].to) {
            return false;
        }
    }
    return true;
}

static void write_octets(const char *text, size_t octets, char out[NEUTRAL_TEXT_OCTETS])
{
    for (size_t i = 0; i < octets; i++) {
        (void)snprintf(out + 4 * i, NEUTRAL_TEXT_OCTETS - 4 * i, "\\x%02X",
                       (unsigned)(unsigned char)text[i]);
    }
}

size_t neutral_next(const char *text, size_t length, size_t at, enum neutral_form form,
                    char out[NEUTRAL_TEXT_OCTETS])
{
    uint32_t character = 0;
    size_t octets = utf8_read(text, length, at, &character);
    bool read = octets > 0;
    octets = read ? octets : 1;
    if (read && is_harmless(character, form)) {
        memcpy(out, text + at, octets);
        out[octets] = '\0';
    } else if (form == NEUTRAL_OCTETS) {
        write_octets(text + at, octets, out);
    } else if (form == NEUTRAL_REFERENCED && read) { /* all of them are below U+10000 */
        (void)snprintf(out, NEUTRAL_TEXT_OCTETS, "\\u%04x", (unsigned)character);
    } else {
        (void)snprintf(out, NEUTRAL_TEXT_OCTETS, "%s", REPLACEMENT);
    }
    return octets;
}

#define DOTS "..."

const char *neutral_text(const char *text, size_t length, enum neutral_form form, char *out,
                         size_t size)
{
    size_t used = 0;
    char one[NEUTRAL_TEXT_OCTETS];
    for (size_t at = 0; at < length;) {
        at += neutral_next(text, length, at, form, one);
        if (used + strlen(one) + sizeof DOTS > size) {
            used += used + sizeof DOTS <= size ? strlen(strcpy(out + used, DOTS)) : 0;
            break;
        }
        memcpy(out + used, one, strlen(one));
        used += strlen(one);
    }
    if (size > 0) {
        out[used] = '\0';
    }
    return out;
}
