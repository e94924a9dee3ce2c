/* SPDX-License-Identifier: MIT
 * crew_text_phrase: which word of the tables begins here in the text?
 *
 * The units are spelled as the tables are: lower case, single blanks, no apostrophes ("what's" is
 * "whats"), no points in "p.m.". */
#include "parsers/crew_text_items.h"

#define UNKNOWN_LETTER '?' /* a letter that no table has; it keeps a word from ending there */

struct spelling {
    size_t length;
    char text[WORDS_PHRASE_OCTETS];
    size_t end[WORDS_PHRASE_OCTETS]; /* the unit after each octet */
};

/* "p.m.": a point between two letters that each stand alone. */
static bool is_point_inside(const struct fold *fold, size_t at)
{
    return at >= 2 && fold_at(fold, at) == '.' && fold_is_letter(fold_at(fold, at - 1)) &&
           !fold_is_letter(fold_at(fold, at - 2)) && fold_is_letter(fold_at(fold, at + 1)) &&
           !fold_is_alnum(fold_at(fold, at + 2));
}

static bool is_apostrophe_inside(const struct fold *fold, size_t at)
{
    return fold_at(fold, at) == '\'' && fold_is_letter(fold_at(fold, at + 1));
}

static char spell(uint16_t unit)
{
    if (fold_is_blank(unit) || unit == '-') {
        return (char)unit;
    }
    if (!fold_is_alnum(unit)) {
        return '\0';
    }
    return unit < 0x80 ? (char)fold_lower(unit) : UNKNOWN_LETTER;
}

static void spell_phrase(const struct fold *fold, size_t at, size_t limit, struct spelling *out)
{
    size_t length = 0;
    *out = (struct spelling){0};
    for (size_t i = at; i < limit && length < WORDS_PHRASE_OCTETS; i++) {
        char c = spell(fold_at(fold, i));
        if (i > at && (is_apostrophe_inside(fold, i) || is_point_inside(fold, i) ||
                       (c == ' ' && fold_is_blank(fold_at(fold, i - 1))))) {
            continue;
        }
        if (c == '\0') {
            return;
        }
        out->text[length] = c;
        out->end[length] = i + 1;
        length++;
        out->length = length;
    }
}

size_t phrase_at(const struct fold *fold, size_t at, struct word_sense *sense)
{
    struct spelling spelling;
    spell_phrase(fold, at, fold->count, &spelling);
    size_t found = words_find(spelling.text, spelling.length, sense);
    return found > 0 ? spelling.end[found - 1] : 0;
}

bool phrase_is(const struct fold *fold, size_t first, size_t end, struct word_sense *sense)
{
    struct spelling spelling;
    spell_phrase(fold, first, end, &spelling);
    return words_find(spelling.text, spelling.length, sense) > 0;
}

size_t phrase_word_end(const struct fold *fold, size_t at)
{
    size_t end = at;
    while (fold_is_alnum(fold_at(fold, end)) || is_apostrophe_inside(fold, end)) {
        end++;
    }
    return end;
}
