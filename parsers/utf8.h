/* SPDX-License-Identifier: MIT
 *
 * One character of UTF-8 at a time (RFC 3629): nothing overlong, no surrogate, nothing past
 * U+10FFFF. */
#ifndef METERPOST_PARSERS_UTF8_H
#define METERPOST_PARSERS_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define UTF8_OCTETS_MAX 4
#define UTF8_REPLACEMENT 0xFFFDu /* stands for what could not be read */

/* Reads the character that starts at text[at], at < len. Returns the octets it takes, 1 to 4, and
 * sets *character; where there is no well-formed character returns 0 and sets *character to
 * UTF8_REPLACEMENT. */
size_t utf8_read(const char *text, size_t len, size_t at, uint32_t *character);

/* Writes character to text[at...] and returns the octets written, 1 to 4; returns 0 and writes
 * nothing where max leaves no room for it. A surrogate or a value past U+10FFFF is written as
 * U+FFFD. */
size_t utf8_write(uint32_t character, char *text, size_t max, size_t at);

/* UCS-2 as phones use it is UTF-16, high octet first, with surrogate pairs for what lies past U+FFFF
 * (3GPP TS 23.038 clause 6.2.3; RFC 2781). */

/* The longest UTF-8 text, without a NUL, that len octets of UCS-2 can give. */
#define UCS2_TEXT_OCTETS(len) (((len) + 1) / 2 * 3)

/* Reads octets[from] to octets[to - 1] into text as UTF-8, NUL-terminated; text_max must be more
 * than UCS2_TEXT_OCTETS(to - from), else text is empty. A lone surrogate, a NUL (so that the text
 * has one length) and a last octet without its twin become U+FFFD; wherever that stands in the text
 * *damaged is set, which is otherwise left alone. Returns the octets of text without the NUL. */
size_t ucs2_to_utf8(const uint8_t *octets, size_t from, size_t to, char *text, size_t text_max,
                    bool *damaged);

/* Appends text[from] to text[to - 1], UTF-8, to the octets: to octets[*count] and on, *count going
 * along, at most max in all. Stops before what is not UTF-8, a NUL, or a character that has no room
 * as a whole. Returns the index in text at which it stopped, `to` where all is done. */
size_t ucs2_from_utf8(const char *text, size_t from, size_t to, uint8_t *octets, size_t max,
                      size_t *count);

#endif
