/* SPDX-License-Identifier: MIT
 * The tables of words: what every row must keep to, that the dictionary says what they say, and how a
 * word is found. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/crew_text_items.h"
#include "parsers/words_tables.h"

#define ENTRIES_MAX 8192
#define WORD_OCTETS 40

#define ADDRESS(name) &words_##name,
static const struct word_table *const tables[] = {WORDS_LANGUAGES(ADDRESS)};
#define TABLES (sizeof tables / sizeof tables[0])

typedef void (*visit)(const struct word_row *row, bool topics, const char *word, size_t length);

static void visit_rows(const struct word_row *rows, size_t count, bool topics, visit each)
{
    for (size_t r = 0; r < count; r++) {
        for (const char *word = rows[r].words; word != NULL;) {
            size_t length = strcspn(word, "|");
            each(&rows[r], topics, word, length);
            word = word[length] == '|' ? word + length + 1 : NULL;
        }
    }
}

static void visit_words(visit each)
{
    for (size_t t = 0; t < TABLES; t++) {
        visit_rows(tables[t]->rows, tables[t]->row_count, false, each);
        visit_rows(tables[t]->topics, tables[t]->topic_count, true, each);
    }
}

/* The octets of the longest word that a phrase begins with; each is a unit. */
static size_t find(const char *phrase, size_t length, struct word_sense *sense)
{
    struct fold fold;
    fold_text(phrase, length, &fold);
    return phrase_at(&fold, 0, sense);
}

static void check_spelling(const struct word_row *row, bool topics, const char *word, size_t length)
{
    (void)row;
    (void)topics;
    assert_in_range(length, 1, WORD_OCTETS - 2);
    assert_int_equal(strspn(word, "abcdefghijklmnopqrstuvwxyz0123456789 -"), length);
    assert_true(word[0] != ' ' && word[length - 1] != ' ');
}

static void every_word_is_spelled_as_texts_are_folded(void **state)
{
    (void)state;
    visit_words(check_spelling);
}

static void check_found(const struct word_row *row, bool topics, const char *word, size_t length)
{
    struct word_sense sense;
    assert_int_equal(find(word, length, &sense), length);
    uint64_t found = topics ? sense.topics : sense.classes;
    assert_int_equal(found & row->classes, row->classes);
    if (topics) {
        assert_true(row->value == 0 || sense.value == row->value);
    } else if ((row->classes & WORD_WEEKDAY) != 0) {
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

static void check_value(const struct word_row *row, bool topics, const char *word, size_t length)
{
    (void)word;
    (void)length;
    if (topics) {
        bool counts = (row->classes & (TOPIC_NUMBER | TOPIC_SIDE | TOPIC_SAME | TOPIC_BOOK)) != 0;
        assert_true(row->value >= 0 && row->value <= (counts ? 900 : 0));
        return;
    }
    int16_t least = (row->classes & WORD_MONTH) != 0                    ? 1
                    : (row->classes & (WORD_QUARTS | WORD_LITRES)) != 0 ? 1
                    : (row->classes & WORD_DAY) != 0                    ? -2
                                                                        : 0;
    int16_t most = (row->classes & WORD_MONTH) != 0                    ? 12
                   : (row->classes & WORD_WEEKDAY) != 0                ? 6
                   : (row->classes & (WORD_QUARTS | WORD_LITRES)) != 0 ? 4000
                   : (row->classes & WORD_DAY) != 0                    ? 7
                   : (row->classes & WORD_HALF) != 0                   ? 50
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
    const uint64_t wanted = WORD_DONE | WORD_FIX | WORD_SWAP | WORD_LATER | WORD_DUE | WORD_UNDO |
                            WORD_NO | WORD_HELP | WORD_STOP | WORD_CANCEL | WORD_START |
                            WORD_ASSENT | WORD_HOURS | WORD_LITRES | WORD_QUARTS;
    /* A hundred may be a number of its own ("cien") or multiply ("hundred"). */
    const uint64_t topics = (TOPIC_AHEAD * 2 - 1) & ~TOPIC_HUNDRED;
    for (size_t t = 0; t < TABLES; t++) {
        uint64_t has = 0;
        for (size_t r = 0; r < tables[t]->row_count; r++) {
            has |= tables[t]->rows[r].classes;
        }
        assert_int_equal(has & wanted, wanted);
        uint64_t tells = 0;
        for (size_t r = 0; r < tables[t]->topic_count; r++) {
            tells |= tables[t]->topics[r].classes;
        }
        assert_int_equal(tells & topics, topics);
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
        {"no problemz", 2, WORD_NO},
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
        assert_int_equal(find(cases[i].phrase, strlen(cases[i].phrase), &sense), cases[i].length);
        assert_int_equal(sense.classes & cases[i].classes, cases[i].classes);
        assert_true((sense.classes == 0) == (cases[i].length == 0));
    }
}

/* The words as the tables have them, each once, with all that they can mean. */
struct word_entry {
    char word[WORD_OCTETS];
    size_t length;
    struct word_sense sense;
};
static struct word_entry wanted[ENTRIES_MAX];
static size_t wanted_count;

static void add_sense(const struct word_row *row, bool topics, struct word_sense *sense)
{
    sense->classes |= topics ? 0 : row->classes;
    sense->topics |= topics ? row->classes : 0;
    if (!topics && (row->classes & WORD_WEEKDAY) != 0) {
        sense->weekday = (int8_t)row->value;
    } else if (!topics && (row->classes & WORD_MONTH) != 0) {
        sense->month = (int8_t)row->value;
    } else if (row->value != 0) {
        sense->value = row->value;
    }
}

static void want(const struct word_row *row, bool topics, const char *word, size_t length)
{
    struct word_entry *entry = wanted;
    while (entry < wanted + wanted_count &&
           (entry->length != length || memcmp(entry->word, word, length) != 0)) {
        entry++;
    }
    if (entry == wanted + wanted_count) {
        assert_true(wanted_count < ENTRIES_MAX);
        memcpy(entry->word, word, length);
        entry->length = length;
        wanted_count++;
    }
    add_sense(row, topics, &entry->sense);
}

static void make_wanted(void)
{
    memset(wanted, 0, sizeof wanted);
    wanted_count = 0;
    visit_words(want);
}

static void the_dictionary_says_what_the_tables_say(void **state)
{
    (void)state;
    make_wanted();
    for (size_t i = 0; i < wanted_count; i++) {
        struct word_sense sense;
        assert_int_equal(find(wanted[i].word, wanted[i].length, &sense), wanted[i].length);
        assert_int_equal(sense.classes, wanted[i].sense.classes);
        assert_int_equal(sense.topics, wanted[i].sense.topics);
        assert_int_equal(sense.value, wanted[i].sense.value);
        assert_int_equal(sense.weekday, wanted[i].sense.weekday);
        assert_int_equal(sense.month, wanted[i].sense.month);
    }
}

/* The longest word that a phrase begins with, by looking at every one. */
static size_t find_plainly(const char *phrase, size_t length)
{
    size_t longest = 0;
    for (size_t i = 0; i < wanted_count; i++) {
        size_t octets = wanted[i].length;
        if (octets <= length && octets > longest && memcmp(phrase, wanted[i].word, octets) == 0 &&
            (octets == length || strchr(" -?", phrase[octets]) != NULL)) {
            longest = octets;
        }
    }
    return longest;
}

/* Each word cut at each place, with each of these after it; a blank after a blank is not spelled. */
static void following_the_letters_finds_what_looking_at_all_finds(void **state)
{
    (void)state;
    static const char *const after[] = {"", " ", "-", "s", " up", " no", "?", "ω"};
    make_wanted();
    for (size_t i = 0; i < wanted_count; i++) {
        for (size_t cut = 0; cut <= wanted[i].length; cut++) {
            const char *then = after[(i + cut) % (sizeof after / sizeof after[0])];
            char phrase[WORD_OCTETS + 8] = "";
            struct word_sense sense;
            memcpy(phrase, wanted[i].word, cut);
            strcpy(phrase + cut, cut > 0 && phrase[cut - 1] == ' ' && then[0] == ' ' ? "x" : then);
            size_t length = strlen(phrase);
            assert_int_equal(find(phrase, length, &sense), find_plainly(phrase, length));
        }
    }
}

/* docs/grammar.md lists the words of some classes and topics: a line "- NAME, LANGUAGE: WORDS". */
#define PAGE "docs/grammar.md"
#define PAGE_OCTETS 65536

static const struct {
    const char *name;
    uint64_t classes;
    bool topics;
} listed[] = {
    {"trouble", TOPIC_TROUBLE, true},
    {"danger", TOPIC_DANGER, true},
    {"fuel", TOPIC_FUEL, true},
    {"escapes", TOPIC_ESCAPES, true},
    {"brakes", TOPIC_BRAKES, true},
    {"fails", TOPIC_FAILS, true},
    {"negation", TOPIC_NEGATES, true},
    {"no trouble", TOPIC_PLAIN, true},
    {"retraction", TOPIC_RETRACTS, true},
    {"sorry", TOPIC_SORRY, true},
    {"level checked", TOPIC_CHECKED, true},
    {"book", TOPIC_BOOK, true},
    {"in", TOPIC_IN, true},
    {"comes in", TOPIC_COMES, true},
    {"out", TOPIC_OUT, true},
    {"gone", TOPIC_GONE, true},
    {"park", TOPIC_PARK, true},
    {"back", TOPIC_BACK, true},
    {"courtesy", WORD_COURTESY, false},
};

static void add_words(const struct word_row *rows, size_t count, uint64_t classes, char *line,
                      size_t size)
{
    for (size_t r = 0; r < count; r++) {
        if ((rows[r].classes & classes) == 0) {
            continue;
        }
        for (const char *word = rows[r].words; word != NULL;) {
            int length = (int)strcspn(word, "|");
            size_t at = strlen(line);
            (void)snprintf(line + at, size - at, "%s%.*s", line[at - 1] == ':' ? " " : ", ", length,
                           word);
            word = word[length] == '|' ? word + length + 1 : NULL;
        }
    }
}

static void the_page_lists_the_words_of_the_tables(void **state)
{
    (void)state;
#define SHORT(name) #name,
    static const char *const languages[] = {WORDS_LANGUAGES(SHORT)};
    static char page[PAGE_OCTETS], line[PAGE_OCTETS];
    int missing = 0;
    FILE *file = fopen(PAGE, "r");
    assert_non_null(file);
    page[fread(page, 1, sizeof page - 1, file)] = '\0';
    assert_int_equal(fclose(file), 0);
    for (size_t i = 0; i < sizeof listed / sizeof listed[0]; i++) {
        for (size_t t = 0; t < TABLES; t++) {
            (void)snprintf(line, sizeof line, "- %s, %s:", listed[i].name, languages[t]);
            add_words(listed[i].topics ? tables[t]->topics : tables[t]->rows,
                      listed[i].topics ? tables[t]->topic_count : tables[t]->row_count,
                      listed[i].classes, line, sizeof line - 1);
            strcat(line, "\n");
            if (strstr(page, line) == NULL) {
                (void)fputs(line, stderr);
                missing++;
            }
        }
    }
    assert_int_equal(missing, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_word_is_spelled_as_texts_are_folded),
        cmocka_unit_test(every_word_is_found_with_all_its_classes),
        cmocka_unit_test(values_belong_to_the_classes_that_have_one),
        cmocka_unit_test(each_language_has_every_word_of_the_grammar),
        cmocka_unit_test(the_longest_word_is_found_where_a_word_ends),
        cmocka_unit_test(the_dictionary_says_what_the_tables_say),
        cmocka_unit_test(the_page_lists_the_words_of_the_tables),
        cmocka_unit_test(following_the_letters_finds_what_looking_at_all_finds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
