/* SPDX-License-Identifier: MIT
 * crew_text_phrase: which word of the tables begins here in the text? */
#ifndef METERPOST_PARSERS_CREW_TEXT_PHRASE_H
#define METERPOST_PARSERS_CREW_TEXT_PHRASE_H

#include "parsers/crew_text_fold.h"
#include "parsers/words.h"

/* The unit after the longest word or phrase of the tables that begins at a unit and ends where a
 * word ends; 0 where there is none. *sense: what it can mean. */
size_t phrase_at(const struct fold *fold, size_t at, struct word_sense *sense);

/* True where the letters [first, end) are a word of the tables. */
bool phrase_is(const struct fold *fold, size_t first, size_t end, struct word_sense *sense);

/* The unit after the word (letters and digits, apostrophes inside) that begins at a unit. */
size_t phrase_word_end(const struct fold *fold, size_t at);

#endif
