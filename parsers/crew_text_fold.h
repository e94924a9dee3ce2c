/* SPDX-License-Identifier: MIT
 * crew_text_fold: a text as the grammar sees it, one unit a character.
 *
 * What phones and hands add is taken off: accents, full-width forms, curly quotes, long dashes,
 * odd blanks, invisible characters. Case stays (l and I look like 1, L does not); compare with
 * fold_lower. Each unit knows which octets of the text it stands for. */
#ifndef METERPOST_PARSERS_CREW_TEXT_FOLD_H
#define METERPOST_PARSERS_CREW_TEXT_FOLD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/crew_text.h"

/* Units beside ASCII: letters of other alphabets as they are (up to U+DFFF), and these. */
#define FOLD_EMOJI 0xE000
#define FOLD_THUMB_UP 0xE001   /* also the check mark and the OK hand: assent */
#define FOLD_THUMB_DOWN 0xE002 /* dissent */
#define FOLD_HEART 0xE003
#define FOLD_FRACTION 0xE004 /* a half, a quarter: part of no figure that we read */
#define FOLD_LETTER 0xFFFF   /* a letter beyond the basic plane */

struct fold {
    size_t count;
    uint16_t unit[CREW_TEXT_OCTETS_MAX];
    uint16_t start[CREW_TEXT_OCTETS_MAX]; /* first octet of the unit */
    uint16_t stop[CREW_TEXT_OCTETS_MAX];  /* the octet after it */
};

/* Folds at most CREW_TEXT_OCTETS_MAX octets of UTF-8; malformed octets are passed over. */
void fold_text(const char *text, size_t length, struct fold *out);

/* The unit that stands for a character, 0 where it is passed over. */
uint16_t fold_character(uint32_t character);

/* The unit at an index, 0 past the last one. */
uint16_t fold_at(const struct fold *fold, size_t index);

/* The octets of the units [first, end); an empty slice where there are none. */
struct crew_slice fold_slice(const struct fold *fold, size_t first, size_t end);

bool fold_is_blank(uint16_t unit);
bool fold_is_digit(uint16_t unit);
bool fold_is_letter(uint16_t unit);
bool fold_is_alnum(uint16_t unit);
bool fold_is_upper(uint16_t unit); /* an ASCII capital */
uint16_t fold_lower(uint16_t unit);

/* 0 to 9 for a digit, else -1. */
int32_t fold_digit(uint16_t unit);

/* '0' to '9' for a digit and for a letter that looks like one (O, o, l, I), else 0. */
uint16_t fold_as_digit(uint16_t unit);

#endif
