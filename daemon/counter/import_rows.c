/* SPDX-License-Identifier: MIT
 * import_rows: see import.h. What can be imported, which columns its files have, each value checked
 * against the config, and what is wrong with its line. */
#include "daemon/counter/import.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "daemon/counter/counter.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/readings.h"
#include "parsers/hours.h"

#define SHOWN_MAX 50
#define SAYS_OCTETS 400

void import_mistakes_add(struct import_mistakes *mistakes, size_t line, const char *format, ...)
{
    char says[SAYS_OCTETS];
    va_list arguments;
    mistakes->count++;
    if (mistakes->count > SHOWN_MAX) {
        return;
    }
    va_start(arguments, format);
    (void)vsnprintf(says, sizeof says, format, arguments);
    va_end(arguments);
    if (mistakes->list == NULL) {
        (void)fprintf(mistakes->err, "%s:%zu: %s\n", mistakes->file, line, says);
        return;
    }
    struct json_object *mistake = json_object_new_object();
    json_add(mistake, "line", json_object_new_int64((int64_t)line));
    json_add_text(mistake, "says", says);
    (void)json_object_array_add(mistakes->list, mistake);
}

void import_mistakes_add_name(struct import_mistakes *mistakes, size_t line, const char *what,
                              const struct nearest *nearest)
{
    struct import_shown shown;
    const char *word = import_show(nearest->word, &shown);
    if (nearest->name != NULL) {
        import_mistakes_add(mistakes, line, "no %s %s; did you mean %s?", what, word,
                            nearest->name);
    } else {
        import_mistakes_add(mistakes, line, "no %s %s", what, word);
    }
}

const char *import_show(const char *cell, struct import_shown *shown)
{
    return log_text(cell, strlen(cell), shown->text, sizeof shown->text);
}

/* ---- columns */

/* Which cell holds what; -1 where the file has no such column. */
struct import_columns {
    int cells[IMPORT_COLUMN_COUNT];
    size_t count;
};

/* Reads the first line: columns go by their names, in any order. False once a mistake was named. */
static bool read_columns(struct import_columns *columns, const struct export_kind *kind,
                         const struct csv *csv, struct import_mistakes *mistakes)
{
    const struct column *list = kind->columns.list;
    for (size_t i = 0; i < IMPORT_COLUMN_COUNT; i++) {
        columns->cells[i] = -1;
    }
    columns->count = csv->cell_count;
    for (size_t cell = 0; cell < csv->cell_count; cell++) {
        struct nearest nearest;
        size_t i = 0;
        nearest_begin(&nearest, csv->cells[cell]);
        while (i < kind->columns.count && strcasecmp(list[i].name, csv->cells[cell]) != 0) {
            nearest_offer(&nearest, list[i++].name);
        }
        if (i == kind->columns.count) {
            import_mistakes_add_name(mistakes, csv->line, "column", &nearest);
            continue;
        }
        int *at = &columns->cells[list[i].import_as];
        if (list[i].import_as != IMPORT_COLUMN_PASSED_OVER && *at >= 0) {
            import_mistakes_add(mistakes, csv->line, "the column %s is there twice", list[i].name);
        }
        *at = (int)cell;
    }
    for (size_t i = 0; i < kind->columns.count; i++) {
        if (list[i].needed && columns->cells[list[i].import_as] < 0) {
            import_mistakes_add(mistakes, csv->line,
                                "the first line names no column %s; it goes like: %s", list[i].name,
                                kind->first_line);
        }
    }
    return mistakes->count == 0;
}

/* The row's cell, "" where the file has no such column. */
static const char *cell_of(const struct import_columns *columns, const struct csv *csv,
                           enum import_column column)
{
    return columns->cells[column] >= 0 ? csv_unguarded(csv->cells[columns->cells[column]]) : "";
}

/* ---- values */

/* Thousandths of a decimal figure, nothing around it; up to 999999.999. */
static bool quantity_read(const char *text, int64_t *thousandths)
{
    size_t whole = strspn(text, "0123456789");
    size_t point = text[whole] == '.' ? 1 : 0;
    size_t decimals = point != 0 ? strspn(&text[whole + 1], "0123456789") : 0;
    if (whole == 0 || whole > 6 || decimals > 3 || point > decimals ||
        text[whole + point + decimals] != '\0') {
        return false;
    }
    *thousandths = 0;
    for (size_t i = 0; i < whole + 3; i++) {
        size_t at = i < whole ? i : i + 1;
        int digit = i < whole + decimals ? text[at] - '0' : 0;
        *thousandths = *thousandths * 10 + digit;
    }
    return true;
}

/* A machine, a person or a plan by its name; -1 where there is none, which is a mistake but for a
 * person who is not said. */
static int32_t read_name(struct import_rows *rows, enum import_column column, const char *cell,
                         const struct import_row *row)
{
    bool person = column == IMPORT_COLUMN_PERSON, plan = column == IMPORT_COLUMN_PLAN;
    struct nearest nearest;
    struct import_shown shown;
    if ((person && cell[0] == '\0') || (plan && row->machine < 0)) {
        return -1;
    }
    int32_t index = person ? counter_person(rows->settings, cell, &nearest)
                    : plan ? counter_plan(rows->settings, row->machine, cell, &nearest)
                           : counter_machine(rows->settings, cell, &nearest);
    if (index < 0 && person && nearest.name == NULL) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "no person %s in the config; for one who has left leave the cell empty",
                            import_show(cell, &shown));
    } else if (index < 0) {
        import_mistakes_add_name(&rows->mistakes, row->line,
                                 person ? "person"
                                 : plan ? "plan"
                                        : "machine",
                                 &nearest);
    }
    return index;
}

/* A meter's figure; what the row says of its machine must be read before. */
static void read_hours(struct import_rows *rows, const char *cell, const struct import_row *row,
                       int64_t *hundredths)
{
    struct hours_figure figure;
    struct import_shown shown;
    if (hours_read(cell, strlen(cell), &figure) != HOURS_OK || figure.ambiguous || figure.clock) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "hours \"%s\" are no figure such as 1340 or 1340.5",
                            import_show(cell, &shown));
        return;
    }
    *hundredths = figure.hundredths;
    if (row->machine < 0) {
        return;
    }
    const struct settings_machine *machine = &rows->settings->machines[row->machine];
    int64_t limit = rows->settings->kinds[machine->kind].meter_limit_hundredths;
    if (*hundredths > limit) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "hours %s are more than the meter of %s can show",
                            import_show(cell, &shown), machine->name);
    }
}

static void read_moment(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct import_shown shown;
    if (!zone_read_rfc3339(cell, &row->at_s)) {
        import_mistakes_add(
            &rows->mistakes, row->line,
            "\"%s\" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14",
            import_show(cell, &shown));
    } else if (row->at_s > rows->now_s) {
        import_mistakes_add(&rows->mistakes, row->line, "%s is still to come",
                            import_show(cell, &shown));
    }
}

static void read_quantity(struct import_rows *rows, const char *cell, const char *unit,
                          struct import_row *row)
{
    struct import_shown shown;
    enum kit_unit known = rows->settings->shop.units;
    row->unit = "";
    if (cell[0] == '\0') {
        return;
    }
    if (!quantity_read(cell, &row->quantity_thousandths)) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "quantity \"%s\" is no figure such as 5 or 4.75",
                            import_show(cell, &shown));
    }
    row->unit = unit[0] == '\0' ? kit_unit_name(known) : unit;
    if (!kit_unit_find(row->unit, &known) || !kit_unit_row(known)->fluid) {
        import_mistakes_add(&rows->mistakes, row->line, "unit \"%s\" is neither qt nor l",
                            import_show(unit, &shown));
    }
}

/* What a cell says, into the row. The machine's comes before all that depends on it. */
static void read_value(struct import_rows *rows, const struct import_columns *columns,
                       const struct csv *csv, enum import_column column, struct import_row *row)
{
    const char *cell = cell_of(columns, csv, column);
    struct import_shown shown;
    switch (column) {
    case IMPORT_COLUMN_MACHINE:
        row->machine = read_name(rows, column, cell, row);
        break;
    case IMPORT_COLUMN_PERSON:
        row->person = read_name(rows, column, cell, row);
        break;
    case IMPORT_COLUMN_PLAN:
        row->plan = read_name(rows, column, cell, row);
        break;
    case IMPORT_COLUMN_HOURS:
        read_hours(rows, cell, row, &row->hundredths);
        break;
    case IMPORT_COLUMN_NEW_HOURS:
        read_hours(rows, cell, row, &row->new_hundredths);
        break;
    case IMPORT_COLUMN_AT:
        read_moment(rows, cell, row);
        break;
    case IMPORT_COLUMN_QUANTITY:
        read_quantity(rows, cell, cell_of(columns, csv, IMPORT_COLUMN_UNIT), row);
        break;
    case IMPORT_COLUMN_PARKING:
        row->back = strcasecmp(cell, "back") == 0;
        if (!row->back && strcasecmp(cell, "parked") != 0) {
            import_mistakes_add(&rows->mistakes, row->line, "\"%s\" is neither parked nor back",
                                import_show(cell, &shown));
        }
        break;
    case IMPORT_COLUMN_REMARK:
        row->remark = cell;
        if (strlen(cell) >= READINGS_REMARK_OCTETS) {
            import_mistakes_add(&rows->mistakes, row->line, "the remark is longer than %d octets",
                                READINGS_REMARK_OCTETS - 1);
        }
        break;
    case IMPORT_COLUMN_PASSED_OVER:
    case IMPORT_COLUMN_STRUCK:
    case IMPORT_COLUMN_UNIT:
    case IMPORT_COLUMN_COUNT:
        break;
    }
}

/* False when memory is short. */
static bool read_row(struct import_rows *rows, const struct csv *csv,
                     const struct import_columns *columns)
{
    struct import_row row = {.line = csv->line, .person = -1, .unit = "", .remark = ""};
    if (csv->cell_count != columns->count) {
        import_mistakes_add(&rows->mistakes, csv->line, "%zu cells, where the first line has %zu",
                            csv->cell_count, columns->count);
        return true;
    }
    if (cell_of(columns, csv, IMPORT_COLUMN_STRUCK)[0] != '\0') {
        rows->struck++;
        return true;
    }
    for (size_t i = 0; i < rows->kind->columns.count; i++) {
        enum import_column column = (enum import_column)rows->kind->columns.list[i].import_as;
        read_value(rows, columns, csv, column, &row);
    }
    if (rows->count == rows->room) {
        size_t room = rows->room == 0 ? 256 : rows->room * 2;
        struct import_row *grown = realloc(rows->rows, room * sizeof *grown);
        if (grown == NULL) {
            (void)fprintf(rows->mistakes.err, "meterpost: memory is short\n");
            return false;
        }
        rows->rows = grown;
        rows->room = room;
    }
    rows->rows[rows->count++] = row;
    return true;
}

/* Rows that say the same stand side by side. */
static int by_time(const void *one, const void *other)
{
    const struct import_row *left = one, *right = other;
    const int64_t pairs[][2] = {
        {left->at_s, right->at_s},       {left->hundredths, right->hundredths},
        {left->machine, right->machine}, {left->plan, right->plan},
        {left->back, right->back},       {(int64_t)left->line, (int64_t)right->line},
    };
    int order = 0;
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0] && order == 0; i++) {
        order = pairs[i][0] < pairs[i][1] ? -1 : pairs[i][0] > pairs[i][1];
    }
    return order;
}

bool import_rows_read(struct import_rows *rows, struct csv *csv)
{
    struct import_columns columns;
    struct import_mistakes *mistakes = &rows->mistakes;
    enum csv_result result = csv_next(csv);
    bool read = true;
    if (result == CSV_END) {
        import_mistakes_add(mistakes, 1, "the file is empty; its first line names the columns");
    } else if (result == CSV_ROW && read_columns(&columns, rows->kind, csv, mistakes)) {
        while (read && (result = csv_next(csv)) == CSV_ROW) {
            read = read_row(rows, csv, &columns);
        }
    }
    if (result != CSV_ROW && result != CSV_END) {
        import_mistakes_add(mistakes, csv->line, "%s", csv_says(result));
    }
    if (rows->count > 0) {
        qsort(rows->rows, rows->count, sizeof rows->rows[0], by_time);
    }
    return read && mistakes->count == 0;
}

void import_rows_free(struct import_rows *rows)
{
    free(rows->rows);
    rows->rows = NULL;
    rows->count = rows->room = 0;
}
