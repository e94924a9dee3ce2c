/* SPDX-License-Identifier: MIT
 * words_tables: the languages. */
#include "parsers/words_tables.h"

const struct word_table *const words_tables[] = {&words_en, &words_es};
const size_t words_table_count = sizeof words_tables / sizeof words_tables[0];
