/* SPDX-License-Identifier: MIT
 * The tables of words: what every row must keep to, and how a word is found. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/words.h"

static const struct word_table *const tables[] = {&words_en, &words_es};

typedef void (*visit)(const struct word_row *row, const char *word, size_t length);

static void visit_words(visit each)
{
    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++) {
        for (size_t r = 0; r < tables[t]->row_count; r++) {
            const struct word_row *row = &tables[t]->rows[r];
            assert_int_equal(strlen(row->words), row->length);
            for (size_t at = 0; at <= row->length;) {
                size_t length = strcspn(row->words + at, "|");
                each(row, row->words + at, length);
                at += length + 1;
            }
        }
    }
}

static void check_spelling(const struct word_row *row, const char *word, size_t length)
{
    (void)row;
    assert_in_range(length, 1, WORDS_PHRASE_OCTETS - 2);
    assert_int_equal(strspn(word, "abcdefghijklmnopqrstuvwxyz0123456789 -"), length);
    assert_true(word[0] != ' ' && word[length - 1] != ' ');
}

static void every_word_is_spelled_as_texts_are_folded(void **state)
{
    (void)state;
    visit_words(check_spelling);
}

static void check_found(const struct word_row *row, const char *word, size_t length)
{
    struct word_sense sense;
    assert_int_equal(words_find(word, length, &sense), length);
    assert_int_equal(sense.classes & row->classes, row->classes);
    if ((row->classes & WORD_WEEKDAY) != 0) {
        assert_int_equal(sense.weekday, row->value);
    } else if ((row->classes & WORD_MONTH) != 0) {
        assert_int_equal(sense.month, row->value);
    } else if (row->value != 0) {
        assert_int_equal(sense.value, row->value); /* no word has two values */
    }
}

static void every_word_is_found_with_all_its_classes(void **state)
{
    (void)state;
    visit_words(check_found);
}

static void check_value(const struct word_row *row, const char *word, size_t length)
{
    (void)word;
    (void)length;
    int16_t least = (row->classes & WORD_MONTH) != 0                    ? 1
                    : (row->classes & (WORD_QUARTS | WORD_LITRES)) != 0 ? 1
                    : (row->classes & WORD_DAY) != 0                    ? -1
                                                                        : 0;
    int16_t most = (row->classes & WORD_MONTH) != 0                    ? 12
                   : (row->classes & WORD_WEEKDAY) != 0                ? 6
                   : (row->classes & (WORD_QUARTS | WORD_LITRES)) != 0 ? 4000
                   : (row->classes & WORD_DAY) != 0                    ? 7
                   : (row->classes & (WORD_DAYPART | WORD_CLOCK)) != 0 ? 2
                   : (row->classes & WORD_REACTION) != 0               ? 1
                                                                       : 0;
    assert_true(row->value >= least && row->value <= most);
}

static void values_belong_to_the_classes_that_have_one(void **state)
{
    (void)state;
    visit_words(check_value);
}

static void each_language_has_every_word_of_the_grammar(void **state)
{
    (void)state;
    /* YES has no Spanish word of its own: "si" assents, as "ok" does. */
    const uint64_t wanted = WORD_DONE | WORD_FIX | WORD_SWAP | WORD_LATER | WORD_PARK | WORD_BACK |
                            WORD_DUE | WORD_UNDO | WORD_NO | WORD_HELP | WORD_STOP | WORD_CANCEL |
                            WORD_START | WORD_ASSENT | WORD_HOURS | WORD_LITRES | WORD_QUARTS;
    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++) {
        uint64_t has = 0;
        for (size_t r = 0; r < tables[t]->row_count; r++) {
            has |= tables[t]->rows[r].classes;
        }
        assert_int_equal(has & wanted, wanted);
    }
}

static void the_longest_word_is_found_where_a_word_ends(void **state)
{
    (void)state;
    static const struct {
        const char *phrase;
        size_t length;
        uint64_t classes;
    } cases[] = {
        {"no", 2, WORD_NO},
        {"no problem", 10, WORD_COURTESY},
        {"no problems", 2, WORD_NO},
        {"no prob at all", 7, WORD_COURTESY},
        {"done-drive", 4, WORD_DONE},
        {"donetsk", 0, 0},
        {"", 0, 0},
        {"xyzzy", 0, 0},
        {"esta manana", 11, WORD_DAY},
        {"the day before yesterday morning it was", 24, WORD_DAY},
        {"the day before yesterday morning it was so and so", 24, WORD_DAY},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct word_sense sense;
        assert_int_equal(words_find(cases[i].phrase, strlen(cases[i].phrase), &sense),
                         cases[i].length);
        assert_int_equal(sense.classes & cases[i].classes, cases[i].classes);
        assert_true((sense.classes == 0) == (cases[i].length == 0));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_word_is_spelled_as_texts_are_folded),
        cmocka_unit_test(every_word_is_found_with_all_its_classes),
        cmocka_unit_test(values_belong_to_the_classes_that_have_one),
        cmocka_unit_test(each_language_has_every_word_of_the_grammar),
        cmocka_unit_test(the_longest_word_is_found_where_a_word_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
