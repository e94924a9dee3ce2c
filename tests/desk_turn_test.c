/* SPDX-License-Identifier: MIT
 * The sentences of a reply: what gives way, and what is fit to be said at all. */
#include "daemon/desk/turn.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void what_may_be_said_gives_way_the_last_first(void **state)
{
    static const char forty[] = "a sentence of forty-nine letters, counted by hand";
    struct reply reply = {.count = 0};
    char out[400];
    (void)state;
    reply_add(&reply, REPLY_MUST, "must one.");
    reply_add(&reply, REPLY_MAY, forty);
    reply_add(&reply, REPLY_MAY, forty);
    reply_add(&reply, REPLY_MUST, "must two.");
    reply_add(&reply, REPLY_MAY, forty);
    (void)reply_write(&reply, 1, out, sizeof out);
    assert_int_equal(reply_segments(out), 1);
    assert_string_equal(out,
                        "must one. a sentence of forty-nine letters, counted by hand a sentence "
                        "of forty-nine letters, counted by hand must two.");
    assert_int_equal(reply_segments(""), 1);
    assert_int_equal(reply_segments("\xff"), 0);
}

static void a_list_of_names_ends_in_dots_where_there_is_no_room(void **state)
{
    struct reply_list list = {.count = 0};
    (void)state;
    reply_list_add(&list, "drive-oil-filter");
    reply_list_add(&list, "belts-and-guards");
    assert_string_equal(list.text, "drive-oil-filter, belts-and-guards");
    reply_list_add(&list, "spindle-greasing");
    reply_list_add(&list, "blades");
    assert_string_equal(list.text, "drive-oil-filter, belts-and-guards, ...");
    assert_int_equal(list.count, 4);
}

static void foreign_letters_become_blanks(void **state)
{
    char out[32];
    (void)state;
    reply_plain("a\tb\x1b[2J\xc3\xb1 \xf0\x9f\x91\x8d {", 16, out, sizeof out);
    assert_string_equal(out, "a b  2J\xc3\xb1    ");
    reply_plain("rompi\xc3\xb3 la \xc3\x9altima", 18, out, sizeof out);
    assert_string_equal(out, "rompio la Ultima");
    reply_plain("abcdef", 6, out, 4);
    assert_string_equal(out, "abc");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_may_be_said_gives_way_the_last_first),
        cmocka_unit_test(a_list_of_names_ends_in_dots_where_there_is_no_room),
        cmocka_unit_test(foreign_letters_become_blanks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
