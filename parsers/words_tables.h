/* SPDX-License-Identifier: MIT
 * words_tables: where words are written down, one table a language, the words of a class together. A
 * further language is one more table; `make words` then makes the dictionary of them all anew. */
#ifndef METERPOST_PARSERS_WORDS_TABLES_H
#define METERPOST_PARSERS_WORDS_TABLES_H

#include "parsers/words.h"

/* One row: words of the same classes and value, parted by '|'; a blank inside a word of several
 * stands for a blank in the text. A word may stand in several rows. */
struct word_row {
    uint64_t classes;
    int16_t value;
    const char *words;
};

struct word_table {
    const struct word_row *rows;
    size_t row_count;
};
extern const struct word_table words_en;
extern const struct word_table words_es;

/* All of them. */
extern const struct word_table *const words_tables[];
extern const size_t words_table_count;

#endif
