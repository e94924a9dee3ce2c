/* SPDX-License-Identifier: MIT
 * paper: something to print: set out once, written as plain text for a screen or a line printer, or as a
 * page of HTML with margins that fits one sheet where it can. It needs nothing else, no script and no
 * net; whatever foreign words are in it, they stay words. */
#ifndef METERPOST_DAEMON_COUNTER_PAPER_H
#define METERPOST_DAEMON_COUNTER_PAPER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "daemon/counter/output.h"

struct paper {
    FILE *out;         /* of what is printed in the end */
    const char *lang;  /* NULL: plain text. As in HTML, "en" */
    const char *title; /* of the page, and its first line */
    FILE *body;        /* out, or of a page its body, until the end */
    char *octets;      /* that body */
    size_t octet_count;
    size_t lines;       /* that it will take on a sheet, about */
    const char *closes; /* a list that is open; "" none */
};

/* lang NULL: plain text. title must outlive it. False: memory is short. Ends with paper_end. */
bool paper_begin(struct paper *paper, const char *lang, const char *title, FILE *out);
/* Writes the page. Returns 0, or 71 (EX_OSERR). */
int paper_end(struct paper *paper);

/* "Meter  1340 h": what is known, a line each. */
void paper_fact(struct paper *paper, const char *label, const char *text);
void paper_heading(struct paper *paper, const char *text);
void paper_words(struct paper *paper, const char *text);
/* One of a list. mark stands before it: "!", or "[ ]" for a box to tick, with or without a number. */
void paper_item(struct paper *paper, const char *mark, const char *text);
/* What is to be typed, letter by letter. */
void paper_typed(struct paper *paper, const char *text);
/* The rows of a table that was made for the screen. */
void paper_table(struct paper *paper, const struct table *table);

/* Room to write something by hand: "Date ________", with its unit behind; a box to tick where columns
 * is 0. */
struct paper_blank {
    const char *label;
    size_t columns;
    const char *unit;
};
/* On one line, as far as they fit. */
void paper_blanks(struct paper *paper, const struct paper_blank *blanks, size_t count);

#endif
