/* SPDX-License-Identifier: MIT
 * width: how many columns a text takes on a terminal, and where it can be broken. By its own small
 * table and not by the locale, which a box may not have. */
#ifndef METERPOST_DAEMON_COUNTER_WIDTH_H
#define METERPOST_DAEMON_COUNTER_WIDTH_H

#include <stddef.h>
#include <stdint.h>

/* 0 for marks that stand upon the character before, 2 for the wide characters of East Asia and
 * emoji (Unicode UAX #11), else 1. Known are the marks of Latin, Greek, Cyrillic, Hebrew and
 * Arabic, and those of general use. */
size_t width_of_character(uint32_t character);

/* Of NUL-terminated UTF-8; an octet that is none of it takes one column. */
size_t width_of(const char *text);

/* The longest word, set apart by blanks. */
size_t width_of_longest_word(const char *text);

/* One line of text within that many columns, at least one character: returns the octets of it,
 * broken at a blank where there is one. *next is where the next line begins, past the blanks. */
size_t width_break(const char *text, size_t columns, size_t *next);

#endif
