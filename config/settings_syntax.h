/* SPDX-License-Identifier: MIT
 * settings_syntax: what is behind libconfig's bare "syntax error", in words and at the line where
 * it began. */
#ifndef METERPOST_CONFIG_SETTINGS_SYNTAX_H
#define METERPOST_CONFIG_SETTINGS_SYNTAX_H

#include <stdbool.h>
#include <stdint.h>

struct syntax_finding {
    uint32_t line;
    char says[240]; /* "what is wrong; what is expected" */
};

/* Looks for the first place where a text leaves libconfig's grammar. False where it finds none. What
 * an @include line brings is not seen. */
bool settings_syntax_examine(const char *text, struct syntax_finding *finding);

/* What libconfig lets pass: the line of a comment that never ends (0: none), and whether there is a
 * whole number that it may have wrapped. */
struct syntax_traps {
    uint32_t open_comment_line;
    bool wide_number;
};
struct syntax_traps settings_syntax_traps(const char *text);

/* The name that is given a value in that line, and had one in the same group before. *length is 0
 * where there is none. */
const char *settings_syntax_twice(const char *text, uint32_t line, int *length);

#endif
