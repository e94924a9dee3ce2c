/* SPDX-License-Identifier: MIT
 * septets: the 7-bit alphabets of GSM. Eight septets fill seven octets, lowest bits first; that block is the
 * unit of unpacking. */
#include "parsers/septets.h"

#include <string.h>

#include "parsers/utf8.h"

#define BLOCK_SEPTETS 8u
#define BLOCK_OCTETS 7u
#define CODES 128
#define LANGUAGES 4 /* enum septets_language */
#define GLYPH 4     /* up to three octets of UTF-8, the rest NUL */
#define QUICK 256
#define QUICK_ESCAPED 0x80u
#define QUICK_NONE 0x9Bu

/* The tables of TS 23.038: default alphabet (6.2.1), its extension (6.2.1.1), national single shift
 * (annex A.2) and locking shift tables (annex A.3). A row has the 16 septets of one high digit. The
 * escape (0x1B) and codes without an entry are empty. */

/* clang-format off */
static const char default_alphabet[CODES][GLYPH] = {
    "@", "£", "$", "¥", "è", "é", "ù", "ì", "ò", "Ç", "\n", "Ø", "ø", "\r", "Å", "å",
    "Δ", "_", "Φ", "Γ", "Λ", "Ω", "Π", "Ψ", "Σ", "Θ", "Ξ", "", "Æ", "æ", "ß", "É",
    " ", "!", "\"", "#", "¤", "%", "&", "'", "(", ")", "*", "+", ",", "-", ".", "/",
    "0", "1", "2", "3", "4", "5", "6", "7", "8", "9", ":", ";", "<", "=", ">", "?",
    "¡", "A", "B", "C", "D", "E", "F", "G", "H", "I", "J", "K", "L", "M", "N", "O",
    "P", "Q", "R", "S", "T", "U", "V", "W", "X", "Y", "Z", "Ä", "Ö", "Ñ", "Ü", "§",
    "¿", "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l", "m", "n", "o",
    "p", "q", "r", "s", "t", "u", "v", "w", "x", "y", "z", "ä", "ö", "ñ", "ü", "à",
};

static const char turkish_locking[CODES][GLYPH] = {
    "@", "£", "$", "¥", "€", "é", "ù", "ı", "ò", "Ç", "\n", "Ğ", "ğ", "\r", "Å", "å",
    "Δ", "_", "Φ", "Γ", "Λ", "Ω", "Π", "Ψ", "Σ", "Θ", "Ξ", "", "Ş", "ş", "ß", "É",
    " ", "!", "\"", "#", "¤", "%", "&", "'", "(", ")", "*", "+", ",", "-", ".", "/",
    "0", "1", "2", "3", "4", "5", "6", "7", "8", "9", ":", ";", "<", "=", ">", "?",
    "İ", "A", "B", "C", "D", "E", "F", "G", "H", "I", "J", "K", "L", "M", "N", "O",
    "P", "Q", "R", "S", "T", "U", "V", "W", "X", "Y", "Z", "Ä", "Ö", "Ñ", "Ü", "§",
    "ç", "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l", "m", "n", "o",
    "p", "q", "r", "s", "t", "u", "v", "w", "x", "y", "z", "ä", "ö", "ñ", "ü", "à",
};

static const char portuguese_locking[CODES][GLYPH] = {
    "@", "£", "$", "¥", "ê", "é", "ú", "í", "ó", "ç", "\n", "Ô", "ô", "\r", "Á", "á",
    "Δ", "_", "ª", "Ç", "À", "∞", "^", "\\", "€", "Ó", "|", "", "Â", "â", "Ê", "É",
    " ", "!", "\"", "#", "º", "%", "&", "'", "(", ")", "*", "+", ",", "-", ".", "/",
    "0", "1", "2", "3", "4", "5", "6", "7", "8", "9", ":", ";", "<", "=", ">", "?",
    "Í", "A", "B", "C", "D", "E", "F", "G", "H", "I", "J", "K", "L", "M", "N", "O",
    "P", "Q", "R", "S", "T", "U", "V", "W", "X", "Y", "Z", "Ã", "Õ", "Ú", "Ü", "§",
    "~", "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l", "m", "n", "o",
    "p", "q", "r", "s", "t", "u", "v", "w", "x", "y", "z", "ã", "õ", "`", "ü", "à",
};

/* The ten entries of the extension stand at the same places in every single shift table. */
#define EXTENSION \
    [0x0A] = "\f", [0x14] = "^", [0x28] = "{", [0x29] = "}", [0x2F] = "\\", [0x3C] = "[", \
    [0x3D] = "~", [0x3E] = "]", [0x40] = "|", [0x65] = "€"

static const char default_extension[CODES][GLYPH] = {
    EXTENSION,
};

static const char turkish_single[CODES][GLYPH] = {
    EXTENSION,
    [0x47] = "Ğ", [0x49] = "İ", [0x53] = "Ş", [0x63] = "ç", [0x67] = "ğ", [0x69] = "ı",
    [0x73] = "ş",
};

static const char spanish_single[CODES][GLYPH] = {
    EXTENSION,
    [0x09] = "ç", [0x41] = "Á", [0x49] = "Í", [0x4F] = "Ó", [0x55] = "Ú", [0x61] = "á",
    [0x69] = "í", [0x6F] = "ó", [0x75] = "ú",
};

static const char portuguese_single[CODES][GLYPH] = {
    EXTENSION,
    [0x05] = "ê", [0x09] = "ç", [0x0B] = "Ô", [0x0C] = "ô", [0x0E] = "Á", [0x0F] = "á",
    [0x12] = "Φ", [0x13] = "Γ", [0x15] = "Ω", [0x16] = "Π", [0x17] = "Ψ", [0x18] = "Σ",
    [0x19] = "Θ", [0x1F] = "Ê", [0x41] = "À", [0x49] = "Í", [0x4F] = "Ó", [0x55] = "Ú",
    [0x5B] = "Ã", [0x5C] = "Õ", [0x61] = "Â", [0x69] = "í", [0x6F] = "ó", [0x75] = "ú",
    [0x7B] = "ã", [0x7C] = "õ", [0x7F] = "â",
};

/* The default alphabet the other way round, for characters below U+0100: the septet, with
 * QUICK_ESCAPED for one behind an escape, or QUICK_NONE. */
static const uint8_t quick[QUICK] = {
    0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x0A, 0x9B, 0x8A, 0x0D, 0x9B, 0x9B,
    0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B,
    0x20, 0x21, 0x22, 0x23, 0x02, 0x25, 0x26, 0x27, 0x28, 0x29, 0x2A, 0x2B, 0x2C, 0x2D, 0x2E, 0x2F,
    0x30, 0x31, 0x32, 0x33, 0x34, 0x35, 0x36, 0x37, 0x38, 0x39, 0x3A, 0x3B, 0x3C, 0x3D, 0x3E, 0x3F,
    0x00, 0x41, 0x42, 0x43, 0x44, 0x45, 0x46, 0x47, 0x48, 0x49, 0x4A, 0x4B, 0x4C, 0x4D, 0x4E, 0x4F,
    0x50, 0x51, 0x52, 0x53, 0x54, 0x55, 0x56, 0x57, 0x58, 0x59, 0x5A, 0xBC, 0xAF, 0xBE, 0x94, 0x11,
    0x9B, 0x61, 0x62, 0x63, 0x64, 0x65, 0x66, 0x67, 0x68, 0x69, 0x6A, 0x6B, 0x6C, 0x6D, 0x6E, 0x6F,
    0x70, 0x71, 0x72, 0x73, 0x74, 0x75, 0x76, 0x77, 0x78, 0x79, 0x7A, 0xA8, 0xC0, 0xA9, 0xBD, 0x9B,
    0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B,
    0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B,
    0x9B, 0x40, 0x9B, 0x01, 0x24, 0x03, 0x9B, 0x5F, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B,
    0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x60,
    0x9B, 0x9B, 0x9B, 0x9B, 0x5B, 0x0E, 0x1C, 0x09, 0x9B, 0x1F, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B, 0x9B,
    0x9B, 0x5D, 0x9B, 0x9B, 0x9B, 0x9B, 0x5C, 0x9B, 0x0B, 0x9B, 0x9B, 0x9B, 0x5E, 0x9B, 0x9B, 0x1E,
    0x7F, 0x9B, 0x9B, 0x9B, 0x7B, 0x0F, 0x1D, 0x9B, 0x04, 0x05, 0x9B, 0x9B, 0x07, 0x9B, 0x9B, 0x9B,
    0x9B, 0x7D, 0x08, 0x9B, 0x9B, 0x9B, 0x7C, 0x9B, 0x0C, 0x06, 0x9B, 0x9B, 0x7E, 0x9B, 0x9B, 0x9B,
};
/* clang-format on */

static const char (*const locking_tables[LANGUAGES])[GLYPH] = {
    default_alphabet, turkish_locking, default_alphabet, portuguese_locking};

/* By language, then septet. */
static const char (*const single_tables[LANGUAGES])[GLYPH] = {default_extension, turkish_single,
                                                              spanish_single, portuguese_single};

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

typedef const char (*table)[GLYPH];

static table locking_table(struct septets_shift shift)
{
    return locking_tables[shift.locking < LANGUAGES ? shift.locking : 0];
}

static table single_table(struct septets_shift shift)
{
    return single_tables[shift.single < LANGUAGES ? shift.single : 0];
}

static const char blank[GLYPH] = " ";

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
    for (; at < to && used + GLYPH <= text_max; at++) {
        uint8_t code = septets[at] & 0x7Fu;
        const char *glyph =
            code == SEPTETS_ESCAPE ? escaped(septets, to, shift, &at) : locking[code];
        memcpy(text + used, glyph, GLYPH); /* a whole word, what is too much is overwritten */
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
    for (uint8_t i = 0; i < CODES; i++) {
        if (glyphs[i][0] == glyph[0] && glyphs[i][1] == glyph[1] && glyphs[i][2] == glyph[2]) {
            *code = i;
            return true;
        }
    }
    return false;
}

size_t septets_of(uint32_t character, struct septets_shift shift, uint8_t *code)
{
    char glyph[GLYPH] = "";
    table locking = locking_table(shift);
    if (character < QUICK && locking == locking_tables[SEPTETS_LANGUAGE_DEFAULT] &&
        quick[character] != QUICK_NONE) {
        *code = quick[character] & 0x7Fu;
        return quick[character] < QUICK_ESCAPED ? 1 : 2;
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

/* Passes on the characters from text[*at] on that are one octet and one septet of the default alphabet
 * each, which most of a text is; they are written to septets[*used] and on. */
static void copy_plain(const char *text, size_t to, uint8_t *septets, size_t max, size_t *at,
                       size_t *used)
{
    size_t from = *at;
    size_t held = *used;
    for (; from < to && held < max; from++, held++) {
        unsigned char octet = (unsigned char)text[from];
        if (octet >= 0x80 || quick[octet] >= QUICK_ESCAPED) {
            break;
        }
        septets[held] = quick[octet];
    }
    *at = from;
    *used = held;
}

size_t septets_from_utf8(const char *text, size_t from, size_t to, struct septets_shift shift,
                         uint8_t *septets, size_t max, size_t *count)
{
    bool plain = locking_table(shift) == locking_tables[SEPTETS_LANGUAGE_DEFAULT];
    size_t used = *count;
    size_t at = from;
    while (at < to) {
        if (plain) {
            copy_plain(text, to, septets, max, &at, &used);
        }
        if (at >= to) {
            break;
        }
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
