/* SPDX-License-Identifier: MIT
 * import_rows: the rows of a CSV file as readings or services, each value checked against the
 * config. Every mistake is named with its line. Columns go by their names in the first line; those
 * of `meterpost export` that say what the ledger reckons for itself are passed over. */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_ROWS_H
#define METERPOST_DAEMON_COUNTER_IMPORT_ROWS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/counter/csv.h"

struct import_row {
    size_t line;
    int32_t machine;              /* index into the settings */
    int32_t person;               /* the same, -1 unsaid */
    int32_t plan;                 /* the same; services */
    int64_t hundredths;           /* the meter's */
    int64_t at_s;                 /* read or done */
    int64_t quantity_thousandths; /* services; 0 unsaid */
    const char *unit;             /* "qt", "l" or "" */
    const char *remark;           /* lives as long as the text of the file */
};

enum import_kind { IMPORT_READINGS, IMPORT_SERVICES };

struct import_rows {
    const char *file;
    const struct settings *settings;
    enum import_kind kind;
    int64_t now_s; /* nothing may be later */
    FILE *err;
    size_t mistakes;
    size_t struck; /* rows that were struck out, left out here */
    struct import_row *rows;
    size_t count, room;
};

/* Fills rows->rows in order of time; false once a mistake was named or memory is short. The caller
 * ends it with import_rows_free in either case. */
bool import_rows_read(struct import_rows *rows, struct csv *csv);
void import_rows_free(struct import_rows *rows);

/* Names a mistake: "FILE:LINE: ...". */
void import_rows_mistake(struct import_rows *rows, size_t line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

#endif
