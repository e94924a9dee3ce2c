/* SPDX-License-Identifier: MIT
 *
 * UTF-8 by RFC 3629: section 3 (syntax), 4 (bounds), 7 (examples), 10 (overlong forms). UCS-2 as
 * phones use it, by RFC 2781 (UTF-16); the lenient readings of broken pairs are common practice, no
 * source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
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

#define BAD "\xEF\xBF\xBD"

static void each_character_reads_back_from_ucs2(void **state)
{
    (void)state;
    for (uint32_t character = 1; character <= 0x10FFFF; character++) {
        char text[UTF8_OCTETS_MAX];
        char back[UCS2_TEXT_OCTETS(4) + 1];
        uint8_t octets[4];
        size_t count = 0;
        bool damaged = false;
        size_t len = utf8_write(character, text, sizeof text, 0);
        assert_int_equal(ucs2_from_utf8(text, 0, len, octets, sizeof octets, &count), len);
        assert_int_equal(count, character < 0x10000 ? 2 : 4);
        assert_int_equal(ucs2_to_utf8(octets, 0, count, back, sizeof back, &damaged), len);
        assert_memory_equal(back, text, len);
    }
}

/* RFC 2781 section 5: U+12345, then "=Ra". */
static void the_example_of_ucs2_reads_right(void **state)
{
    (void)state;
    static const uint8_t octets[] = {0xD8, 0x08, 0xDF, 0x45, 0, 0x3D, 0, 0x52, 0, 0x61};
    char text[UCS2_TEXT_OCTETS(sizeof octets) + 1];
    uint8_t back[sizeof octets];
    size_t count = 0;
    bool damaged = false;
    size_t len = ucs2_to_utf8(octets, 0, sizeof octets, text, sizeof text, &damaged);
    assert_string_equal(text, "\xF0\x92\x8D\x85=Ra");
    assert_false(damaged);
    assert_int_equal(ucs2_from_utf8(text, 0, len, back, sizeof back, &count), len);
    assert_int_equal(count, sizeof octets);
    assert_memory_equal(back, octets, sizeof octets);
}

static void what_is_broken_shows_and_is_marked(void **state)
{
    (void)state;
    static const struct {
        uint8_t octets[6];
        size_t len;
        const char *text;
    } cases[] = {
        {{0xD8, 0x3D}, 2, BAD},             /* high surrogate, then the end */
        {{0xD8, 0x3D, 0, 'h'}, 4, BAD "h"}, /* high surrogate, then a letter */
        {{0xD8, 0x3D, 0xD8, 0x3D, 0xDE, 0}, 6, BAD "\xF0\x9F\x98\x80"}, /* two high ones */
        {{0xDE, 0x00, 0, 'h'}, 4, BAD "h"},                             /* low surrogate first */
        {{0, '4', 0}, 3, "4" BAD},                                      /* half a character */
        {{0xD8, 0x3D, 0xDE}, 3, BAD BAD},                               /* half a low surrogate */
        {{0, 0, 0, 'h'}, 4, BAD "h"},                                   /* a NUL */
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        char text[UCS2_TEXT_OCTETS(6) + 1];
        bool damaged = false;
        size_t len = ucs2_to_utf8(cases[c].octets, 0, cases[c].len, text, sizeof text, &damaged);
        assert_string_equal(text, cases[c].text);
        assert_int_equal(len, strlen(text));
        assert_true(damaged);
    }
}

static void a_text_without_room_is_not_read(void **state)
{
    (void)state;
    static const uint8_t octets[] = {0, 'a', 0, 'b'};
    char text[UCS2_TEXT_OCTETS(4)] = "......";
    bool damaged = false;
    assert_int_equal(ucs2_to_utf8(octets, 0, 4, text, sizeof text, &damaged), 0);
    assert_string_equal(text, "");
    text[0] = '.';
    assert_int_equal(ucs2_to_utf8(octets, 0, 4, text, 0, &damaged), 0);
    assert_int_equal(text[0], '.');
}

static void writing_stops_before_what_cannot_be_carried(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        size_t len, max, stopped, count;
    } cases[] = {
        {"ab", 2, 4, 2, 4},                /* all of it */
        {"ab", 2, 2, 1, 2},                /* no room for the second */
        {"a\xF0\x9F\x98\x80", 5, 5, 1, 2}, /* room for half a pair only */
        {"a\xE2\x82", 3, 8, 1, 2},         /* cut UTF-8 */
        {"a\0b", 3, 8, 1, 2},              /* a NUL */
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        uint8_t octets[9] = {[4] = 0xEE};
        size_t count = 0;
        assert_int_equal(
            ucs2_from_utf8(cases[c].text, 0, cases[c].len, octets, cases[c].max, &count),
            cases[c].stopped);
        assert_int_equal(count, cases[c].count);
        assert_int_equal(octets[4], 0xEE);
    }
}

static void what_is_written_is_appended(void **state)
{
    (void)state;
    uint8_t octets[6] = {9, 9};
    size_t count = 2;
    assert_int_equal(ucs2_from_utf8("Mab", 1, 3, octets, sizeof octets, &count), 3);
    assert_int_equal(count, 6);
    assert_memory_equal(octets, "\x09\x09\0a\0b", 6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_character_reads_back_as_written),
        cmocka_unit_test(the_examples_of_the_standard_read_right),
        cmocka_unit_test(what_is_not_well_formed_reads_as_the_replacement),
        cmocka_unit_test(nothing_is_written_without_room),
        cmocka_unit_test(a_value_past_the_last_is_written_as_the_replacement),
        cmocka_unit_test(each_character_reads_back_from_ucs2),
        cmocka_unit_test(the_example_of_ucs2_reads_right),
        cmocka_unit_test(what_is_broken_shows_and_is_marked),
        cmocka_unit_test(a_text_without_room_is_not_read),
        cmocka_unit_test(writing_stops_before_what_cannot_be_carried),
        cmocka_unit_test(what_is_written_is_appended),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
