/* SPDX-License-Identifier: MIT
 *
 * The 7-bit alphabets of GSM. Eight septets fill seven octets, lowest bits first; that block is the
 * unit of unpacking. */
#include "parsers/septets.h"

#include <string.h>

#include "parsers/septet_tables.h"
#include "parsers/utf8.h"

#define BLOCK_SEPTETS 8u
#define BLOCK_OCTETS 7u

/* Octets at ... at + 6 as one number, the first lowest; what lies past len counts as zero. */
static uint64_t block_at(const uint8_t *octets, size_t len, size_t at)
{
    uint64_t block = 0;
    for (size_t i = 0; i < BLOCK_OCTETS && at < len; i++, at++) {
        block |= (uint64_t)octets[at] << (8 * i);
    }
    return block;
}

size_t septets_unpack(const uint8_t *octets, size_t len, uint8_t *septets, size_t count)
{
    size_t held = len < SEPTETS_OCTETS_MAX ? len * 8 / 7 : SEPTETS_MAX;
    if (count > held) {
        count = held;
    }
    for (size_t at = 0, from = 0; at < count; from += BLOCK_OCTETS) {
        uint64_t block = block_at(octets, len, from);
        for (size_t i = 0; i < BLOCK_SEPTETS && at < count; i++, at++) {
            septets[at] = (uint8_t)(block & 0x7Fu);
            block >>= 7;
        }
    }
    return count;
}

size_t septets_pack(const uint8_t *septets, size_t count, uint8_t *octets, size_t max)
{
    if (count > SEPTETS_MAX || SEPTETS_PACKED(count) > max) {
        return 0;
    }
    size_t len = SEPTETS_PACKED(count);
    for (size_t at = 0, from = 0; at < len;) {
        uint64_t block = 0;
        for (size_t i = 0; i < BLOCK_SEPTETS && from < count; i++, from++) {
            block |= (uint64_t)(septets[from] & 0x7Fu) << (7 * i);
        }
        for (size_t i = 0; i < BLOCK_OCTETS && at < len; i++, at++) {
            octets[at] = (uint8_t)(block & 0xFFu);
            block >>= 8;
        }
    }
    return len;
}

typedef const char (*table)[SEPTET_GLYPH];

static table locking_table(struct septets_shift shift)
{
    return septet_locking[shift.locking < SEPTET_LANGUAGES ? shift.locking : 0];
}

static table single_table(struct septets_shift shift)
{
    return septet_single[shift.single < SEPTET_LANGUAGES ? shift.single : 0];
}

static const char blank[SEPTET_GLYPH] = " ";

/* What an escape at *at and the septet behind it show; *at moves on to the last septet used. */
static const char *escaped(const uint8_t *septets, size_t to, struct septets_shift shift,
                           size_t *at)
{
    if (*at + 1 >= to) {
        return blank;
    }
    *at += 1;
    uint8_t code = septets[*at] & 0x7Fu;
    if (code == SEPTETS_ESCAPE) {
        return blank;
    }
    const char *glyph = single_table(shift)[code];
    return glyph[0] != '\0' ? glyph : locking_table(shift)[code];
}

size_t septets_to_utf8(const uint8_t *septets, size_t from, size_t to, struct septets_shift shift,
                       char *text, size_t text_max)
{
    table locking = locking_table(shift);
    size_t used = 0;
    size_t at = from;
    for (; at < to && used + SEPTET_GLYPH <= text_max; at++) {
        uint8_t code = septets[at] & 0x7Fu;
        const char *glyph =
            code == SEPTETS_ESCAPE ? escaped(septets, to, shift, &at) : locking[code];
        memcpy(text + used, glyph,
               SEPTET_GLYPH); /* a whole word, what is too much is overwritten */
        used += 1u + (glyph[1] != '\0') + (glyph[2] != '\0');
    }
    if (at < to) {
        used = 0;
    }
    if (used < text_max) {
        text[used] = '\0';
    }
    return used;
}

static bool find(table glyphs, const char *glyph, uint8_t *code)
{
    for (uint8_t i = 0; i < SEPTET_CODES; i++) {
        if (glyphs[i][0] == glyph[0] && glyphs[i][1] == glyph[1] && glyphs[i][2] == glyph[2]) {
            *code = i;
            return true;
        }
    }
    return false;
}

size_t septets_of(uint32_t character, struct septets_shift shift, uint8_t *code)
{
    char glyph[SEPTET_GLYPH] = "";
    table locking = locking_table(shift);
    if (character < SEPTET_QUICK && locking == septet_locking[SEPTETS_LANGUAGE_DEFAULT] &&
        septet_quick[character] != SEPTET_QUICK_NONE) {
        *code = septet_quick[character] & 0x7Fu;
        return septet_quick[character] < SEPTET_QUICK_ESCAPED ? 1 : 2;
    }
    /* A NUL would be found in the first empty entry. */
    if (character == 0 || utf8_write(character, glyph, SEPTETS_UTF8_MAX, 0) == 0) {
        return 0;
    }
    if (find(locking, glyph, code)) {
        return 1;
    }
    return find(single_table(shift), glyph, code) ? 2 : 0;
}

size_t septets_from_utf8(const char *text, size_t from, size_t to, struct septets_shift shift,
                         uint8_t *septets, size_t max, size_t *count)
{
    size_t used = *count;
    size_t at = from;
    while (at < to) {
        uint32_t character = 0;
        uint8_t code = 0;
        size_t read = utf8_read(text, to, at, &character);
        size_t need = septets_of(character, shift, &code);
        size_t end = used + need;
        if (need == 0 || used >= max || end > max) {
            break;
        }
        septets[used] = SEPTETS_ESCAPE;
        septets[end - 1] = code;
        used = end;
        at += read;
    }
    *count = used;
    return at;
}

bool septets_count(const char *text, size_t len, size_t *count)
{
    const struct septets_shift none = {0, 0};
    size_t at = 0;
    size_t need = 1;
    *count = 0;
    while (at < len && need > 0) {
        uint32_t character = 0;
        uint8_t code = 0;
        at += utf8_read(text, len, at, &character);
        need = septets_of(character, none, &code);
        *count += need;
    }
    return need > 0;
}
