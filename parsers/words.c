/* SPDX-License-Identifier: MIT
 * words: looks a word up in the dictionary.
 *
 * Letter by letter the entries are narrowed down to those that begin as the phrase does. They are in
 * order, so these stand together, the shortest first: it is the one that ends there, if any does. */
#include "parsers/words.h"

#include <stdbool.h>

#include "parsers/words_dictionary.h"

static bool ends_at(const char *phrase, size_t length, size_t at)
{
    return at >= length || phrase[at] == ' ' || phrase[at] == '-';
}

/* The first of the entries [low, high) with at least the letter at place k; they are alike before
 * that. high where there is none. */
static size_t first_from(size_t low, size_t high, size_t k, int letter)
{
    size_t first = low;
    size_t past = high;
    while (first < past) {
        size_t middle = (first + past) / 2;
        if (words_dictionary.entries[middle].word[k] < letter) {
            first = middle + 1;
        } else {
            past = middle;
        }
    }
    return past; /* both are the same here; this one is plainly no more than high */
}

size_t words_find(const char *phrase, size_t length, struct word_sense *sense)
{
    size_t end = length < WORDS_PHRASE_OCTETS ? length : WORDS_PHRASE_OCTETS;
    size_t low = 0;
    size_t high = words_dictionary.count;
    size_t longest = 0;
    *sense = (struct word_sense){0};
    for (size_t k = 0; k < end; k++) {
        low = first_from(low, high, k, phrase[k]);
        high = first_from(low, high, k, phrase[k] + 1);
        if (low >= high) {
            break;
        }
        const struct word_entry *entry = &words_dictionary.entries[low];
        if (entry->length == k + 1 && ends_at(phrase, end, k + 1)) {
            longest = k + 1;
            *sense = entry->sense;
        }
    }
    return longest;
}
