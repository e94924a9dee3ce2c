/* SPDX-License-Identifier: MIT
 * words_tables: where words are written down, one table a language, the words of a class together. The
 * build makes the dictionary that parsers/words.c looks words up in of them all. */
#ifndef METERPOST_PARSERS_WORDS_TABLES_H
#define METERPOST_PARSERS_WORDS_TABLES_H

#include "parsers/words.h"

/* The languages. A further one is its name in this list, and two files: a table like words_en.c, and
 * one like daemon/desk/wording_en.c, what is said in it. */
#define WORDS_LANGUAGES(LANGUAGE) LANGUAGE(en) LANGUAGE(es) LANGUAGE(fr)

/* Their numbers in that order, WORDS_LANGUAGE_en the first, and how many there are. */
#define WORDS_NUMBER(name) WORDS_LANGUAGE_##name,
enum words_language { WORDS_LANGUAGES(WORDS_NUMBER) WORDS_LANGUAGE_COUNT };
#undef WORDS_NUMBER

/* One row: words of the same classes and value, parted by '|'; a blank inside a word of several
 * stands for a blank in the text. A word may stand in several rows. */
struct word_row {
    uint64_t classes; /* or topics */
    int16_t value;
    const char *words;
};

struct word_table {
    const struct word_row *rows;
    size_t row_count;
    const struct word_row *topics; /* rows of topics */
    size_t topic_count;
};

#define WORDS_DECLARE(name) extern const struct word_table words_##name;
WORDS_LANGUAGES(WORDS_DECLARE)
#undef WORDS_DECLARE

#endif
