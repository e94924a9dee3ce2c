/* SPDX-License-Identifier: MIT
 *
 * The alphabets against published tables (fixtures/vectors/gsm-tables.tsv names them) and against
 * Perl's core module Encode::GSM0338; the packing against libosmocore. The worked texts are those
 * of oFono's unit/test-sms.c. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <dlfcn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/septets.h"
#include "parsers/utf8.h"

#define TEXT_MAX (SEPTETS_MAX * SEPTETS_UTF8_MAX + 1)
#define LANGUAGES 4
#define CODES 128

static const struct septets_shift none = {0, 0};

/* What each septet shows, by kind (locking, single) and language; 0 without an entry. */
static uint32_t published[2][LANGUAGES][CODES];

static int read_published_tables(void **state)
{
    (void)state;
    FILE *file = fopen("fixtures/vectors/gsm-tables.tsv", "r");
    if (file == NULL) {
        return -1;
    }
    char line[256];
    int entries = 0;
    while (fgets(line, sizeof line, file) != NULL) {
        unsigned language = 0;
        unsigned code = 0;
        unsigned character = 0;
        char kind[16];
        if (sscanf(line, "%15s %u %*s %x %x", kind, &language, &code, &character) == 4 &&
            language < LANGUAGES && code < CODES) {
            published[strcmp(kind, "single") == 0][language][code] = character;
            entries++;
        }
    }
    (void)fclose(file);
    /* Spanish has no locking table: the default alphabet holds. */
    memcpy(published[0][SEPTETS_LANGUAGE_SPANISH], published[0][0], sizeof published[0][0]);
    return entries == 3 * 127 + 10 + 17 + 19 + 37 ? 0 : -1;
}

static void assert_shows(const uint8_t *septets, size_t count, struct septets_shift shift,
                         uint32_t character)
{
    char text[TEXT_MAX];
    char expected[UTF8_OCTETS_MAX + 1] = "";
    (void)utf8_write(character, expected, UTF8_OCTETS_MAX, 0);
    size_t len = septets_to_utf8(septets, 0, count, shift, text, sizeof text);
    assert_string_equal(text, expected);
    assert_int_equal(len, strlen(expected));
}

static void each_septet_shows_what_the_locking_table_says(void **state)
{
    (void)state;
    for (uint8_t language = 0; language < LANGUAGES; language++) {
        for (uint8_t code = 0; code < CODES; code++) {
            if (code != SEPTETS_ESCAPE) {
                struct septets_shift shift = {.locking = language};
                assert_shows(&code, 1, shift, published[0][language][code]);
            }
        }
    }
}

static void each_escaped_septet_shows_the_single_table_or_else_the_locking_one(void **state)
{
    (void)state;
    for (uint8_t locking = 0; locking < LANGUAGES; locking++) {
        for (uint8_t single = 0; single < LANGUAGES; single++) {
            for (uint8_t code = 0; code < CODES; code++) {
                const struct septets_shift shift = {locking, single};
                const uint8_t pair[] = {SEPTETS_ESCAPE, code};
                uint32_t character = published[1][single][code];
                if (code == SEPTETS_ESCAPE) {
                    character = ' ';
                } else if (character == 0) {
                    character = published[0][locking][code];
                }
                assert_shows(pair, 2, shift, character);
            }
        }
    }
}

static void a_language_without_tables_reads_as_the_default(void **state)
{
    (void)state;
    for (unsigned language = LANGUAGES; language < 256; language++) {
        const struct septets_shift shift = {(uint8_t)language, (uint8_t)language};
        const uint8_t c_cedilla = 0x09;
        const uint8_t euro[] = {SEPTETS_ESCAPE, 0x65};
        assert_shows(&c_cedilla, 1, shift, 0xC7);
        assert_shows(euro, 2, shift, 0x20AC);
    }
}

/* The septets that the published tables have for a character; 0 where there are none. */
static size_t published_septets(uint32_t character, struct septets_shift shift)
{
    for (unsigned code = 0; code < CODES; code++) {
        if (published[0][shift.locking][code] == character) {
            return 1;
        }
    }
    for (unsigned code = 0; code < CODES; code++) {
        if (published[1][shift.single][code] == character) {
            return 2;
        }
    }
    return 0;
}

static void each_character_takes_the_septets_of_the_tables_and_reads_back(void **state)
{
    (void)state;
    for (uint8_t locking = 0; locking < LANGUAGES; locking++) {
        for (uint8_t single = 0; single < LANGUAGES; single++) {
            const struct septets_shift shift = {locking, single};
            for (uint32_t character = 1; character < 0x2300; character++) {
                uint8_t pair[2] = {SEPTETS_ESCAPE, 0};
                size_t septets = septets_of(character, shift, &pair[1]);
                assert_int_equal(septets, published_septets(character, shift));
                if (septets > 0) {
                    assert_shows(pair + 2 - septets, septets, shift, character);
                }
            }
        }
    }
}

static void what_no_table_has_takes_no_septets(void **state)
{
    (void)state;
    static const uint32_t cases[] = {0, 0x60, 0x9, 0xE7, 0x2019, 0xFFFD, 0x1F600, 0x110000};
    uint8_t code = 0;
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        assert_int_equal(septets_of(cases[c], none, &code), 0);
    }
}

static void a_text_is_counted_in_septets(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        bool whole;
        size_t count;
    } cases[] = {
        {"", true, 0},
        {"M12 1340h", true, 9},
        {"50€", true, 4},
        {"[M12]", true, 7},
        {"Ñandú", false, 4}, /* ú is none of the alphabet, ù is */
        {"M12 “1340”", false, 4},
        {"M12 \xC3", false, 4},
        {"😀", false, 0},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        size_t count = 99;
        assert_int_equal(septets_count(cases[c].text, strlen(cases[c].text), &count),
                         cases[c].whole);
        assert_int_equal(count, cases[c].count);
    }
}

static void a_lone_last_escape_shows_a_space(void **state)
{
    (void)state;
    const uint8_t escape = SEPTETS_ESCAPE;
    assert_shows(&escape, 1, none, ' ');
}

static void a_hundred_and_sixty_escapes_show_eighty_spaces(void **state)
{
    (void)state;
    uint8_t escapes[SEPTETS_MAX];
    char text[TEXT_MAX];
    memset(escapes, SEPTETS_ESCAPE, sizeof escapes);
    assert_int_equal(septets_to_utf8(escapes, 0, SEPTETS_MAX, none, text, sizeof text), 80);
    assert_int_equal(strspn(text, " "), 80);
}

static void a_text_without_room_is_not_read(void **state)
{
    (void)state;
    static const uint8_t septets[] = {'a', 'b'};
    char text[6] = ".....";
    assert_int_equal(septets_to_utf8(septets, 0, 2, none, text, 4), 0);
    assert_string_equal(text, "");
    assert_int_equal(septets_to_utf8(septets, 0, 2, none, text, 5), 2);
    assert_string_equal(text, "ab");
    text[0] = '.';
    assert_int_equal(septets_to_utf8(septets, 0, 2, none, text, 0), 0);
    assert_int_equal(text[0], '.');
}

static void writing_stops_before_what_does_not_fit(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        size_t max, stopped, count;
    } cases[] = {
        {"", 0, 0, 0},   {"ab", 2, 2, 2}, {"ab", 1, 1, 1},    {"a€", 2, 1, 1},
        {"a€", 3, 4, 3}, {"aç", 4, 1, 1}, {"a\xFF", 4, 1, 1}, {"abcde", 4, 4, 4},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        uint8_t septets[5] = {0, 0, 0, 0, 0xEE};
        size_t count = 0;
        assert_int_equal(septets_from_utf8(cases[c].text, 0, strlen(cases[c].text), none, septets,
                                           cases[c].max, &count),
                         cases[c].stopped);
        assert_int_equal(count, cases[c].count);
        assert_int_equal(septets[4], 0xEE);
    }
}

static void what_is_written_is_appended(void **state)
{
    (void)state;
    uint8_t septets[3] = {9, 9};
    size_t count = 1;
    assert_int_equal(septets_from_utf8("M12", 1, 3, none, septets, sizeof septets, &count), 3);
    assert_int_equal(count, 3);
    assert_memory_equal(septets,
                        "\x09"
                        "12",
                        sizeof septets);
}

static size_t octets_of_hex(const char *hex, uint8_t *octets)
{
    size_t len = strlen(hex) / 2;
    for (size_t i = 0; i < len; i++) {
        const char digits[3] = {hex[2 * i], hex[2 * i + 1], '\0'};
        octets[i] = (uint8_t)strtoul(digits, NULL, 16);
    }
    return len;
}

static void the_published_packed_texts_read_right_and_pack_the_same(void **state)
{
    (void)state;
    static const struct {
        struct septets_shift shift;
        size_t count;
        const char *hex;
        const char *text;
        bool packs; /* some write escaped what the locking table has too */
    } cases[] = {
        {{0, 0}, 9, "CD980C149BD16068", "M12 1340h", true},
        {{0, 0}, 10, "E8329BFD4697D9EC37", "hellohello", true},
        {{0, 2},
         38,
         "9BC446B1A16C509BD4E6B5E16D7A1BDF06B8096E929BE7A6BA096FCA9BF4E6BDA903",
         "ç\f^{}\\[~]|ÁÍÓÚá€íóú",
         true},
        {{3, 3},
         49,
         "84C446B160381E1BC96662D9543696CD6583D9643C1BD42675D9F0C01B9F8602CC74B75C0EE68030ECF91D",
         "êç\fÔôÁáΦΓ^ΩΠΨΣΘÊ{}\\[~]|ÀÍÓÚÃÕÂ€íóúãõâ",
         false},
        {{1, 1}, 26, "1BC586B2416D529BD786B7E96D7C1BE002C8011318870E", "\f^{}\\[~]|ĞİŞç€ğış", true},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        uint8_t octets[SEPTETS_OCTETS_MAX];
        uint8_t again[SEPTETS_OCTETS_MAX];
        uint8_t septets[SEPTETS_MAX];
        char text[TEXT_MAX];
        size_t count = 0;
        size_t len = octets_of_hex(cases[c].hex, octets);
        assert_int_equal(septets_unpack(octets, len, septets, cases[c].count), cases[c].count);
        (void)septets_to_utf8(septets, 0, cases[c].count, cases[c].shift, text, sizeof text);
        assert_string_equal(text, cases[c].text);
        if (cases[c].packs) {
            assert_int_equal(septets_from_utf8(text, 0, strlen(text), cases[c].shift, septets,
                                               SEPTETS_MAX, &count),
                             strlen(text));
            assert_int_equal(count, cases[c].count);
        }
        assert_int_equal(septets_pack(septets, cases[c].count, again, sizeof again), len);
        assert_memory_equal(again, octets, len);
    }
}

static void every_length_unpacks_as_packed(void **state)
{
    (void)state;
    uint8_t septets[SEPTETS_MAX];
    for (size_t i = 0; i < SEPTETS_MAX; i++) {
        septets[i] = (uint8_t)(i * 37 % CODES);
    }
    for (size_t count = 0; count <= SEPTETS_MAX; count++) {
        uint8_t octets[SEPTETS_OCTETS_MAX + 1];
        uint8_t back[SEPTETS_MAX];
        memset(octets, 0xEE, sizeof octets);
        size_t len = septets_pack(septets, count, octets, SEPTETS_PACKED(count));
        assert_int_equal(len, (count * 7 + 7) / 8);
        assert_int_equal(octets[len], 0xEE);
        assert_int_equal(septets_unpack(octets, len, back, count), count);
        assert_memory_equal(back, septets, count);
        if (count > 0) {
            assert_int_equal(septets_pack(septets, count, octets, len - 1), 0);
        }
    }
    uint8_t octets[SEPTETS_OCTETS_MAX + 1];
    uint8_t more[SEPTETS_MAX + 1] = {0};
    assert_int_equal(septets_pack(more, SEPTETS_MAX + 1, octets, sizeof octets), 0);
}

static void no_more_is_unpacked_than_the_octets_hold(void **state)
{
    (void)state;
    static const uint8_t octets[SEPTETS_OCTETS_MAX + 7] = {0x7F};
    uint8_t septets[SEPTETS_MAX];
    assert_int_equal(septets_unpack(octets, 0, septets, SEPTETS_MAX), 0);
    assert_int_equal(septets_unpack(octets, 1, septets, SEPTETS_MAX), 1);
    assert_int_equal(septets_unpack(octets, 6, septets, SEPTETS_MAX), 6);
    assert_int_equal(septets_unpack(octets, 7, septets, SEPTETS_MAX), 8);
    assert_int_equal(septets_unpack(octets, sizeof octets, septets, 1000), SEPTETS_MAX);
}

/* One septet an octet, in hex; each code alone, then each behind an escape. Perl shows U+FFFD where
 * the standard is lenient (an escape before an unknown septet), so only known ones are asked. */
static void the_default_alphabet_agrees_with_perl(void **state)
{
    (void)state;
    if (system("perl -e 1 >/dev/null 2>&1") != 0) {
        print_message("skipped: perl is not installed, so Encode::GSM0338 cannot be asked\n");
        skip();
    }
    FILE *perl = popen("perl -MEncode -CO -e 'for my $e (0, 1) { for my $c (0 .. 127) { "
                       "my $t = decode(\"gsm0338\", $e ? pack(\"CC\", 27, $c) : pack(\"C\", $c)); "
                       "printf(\"%d %d %d\\n\", $e, $c, length($t) == 1 ? ord($t) : 0xFFFD) } }'",
                       "r");
    assert_non_null(perl);
    int compared = 0;
    unsigned escaped = 0;
    unsigned code = 0;
    unsigned character = 0;
    while (fscanf(perl, "%u %u %u", &escaped, &code, &character) == 3) {
        const uint8_t pair[] = {SEPTETS_ESCAPE, (uint8_t)code};
        if (character != UTF8_REPLACEMENT && code < CODES) {
            assert_shows(pair + (escaped ? 0 : 1), escaped ? 2 : 1, none, character);
            compared++;
        }
    }
    assert_int_equal(pclose(perl), 0);
    assert_int_equal(compared, 127 + 10);
}

/* libosmocore maps to single octets of its own, so only ASCII texts are compared; the bits are what
 * counts. */
static void packing_agrees_with_libosmocore(void **state)
{
    (void)state;
    void *library = dlopen("libosmogsm.so", RTLD_NOW);
    if (library == NULL) {
        print_message("skipped: libosmogsm (libosmocore-dev) is not installed\n");
        skip();
    }
    int (*encode)(uint8_t *, size_t, const char *, int *) = NULL;
    int (*decode)(char *, size_t, const uint8_t *, uint8_t) = NULL;
    *(void **)&encode = dlsym(library, "gsm_7bit_encode_n");
    *(void **)&decode = dlsym(library, "gsm_7bit_decode_n");
    assert_non_null(encode);
    assert_non_null(decode);
    static const char letters[] = "M12 1340h, Az#7 %&'()*+-./:;<=>?!\"";
    for (size_t len = 1; len <= SEPTETS_MAX; len++) {
        char text[SEPTETS_MAX + 1] = "";
        char back[SEPTETS_MAX + 1] = "";
        uint8_t septets[SEPTETS_MAX];
        uint8_t ours[SEPTETS_OCTETS_MAX];
        uint8_t theirs[SEPTETS_OCTETS_MAX + 1] = {0};
        size_t count = 0;
        int written = 0;
        for (size_t i = 0; i < len; i++) {
            text[i] = letters[i * len % (sizeof letters - 1)];
        }
        assert_int_equal(septets_from_utf8(text, 0, len, none, septets, SEPTETS_MAX, &count), len);
        assert_int_equal(count, len);
        size_t packed = septets_pack(septets, count, ours, sizeof ours);
        assert_int_equal(encode(theirs, sizeof theirs, text, &written), len);
        assert_int_equal(written, packed);
        assert_memory_equal(ours, theirs, packed);
        assert_int_equal(decode(back, sizeof back, ours, (uint8_t)len), len);
        assert_string_equal(back, text);
    }
    /* The library stays open: what it allocated for itself would look like a leak of ours. */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_septet_shows_what_the_locking_table_says),
        cmocka_unit_test(each_escaped_septet_shows_the_single_table_or_else_the_locking_one),
        cmocka_unit_test(a_language_without_tables_reads_as_the_default),
        cmocka_unit_test(each_character_takes_the_septets_of_the_tables_and_reads_back),
        cmocka_unit_test(what_no_table_has_takes_no_septets),
        cmocka_unit_test(a_text_is_counted_in_septets),
        cmocka_unit_test(a_lone_last_escape_shows_a_space),
        cmocka_unit_test(a_hundred_and_sixty_escapes_show_eighty_spaces),
        cmocka_unit_test(a_text_without_room_is_not_read),
        cmocka_unit_test(writing_stops_before_what_does_not_fit),
        cmocka_unit_test(what_is_written_is_appended),
        cmocka_unit_test(the_published_packed_texts_read_right_and_pack_the_same),
        cmocka_unit_test(every_length_unpacks_as_packed),
        cmocka_unit_test(no_more_is_unpacked_than_the_octets_hold),
        cmocka_unit_test(the_default_alphabet_agrees_with_perl),
        cmocka_unit_test(packing_agrees_with_libosmocore),
    };
    return cmocka_run_group_tests(tests, read_published_tables, NULL);
}
