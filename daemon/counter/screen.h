/* SPDX-License-Identifier: MIT
 * screen: what is known of where the output goes: a terminal so and so wide, with colour, or a
 * pipe, where nothing is folded and nothing coloured. */
#ifndef METERPOST_DAEMON_COUNTER_SCREEN_H
#define METERPOST_DAEMON_COUNTER_SCREEN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#define SCREEN_COLUMNS_LEAST 20

struct screen {
    size_t columns; /* 0: no terminal, as wide as you like */
    bool colour;
};

/* Colour is for a terminal, and never with NO_COLOR set. */
struct screen screen_of(FILE *out);

/* Prints lines of plain text. Those wider than the screen are folded at blanks; what follows of a
 * line is indented by so many columns. */
void screen_print_folded(const struct screen *screen, const char *text, size_t indent, FILE *out);

#endif
