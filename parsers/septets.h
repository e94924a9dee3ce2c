/* SPDX-License-Identifier: MIT
 *
 * The 7-bit alphabets of GSM and their packing, 3GPP TS 23.038: the default alphabet and its
 * extension (6.2.1, 6.2.1.1), the national single shift and locking shift tables (annex A.2, A.3)
 * of Turkish, Spanish and Portuguese, and eight septets in seven octets (6.1.2.1). */
#ifndef METERPOST_PARSERS_SEPTETS_H
#define METERPOST_PARSERS_SEPTETS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define SEPTETS_MAX 160 /* in the 140 octets of one text */
#define SEPTETS_OCTETS_MAX 140
#define SEPTETS_UTF8_MAX 3 /* octets of UTF-8 that one septet can give */
#define SEPTETS_ESCAPE 0x1Bu

/* National language identifiers, TS 23.038 annex A.1. Any other value reads as the default. */
enum septets_language {
    SEPTETS_LANGUAGE_DEFAULT = 0,
    SEPTETS_LANGUAGE_TURKISH = 1,
    SEPTETS_LANGUAGE_SPANISH = 2, /* has a single shift table only */
    SEPTETS_LANGUAGE_PORTUGUESE = 3
};

/* The tables in force for one text. */
struct septets_shift {
    uint8_t locking; /* language of the table in place of the default alphabet */
    uint8_t single;  /* language of the table behind the escape */
};

/* The octets that count septets take when packed. */
#define SEPTETS_PACKED(count) (((count)*7 + 7) / 8)

/* Unpacks count septets, at most SEPTETS_MAX, from octets[0..len-1] into septets[0..count-1].
 * Returns the septets written: fewer than count where the octets hold fewer. A text behind a user
 * data header starts on a septet boundary (fill bits): unpack from the first octet and pass over
 * the septets of the header. */
size_t septets_unpack(const uint8_t *octets, size_t len, uint8_t *septets, size_t count);

/* Packs count septets, at most SEPTETS_MAX, into octets; spare bits at the end are zero. Returns
 * the octets written, SEPTETS_PACKED(count), or 0 with nothing written where max is less. A header
 * that goes before a text is unpacked into septets first. */
size_t septets_pack(const uint8_t *septets, size_t count, uint8_t *octets, size_t max);

/* Reads septets[from] to septets[to - 1] as UTF-8, NUL-terminated. By TS 23.038 6.2.1.1 an escape
 * before a septet without an entry shows the character of the locking table, escape escape a space;
 * a last lone escape shows a space too. Returns the octets without the NUL. Room of
 * (to - from) * SEPTETS_UTF8_MAX + 1 is always enough; where text_max turns out to be too small the
 * text is empty and 0 returned. */
size_t septets_to_utf8(const uint8_t *septets, size_t from, size_t to, struct septets_shift shift,
                       char *text, size_t text_max);

/* Appends text[from] to text[to - 1], UTF-8, to the septets: to septets[*count] and on, *count
 * going along, at most max in all. Stops before a character that is not in the tables, or has no
 * room together with its escape. Returns the index in text at which it stopped, `to` where all is
 * done. */
size_t septets_from_utf8(const char *text, size_t from, size_t to, struct septets_shift shift,
                         uint8_t *septets, size_t max, size_t *count);

/* The septets that one character takes: 1, 2 (behind an escape), or 0 where the tables do not have
 * it. *code is the septet, without the escape. */
size_t septets_of(uint32_t character, struct septets_shift shift, uint8_t *code);

/* Whether a UTF-8 text is wholly in the default alphabet with its extension; *count is its length
 * in septets (of the part before the first character that is not). Any length of text. */
bool septets_count(const char *text, size_t len, size_t *count);

#endif
