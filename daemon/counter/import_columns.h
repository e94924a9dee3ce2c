/* SPDX-License-Identifier: MIT
 * import_columns: what can be imported, and which columns its files have. Columns go by their names
 * in the first line, in any order; those of `meterpost export` that say what the ledger reckons for
 * itself are passed over. */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_COLUMNS_H
#define METERPOST_DAEMON_COUNTER_IMPORT_COLUMNS_H

#include <stdbool.h>
#include <stddef.h>

#include "daemon/counter/csv.h"
#include "daemon/counter/import_mistakes.h"

enum import_what { IMPORT_READINGS, IMPORT_SERVICES, IMPORT_SWAPS, IMPORT_PARKINGS };

enum import_column {
    IMPORT_COLUMN_MACHINE,
    IMPORT_COLUMN_HOURS,
    IMPORT_COLUMN_NEW_HOURS,
    IMPORT_COLUMN_AT,
    IMPORT_COLUMN_PERSON,
    IMPORT_COLUMN_STRUCK,
    IMPORT_COLUMN_REMARK,
    IMPORT_COLUMN_PLAN,
    IMPORT_COLUMN_QUANTITY,
    IMPORT_COLUMN_UNIT,
    IMPORT_COLUMN_PARKING,
    IMPORT_COLUMN_PASSED_OVER,
    IMPORT_COLUMN_COUNT
};

struct import_kind {
    const char *name;
    enum import_what what;
    const char *first_line; /* what such a file begins with */
    const struct import_column_name *columns;
    size_t column_count;
};

/* NULL where there is none of that name; *nearest then holds the nearest. */
const struct import_kind *import_kind_find(const char *name, struct nearest *nearest);

/* Which cell holds what; -1 where the file has no such column. */
struct import_columns {
    int cells[IMPORT_COLUMN_COUNT];
    size_t count;
};

/* Reads the first line; false once a mistake was named. */
bool import_columns_read(struct import_columns *columns, const struct import_kind *kind,
                         const struct csv *csv, struct import_mistakes *mistakes);

/* The row's cell, "" where the file has no such column. */
const char *import_columns_cell(const struct import_columns *columns, const struct csv *csv,
                                enum import_column column);

#endif
