/* SPDX-License-Identifier: MIT
 *
 * UCS-2 as phones use it: UTF-16, high octet first, with surrogate pairs for what lies past U+FFFF
 * (3GPP TS 23.038 clause 6.2.3; RFC 2781). */
#ifndef METERPOST_PARSERS_UCS2_H
#define METERPOST_PARSERS_UCS2_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The longest UTF-8 text, without a NUL, that len octets of UCS-2 can give. */
#define UCS2_TEXT_OCTETS(len) (((len) + 1) / 2 * 3)

/* Reads len octets into text as UTF-8, NUL-terminated; text_max must be more than
 * UCS2_TEXT_OCTETS(len), else text is empty. A lone surrogate, a NUL (so that the text has one
 * length) and a last octet without its twin become U+FFFD; wherever that stands in the text
 * *damaged is set, which is otherwise left alone. Returns the octets of text without the NUL. */
size_t ucs2_to_utf8(const uint8_t *octets, size_t len, char *text, size_t text_max, bool *damaged);

/* Writes a UTF-8 text as UCS-2 into octets; *written is the count of octets. False where the text is
 * not UTF-8, holds a NUL or has no room: what came before that is written. */
bool ucs2_from_utf8(const char *text, size_t len, uint8_t *octets, size_t max, size_t *written);

#endif
