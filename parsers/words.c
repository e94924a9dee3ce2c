/* SPDX-License-Identifier: MIT
 * words: looks a word up in the tables of all languages. */
#include "parsers/words.h"

#include <stdbool.h>

static const struct word_table *const tables[] = {&words_en, &words_es};

static bool ends_at(const char *phrase, size_t length, size_t at)
{
    return at >= length || phrase[at] == ' ' || phrase[at] == '-';
}

/* The longest word of a row that the phrase begins with, in octets. */
static size_t longest_of_row(const struct word_row *row, const char *phrase, size_t length)
{
    size_t longest = 0;
    size_t alike = 0;
    bool differs = false;
    for (size_t i = 0; i <= row->length; i++) {
        char c = row->words[i];
        if (c == '|' || c == '\0') {
            if (!differs && alike > longest && ends_at(phrase, length, alike)) {
                longest = alike;
            }
            alike = 0;
            differs = false;
        } else if (alike < length && phrase[alike] == c) {
            alike++;
        } else {
            differs = true;
        }
    }
    return longest;
}

static void add_sense(const struct word_row *row, struct word_sense *sense)
{
    sense->classes |= row->classes;
    if ((row->classes & WORD_WEEKDAY) != 0) {
        sense->weekday = (int8_t)row->value;
    } else if ((row->classes & WORD_MONTH) != 0) {
        sense->month = (int8_t)row->value;
    } else if (row->value != 0) {
        sense->value = row->value;
    }
}

static size_t find_in_table(const struct word_table *table, const char *phrase, size_t length,
                            size_t longest, struct word_sense *sense)
{
    for (size_t i = 0; i < table->row_count; i++) {
        size_t found = longest_of_row(&table->rows[i], phrase, length);
        if (found > longest) {
            longest = found;
            *sense = (struct word_sense){0};
        }
        if (found > 0 && found == longest) {
            add_sense(&table->rows[i], sense);
        }
    }
    return longest;
}

size_t words_find(const char *phrase, size_t length, struct word_sense *sense)
{
    size_t looked_at = length < WORDS_PHRASE_OCTETS ? length : WORDS_PHRASE_OCTETS;
    size_t longest = 0;
    *sense = (struct word_sense){0};
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        longest = find_in_table(tables[i], phrase, looked_at, longest, sense);
    }
    return longest;
}
