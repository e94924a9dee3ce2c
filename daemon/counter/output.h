/* SPDX-License-Identifier: MIT
 * output: how what a verb has to say is written: rows as a table for people, CSV or JSON; text folded
 * for a screen; figures; foreign text in a page. */
#ifndef METERPOST_DAEMON_COUNTER_OUTPUT_H
#define METERPOST_DAEMON_COUNTER_OUTPUT_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"

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

/* 0 for marks that stand upon the character before, 2 for the wide characters of East Asia and
 * emoji (Unicode UAX #11), else 1. Known are the marks of Latin, Greek, Cyrillic, Hebrew and
 * Arabic, and those of general use. */
size_t width_of_character(uint32_t character);

/* Of NUL-terminated UTF-8; an octet that is none of it takes one column. */
size_t width_of(const char *text);

/* The longest word, set apart by blanks. */
size_t width_of_longest_word(const char *text);

/* One line of text within that many columns, at least one character: returns the octets of it,
 * broken at a blank where there is one. *next is where the next line begins, past the blanks. */
size_t width_break(const char *text, size_t columns, size_t *next);

#define TABLE_COLUMNS_MAX 20
#define TABLE_SHOWN_OCTETS 1024 /* of a cell on a screen; longer ones are cut and end in "..." */

enum table_align { TABLE_LEFT, TABLE_RIGHT };
enum table_tint { TABLE_PLAIN, TABLE_BAD, TABLE_WARN, TABLE_FAINT };

struct table_column {
    const char *title;
    enum table_align align;
};

struct table; /* holds its cells until it is written */

/* columns must outlive it. NULL when memory is short. */
struct table *table_new(const struct table_column *columns, size_t column_count);
void table_free(struct table *table); /* NULL is fine */

/* A new row, then its cells one after another; cells beyond the columns are left out. False when
 * memory is short. */
bool table_row(struct table *table, enum table_tint tint);
bool table_cell(struct table *table, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Aligned, a title line first. Where the screen is too narrow cells are folded at blanks; where
 * that does not do, each cell stands on a line of its own. Nothing is cut. Control characters of
 * foreign text are shown as \xNN. */
void table_print(const struct table *table, const struct screen *screen, FILE *out);
/* CSV: the titles are the header line, lines end in CR LF. A cell that a spreadsheet would take for
 * a formula gets an apostrophe in front (common practice, no source). */
void table_print_csv(const struct table *table, FILE *out);
/* An array of objects, the titles being the keys, without the cells that are empty. Columns that
 * stand at the right hold figures, and become numbers. NULL when memory is short. */
struct json_object *table_json(const struct table *table);

void json_add_text(struct json_object *object, const char *key,
                   const char *value); /* NULL: left out */
void json_add_bool(struct json_object *object, const char *key, bool value);
void json_add_whole(struct json_object *object, const char *key, int64_t value);
void json_add_hours(struct json_object *object, const char *key, int64_t hundredths);
void json_add_decimal(struct json_object *object, const char *key, double value); /* two places */
void json_add_thousandths(struct json_object *object, const char *key, int64_t thousandths);
void json_add_time(struct json_object *object, const char *key, int64_t unix_s);
void json_add_day(struct json_object *object, const char *key, int32_t day);

/* Writes it in one line with a line break, and frees it. */
bool json_write(struct json_object *object, FILE *out);

/* Writes NUL-terminated text as the content of an element or a quoted attribute: markup as
 * references; what is no UTF-8, and control characters, as U+FFFD; a line break as a blank. */
void html_text(FILE *out, const char *text);

/* One content line of a calendar: folded at 75 octets, never inside a character, ended by CR LF (RFC
 * 5545 3.1). value is escaped as TEXT (3.3.11). */
void calendar_line(FILE *out, const char *name, const char *value);

#define QUANTITY_TEXT_OCTETS 32

/* "4.7", "5", "0.125": as few decimals as say it exactly. Returns room. */
const char *quantity_write(int64_t thousandths, char room[QUANTITY_TEXT_OCTETS]);

/* Reads the same, nothing around it; up to 999999.999. */
bool quantity_read(const char *text, int64_t *thousandths);

#endif
