/* SPDX-License-Identifier: MIT
 * table: rows of cells for people (aligned columns) or for spreadsheets (CSV, RFC 4180). Written
 * once for all verbs. */
#ifndef METERPOST_DAEMON_COUNTER_TABLE_H
#define METERPOST_DAEMON_COUNTER_TABLE_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "daemon/counter/screen.h"

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

#endif
