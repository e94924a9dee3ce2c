/* SPDX-License-Identifier: MIT
 * escape: content lines of a calendar as RFC 5545 wants them. The
 * whole calendar is read by an independent parser in counter_test.sh. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/counter/output.h"

#define LOST "\xEF\xBF\xBD"

static void assert_line(const char *value, const char *expected)
{
    char *printed = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&printed, &length);
    assert_non_null(out);
    calendar_line(out, "SUMMARY", value);
    assert_int_equal(fclose(out), 0);
    assert_string_equal(printed, expected);
    free(printed);
}

static void marks_of_the_format_are_escaped(void **state)
{
    (void)state; /* RFC 5545 3.3.11 */
    assert_line("plain: text", "SUMMARY:plain: text\r\n");
    assert_line("a,b;c\\d\ne", "SUMMARY:a\\,b\\;c\\\\d\\ne\r\n");
    assert_line("bell\a\x7F", "SUMMARY:bell" LOST LOST "\r\n");
}

static void no_line_is_longer_than_75_octets(void **state)
{
    static const char *const units[] = {"x", ",", "\xC3\xB1", "\xE2\x82\xAC", "\xF0\x9F\x98\x80"};
    (void)state;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        char value[1024] = "", *printed = NULL;
        size_t length = 0;
        for (size_t j = 0; j < 150; j++) {
            (void)strcat(value, units[i]);
        }
        FILE *out = open_memstream(&printed, &length);
        assert_non_null(out);
        calendar_line(out, "SUMMARY", value);
        assert_int_equal(fclose(out), 0);
        size_t line = 0, lines = 0;
        for (size_t j = 0; j < length; j++) {
            if (printed[j] == '\r') {
                assert_true(line <= 75);
                assert_int_equal(printed[j + 1], '\n');
                lines++;
                line = 0;
                j++;
                /* A fold is a line break and one space, and never stands inside a character. */
                if (j + 1 < length) {
                    assert_int_equal(printed[j + 1], ' ');
                    assert_true(((unsigned char)printed[j + 2] & 0xC0) != 0x80);
                }
            } else {
                line++;
            }
        }
        assert_true(lines > 1);
        free(printed);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(marks_of_the_format_are_escaped),
        cmocka_unit_test(no_line_is_longer_than_75_octets),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
