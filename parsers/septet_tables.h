/* SPDX-License-Identifier: MIT
 *
 * What each septet shows, by language: used by septets.c alone. */
#ifndef METERPOST_PARSERS_SEPTET_TABLES_H
#define METERPOST_PARSERS_SEPTET_TABLES_H

#include <stdint.h>

#define SEPTET_CODES 128
#define SEPTET_LANGUAGES 4 /* enum septets_language */
#define SEPTET_GLYPH 4     /* up to three octets of UTF-8, the rest NUL */
#define SEPTET_QUICK 256

/* By language, then septet. */
extern const char (*const septet_locking[SEPTET_LANGUAGES])[SEPTET_GLYPH];
extern const char (*const septet_single[SEPTET_LANGUAGES])[SEPTET_GLYPH];

/* The default alphabet the other way round, for characters below U+0100: the septet, with
 * SEPTET_QUICK_ESCAPED for one behind an escape, or SEPTET_QUICK_NONE. */
#define SEPTET_QUICK_ESCAPED 0x80u
#define SEPTET_QUICK_NONE 0x9Bu
extern const uint8_t septet_quick[SEPTET_QUICK];

#endif
