/* SPDX-License-Identifier: MIT
 * output: how what a verb has to say is written: rows as a table for people, CSV or JSON; text folded
 * for a screen; figures; lines of a calendar. */
#ifndef METERPOST_DAEMON_COUNTER_OUTPUT_H
#define METERPOST_DAEMON_COUNTER_OUTPUT_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/upkeep/civil.h"
#include "parsers/hours.h"

#define SCREEN_COLUMNS_LEAST 20

struct screen {
    size_t columns; /* 0: no terminal, as wide as you like */
    bool colour;
};

/* Colour is for a terminal that is not dumb, and never with NO_COLOR set. */
struct screen screen_of(FILE *out);

/* Prints lines of plain text. Those wider than the screen are folded at blanks; what follows of a
 * line is indented by so many columns. */
void screen_print_folded(const struct screen *screen, const char *text, size_t indent, FILE *out);

/* 0 for marks that stand upon the character before, 2 for the wide characters of East Asia and
 * emoji (Unicode UAX #11), else 1: by the C library, whose LC_CTYPE main sets to UTF-8. */
size_t width_of_character(uint32_t character);

/* Of NUL-terminated UTF-8; an octet that is none of it takes one column. */
size_t width_of(const char *text);

/* The longest word, set apart by blanks. */
size_t width_of_longest_word(const char *text);

/* One line of text within that many columns, at least one character: returns the octets of it,
 * broken at a blank where there is one. *next is where the next line begins, past the blanks. */
size_t width_break(const char *text, size_t columns, size_t *next);

/* What a cell holds, as it lies in the row. */
enum column_kind {
    /* Figures: at the right on a screen, numbers in JSON. */
    COLUMN_HOURS,      /* int64_t, hundredths of an hour */
    COLUMN_QUANTITY,   /* int64_t, thousandths of a unit */
    COLUMN_WHOLE,      /* int64_t */
    COLUMN_COUNT,      /* 32 bits */
    COLUMN_DECIMAL,    /* double, shown with two places */
    COLUMN_OWN_FIGURE, /* what `say` makes of it */
    /* Words. */
    COLUMN_TEXT,   /* const char *, NULL or "" for nothing */
    COLUMN_CHARS,  /* an array of char with its NUL */
    COLUMN_TIME,   /* int64_t, Unix seconds: RFC 3339, to the minute on a screen */
    COLUMN_DAY,    /* int32_t, civil day */
    COLUMN_UNIT,   /* enum kit_unit */
    COLUMN_STAGE,  /* enum due_stage: its word, on a screen as it is read */
    COLUMN_WORD,   /* an enum: of `words` that one */
    COLUMN_EITHER, /* bool: of `words` that one */
    /* int32_t, an index into the settings; and the kind of that machine. */
    COLUMN_MACHINE,
    COLUMN_MACHINE_KIND,
    COLUMN_PLAN,
    COLUMN_OWN, /* what `say` makes of it */
    COLUMN_KIND_COUNT
};

/* When there is something to say, where it is not always so. */
enum column_when {
    COLUMN_ALWAYS, /* but no empty words in JSON */
    COLUMN_FROM_0, /* a figure or a time, where it is not negative */
    COLUMN_FROM_1, /* where it is above 0 */
    COLUMN_EVEN_EMPTY
};

#define TABLE_SHOWN_OCTETS 4608 /* of a cell on a screen: the longest text fits */

/* One column of a verb's rows, described once for people, spreadsheets and programs. */
struct column {
    const char *title; /* over it on a screen, NULL: not there */
    const char *name;  /* the header in CSV and the key in JSON, NULL: in neither */
    enum column_kind kind;
    size_t at;         /* offset in the row */
    size_t if_true[2]; /* offsets of what must be true (bool), 0 nothing */
    enum column_when when;
    bool not_in_csv, not_in_json;
    int import_as; /* an enum import_column (import.h); 0: the ledger reckons it for itself */
    bool needed;   /* a file to import must have it */
    const char *(*say)(const struct settings *settings, const void *row,
                       char room[TABLE_SHOWN_OCTETS]);
    struct json_object *(*json)(const struct settings *settings, const void *row); /* no words */
    const char *const *words;
};

struct columns {
    const struct column *list;
    size_t count;
    bool bare; /* nothing empty in JSON, whatever a column says */
};
#define COLUMNS(list) (list), sizeof(list) / sizeof(list)[0]
#define TABLE_COLUMNS_MAX 32 /* of one form */

enum table_form { TABLE_SCREEN, TABLE_CSV, TABLE_JSON };
enum table_tint { TABLE_PLAIN, TABLE_BAD, TABLE_WARN, TABLE_FAINT };

/* What a column says of a row, in that form: room, or words that stand elsewhere. */
const char *column_says(const struct column *column, enum table_form form,
                        const struct settings *settings, const void *row,
                        char room[TABLE_SHOWN_OCTETS]);
bool column_is_figure(const struct column *column);
bool column_is_shown(const struct column *column, enum table_form form);

struct table; /* holds its rows until they are written */

/* columns and settings must outlive it; settings may be NULL where no column asks them. NULL when
 * memory is short, which all below take and pass on. */
struct table *table_new(const struct columns *columns, enum table_form form,
                        const struct settings *settings);
void table_free(struct table *table);

/* Rows of several shops in one table: from here on they are of that one, and each says so first. shop must
 * outlive the table. */
void table_turn_to(struct table *table, const struct settings *settings, const char *shop);

/* Takes down what the row says; the row itself is not kept. */
void table_add(struct table *table, const void *row, enum table_tint tint);
size_t table_rows(const struct table *table); /* on a screen or in CSV */

/* Takes a column off the screen again. */
void table_drop(struct table *table, const char *title);

/* To out, as its form has it. Returns 0, or EX_OSERR once memory was short; then nothing is written.
 *
 * On a screen aligned, a title line first. Where it is too narrow cells are folded at blanks; where
 * that does not do, each cell stands on a line of its own. Nothing is cut. Control characters of
 * foreign text are shown as \xNN.
 *
 * As CSV (RFC 4180) the names are the header line, lines end in CR LF. */
int table_print(const struct table *table, FILE *out);
/* The last `most` rows, on that screen. */
int table_print_last(const struct table *table, const struct screen *screen, size_t most,
                     FILE *out);

/* The rows made for a screen as a table of a page. */
void table_print_page(const struct table *table, FILE *out);

/* The rows as an array of objects; the caller's. NULL once memory was short. */
struct json_object *table_json(const struct table *table);
/* Whether two rows say the same, in the columns that are read back. */
bool columns_same(const struct columns *columns, const void *one, const void *other);

/* One row alone. */
struct json_object *columns_json(const struct columns *columns, const struct settings *settings,
                                 const void *row);

/* A key is left out where there is nothing to say or memory is short (value NULL); times are RFC 3339.
 * json-c takes over `value`. */
void json_add(struct json_object *object, const char *key, struct json_object *value);
void json_add_text(struct json_object *object, const char *key, const char *value);
void json_add_time(struct json_object *object, const char *key, int64_t unix_s);

/* What stands for it from here on: its text alone, which is all that is wanted of the rows of a long
 * list. object is freed. NULL where that is or memory is short. */
struct json_object *json_settled(struct json_object *object);

/* Writes it in one line with a line break, and frees it. Returns 0 or EX_IOERR. */
int json_write(struct json_object *object, FILE *out);

/* Figures and days in words; "" where there is nothing to say. Return room. */
const char *hours_or_blank(bool there, int64_t hundredths, char room[HOURS_TEXT_OCTETS]);
const char *day_or_blank(bool there, int32_t day, char room[CIVIL_TEXT_OCTETS]);

#define QUANTITY_TEXT_OCTETS 32

/* Thousandths of a unit: "4.7", "5", "0.125", as few decimals as say it exactly. Returns room. */
const char *quantity_write(int64_t thousandths, char room[QUANTITY_TEXT_OCTETS]);

/* The other way, nothing around it; up to 999999.999. */
bool quantity_read(const char *text, int64_t *thousandths);

/* One content line of a calendar: folded at 75 octets, never inside a character, ended by CR LF (RFC
 * 5545 3.1). value is escaped as TEXT (3.3.11). */
void calendar_line(FILE *out, const char *name, const char *value);

#endif
