/* SPDX-License-Identifier: MIT
 * log: foreign text never gets a control character through to a log or a terminal. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/ground/log.h"

static void control_characters_are_shown_not_sent(void **state)
{
    static const struct {
        const char *text, *shown;
    } cases[] = {
        {"M12 1340h", "M12 1340h"},
        {"a\nb", "a\\x0Ab"},
        {"\033[2J", "\\x1B[2J"},
        {"back\\slash", "back\\x5Cslash"},
        {"\x7F", "\\x7F"},
        {"caf\xC3\xA9", "caf\xC3\xA9"}, /* UTF-8 stays */
        {"\xC2\x9B"
         "2J",
         "\\xC2\\x9B"
         "2J"}, /* U+009B, a control of one character */
        {"", ""},
    };
    char out[64];
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_string_equal(log_text(cases[i].text, strlen(cases[i].text), out, sizeof out),
                            cases[i].shown);
    }
}

static void what_does_not_fit_is_cut_and_says_so(void **state)
{
    char out[12];
    (void)state;
    assert_string_equal(log_text("0123456789ABCDEF", 16, out, sizeof out), "01234567...");
    assert_string_equal(log_text("\n\n\n\n", 4, out, sizeof out), "\\x0A\\x0A...");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(control_characters_are_shown_not_sent),
        cmocka_unit_test(what_does_not_fit_is_cut_and_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
