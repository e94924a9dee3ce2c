/* SPDX-License-Identifier: MIT
 * What people text, and what the grammar makes of it: fixtures/texts/grammar.tsv.
 *
 * Three columns, tab between: the yard it is read against (tests/crew_text_rosters.h), with ",dmy"
 * where the day comes before the month and ",open" while a question is open; the text, with \n \t
 * and \u{HEX} for what cannot be seen; and what is understood, as tests/crew_text_show.h writes it.
 * Lines that begin with "# " and hold no tab are headings. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/crew_text_items.h"
#include "parsers/utf8.h"
#include "tests/crew_text_rosters.h"
#include "tests/crew_text_show.h"

#define CORPUS "fixtures/texts/grammar.tsv"
#define LEAST_LINES 250

struct corpus_line {
    char *options, *text, *wanted;
};

static size_t unescape(const char *in, char *out)
{
    size_t length = 0;
    for (size_t at = 0; in[at] != '\0';) {
        unsigned int character = 0;
        int used = 0;
        if (in[at] == '\\' && (in[at + 1] == 'n' || in[at + 1] == 't')) {
            out[length++] = in[at + 1] == 'n' ? '\n' : '\t';
            at += 2;
        } else if (sscanf(in + at, "\\u{%x}%n", &character, &used) == 1 && used > 0) {
            length += utf8_write(character, out, length + UTF8_OCTETS_MAX, length);
            at += (size_t)used;
        } else {
            out[length++] = in[at++];
        }
    }
    out[length] = '\0';
    return length;
}

static bool split_line(char *line, struct corpus_line *out)
{
    line[strcspn(line, "\n")] = '\0';
    out->options = line;
    out->text = strchr(line, '\t');
    if (out->text == NULL) {
        return false;
    }
    *out->text++ = '\0';
    out->wanted = strchr(out->text, '\t');
    assert_non_null(out->wanted);
    *out->wanted++ = '\0';
    return true;
}

static bool reads_as_wanted(const struct corpus_line *line)
{
    static char text[4 * CREW_TEXT_OCTETS_MAX];
    char roster[16] = "";
    static struct crew_text_room room;
    struct crew_text read;
    struct shown shown;
    size_t length = unescape(line->text, text);
    assert_int_equal(sscanf(line->options, "%15[a-z]", roster), 1);
    struct crew_names names = roster_names(roster);
    assert_true(names.machine_count > 0);
    crew_text_read(text, length, &names,
                   strstr(line->options, ",dmy") != NULL ? CREW_DATE_DMY : CREW_DATE_MDY,
                   strstr(line->options, ",open") != NULL, &room, &read);
    show_text(&shown, text, &names, &read);
    if (strcmp(shown.text, line->wanted) != 0) {
        print_message("%s\t%s\n  wanted: %s\n  got:    %s\n", line->options, line->text,
                      line->wanted, shown.text);
        return false;
    }
    return true;
}

static void every_text_of_the_corpus_is_understood_as_it_should_be(void **state)
{
    (void)state;
    static char buffer[8192];
    int lines = 0, wrong = 0;
    FILE *corpus = fopen(CORPUS, "r");
    assert_non_null(corpus);
    while (fgets(buffer, sizeof buffer, corpus) != NULL) {
        struct corpus_line line;
        if (split_line(buffer, &line)) {
            lines++;
            wrong += reads_as_wanted(&line) ? 0 : 1;
        }
    }
    assert_int_equal(fclose(corpus), 0);
    assert_int_equal(wrong, 0);
    assert_true(lines >= LEAST_LINES);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_text_of_the_corpus_is_understood_as_it_should_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
