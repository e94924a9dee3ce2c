/* SPDX-License-Identifier: MIT
 * A mistyped word is near the one it was meant to be, and near nothing when it was meant to be
 * something else. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "parsers/nearest.h"

static void a_slip_of_the_finger_is_one_step(void **state)
{
    static const struct {
        const char *one, *other;
        uint32_t distance;
    } cases[] = {{"notice", "notice", 0}, {"notise", "notice", 1},  {"ntoice", "notice", 1},
                 {"notce", "notice", 1},  {"nottice", "notice", 1}, {"NOTICE", "notice", 0},
                 {"", "abc", 3},          {"abc", "", 3},           {"kitten", "sitting", 3},
                 {"ca", "abc", 3}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(nearest_distance(cases[i].one, cases[i].other), cases[i].distance);
    }
}

static void a_word_too_long_is_near_nothing(void **state)
{
    char word[NEAREST_OCTETS_MAX + 2];
    (void)state;
    memset(word, 'a', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    assert_int_equal(nearest_distance(word, word), UINT32_MAX);
    word[NEAREST_OCTETS_MAX] = '\0';
    assert_int_equal(nearest_distance(word, word), 0);
}

static void of_two_that_are_equally_near_the_first_is_kept(void **state)
{
    struct nearest nearest;
    (void)state;
    nearest_begin(&nearest, "grate");
    nearest_offer(&nearest, "grace");
    nearest_offer(&nearest, "grade");
    assert_string_equal(nearest.name, "grace");
}

static const char *nearest_setting(const char *word)
{
    static const char *const known[] = {"name", "number", "time_zone", "units", "notice", "M12"};
    struct nearest nearest;
    nearest_begin(&nearest, word);
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        nearest_offer(&nearest, known[i]);
    }
    return nearest.name != NULL ? nearest.name : "";
}

static void only_a_word_that_may_have_been_meant_is_offered(void **state)
{
    (void)state;
    assert_string_equal(nearest_setting("timezone"), "time_zone");
    assert_string_equal(nearest_setting("unit"), "units");
    assert_string_equal(nearest_setting("numbre"), "number");
    assert_string_equal(nearest_setting("M13"), "M12");
    assert_string_equal(nearest_setting("colour"), "");
    assert_string_equal(nearest_setting("x"), "");
    assert_string_equal(nearest_setting(""), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slip_of_the_finger_is_one_step),
        cmocka_unit_test(a_word_too_long_is_near_nothing),
        cmocka_unit_test(of_two_that_are_equally_near_the_first_is_kept),
        cmocka_unit_test(only_a_word_that_may_have_been_meant_is_offered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
