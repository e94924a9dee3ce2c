/* SPDX-License-Identifier: MIT
 * screen: a terminal's width and colour, told by a pseudo-terminal; folding. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include <fcntl.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "daemon/counter/screen.h"

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
    assert_int_equal(unsetenv("NO_COLOR"), 0);
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
    assert_int_equal(setenv("NO_COLOR", "1", 1), 0);
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
        cmocka_unit_test(a_terminal_tells_its_width),
        cmocka_unit_test(a_terminal_of_no_size_is_taken_as_usual),
        cmocka_unit_test(no_color_is_obeyed_where_it_says_something),
        cmocka_unit_test(a_pipe_has_neither_width_nor_colour),
        cmocka_unit_test(long_lines_are_folded_and_short_ones_are_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
