/* SPDX-License-Identifier: MIT
 * crew_text_shop: a machine and a word of the grammar: DONE FIX SWAP LATER PARK BACK. */
#ifndef METERPOST_PARSERS_CREW_TEXT_SHOP_H
#define METERPOST_PARSERS_CREW_TEXT_SHOP_H

#include "parsers/crew_text_remark.h"

/* All the words that are read here. */
#define WORDS_OF_SHOP (WORD_DONE | WORD_FIX | WORD_SWAP | WORD_LATER | WORD_PARK | WORD_BACK)

/* The item of the word, where one stands at item i, a plan's name perhaps before DONE; the items'
 * count where none does. */
size_t shop_word_at(const struct items *items, size_t i, int32_t *plan);

/* Reads the statement whose word is at item i into *out (its machine and plan stay). Returns the
 * item after it. */
size_t shop_read(const struct items *items, size_t i, struct crew_statement *out);

#endif
