/* SPDX-License-Identifier: MIT
 * csv: comma-separated values by RFC 4180: reads them in place, and writes a cell. What spreadsheets make
 * of the standard is read too: a byte order mark in front, semicolons or tabs between the cells, lines
 * that end in CR LF or LF alone, as they come. */
#ifndef METERPOST_DAEMON_COUNTER_CSV_H
#define METERPOST_DAEMON_COUNTER_CSV_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#define CSV_CELLS_MAX 64

enum csv_result {
    CSV_ROW,
    CSV_END,
    CSV_QUOTE_OPEN,  /* a quote that is never closed */
    CSV_QUOTE_STRAY, /* a quote inside a cell that does not begin with one, or text after it */
    CSV_TOO_WIDE,    /* more than CSV_CELLS_MAX cells */
    CSV_CONTROL,     /* NUL, or a CR that ends no line */
    CSV_NOT_UTF8,
    CSV_UTF16
};

struct csv {
    char *text; /* cells are unquoted and ended by NUL in here */
    size_t length, at;
    size_t next_line;
    size_t line; /* of the row last read, or of what is wrong with it; 1 is the first */
    char separator;
    size_t cell_count;
    char *cells[CSV_CELLS_MAX]; /* they live as long as text, in it */
};

/* text[0, length) is changed; text[length] must be there for a NUL. */
void csv_begin(struct csv *csv, char *text, size_t length);

/* The next row. Blank lines are passed over. After a fault it must not be called again. */
enum csv_result csv_next(struct csv *csv);

/* What a fault is, in words. */
const char *csv_says(enum csv_result result);

/* Writes a cell, in quotes where it needs them. One that a spreadsheet would take for a formula gets
 * an apostrophe in front, and so does one that would look as if it had got one already. */
void csv_print_cell(FILE *out, const char *cell);

/* Writes a cell for ourselves alone: read again it is the same to the octet. */
void csv_print_exactly(FILE *out, const char *cell);

/* The cell without that apostrophe: what was printed. */
const char *csv_unguarded(const char *cell);

#endif
