/* SPDX-License-Identifier: MIT
 * table: the same rows for people and for spreadsheets (RFC 4180). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/counter/output.h"

static const struct table_column columns[] = {{"machine", TABLE_LEFT}, {"hours", TABLE_RIGHT}};

static struct table *table_of(const char *left, const char *right)
{
    struct table *table = table_new(columns, 2);
    assert_non_null(table);
    assert_true(table_row(table, TABLE_BAD));
    assert_true(table_cell(table, "%s", left));
    assert_true(table_cell(table, "%s", right));
    return table;
}

static void assert_printed_on(struct table *table, bool csv, struct screen screen,
                              const char *expected)
{
    char *printed = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&printed, &length);
    assert_non_null(out);
    if (csv) {
        table_print_csv(table, out);
    } else {
        table_print(table, &screen, out);
    }
    assert_int_equal(fclose(out), 0);
    assert_string_equal(printed, expected);
    free(printed);
    table_free(table);
}

static void assert_printed(struct table *table, bool csv, bool colour, const char *expected)
{
    assert_printed_on(table, csv, (struct screen){.columns = 0, .colour = colour}, expected);
}

static void columns_line_up(void **state)
{
    (void)state;
    assert_printed(table_of("M12", "1340.5"), false, false,
                   "machine   hours\n"
                   "M12      1340.5\n");
    /* n with tilde is two octets and one column */
    assert_printed(table_of("Ca\xC3\xB1on-11", "7"), false, false,
                   "machine   hours\n"
                   "Ca\xC3\xB1on-11      7\n");
}

static void wide_and_combining_characters_line_up_too(void **state)
{
    (void)state;
    /* two wide characters are four columns; e and a combining acute are one */
    assert_printed(table_of("\xE8\x8A\x9D\xE5\x88\x88", "7"), false, false,
                   "machine  hours\n"
                   "\xE8\x8A\x9D\xE5\x88\x88         7\n");
    assert_printed(table_of("e\xCC\x81", "7"), false, false,
                   "machine  hours\n"
                   "e\xCC\x81            7\n");
}

static void what_is_too_wide_is_folded_at_blanks(void **state)
{
    (void)state;
    assert_printed_on(table_of("left rear tyre low again", "1340.5"), false,
                      (struct screen){.columns = 20},
                      "machine        hours\n"
                      "left rear     1340.5\n"
                      "tyre low\n"
                      "again\n");
}

static void where_columns_do_not_do_a_cell_has_its_line(void **state)
{
    (void)state;
    assert_printed_on(table_of("a-name-without-any-blank", "1340.5"), false,
                      (struct screen){.columns = 20},
                      "machine  a-name-with\n"
                      "         out-any-bla\n"
                      "         nk\n"
                      "hours    1340.5\n");
}

static void a_pipe_is_as_wide_as_it_likes(void **state)
{
    char text[401], expected[1000];
    (void)state;
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    (void)snprintf(expected, sizeof expected, "%-400s  hours\n%s      7\n", "machine", text);
    assert_printed(table_of(text, "7"), false, false, expected);
}

static void no_line_ends_in_blanks(void **state)
{
    (void)state;
    assert_printed(table_of("M12", ""), false, false,
                   "machine  hours\n"
                   "M12\n");
}

static void colour_wraps_the_row_only_when_wanted(void **state)
{
    (void)state;
    assert_printed(table_of("M12", "7"), false, true,
                   "machine  hours\n"
                   "\033[1;31mM12          7\033[0m\n");
}

static void a_control_character_never_reaches_the_terminal(void **state)
{
    (void)state;
    assert_printed(table_of("\033[2J", "7"), false, false,
                   "machine  hours\n"
                   "\\x1B[2J      7\n");
}

static void csv_cells_are_quoted_as_the_standard_says(void **state)
{
    static const struct {
        const char *cell, *written;
    } cases[] = {
        {"plain", "plain"},
        {"a,b", "\"a,b\""},
        {"say \"hi\"", "\"say \"\"hi\"\"\""},
        {"two\nlines", "\"two\nlines\""},
        {"", ""},
        {"=1+1", "\"'=1+1\""}, /* a spreadsheet would run it */
        {"-12.5", "-12.5"},    /* a figure is a figure */
        {"+12065550110", "+12065550110"},
        {"-2+3", "\"'-2+3\""},
        {"@x", "\"'@x\""},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char expected[128];
        (void)snprintf(expected, sizeof expected, "machine,hours\r\n%s,7\r\n", cases[i].written);
        assert_printed(table_of(cases[i].cell, "7"), true, false, expected);
    }
}

static void a_long_text_is_whole_in_csv(void **state)
{
    char text[4001], expected[4100];
    (void)state;
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    (void)snprintf(expected, sizeof expected, "machine,hours\r\n%s,7\r\n", text);
    assert_printed(table_of(text, "7"), true, false, expected);
}

static void a_table_as_json_has_figures_and_leaves_out_what_is_empty(void **state)
{
    (void)state;
    struct table *table = table_of("M12", "1340.5");
    assert_true(table_row(table, TABLE_PLAIN));
    assert_true(table_cell(table, "%s", "say \"hi\""));
    assert_true(table_cell(table, "%s", ""));
    struct json_object *array = table_json(table);
    assert_string_equal(
        json_object_to_json_string_ext(array, JSON_C_TO_STRING_PLAIN),
        "[{\"machine\":\"M12\",\"hours\":1340.5},{\"machine\":\"say \\\"hi\\\"\"}]");
    (void)json_object_put(array);
    table_free(table);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(columns_line_up),
        cmocka_unit_test(wide_and_combining_characters_line_up_too),
        cmocka_unit_test(what_is_too_wide_is_folded_at_blanks),
        cmocka_unit_test(where_columns_do_not_do_a_cell_has_its_line),
        cmocka_unit_test(a_pipe_is_as_wide_as_it_likes),
        cmocka_unit_test(no_line_ends_in_blanks),
        cmocka_unit_test(colour_wraps_the_row_only_when_wanted),
        cmocka_unit_test(a_control_character_never_reaches_the_terminal),
        cmocka_unit_test(csv_cells_are_quoted_as_the_standard_says),
        cmocka_unit_test(a_long_text_is_whole_in_csv),
        cmocka_unit_test(a_table_as_json_has_figures_and_leaves_out_what_is_empty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
