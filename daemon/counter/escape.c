/* SPDX-License-Identifier: MIT
 * escape: see output.h. Content lines of a calendar. */
#include "daemon/counter/output.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include "daemon/ground/neutral.h"

#define LINE_OCTETS 75 /* RFC 5545 3.1, the line break not counted */

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
    char one[NEUTRAL_TEXT_OCTETS];
    size_t column = strlen(name) + 1, length = strlen(value);
    (void)fprintf(out, "%s:", name);
    for (size_t at = 0; at < length;) {
        bool escaped = strchr("\\;,\n", value[at]) != NULL;
        at += neutral_next(value, length, at, NEUTRAL_REPLACED, one);
        size_t octets = strlen(one);
        if (escaped) {
            put_octet(out, '\\', true, 2, &column);
            one[0] = one[0] == '\n' ? 'n' : one[0];
        }
        for (size_t i = 0; i < octets; i++) {
            put_octet(out, (unsigned char)one[i], i == 0 && !escaped, octets, &column);
        }
    }
    (void)fputs("\r\n", out);
}
