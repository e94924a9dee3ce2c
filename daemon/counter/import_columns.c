/* SPDX-License-Identifier: MIT
 * import_columns: see import_columns.h. */
#include "daemon/counter/import_columns.h"

#include <string.h>
#include <strings.h>

struct import_column_name {
    const char *name;
    enum import_column column;
    bool needed;
};

static const struct import_column_name reading_columns[] = {
    {"machine", IMPORT_COLUMN_MACHINE, true},
    {"hours", IMPORT_COLUMN_HOURS, true},
    {"read_at", IMPORT_COLUMN_AT, true},
    {"person", IMPORT_COLUMN_PERSON, false},
    {"struck", IMPORT_COLUMN_STRUCK, false},
    {"true_hours", IMPORT_COLUMN_PASSED_OVER, false},
    {"remark", IMPORT_COLUMN_REMARK, false},
    {"struck_by", IMPORT_COLUMN_PASSED_OVER, false},
    {"struck_why", IMPORT_COLUMN_PASSED_OVER, false},
};
static const struct import_column_name service_columns[] = {
    {"machine", IMPORT_COLUMN_MACHINE, true},
    {"plan", IMPORT_COLUMN_PLAN, true},
    {"hours", IMPORT_COLUMN_HOURS, true},
    {"done_at", IMPORT_COLUMN_AT, true},
    {"person", IMPORT_COLUMN_PERSON, false},
    {"quantity", IMPORT_COLUMN_QUANTITY, false},
    {"remark", IMPORT_COLUMN_REMARK, false},
    {"unit", IMPORT_COLUMN_UNIT, false},
    {"true_hours", IMPORT_COLUMN_PASSED_OVER, false},
    {"struck", IMPORT_COLUMN_STRUCK, false},
    {"struck_by", IMPORT_COLUMN_PASSED_OVER, false},
    {"struck_why", IMPORT_COLUMN_PASSED_OVER, false},
};
static const struct import_column_name swap_columns[] = {
    {"machine", IMPORT_COLUMN_MACHINE, true},
    {"old_hours", IMPORT_COLUMN_HOURS, true},
    {"new_hours", IMPORT_COLUMN_NEW_HOURS, true},
    {"swapped_at", IMPORT_COLUMN_AT, true},
    {"person", IMPORT_COLUMN_PERSON, false},
    {"struck", IMPORT_COLUMN_STRUCK, false},
    {"struck_by", IMPORT_COLUMN_PASSED_OVER, false},
    {"struck_why", IMPORT_COLUMN_PASSED_OVER, false},
};
static const struct import_column_name parking_columns[] = {
    {"machine", IMPORT_COLUMN_MACHINE, true}, {"what", IMPORT_COLUMN_PARKING, true},
    {"at", IMPORT_COLUMN_AT, true},           {"person", IMPORT_COLUMN_PERSON, false},
    {"struck", IMPORT_COLUMN_STRUCK, false},
};

#define COLUMNS(table) table, sizeof(table) / sizeof(table)[0]
static const struct import_kind kinds[] = {
    {"readings", IMPORT_READINGS, "machine,hours,read_at,person,remark", COLUMNS(reading_columns)},
    {"services", IMPORT_SERVICES, "machine,plan,hours,done_at,person,quantity,unit,remark",
     COLUMNS(service_columns)},
    {"swaps", IMPORT_SWAPS, "machine,old_hours,new_hours,swapped_at,person", COLUMNS(swap_columns)},
    {"parkings", IMPORT_PARKINGS, "machine,what,at,person", COLUMNS(parking_columns)},
};

const struct import_kind *import_kind_find(const char *name, struct nearest *nearest)
{
    nearest_begin(nearest, name);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(name, kinds[i].name) == 0) {
            return &kinds[i];
        }
        nearest_offer(nearest, kinds[i].name);
    }
    return NULL;
}

static void take_column(struct import_columns *columns, const struct import_kind *kind,
                        const struct csv *csv, size_t cell, struct import_mistakes *mistakes)
{
    struct nearest nearest;
    nearest_begin(&nearest, csv->cells[cell]);
    for (size_t i = 0; i < kind->column_count; i++) {
        const struct import_column_name *column = &kind->columns[i];
        nearest_offer(&nearest, column->name);
        if (strcasecmp(column->name, csv->cells[cell]) != 0) {
            continue;
        }
        if (column->column != IMPORT_COLUMN_PASSED_OVER && columns->cells[column->column] >= 0) {
            import_mistakes_add(mistakes, csv->line, "the column %s is there twice", column->name);
        }
        columns->cells[column->column] = (int)cell;
        return;
    }
    import_mistakes_add_name(mistakes, csv->line, "column", &nearest);
}

bool import_columns_read(struct import_columns *columns, const struct import_kind *kind,
                         const struct csv *csv, struct import_mistakes *mistakes)
{
    for (size_t i = 0; i < IMPORT_COLUMN_COUNT; i++) {
        columns->cells[i] = -1;
    }
    columns->count = csv->cell_count;
    for (size_t i = 0; i < csv->cell_count; i++) {
        take_column(columns, kind, csv, i, mistakes);
    }
    for (size_t i = 0; i < kind->column_count; i++) {
        if (kind->columns[i].needed && columns->cells[kind->columns[i].column] < 0) {
            import_mistakes_add(mistakes, csv->line,
                                "the first line names no column %s; it goes like: %s",
                                kind->columns[i].name, kind->first_line);
        }
    }
    return mistakes->count == 0;
}

const char *import_columns_cell(const struct import_columns *columns, const struct csv *csv,
                                enum import_column column)
{
    return columns->cells[column] >= 0 ? csv_unguarded(csv->cells[columns->cells[column]]) : "";
}
