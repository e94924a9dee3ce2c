/* SPDX-License-Identifier: MIT
 * words_dictionary: all words of words_tables.h once each, in the order of their octets, with all that
 * they can mean. words_dictionary.c is made by `make words`, and held against the tables by a test. */
#ifndef METERPOST_PARSERS_WORDS_DICTIONARY_H
#define METERPOST_PARSERS_WORDS_DICTIONARY_H

#include "parsers/words.h"

struct word_entry {
    char word[WORDS_PHRASE_OCTETS]; /* filled up with NUL */
    uint8_t length;
    struct word_sense sense;
};

struct word_dictionary {
    const struct word_entry *entries;
    size_t count;
};
extern const struct word_dictionary words_dictionary;

#endif
