/* SPDX-License-Identifier: MIT
 * markup: foreign text stays text in a page. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <cmocka.h>

#include "daemon/board/board.h"

#define LOST "\xEF\xBF\xBD"

static void foreign_text_never_becomes_markup(void **state)
{
    static const struct {
        const char *text, *written;
    } cases[] = {
        {"", ""},
        {"M12", "M12"},
        {"<script>alert(\"x\")</script>", "&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt;"},
        {"oil & 'filter'", "oil &amp; &#39;filter&#39;"},
        {"Ca\xC3\xB1on \xF0\x9F\x98\x80", "Ca\xC3\xB1on \xF0\x9F\x98\x80"},
        {"two\r\nlines\t", "two  lines "},
        {"bell \a, escape \033[2J", "bell " LOST ", escape " LOST "[2J"},
        {"\x7F\xC2\x85", LOST LOST},
        {"turned \xE2\x80\xAE back", "turned " LOST " back"},
        {"cut \xC3", "cut " LOST},
        {"\xFF<\xFE", LOST "&lt;" LOST},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *written = NULL;
        size_t length = 0;
        FILE *out = open_memstream(&written, &length);
        assert_non_null(out);
        html_text(out, cases[i].text);
        assert_int_equal(fclose(out), 0);
        assert_string_equal(written, cases[i].written);
        free(written);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(foreign_text_never_becomes_markup),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
