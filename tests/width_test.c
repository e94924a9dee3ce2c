/* SPDX-License-Identifier: MIT
 * width: columns on a terminal. Held against Python's unicodedata (Unicode's own tables: East Asian
 * Width, and the categories Mn, Me and Cf) over the blocks that the table covers. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/counter/width.h"

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
    "        if category in (\"Cn\", \"Cc\", \"Co\", \"Zl\", \"Zp\"):\n"
    "            continue\n"
    "        wide = unicodedata.east_asian_width(character) in \"WF\"\n"
    "        mark = category in (\"Mn\", \"Me\", \"Cf\") and code != 0x61c\n"
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_take_the_columns_that_are_seen),
        cmocka_unit_test(lines_break_at_blanks_where_there_are_any),
        cmocka_unit_test(an_independent_table_agrees),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
