/* SPDX-License-Identifier: MIT
 * markup: see board.h. */
#include "daemon/board/board.h"

#include <string.h>

#include "daemon/ground/neutral.h"

/* NULL where the character means nothing to a page. */
static const char *reference_of(char character)
{
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
        return NULL;
    }
}

void html_text(FILE *out, const char *text)
{
    char one[NEUTRAL_TEXT_OCTETS];
    size_t length = strlen(text);
    for (size_t at = 0; at < length;) {
        const char *reference = reference_of(text[at]);
        at += neutral_next(text, length, at, NEUTRAL_REPLACED, one);
        (void)fputs(reference != NULL ? reference : one, out);
    }
}
