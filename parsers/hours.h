/* SPDX-License-Identifier: MIT
 * hours: an hour-meter figure as a hand writes it, in hundredths of an hour, never floating point.
 * "1340" "1,340.5" "1.340,5" "1340,5" "1340:30" "1340h". */
#ifndef METERPOST_PARSERS_HOURS_H
#define METERPOST_PARSERS_HOURS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define HOURS_HUNDREDTHS_MAX INT64_C(99999999) /* 999 999.99 h: no meter shows more */

/* One figure. A comma or point followed by exactly three digits can be a thousands mark or a
 * decimal sign: both are given and the desk takes the one that is not absurd for the machine. */
struct hours_figure {
    int64_t hundredths;           /* the first choice: thousands mark, where there are both */
    int64_t otherwise_hundredths; /* "1,340" -> hundredths 134000, otherwise 134 (1.34 h) */
    uint16_t start, length;       /* where it stands in the text */
    uint8_t whole_digits;         /* digits before the decimal sign, leading zeros aside */
    uint8_t decimal_digits;       /* after it; 0 when the figure has no point */
    bool present;
    bool ambiguous; /* otherwise_hundredths holds the decimal reading */
    bool clock;     /* digits:minutes */
};

enum hours_result { HOURS_OK, HOURS_NONE, HOURS_MALFORMED, HOURS_TOO_LARGE };

/* Reads a plain figure that fills text[0, length) wholly: digits with marks, no unit, no spaces
 * around. Used by verbs and by the grammar after it has cut its words. *out is filled for every
 * input; present only when HOURS_OK. */
enum hours_result hours_read(const char *text, size_t length, struct hours_figure *out);

/* Writes hundredths as "1340", "1340.5" or "1340.25": as few decimals as say it exactly. Negative
 * figures carry a minus. Returns the length without NUL; size at least HOURS_TEXT_OCTETS. */
#define HOURS_TEXT_OCTETS 24
size_t hours_write(int64_t hundredths, char *out, size_t size);

#endif
