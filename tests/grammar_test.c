/* SPDX-License-Identifier: MIT
 * docs/grammar.md held against the parser: sentences drawn from its EBNF by grammar_sentences.py
 * are read as the statements that the page says they are. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/crew_text_items.h"

#define LINE_OCTETS 512

static const struct {
    const char *rule;
    enum crew_kind kind;
} kinds[] = {
    {"reading", CREW_READING}, {"status", CREW_STATUS}, {"service", CREW_SERVICE},
    {"correct", CREW_CORRECT}, {"swap", CREW_SWAP},     {"later", CREW_LATER},
    {"park", CREW_PARK},       {"back", CREW_BACK},     {"due", CREW_DUE},
    {"undo", CREW_UNDO},       {"yes", CREW_YES},       {"no", CREW_NO},
    {"help", CREW_HELP},       {"stop", CREW_STOP},     {"start", CREW_START},
    {"trouble", CREW_TROUBLE}, {"told", CREW_REMARK},   {"solved", CREW_SOLVED},
    {"book", CREW_BOOK},       {"in", CREW_IN},         {"out", CREW_OUT},
    {"gone", CREW_GONE},
};

static enum crew_kind kind_of(const char *rule)
{
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(kinds[i].rule, rule) == 0) {
            return kinds[i].kind;
        }
    }
    return CREW_UNKNOWN;
}

static const char *rule_of(enum crew_kind kind)
{
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (kinds[i].kind == kind) {
            return kinds[i].rule;
        }
    }
    return "?";
}

static bool read_as(const char *sentence, char *rules)
{
    static const struct crew_machine machines[] = {
        {"M12", true, 3}, {"M7", true, 3}, {"TR-9", true, 3}};
    static const char *const plans[] = {"drive", "belts"};
    static const struct crew_names names = {
        .machines = machines, .machine_count = 3, .plans = plans, .plan_count = 2};
    static struct crew_text_room room;
    struct crew_text text;
    size_t count = 0;
    bool same = true;
    crew_text_read(sentence, strlen(sentence), &names, CREW_DATE_MDY, false, &room, &text);
    for (char *rule = strsep(&rules, "+"); rule != NULL; rule = strsep(&rules, "+")) {
        same = same && count < text.statement_count &&
               text.statements[count].kind == kind_of(rule) &&
               text.statements[count].obstacle == CREW_OBSTACLE_NONE;
        count++;
    }
    same = same && count == text.statement_count;
    for (size_t i = 0; i < text.statement_count && !same; i++) {
        print_message("\"%s\" is read as %s (obstacle %d)\n", sentence,
                      rule_of(text.statements[i].kind), (int)text.statements[i].obstacle);
    }
    return same;
}

static void what_the_page_says_is_what_the_parser_reads(void **state)
{
    char line[LINE_OCTETS];
    int sentences = 0, otherwise = 0;
    FILE *drawn = popen("python3 tests/grammar_sentences.py", "r");
    (void)state;
    assert_non_null(drawn);
    while (fgets(line, sizeof line, drawn) != NULL) {
        line[strcspn(line, "\n")] = '\0';
        char *sentence = strchr(line, '\t');
        assert_non_null(sentence);
        *sentence = '\0';
        sentences++;
        otherwise += !read_as(sentence + 1, line);
    }
    assert_int_equal(pclose(drawn), 0);
    print_message("%d sentences\n", sentences);
    assert_true(sentences > 300);
    assert_int_equal(otherwise, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_the_page_says_is_what_the_parser_reads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
