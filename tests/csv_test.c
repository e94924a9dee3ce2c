/* SPDX-License-Identifier: MIT
 * csv: what comes in by RFC 4180, and what does not. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/counter/csv.h"

/* The rows as "line:cell|cell;" and how it ended. */
static enum csv_result read_all(const char *text, size_t length, char *rows, size_t size,
                                size_t *line)
{
    char *copy = malloc(length + 1);
    struct csv csv;
    assert_non_null(copy);
    memcpy(copy, text, length);
    csv_begin(&csv, copy, length);
    rows[0] = '\0';
    enum csv_result result;
    while ((result = csv_next(&csv)) == CSV_ROW) {
        size_t used = strlen(rows);
        used += (size_t)snprintf(&rows[used], size - used, "%zu:", csv.line);
        for (size_t i = 0; i < csv.cell_count; i++) {
            used +=
                (size_t)snprintf(&rows[used], size - used, "%s%s", i > 0 ? "|" : "", csv.cells[i]);
        }
        (void)snprintf(&rows[used], size - used, ";");
    }
    *line = csv.line;
    free(copy);
    return result;
}

static void rows_are_read_as_the_standard_says(void **state)
{
    static const struct {
        const char *text, *rows;
    } cases[] = {
        {"", ""},
        {"a,b\r\n1,2\r\n", "1:a|b;2:1|2;"},
        {"a,b\n1,2", "1:a|b;2:1|2;"},
        {"\"a,b\",\"say \"\"hi\"\"\"\n", "1:a,b|say \"hi\";"},
        {"\"two\nlines\",x\nnext,y\n", "1:two\nlines|x;3:next|y;"},
        {"\"two\r\nlines\",x\r\nnext,y", "1:two\r\nlines|x;3:next|y;"},
        {"\"two\r\nlines\",x\nnext,y\n", "1:two\r\nlines|x;3:next|y;"},
        {"\"one \xEF\xBB\xBF mark\"\n", "1:one \xEF\xBB\xBF mark;"},
        {",\n", "1:|;"},
        {"a,\n", "1:a|;"},
        {"\"\",\"\"", "1:|;"},
        {"a,", "1:a|;"},
        {"\n\na\n\nb\n", "3:a;5:b;"},
        {"a\nb\r\nc\n", "1:a;2:b;3:c;"},
        {"a\n\r\nb\n", "1:a;3:b;"},
        {"a,\"x\ny\"\r\nb,c\n", "1:a|x\ny;3:b|c;"},
        {"\xEF\xBB\xBF"
         "a,b\n",
         "1:a|b;"},
        {"a;b;c\n1,5;2;3\n", "1:a|b|c;2:1,5|2|3;"},
        {"a\tb\n1\t2,3\n", "1:a|b;2:1|2,3;"},
        {"\"a;b\",c\n1,2\n", "1:a;b|c;2:1|2;"},
        {"a;b,c\n", "1:a;b|c;"}, /* as many of both: the comma */
        {"Ca\xC3\xB1on\n", "1:Ca\xC3\xB1on;"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char rows[256];
        size_t line;
        assert_int_equal(read_all(cases[i].text, strlen(cases[i].text), rows, sizeof rows, &line),
                         CSV_END);
        assert_string_equal(rows, cases[i].rows);
    }
}

static void what_is_wrong_is_named_with_its_line(void **state)
{
    static const struct {
        const char *text;
        size_t length;
        enum csv_result result;
        size_t line;
    } cases[] = {
        {"a,b\n1,\"2\n3,4\n", 13, CSV_QUOTE_OPEN, 2},
        {"a\n\"", 3, CSV_QUOTE_OPEN, 2},
        {"a\nx\"y\"\n", 7, CSV_QUOTE_STRAY, 2},
        {"\"x\"y\n", 5, CSV_QUOTE_STRAY, 1},
        {"a\rb\n", 4, CSV_CONTROL, 1},
        {"a\nb\0c\n", 6, CSV_CONTROL, 2},
        {"a\rb\r", 4, CSV_CONTROL, 1},
        {"a\nb\xFF\n", 5, CSV_NOT_UTF8, 2},
        {"\xFF\xFE"
         "a\0",
         4, CSV_UTF16, 1},
        {",,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,", 64, CSV_TOO_WIDE, 1},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char rows[256];
        size_t line;
        assert_int_equal(read_all(cases[i].text, cases[i].length, rows, sizeof rows, &line),
                         cases[i].result);
        assert_int_equal(line, cases[i].line);
        assert_true(strlen(csv_says(cases[i].result)) > 20);
    }
}

/* As it is printed; what is read of that and freed of its guard must be the cell again. */
static void a_cell_comes_back_as_it_went_and_is_safe_in_a_spreadsheet(void **state)
{
    static const struct {
        const char *cell, *printed;
    } cases[] = {
        {"", ""},
        {"low tyre", "low tyre"},
        {"low, \"left\"", "\"low, \"\"left\"\"\""},
        {"two\r\nlines", "\"two\r\nlines\""},
        {"=1+1", "\"'=1+1\""},
        {"=1", "\"'=1\""},
        {"@sum", "\"'@sum\""},
        {"\ttab", "\"'\ttab\""},
        {"\r\nline", "\"'\r\nline\""},
        {"-2+3", "\"'-2+3\""},
        {"-2.5", "-2.5"},
        {"+12065550110", "+12065550110"},
        {"'=1", "\"''=1\""},
        {"''", "\"'''\""},
        {"'", "'"},
        {"'left' tyre", "'left' tyre"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *printed = NULL;
        size_t length = 0;
        struct csv csv;
        FILE *out = open_memstream(&printed, &length);
        assert_non_null(out);
        csv_print_cell(out, cases[i].cell);
        assert_int_equal(fclose(out), 0);
        assert_string_equal(printed, cases[i].printed);
        if (length > 0) {
            csv_begin(&csv, printed, length);
            assert_int_equal(csv_next(&csv), CSV_ROW);
            assert_string_equal(csv_unguarded(csv.cells[0]), cases[i].cell);
        }
        free(printed);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cell_comes_back_as_it_went_and_is_safe_in_a_spreadsheet),
        cmocka_unit_test(rows_are_read_as_the_standard_says),
        cmocka_unit_test(what_is_wrong_is_named_with_its_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
