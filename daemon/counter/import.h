/* SPDX-License-Identifier: MIT
 * import: the chapters of import: the file's rows (import_rows), judged (import_judge), put on record
 * (import). */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_H
#define METERPOST_DAEMON_COUNTER_IMPORT_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/counter/csv.h"
#include "daemon/counter/options.h"
#include "daemon/ledger/ledger.h"
#include "parsers/nearest.h"

struct import_mistakes {
    const char *file;
    FILE *err;
    struct json_object *list; /* NULL: said on err. The first ones only, as on err */
    size_t count;
};

/* "FILE:LINE: ...". After the first 50 they are counted only. */
void import_mistakes_add(struct import_mistakes *mistakes, size_t line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* "no machine M21; did you mean M12?" */
void import_mistakes_add_name(struct import_mistakes *mistakes, size_t line, const char *what,
                              const struct nearest *nearest);

/* A cell made safe to show. */
#define IMPORT_SHOWN_OCTETS 80
struct import_shown {
    char text[IMPORT_SHOWN_OCTETS];
};
const char *import_show(const char *cell, struct import_shown *shown);

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

/* What is known of a machine while its rows are judged, oldest first. */
struct import_machine {
    bool asked;  /* the ledger, for its number */
    int64_t id;  /* 0: not on record */
    bool passed; /* there was a row, and true_hundredths is its figure */
    int64_t true_hundredths;
    int64_t swapped_s;         /* the last swap of the file, INT64_MIN none */
    int64_t offset_hundredths; /* all swaps of the file together */
    bool parkings_known;
    int64_t parked_s; /* laid up since, 0 not */
};

struct import_judge {
    struct ledger *ledger; /* NULL: there is none yet */
    struct import_rows *rows;
    struct import_machine *machines; /* one for each of the settings */
    size_t added, already;           /* rows to add; rows that are on record */
    enum ledger_result result;       /* the first that was not OK */
};

/* False when memory is short. */
bool import_judge_begin(struct import_judge *judge, struct import_rows *rows,
                        struct ledger *ledger);
void import_judge_end(struct import_judge *judge);

/* Judges each row: accepted, on record already, or a mistake that is named. */
enum ledger_result import_judge_rows(struct import_judge *judge);

/* Exit status 0, 64, 65 (the file has mistakes), 66 (no such file, no ledger), 74 or 78. */
int import_verb(const struct options *options, FILE *out, FILE *err);

#endif
