/* SPDX-License-Identifier: MIT
 * import_rows: see import_rows.h. */
#include "daemon/counter/import_rows.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "daemon/counter/quantity.h"
#include "daemon/ledger/readings.h"
#include "daemon/log.h"
#include "daemon/zone.h"
#include "parsers/hours.h"
#include "parsers/nearest.h"

#define MISTAKES_SHOWN 50
#define CELL_SHOWN_OCTETS 80

enum column {
    COLUMN_MACHINE,
    COLUMN_HOURS,
    COLUMN_AT,
    COLUMN_PERSON,
    COLUMN_STRUCK,
    COLUMN_REMARK,
    COLUMN_PLAN,
    COLUMN_QUANTITY,
    COLUMN_UNIT,
    COLUMN_PASSED_OVER,
    COLUMN_COUNT
};

struct column_name {
    const char *name;
    enum column column;
    bool needed;
};

static const struct column_name reading_names[] = {
    {"machine", COLUMN_MACHINE, true},
    {"hours", COLUMN_HOURS, true},
    {"read_at", COLUMN_AT, true},
    {"person", COLUMN_PERSON, false},
    {"struck", COLUMN_STRUCK, false},
    {"true_hours", COLUMN_PASSED_OVER, false},
    {"remark", COLUMN_REMARK, false},
    {"struck_by", COLUMN_PASSED_OVER, false},
    {"struck_why", COLUMN_PASSED_OVER, false},
};
static const struct column_name service_names[] = {
    {"machine", COLUMN_MACHINE, true},
    {"plan", COLUMN_PLAN, true},
    {"hours", COLUMN_HOURS, true},
    {"done_at", COLUMN_AT, true},
    {"person", COLUMN_PERSON, false},
    {"quantity", COLUMN_QUANTITY, false},
    {"remark", COLUMN_REMARK, false},
    {"unit", COLUMN_UNIT, false},
    {"true_hours", COLUMN_PASSED_OVER, false},
    {"struck", COLUMN_STRUCK, false},
    {"struck_by", COLUMN_PASSED_OVER, false},
    {"struck_why", COLUMN_PASSED_OVER, false},
};

/* Which cell holds what; -1 where the file has no such column. */
struct header {
    int cells[COLUMN_COUNT];
    size_t count;
};

/* A cell made safe to show. */
struct shown {
    char text[CELL_SHOWN_OCTETS];
};
static const char *show(const char *cell, struct shown *shown)
{
    return log_text(cell, strlen(cell), shown->text, sizeof shown->text);
}

void import_rows_mistake(struct import_rows *rows, size_t line, const char *format, ...)
{
    va_list arguments;
    rows->mistakes++;
    if (rows->mistakes > MISTAKES_SHOWN) {
        return;
    }
    (void)fprintf(rows->err, "%s:%zu: ", rows->file, line);
    va_start(arguments, format);
    (void)vfprintf(rows->err, format, arguments);
    va_end(arguments);
    (void)fputc('\n', rows->err);
}

static void mistake_of_name(struct import_rows *rows, size_t line, const char *what,
                            const struct nearest *nearest)
{
    struct shown shown;
    if (nearest->name != NULL) {
        import_rows_mistake(rows, line, "no %s %s; did you mean %s?", what,
                            show(nearest->word, &shown), nearest->name);
    } else {
        import_rows_mistake(rows, line, "no %s %s", what, show(nearest->word, &shown));
    }
}

static const struct column_name *names_of(const struct import_rows *rows, size_t *count)
{
    bool readings = rows->kind == IMPORT_READINGS;
    *count = readings ? sizeof reading_names / sizeof reading_names[0]
                      : sizeof service_names / sizeof service_names[0];
    return readings ? reading_names : service_names;
}

static void take_column(struct import_rows *rows, const struct csv *csv, size_t cell,
                        struct header *header)
{
    size_t count;
    const struct column_name *names = names_of(rows, &count);
    struct nearest nearest;
    nearest_begin(&nearest, csv->cells[cell]);
    for (size_t i = 0; i < count; i++) {
        nearest_offer(&nearest, names[i].name);
        if (strcasecmp(names[i].name, csv->cells[cell]) != 0) {
            continue;
        }
        if (names[i].column != COLUMN_PASSED_OVER && header->cells[names[i].column] >= 0) {
            import_rows_mistake(rows, csv->line, "the column %s is there twice", names[i].name);
        }
        header->cells[names[i].column] = (int)cell;
        return;
    }
    mistake_of_name(rows, csv->line, "column", &nearest);
}

/* The first line names the columns, in any order. */
static bool read_header(struct import_rows *rows, const struct csv *csv, struct header *header)
{
    size_t count;
    const struct column_name *names = names_of(rows, &count);
    for (size_t i = 0; i < COLUMN_COUNT; i++) {
        header->cells[i] = -1;
    }
    header->count = csv->cell_count;
    for (size_t i = 0; i < csv->cell_count; i++) {
        take_column(rows, csv, i, header);
    }
    for (size_t i = 0; i < count; i++) {
        if (names[i].needed && header->cells[names[i].column] < 0) {
            import_rows_mistake(rows, csv->line,
                                "the first line names no column %s; it goes like: %s",
                                names[i].name,
                                rows->kind == IMPORT_READINGS
                                    ? "machine,hours,read_at,person,remark"
                                    : "machine,plan,hours,done_at,person,quantity,unit,remark");
        }
    }
    return rows->mistakes == 0;
}

/* "" where the file has no such column. */
static const char *cell_of(const struct header *header, const struct csv *csv, enum column column)
{
    return header->cells[column] >= 0 ? csv_unguarded(csv->cells[header->cells[column]]) : "";
}

static void read_machine(struct import_rows *rows, const char *cell, struct import_row *row)
{
    const struct settings *settings = rows->settings;
    struct nearest nearest;
    row->machine = settings_find_machine(settings, cell);
    nearest_begin(&nearest, cell);
    for (size_t i = 0; i < settings->machine_count && row->machine < 0; i++) {
        nearest_offer(&nearest, settings->machines[i].name);
    }
    if (row->machine < 0) {
        mistake_of_name(rows, row->line, "machine", &nearest);
    }
}

static void read_person(struct import_rows *rows, const char *cell, struct import_row *row)
{
    const struct settings *settings = rows->settings;
    struct nearest nearest;
    row->person = cell[0] != '\0' ? settings_find_person(settings, cell) : -1;
    nearest_begin(&nearest, cell);
    for (size_t i = 0; i < settings->person_count && row->person < 0; i++) {
        nearest_offer(&nearest, settings->people[i].name);
    }
    if (row->person < 0 && cell[0] != '\0') {
        mistake_of_name(rows, row->line, "person", &nearest);
    }
}

static void read_plan(struct import_rows *rows, const char *cell, struct import_row *row)
{
    const struct settings *settings = rows->settings;
    struct nearest nearest;
    row->plan = -1;
    if (rows->kind != IMPORT_SERVICES || row->machine < 0) {
        return;
    }
    const struct settings_kind *kind = &settings->kinds[settings->machines[row->machine].kind];
    nearest_begin(&nearest, cell);
    for (size_t i = 0; i < kind->plan_count; i++) {
        nearest_offer(&nearest, settings->plans[kind->plans[i]].name);
        if (strcasecmp(settings->plans[kind->plans[i]].name, cell) == 0) {
            row->plan = (int32_t)kind->plans[i];
        }
    }
    if (row->plan < 0) {
        mistake_of_name(rows, row->line, "plan", &nearest);
    }
}

static void read_hours(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct hours_figure figure;
    struct shown shown;
    if (hours_read(cell, strlen(cell), &figure) != HOURS_OK || figure.ambiguous || figure.clock) {
        import_rows_mistake(rows, row->line, "hours \"%s\" are no figure such as 1340 or 1340.5",
                            show(cell, &shown));
        return;
    }
    row->hundredths = figure.hundredths;
    if (row->machine < 0) {
        return;
    }
    const struct settings_machine *machine = &rows->settings->machines[row->machine];
    int64_t limit = rows->settings->kinds[machine->kind].meter_limit_hundredths;
    if (row->hundredths > limit) {
        import_rows_mistake(rows, row->line, "hours %s are more than the meter of %s can show",
                            show(cell, &shown), machine->name);
    }
}

static void read_moment(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct shown shown;
    if (!zone_read_rfc3339(cell, &row->at_s)) {
        import_rows_mistake(
            rows, row->line,
            "\"%s\" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14",
            show(cell, &shown));
    } else if (row->at_s > rows->now_s) {
        import_rows_mistake(rows, row->line, "%s is still to come", show(cell, &shown));
    }
}

static void read_quantity(struct import_rows *rows, const char *cell, const char *unit,
                          struct import_row *row)
{
    struct shown shown;
    bool quarts = rows->settings->shop.units == SETTINGS_UNIT_QUART;
    row->unit = "";
    if (cell[0] == '\0') {
        return;
    }
    if (!quantity_read(cell, &row->quantity_thousandths)) {
        import_rows_mistake(rows, row->line, "quantity \"%s\" is no figure such as 5 or 4.75",
                            show(cell, &shown));
    }
    row->unit = unit[0] == '\0' ? (quarts ? "qt" : "l") : unit;
    if (strcmp(row->unit, "qt") != 0 && strcmp(row->unit, "l") != 0) {
        import_rows_mistake(rows, row->line, "unit \"%s\" is neither qt nor l", show(unit, &shown));
    }
}

static bool add_row(struct import_rows *rows, const struct import_row *row)
{
    if (rows->count == rows->room) {
        size_t room = rows->room == 0 ? 256 : rows->room * 2;
        struct import_row *grown = realloc(rows->rows, room * sizeof *grown);
        if (grown == NULL) {
            (void)fprintf(rows->err, "meterpost: memory is short\n");
            return false;
        }
        rows->rows = grown;
        rows->room = room;
    }
    rows->rows[rows->count] = *row;
    rows->count++;
    return true;
}

static bool read_row(struct import_rows *rows, const struct csv *csv, const struct header *header)
{
    struct import_row row = {.line = csv->line, .remark = cell_of(header, csv, COLUMN_REMARK)};
    if (csv->cell_count != header->count) {
        import_rows_mistake(rows, csv->line, "%zu cells, where the first line has %zu",
                            csv->cell_count, header->count);
        return true;
    }
    if (cell_of(header, csv, COLUMN_STRUCK)[0] != '\0') {
        rows->struck++;
        return true;
    }
    read_machine(rows, cell_of(header, csv, COLUMN_MACHINE), &row);
    read_plan(rows, cell_of(header, csv, COLUMN_PLAN), &row);
    read_hours(rows, cell_of(header, csv, COLUMN_HOURS), &row);
    read_moment(rows, cell_of(header, csv, COLUMN_AT), &row);
    read_person(rows, cell_of(header, csv, COLUMN_PERSON), &row);
    read_quantity(rows, cell_of(header, csv, COLUMN_QUANTITY), cell_of(header, csv, COLUMN_UNIT),
                  &row);
    if (strlen(row.remark) >= READINGS_REMARK_OCTETS) {
        import_rows_mistake(rows, row.line, "the remark is longer than %d octets",
                            READINGS_REMARK_OCTETS - 1);
    }
    return add_row(rows, &row);
}

static int by_time(const void *one, const void *other)
{
    const struct import_row *left = one, *right = other;
    if (left->at_s != right->at_s) {
        return left->at_s < right->at_s ? -1 : 1;
    }
    if (left->hundredths != right->hundredths) {
        return left->hundredths < right->hundredths ? -1 : 1;
    }
    return left->line < right->line ? -1 : left->line > right->line;
}

bool import_rows_read(struct import_rows *rows, struct csv *csv)
{
    struct header header;
    enum csv_result result = csv_next(csv);
    bool read = true;
    if (result == CSV_END) {
        import_rows_mistake(rows, 1, "the file is empty; its first line names the columns");
    } else if (result == CSV_ROW && read_header(rows, csv, &header)) {
        while (read && (result = csv_next(csv)) == CSV_ROW) {
            read = read_row(rows, csv, &header);
        }
    }
    if (result != CSV_ROW && result != CSV_END) {
        import_rows_mistake(rows, csv->line, "%s", csv_says(result));
    }
    if (rows->count > 0) {
        qsort(rows->rows, rows->count, sizeof rows->rows[0], by_time);
    }
    return read && rows->mistakes == 0;
}

void import_rows_free(struct import_rows *rows)
{
    free(rows->rows);
    rows->rows = NULL;
    rows->count = rows->room = 0;
}
