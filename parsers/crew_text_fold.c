/* SPDX-License-Identifier: MIT
 * crew_text_fold: a text as the grammar sees it, one unit a character.
 *
 * A table of ranges says what becomes of a character; Latin letters lose their accents by two
 * strings that are indexed by code point (Unicode blocks Latin-1 Supplement and Latin Extended-A). */
#include "parsers/crew_text_items.h"

#include "parsers/utf8.h"

#define PASSED_OVER 0
#define AS_IT_IS 1 /* a letter of another alphabet */

/* U+00C0 to U+00FF: the two that are no letters are blanks here. */
static const char latin_1[] = "AAAAAAACEEEEIIIIDNOOOOO OUUUUYTsaaaaaaaceeeeiiiidnooooo ouuuuyty";
/* U+0100 to U+017F */
static const char latin_a[] = "AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiIiJjKkkLlLlLlLlLl"
                              "NnNnNnnNnOoOoOoOoRrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";

/* Ranges in ascending order; a character between two of them is an emoji (some sign or other). */
static const struct {
    uint32_t first, last;
    uint16_t unit;
} ranges[] = {
    {0x0000, 0x0008, PASSED_OVER},
    {0x0009, 0x0009, ' '},
    {0x000A, 0x000D, '\n'},
    {0x000E, 0x001F, PASSED_OVER},
    {0x007F, 0x009F, PASSED_OVER},
    {0x00A0, 0x00A0, ' '},
    {0x00A1, 0x00A1, ' '},
    {0x00A2, 0x00A5, '$'},
    {0x00A8, 0x00A8, '"'},
    {0x00AA, 0x00AA, 'a'},
    {0x00AB, 0x00AB, '"'},
    {0x00AD, 0x00AD, PASSED_OVER},
    {0x00B0, 0x00B0, '%'},
    {0x00B4, 0x00B4, '\''},
    {0x00B7, 0x00B7, '*'},
    {0x00BA, 0x00BA, '.'},
    {0x00BB, 0x00BB, '"'},
    {0x00BC, 0x00BC, FOLD_FRACTION},
    {0x00BD, 0x00BD, FOLD_HALF},
    {0x00BE, 0x00BE, FOLD_FRACTION},
    {0x00BF, 0x00BF, ' '},
    {0x00D7, 0x00D7, 'x'},
    {0x0180, 0x02FF, AS_IT_IS},
    {0x0300, 0x036F, PASSED_OVER},
    {0x0370, 0x1FFF, AS_IT_IS},
    {0x2000, 0x200A, ' '},
    {0x200B, 0x200F, PASSED_OVER},
    {0x2010, 0x2015, '-'},
    {0x2018, 0x201B, '\''},
    {0x201C, 0x201F, '"'},
    {0x2022, 0x2023, '*'},
    {0x2024, 0x2027, '.'},
    {0x2028, 0x2029, '\n'},
    {0x202A, 0x202E, PASSED_OVER},
    {0x202F, 0x202F, ' '},
    {0x2032, 0x2032, '\''},
    {0x2033, 0x2033, '"'},
    {0x2039, 0x203A, '\''},
    {0x205F, 0x205F, ' '},
    {0x2060, 0x206F, PASSED_OVER},
    {0x20A0, 0x20BF, '$'},
    {0x20D0, 0x20FF, PASSED_OVER},
    {0x2116, 0x2116, '#'},
    {0x2150, 0x215F, FOLD_FRACTION},
    {0x2190, 0x21FF, '-'},
    {0x2212, 0x2212, '-'},
    {0x2236, 0x2236, ':'},
    {0x2248, 0x2248, '~'},
    {0x25A0, 0x25CF, '*'},
    {0x2611, 0x2611, FOLD_THUMB_UP},
    {0x2665, 0x2665, FOLD_HEART},
    {0x2705, 0x2705, FOLD_THUMB_UP},
    {0x2713, 0x2714, FOLD_THUMB_UP},
    {0x2764, 0x2764, FOLD_HEART},
    {0x27A1, 0x27A1, '-'},
    {0x2C00, 0x2FFF, AS_IT_IS},
    {0x3000, 0x3000, ' '},
    {0x3001, 0x3001, ','},
    {0x3002, 0x3002, '.'},
    {0x3003, 0xDFFF, AS_IT_IS},
    {0xF900, 0xFDFF, AS_IT_IS},
    {0xFE00, 0xFE0F, PASSED_OVER},
    {0xFEFF, 0xFEFF, PASSED_OVER},
    {0xFFF0, 0xFFFF, PASSED_OVER},
    {0x10000, 0x1CFFF, FOLD_LETTER},
    {0x1D400, 0x1D7FF, FOLD_LETTER},
    {0x1F197, 0x1F197, FOLD_THUMB_UP},
    {0x1F3FB, 0x1F3FF, PASSED_OVER},
    {0x1F44C, 0x1F44C, FOLD_THUMB_UP},
    {0x1F44D, 0x1F44D, FOLD_THUMB_UP},
    {0x1F44E, 0x1F44E, FOLD_THUMB_DOWN},
    {0x20000, 0x3FFFF, FOLD_LETTER},
    {0xE0000, 0xE0FFF, PASSED_OVER},
};

static uint16_t by_range(uint32_t character)
{
    for (size_t i = 0; i < sizeof ranges / sizeof ranges[0]; i++) {
        if (character >= ranges[i].first && character <= ranges[i].last) {
            return ranges[i].unit == AS_IT_IS ? (uint16_t)character : ranges[i].unit;
        }
    }
    return FOLD_EMOJI;
}

static uint16_t narrow(uint32_t character)
{
    if (character == '`') {
        return '\'';
    }
    return character == '_' ? ' ' : (uint16_t)character;
}

static uint16_t fold_character(uint32_t character)
{
    if (character >= 0xFF01 && character <= 0xFF5E) {
        return narrow(character - 0xFF01 + '!');
    }
    if (character >= 0xC0 && character <= 0xFF && latin_1[character - 0xC0] != ' ') {
        return (uint16_t)latin_1[character - 0xC0];
    }
    if (character >= 0x100 && character <= 0x17F) {
        return (uint16_t)latin_a[character - 0x100];
    }
    return by_range(character);
}

static inline size_t read_unit(const char *text, size_t length, size_t at, uint16_t *unit)
{
    unsigned char octet = (unsigned char)text[at];
    if (octet >= 0x20 && octet < 0x7F) { /* nearly all of them */
        *unit = narrow(octet);
        return 1;
    }
    uint32_t character = 0;
    size_t octets = utf8_read(text, length, at, &character);
    *unit = octets > 0 ? fold_character(character) : PASSED_OVER;
    return octets > 0 ? octets : 1;
}

size_t fold_read(const char *text, size_t length, size_t at, uint16_t *unit)
{
    return read_unit(text, length, at, unit);
}

void fold_text(const char *text, size_t length, struct fold *out)
{
    size_t end = length < CREW_TEXT_OCTETS_MAX ? length : CREW_TEXT_OCTETS_MAX;
    size_t count = 0;
    size_t at = 0;
    out->text = text;
    out->length = end;
    while (count < CREW_TEXT_OCTETS_MAX && at < end) {
        uint16_t unit = PASSED_OVER;
        size_t octets = read_unit(text, end, at, &unit);
        if (unit != PASSED_OVER) {
            out->unit[count] = unit;
            out->start[count] = (uint16_t)at;
            count++;
        }
        at += octets;
    }
    out->count = count;
}

struct crew_slice fold_slice(const struct fold *fold, size_t first, size_t end)
{
    struct crew_slice slice = {0, 0};
    size_t last = end < fold->count ? end : fold->count;
    if (first < last) {
        uint16_t unit = 0;
        size_t at = fold->start[last - 1];
        slice.start = fold->start[first];
        slice.length =
            (uint16_t)(at + fold_read(fold->text, fold->length, at, &unit) - slice.start);
    }
    return slice;
}
