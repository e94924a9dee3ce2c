/* SPDX-License-Identifier: MIT
 * neutral: what somebody texted must not command the terminal, log, page, spreadsheet or program that it
 * comes to. The one place that says which characters could, and what stands for them. */
#ifndef METERPOST_DAEMON_GROUND_NEUTRAL_H
#define METERPOST_DAEMON_GROUND_NEUTRAL_H

#include <stdbool.h>
#include <stddef.h>

enum neutral_form {
    NEUTRAL_OCTETS,    /* each octet of it as \x1B: logs and screens; line breaks and tabs too */
    NEUTRAL_REPLACED,  /* U+FFFD: CSV, pages, calendars; line breaks and tabs stay */
    NEUTRAL_REFERENCED /* \u001b: JSON, in which nothing is lost; line breaks and tabs stay */
};

/* The longest that stands for one character, with its NUL. */
#define NEUTRAL_TEXT_OCTETS 20

/* The character at text[at], at < length, into out: itself where it is harmless. Control characters are not
 * (C0, DEL, C1: ECMA-48), nor what turns the direction of writing (Unicode UAX #9), breaks lines
 * (U+2028, U+2029), or is no UTF-8. Returns the octets of text it takes, at least 1. */
size_t neutral_next(const char *text, size_t length, size_t at, enum neutral_form form,
                    char out[NEUTRAL_TEXT_OCTETS]);

/* The whole text into out, NUL-terminated; where it has no room it ends in "...". Returns out. */
const char *neutral_text(const char *text, size_t length, enum neutral_form form, char *out,
                         size_t size);

#endif
