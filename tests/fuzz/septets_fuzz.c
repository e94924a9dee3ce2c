/* SPDX-License-Identifier: MIT
 *
 * septets: the first two octets choose the tables, the rest is read three times over: as packed septets, as septets,
 * and as UTF-8. -max_len=480 */
#include <stdbool.h>
#include <string.h>

#include "parsers/septets.h"
#include "parsers/utf8.h"
#include "tests/fuzz/fuzz.h"

#define TEXT_MAX (SEPTETS_MAX * SEPTETS_UTF8_MAX + 1)

/* What is unpacked packs to the same octets, spare bits aside. */
static void packed(const uint8_t *octets, size_t len)
{
    uint8_t septets[SEPTETS_MAX];
    uint8_t again[SEPTETS_OCTETS_MAX];
    size_t count = septets_unpack(octets, len, septets, SEPTETS_MAX);
    PROPERTY(count <= SEPTETS_MAX && count * 7 <= len * 8);
    size_t octets_again = septets_pack(septets, count, again, sizeof again);
    PROPERTY(octets_again == SEPTETS_PACKED(count));
    for (size_t bit = 0; bit < count * 7; bit++) {
        PROPERTY((again[bit / 8] >> bit % 8 & 1) == (octets[bit / 8] >> bit % 8 & 1));
    }
    if (count * 7 % 8 != 0) {
        PROPERTY(again[octets_again - 1] >> count * 7 % 8 == 0);
    }
}

/* Septets show a text of UTF-8 in bounds, and what is written for it shows the same, in no more. */
static void shown(const uint8_t *septets, size_t count, struct septets_shift shift)
{
    char text[TEXT_MAX];
    char text_again[TEXT_MAX];
    uint8_t again[SEPTETS_MAX];
    size_t count_again = 0;
    size_t len = septets_to_utf8(septets, 0, count, shift, text, sizeof text);
    PROPERTY(len <= count * SEPTETS_UTF8_MAX && len < sizeof text && text[len] == '\0');
    PROPERTY(count == 0 || len > 0);
    PROPERTY(strlen(text) == len);
    PROPERTY(septets_from_utf8(text, 0, len, shift, again, SEPTETS_MAX, &count_again) == len);
    PROPERTY(count_again <= count);
    PROPERTY(septets_to_utf8(again, 0, count_again, shift, text_again, sizeof text_again) == len);
    PROPERTY(memcmp(text, text_again, len) == 0);
}

/* As much of a text as is written is read back. */
static void written(const char *text, size_t len, struct septets_shift shift)
{
    uint8_t septets[SEPTETS_MAX];
    char back[TEXT_MAX];
    size_t count = 0;
    size_t stopped = septets_from_utf8(text, 0, len, shift, septets, SEPTETS_MAX, &count);
    PROPERTY(stopped <= len && count <= SEPTETS_MAX);
    PROPERTY(septets_to_utf8(septets, 0, count, shift, back, sizeof back) == stopped);
    PROPERTY(memcmp(back, text, stopped) == 0);
    if (stopped < len) {
        uint32_t character = 0;
        uint8_t code = 0;
        (void)utf8_read(text, len, stopped, &character);
        size_t need = septets_of(character, shift, &code);
        PROPERTY(need == 0 || count + need > SEPTETS_MAX);
    }
}

static void counted(const char *text, size_t len)
{
    const struct septets_shift none = {0, 0};
    uint8_t septets[SEPTETS_MAX];
    size_t written = 0;
    size_t count = 0;
    bool whole = septets_count(text, len, &count);
    size_t stopped = septets_from_utf8(text, 0, len, none, septets, SEPTETS_MAX, &written);
    PROPERTY(count > SEPTETS_MAX - 1 || written == count);
    PROPERTY(stopped < len || whole);
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    if (len < 2) {
        return 0;
    }
    const struct septets_shift shift = {input[0] % 8, input[1] % 8};
    size_t rest = len - 2;
    packed(input + 2, rest);
    shown(input + 2, rest < SEPTETS_MAX ? rest : SEPTETS_MAX, shift);
    written((const char *)input + 2, rest, shift);
    counted((const char *)input + 2, rest);
    return 0;
}
