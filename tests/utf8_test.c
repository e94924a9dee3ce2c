/* SPDX-License-Identifier: MIT
 *
 * UTF-8 by RFC 3629: section 3 (syntax), 4 (bounds), 7 (examples), 10 (overlong forms). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/utf8.h"

static void each_character_reads_back_as_written(void **state)
{
    (void)state;
    for (uint32_t written = 0; written <= 0x10FFFF; written++) {
        char text[UTF8_OCTETS_MAX];
        uint32_t read = 0;
        size_t octets = utf8_write(written, text, sizeof text, 0);
        int surrogate = written >= 0xD800 && written <= 0xDFFF;
        assert_int_equal(utf8_read(text, octets, 0, &read), octets);
        assert_int_equal(read, surrogate ? UTF8_REPLACEMENT : written);
        assert_int_equal(octets, surrogate           ? 3
                                 : written < 0x80    ? 1
                                 : written < 0x800   ? 2
                                 : written < 0x10000 ? 3
                                                     : 4);
    }
}

static void the_examples_of_the_standard_read_right(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        uint32_t characters[4];
        size_t count;
    } cases[] = {
        {"A\xE2\x89\xA2\xCE\x91.", {0x41, 0x2262, 0x391, 0x2E}, 4},
        {"\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4", {0xD55C, 0xAD6D, 0xC5B4}, 3},
        {"\xEF\xBB\xBF\xF0\xA3\x8E\xB4", {0xFEFF, 0x233B4}, 2},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        size_t at = 0;
        for (size_t i = 0; i < cases[c].count; i++) {
            uint32_t character = 0;
            at += utf8_read(cases[c].text, strlen(cases[c].text), at, &character);
            assert_int_equal(character, cases[c].characters[i]);
        }
        assert_int_equal(at, strlen(cases[c].text));
    }
}

static void what_is_not_well_formed_reads_as_the_replacement(void **state)
{
    (void)state;
    static const char *const cases[] = {
        "",                 /* nothing */
        "\x80",             /* begins with a following octet */
        "\xBF",             /* likewise */
        "\xF8\x88\x80\x80", /* five octets announced */
        "\xFE",             /* never in UTF-8 */
        "\xC0\x80",         /* overlong NUL */
        "\xC1\xBF",         /* overlong, two octets */
        "\xE0\x9F\xBF",     /* overlong, three octets */
        "\xF0\x8F\xBF\xBF", /* overlong, four octets */
        "\xED\xA0\x80",     /* first surrogate */
        "\xED\xBF\xBF",     /* last surrogate */
        "\xF4\x90\x80\x80", /* past U+10FFFF */
        "\xE2\x82",         /* cut */
        "\xE2\x28\xA1",     /* second octet is none */
        "\xE2\x82\x28",     /* third octet is none */
        "\xF0\x9F\x98\xC0", /* fourth octet is none */
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        uint32_t character = 1;
        assert_int_equal(utf8_read(cases[c], strlen(cases[c]), 0, &character), 0);
        assert_int_equal(character, UTF8_REPLACEMENT);
    }
}

static void nothing_is_written_without_room(void **state)
{
    (void)state;
    char text[4] = "....";
    assert_int_equal(utf8_write(0x20AC, text, 2, 0), 0);
    assert_int_equal(utf8_write(0x20AC, text, 4, 2), 0);
    assert_int_equal(utf8_write('A', text, 4, 4), 0);
    assert_int_equal(utf8_write('A', text, 4, 9), 0);
    assert_memory_equal(text, "....", 4);
}

static void a_value_past_the_last_is_written_as_the_replacement(void **state)
{
    (void)state;
    char text[4];
    assert_int_equal(utf8_write(0x110000, text, sizeof text, 0), 3);
    assert_memory_equal(text, "\xEF\xBF\xBD", 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_character_reads_back_as_written),
        cmocka_unit_test(the_examples_of_the_standard_read_right),
        cmocka_unit_test(what_is_not_well_formed_reads_as_the_replacement),
        cmocka_unit_test(nothing_is_written_without_room),
        cmocka_unit_test(a_value_past_the_last_is_written_as_the_replacement),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
