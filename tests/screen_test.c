/* SPDX-License-Identifier: MIT
 * screen: how wide text is, held against Python's unicodedata (Unicode's own tables: East Asian Width,
 * and the categories Mn, Me and Cf) over the blocks that the table covers; where it is broken; and a
 * terminal's width and colour, told by a pseudo-terminal. */
#include <locale.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>
#include <cmocka.h>

#include "daemon/counter/output.h"

static void texts_take_the_columns_that_are_seen(void **state)
{
    (void)state;
    assert_int_equal(width_of(""), 0);
    assert_int_equal(width_of("M12"), 3);
    assert_int_equal(width_of("Ca\xC3\xB1on"), 5);
    assert_int_equal(width_of("n\xCC\x83"), 1);
    assert_int_equal(width_of("\xE8\x8A\x9D\xE5\x88\x88"), 4);
    assert_int_equal(width_of("\xF0\x9F\x91\x8D"), 2);
    assert_int_equal(width_of("\xFF\xC3"), 2);
    assert_int_equal(width_of_longest_word("  a left tyre "), 4);
}

static void lines_break_at_blanks_where_there_are_any(void **state)
{
    size_t next = 0;
    (void)state;
    assert_int_equal(width_break("left tyre low", 9, &next), 9);
    assert_int_equal(next, 10);
    assert_int_equal(width_break("left tyre low", 8, &next), 4);
    assert_int_equal(next, 5);
    assert_int_equal(width_break("lefttyre", 4, &next), 4);
    assert_int_equal(next, 4);
    assert_int_equal(width_break("low  ", 9, &next), 3);
    assert_int_equal(next, 5);
    /* a mark stays with its letter, and a wide character is never halved */
    assert_int_equal(width_break("an\xCC\x83o", 2, &next), 4);
    assert_int_equal(width_break("\xE8\x8A\x9D\xE5\x88\x88", 3, &next), 3);
    assert_int_equal(width_break("\xE8\x8A\x9D", 1, &next), 3);
    assert_int_equal(width_break("", 1, &next), 0);
    assert_int_equal(next, 0);
}

/* Left out: circled figures that Unicode calls ambiguous and the C library wide. */
static const char independent[] =
    "/usr/bin/python3 -c '\n"
    "import unicodedata\n"
    "blocks = ((0x20, 0x7e), (0xa1, 0xac), (0xae, 0x5ff), (0x610, 0x6dc), (0x1e00, 0x20ff),\n"
    "          (0x2e80, 0x4dbf), (0x4e00, 0xa4cf), (0xac00, 0xd7a3), (0xfe20, 0xfe2f), (0xff01, "
    "0xffee),\n"
    "          (0x1f300, 0x1f64f), (0x20000, 0x200ff))\n"
    "for first, last in blocks:\n"
    "    for code in range(first, last + 1):\n"
    "        character = chr(code)\n"
    "        category = unicodedata.category(character)\n"
    "        if category in (\"Cn\", \"Cc\", \"Co\", \"Zl\", \"Zp\") or 0x3248 <= code <= 0x324f:\n"
    "            continue\n"
    "        wide = unicodedata.east_asian_width(character) in \"WF\"\n"
    "        mark = category in (\"Mn\", \"Me\", \"Cf\")\n"
    "        print(code, 0 if mark else 2 if wide else 1)\n"
    "'";

static void an_independent_table_agrees(void **state)
{
    unsigned code = 0, compared = 0;
    size_t columns = 0;
    (void)state;
    FILE *python = popen(independent, "r");
    assert_non_null(python);
    while (fscanf(python, "%u %zu", &code, &columns) == 2) {
        if (width_of_character(code) != columns) {
            print_error("U+%04X: %zu expected\n", code, columns);
            fail();
        }
        compared++;
    }
    assert_int_equal(pclose(python), 0);
    assert_true(compared > 40000);
}

static struct screen screen_of_a_terminal(unsigned short columns)
{
    int conductor = posix_openpt(O_RDWR | O_NOCTTY);
    struct winsize size = {.ws_row = 24, .ws_col = columns};
    assert_true(conductor >= 0 && grantpt(conductor) == 0 && unlockpt(conductor) == 0);
    FILE *terminal = fopen(ptsname(conductor), "w");
    assert_non_null(terminal);
    assert_int_equal(ioctl(fileno(terminal), TIOCSWINSZ, &size), 0);
    struct screen screen = screen_of(terminal);
    assert_int_equal(fclose(terminal), 0);
    assert_int_equal(close(conductor), 0);
    return screen;
}

static void a_terminal_tells_its_width(void **state)
{
    (void)state;
    assert_int_equal(unsetenv("NO_COLOR") | setenv("TERM", "vt100", 1), 0);
    assert_int_equal(screen_of_a_terminal(40).columns, 40);
    assert_int_equal(screen_of_a_terminal(200).columns, 200);
    assert_true(screen_of_a_terminal(40).colour);
}

static void a_terminal_of_no_size_is_taken_as_usual(void **state)
{
    (void)state;
    assert_int_equal(screen_of_a_terminal(0).columns, 80);
    assert_int_equal(screen_of_a_terminal(1).columns, SCREEN_COLUMNS_LEAST);
}

static void no_color_is_obeyed_where_it_says_something(void **state)
{
    (void)state;
    assert_int_equal(setenv("NO_COLOR", "1", 1) | setenv("TERM", "vt100", 1), 0);
    assert_false(screen_of_a_terminal(80).colour);
    assert_int_equal(setenv("NO_COLOR", "", 1), 0);
    assert_true(screen_of_a_terminal(80).colour);
    assert_int_equal(unsetenv("NO_COLOR"), 0);
}

static void a_pipe_has_neither_width_nor_colour(void **state)
{
    int ends[2];
    (void)state;
    assert_int_equal(pipe(ends), 0);
    FILE *out = fdopen(ends[1], "w");
    assert_non_null(out);
    struct screen screen = screen_of(out);
    assert_int_equal(screen.columns, 0);
    assert_false(screen.colour);
    assert_int_equal(fclose(out), 0);
    assert_int_equal(close(ends[0]), 0);
}

static void assert_folded(size_t columns, size_t indent, const char *text, const char *expected)
{
    char *printed = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&printed, &length);
    struct screen screen = {.columns = columns};
    assert_non_null(out);
    screen_print_folded(&screen, text, indent, out);
    assert_int_equal(fclose(out), 0);
    assert_string_equal(printed, expected);
    free(printed);
}

static void long_lines_are_folded_and_short_ones_are_not(void **state)
{
    (void)state;
    assert_folded(30, 4, "short\na line that is longer than that\n\n",
                  "short\na line that is longer than\n    that\n\n");
    assert_folded(0, 4, "no end of a line, and no terminal either",
                  "no end of a line, and no "
                  "terminal either");
    /* no room for such an indent */
    assert_folded(20, 15, "               -> read what it says\n", "  -> read what it\n  says\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_take_the_columns_that_are_seen),
        cmocka_unit_test(lines_break_at_blanks_where_there_are_any),
        cmocka_unit_test(an_independent_table_agrees),
        cmocka_unit_test(a_terminal_tells_its_width),
        cmocka_unit_test(a_terminal_of_no_size_is_taken_as_usual),
        cmocka_unit_test(no_color_is_obeyed_where_it_says_something),
        cmocka_unit_test(a_pipe_has_neither_width_nor_colour),
        cmocka_unit_test(long_lines_are_folded_and_short_ones_are_not),
    };
    (void)setlocale(LC_CTYPE, "C.UTF-8"); /* as main does */
    return cmocka_run_group_tests(tests, NULL, NULL);
}
