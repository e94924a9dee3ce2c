/* SPDX-License-Identifier: MIT
 * import_rows: the rows of a CSV file, each value checked against the config. Every mistake is named
 * with its line. */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_ROWS_H
#define METERPOST_DAEMON_COUNTER_IMPORT_ROWS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "config/settings.h"
#include "daemon/counter/csv.h"
#include "daemon/counter/import_columns.h"
#include "daemon/counter/import_mistakes.h"

struct import_row {
    size_t line;
    int32_t machine;              /* index into the settings */
    int32_t person;               /* the same, -1 unsaid */
    int32_t plan;                 /* the same; services */
    int64_t hundredths;           /* the meter's; swaps: the old one's last */
    int64_t new_hundredths;       /* swaps: the new one's first */
    int64_t at_s;                 /* read, done, swapped, parked or back */
    int64_t quantity_thousandths; /* services; 0 unsaid */
    const char *unit;             /* "qt", "l" or "" */
    const char *remark;           /* lives as long as the text of the file */
    bool back;                    /* parkings: back at work, else laid up */
    bool accepted;                /* by import_judge: to be added */
};

struct import_rows {
    const struct settings *settings;
    const struct import_kind *kind;
    int64_t now_s; /* nothing may be later */
    struct import_mistakes mistakes;
    size_t struck; /* rows that were struck out, left out here */
    struct import_row *rows;
    size_t count, room;
};

/* Fills rows->rows in order of time; false once a mistake was named or memory is short. The caller
 * ends it with import_rows_free in either case. */
bool import_rows_read(struct import_rows *rows, struct csv *csv);
void import_rows_free(struct import_rows *rows);

#endif
