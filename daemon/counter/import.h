/* SPDX-License-Identifier: MIT
 * import: the chapters of import: the file's headings (import_columns), cells and rows (import_cells,
 * import_rows), judged
 * (import_judge), put on record (import), by the running daemon where there is one (import_parcel). */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_H
#define METERPOST_DAEMON_COUNTER_IMPORT_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/csv.h"
#include "daemon/counter/output.h"
#include "daemon/ledger/ledger.h"
#include "daemon/upkeep/kit.h"
#include "parsers/hours.h"
#include "parsers/nearest.h"

struct import_mistakes {
    const char *file;
    FILE *err;
    struct json_object *list; /* NULL: said on err. The first ones only, as on err */
    size_t count;
    const char *unknown_ends; /* what is said behind a name that is none; NULL: what may be meant */
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

enum import_what { IMPORT_RECORD, IMPORT_READINGS, IMPORT_SERVICES, IMPORT_SWAPS, IMPORT_PARKINGS };

/* What is read of a column. */
enum import_column {
    IMPORT_COLUMN_PASSED_OVER, /* nothing: the ledger reckons it for itself */
    IMPORT_COLUMN_MACHINE,
    IMPORT_COLUMN_HOURS,
    IMPORT_COLUMN_NEW_HOURS,
    IMPORT_COLUMN_AT,
    IMPORT_COLUMN_CLOCK, /* the time of the day, where the day stands alone */
    IMPORT_COLUMN_PERSON,
    IMPORT_COLUMN_STRUCK,
    IMPORT_COLUMN_REMARK,
    IMPORT_COLUMN_PLAN,
    IMPORT_COLUMN_QUANTITY,
    IMPORT_COLUMN_UNIT,
    IMPORT_COLUMN_PARKING,
    IMPORT_COLUMN_AS_IS, /* what it is, into the row (import_record) */
    IMPORT_COLUMN_COUNT
};

/* What is exported and can be imported again, with the columns of both (export.c). Of the record all
 * lines. */
#define EXPORT_LINES_MAX 2
struct export_kind {
    const char *name;
    enum import_what what;
    const char *lines[EXPORT_LINES_MAX]; /* the kinds of lines of the record that it has */
    struct columns columns;
    const char *first_line; /* what a file to import begins with */
};

/* NULL where there is none of that name; *nearest then holds the nearest. */
const struct export_kind *export_kind_find(const char *name, struct nearest *nearest);

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

#define IMPORT_PARCEL_LINE "line" /* the heading of the line of the file that a row stood in */

/* Which cell holds what; -1 where the file has no such column. */
struct import_columns {
    int cells[IMPORT_COLUMN_COUNT];
    int line;   /* in a parcel: the cell that has it; else -1 */
    size_t row; /* the line that they stand in */
    size_t count;
    const char *headings[CSV_CELLS_MAX]; /* as the file has them */
    bool taken[CSV_CELLS_MAX];           /* understood; else passed over */
};

struct import_rows {
    const struct settings *settings;
    const struct export_kind *kind;
    int64_t now_s;     /* nothing may be later */
    bool parcelled;    /* not a file as it came, but what was understood of one (import_parcel) */
    const char *named; /* by --columns: "machine=Unit,hours=Reading"; NULL unsaid */
    struct import_columns columns;
    const struct csv *csv; /* the row being read */
    bool ordered_dates;    /* a date was read by the shop's order of day and month */
    struct import_mistakes mistakes;
    size_t struck; /* rows that were struck out, left out here */
    struct import_row *rows;
    size_t count, room;
};

/* Cells as spreadsheets write them (import_cells). */

/* Without blanks around it, and without what keeps it from being reckoned; in place. */
char *cells_tidy(char *cell);
/* "1340.5", "1.340,5", "1 340,5", "1'340.5 h", "1340:30", "1340:30:00"; false where it is none of them.
 * *figure may be ambiguous (hours.h). */
bool cells_hours(const char *cell, struct hours_figure *figure);
bool cells_hours_unit(const char *unit, size_t length); /* or nothing */
/* "5", "4,75 l"; *unit is what stands behind it. */
bool cells_quantity(const char *cell, int64_t *thousandths, const char **unit);
/* "qt", "litros"; false where it measures no fluid, or another one. */
bool cells_fluid_unit(const char *unit, enum kit_unit *found);
/* RFC 3339; or a day with its time of the day behind it or in `clock`, else midnight: "3/14/2027 7:05 PM",
 * "14.3.27", "Mon 3/15/2027", "14-Mar-27", "domingo 14 de marzo de 2027". *ordered is set where day and month
 * were told apart by day_first alone. False too where the day's name is another's. */
bool cells_moment(const char *cell, const char *clock, bool day_first, int64_t *at_s,
                  bool *ordered);

/* Whether a row has a heading for all that is needed. */
bool import_columns_plain(const struct import_rows *rows, const struct csv *csv);
/* Reads the headings: columns go by their names, or by words that people use, in any order; what is
 * none of them is passed over. False once a mistake was named. */
bool import_columns_read(struct import_rows *rows, const struct csv *csv);
/* Which heading was taken for which column, one a line, and what was passed over. */
void import_columns_print(const struct import_rows *rows, FILE *out);

/* Fills rows->rows in order of time; false once a mistake was named or memory is short. The caller
 * ends it with import_rows_free in either case. */
bool import_rows_read(struct import_rows *rows, struct csv *csv);
/* The first rows as they were read, one a line. */
void import_rows_print(const struct import_rows *rows, FILE *out);
void import_rows_free(struct import_rows *rows);

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

/* The whole record of machines that have none here: read, judged, and with `apply` put back, all or
 * nothing, to the row. ledger NULL: there is none yet. Returns 0, or an exit status after saying why;
 * once a mistake was named *added is 0. */
int import_record(const struct settings *settings, struct ledger *ledger, struct csv *csv,
                  bool apply, int64_t now_s, struct import_mistakes *mistakes, size_t *added,
                  size_t *already, FILE *notes);

/* Judges each row: accepted, on record already, or a mistake that is named. */
enum ledger_result import_judge_rows(struct import_judge *judge);

/* Judges all rows, and with `apply` adds those accepted, in a transaction of the caller's, who takes it
 * back where there are mistakes. */
enum ledger_result import_take(struct import_judge *judge, bool apply);

/* What came of it, as people read it or as JSON; mistakes were named before, their number goes to err. */
void import_report(const struct import_rows *rows, size_t added, size_t already, bool applied,
                   FILE *out, FILE *err);

/* Hands the rows (of a record the text of its file) to the running daemon, which puts them on record by
 * import_at_ledger, and says what it said. Returns its status, or COUNTER_ALONE where none runs. */
int import_hand_over(const struct counter *counter, const struct import_rows *rows,
                     const char *text, size_t length);

#endif
