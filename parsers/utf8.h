/* SPDX-License-Identifier: MIT
 *
 * One character of UTF-8 at a time (RFC 3629): nothing overlong, no surrogate, nothing past
 * U+10FFFF. */
#ifndef METERPOST_PARSERS_UTF8_H
#define METERPOST_PARSERS_UTF8_H

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

#endif
