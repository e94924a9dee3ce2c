/* SPDX-License-Identifier: MIT
 * settings_text: checks of one text's characters. */
#include "config/settings_text.h"

#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include "parsers/septets.h"
#include "parsers/utf8.h"

static bool control(uint32_t character)
{
    return character < 0x20 || (character >= 0x7F && character < 0xA0);
}

const char *settings_text_flaw(const char *text, bool spoken)
{
    size_t length = strlen(text), taken = 0;
    for (size_t at = 0; at < length; at += taken) {
        uint32_t character = 0;
        taken = utf8_read(text, length, at, &character);
        if (taken == 0) {
            return "is not in UTF-8; save the file in that encoding";
        }
        if (control(character)) {
            return "holds a line break or control character; one line of plain text is expected";
        }
    }
    size_t septets = 0;
    if (spoken && !septets_count(text, length, &septets)) {
        return "holds a character that plain texts do not have; letters of the GSM alphabet are "
               "expected (it has no accents but those of \xC3\xA0 \xC3\xA9 \xC3\xA8 \xC3\xAC "
               "\xC3\xB2 \xC3\xB9 \xC3\xB1 \xC3\xBC \xC3\xA4 \xC3\xB6)";
    }
    return NULL;
}
