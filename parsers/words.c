/* SPDX-License-Identifier: MIT
 * words: which word of the tables begins here in the text?
 *
 * The units are spelled as the tables are: lower case, single blanks, no apostrophes ("what's" is
 * "whats"), no points in "p.m.". Letter by letter a way is followed through the dictionary, a tree of
 * all words that the build makes of the tables (fixtures/dictionary). */
#include "parsers/crew_text_items.h"

#define NOWHERE 0
#define UNKNOWN_LETTER '?' /* a letter that no table has; it keeps a word from ending there */
#define WORDS_LETTERS 128

/* What was spelled so far. */
struct word_place {
    uint16_t child;   /* the place after one of the letters that may come next */
    uint16_t sibling; /* the place with another letter instead of the last */
    uint16_t sense;   /* what the word that ends here can mean; 0: none does */
    char letter;
};

#include "parsers/words_dictionary.inc"

static bool is_apostrophe_inside(const struct fold *fold, size_t at)
{
    return fold_at(fold, at) == '\'' && fold_is_letter(fold_at(fold, at + 1));
}

/* True for a unit inside a phrase that is not spelled: an apostrophe, a blank behind a blank, the point
 * between two letters that each stand alone in "p.m.". */
static bool is_passed_over(const struct fold *fold, size_t at)
{
    bool point = at >= 2 && fold_at(fold, at) == '.' && fold_is_letter(fold_at(fold, at - 1)) &&
                 !fold_is_letter(fold_at(fold, at - 2)) && fold_is_letter(fold_at(fold, at + 1)) &&
                 !fold_is_alnum(fold_at(fold, at + 2));
    return point || is_apostrophe_inside(fold, at) ||
           (fold_is_blank(fold_at(fold, at)) && fold_is_blank(fold_at(fold, at - 1)));
}

/* '\0' for what is no part of any phrase. */
static char spell(uint16_t unit)
{
    if (fold_is_blank(unit) || unit == '-') {
        return (char)unit;
    }
    if (!fold_is_alnum(unit)) {
        return '\0';
    }
    return unit < WORDS_LETTERS ? (char)fold_lower(unit) : UNKNOWN_LETTER;
}

/* The place after one more letter. */
static size_t step(size_t place, char letter)
{
    size_t next = place < WORDS_WIDE
                      ? wide[place][letter_numbers[(unsigned char)letter % WORDS_LETTERS]]
                      : places[place].child % WORDS_PLACES;
    while (next != NOWHERE && places[next].letter != letter) {
        next = places[next].sibling % WORDS_PLACES;
    }
    return next;
}

/* The longest word or phrase in the units [at, limit). */
static size_t find(const struct fold *fold, size_t at, size_t limit, struct word_sense *sense)
{
    size_t place = WORDS_START;
    size_t spelled = at;
    size_t longest = 0;
    *sense = (struct word_sense){0};
    for (size_t i = at; i <= limit && place != NOWHERE; i++) {
        char letter = i < limit ? spell(fold_at(fold, i)) : '\0';
        bool ends = letter == '\0' || letter == ' ' || letter == '-';
        if (ends && i > at && i < limit && is_passed_over(fold, i)) {
            continue;
        }
        if (ends && places[place].sense != 0) {
            longest = spelled;
            *sense = senses[places[place].sense % (sizeof senses / sizeof senses[0])];
        }
        place = letter != '\0' ? step(place, letter) : NOWHERE;
        spelled = i + 1;
    }
    return longest;
}

size_t phrase_at(const struct fold *fold, size_t at, struct word_sense *sense)
{
    return find(fold, at, fold->count, sense);
}

bool phrase_is(const struct fold *fold, size_t first, size_t end, struct word_sense *sense)
{
    return find(fold, first, end, sense) > 0;
}

size_t phrase_word_end(const struct fold *fold, size_t at)
{
    size_t end = at;
    while (fold_is_alnum(fold_at(fold, end)) || is_apostrophe_inside(fold, end)) {
        end++;
    }
    return end;
}
