/* SPDX-License-Identifier: MIT
 * import_rows: see import.h. The rows of a file, each value checked against the config, and what is
 * wrong with its line. */
#include "daemon/counter/import.h"

#include <stdarg.h>
#include <stdio.h>
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
#define ROWS_SHOWN 3       /* as they were read */
#define HEADINGS_WITHIN 12 /* rows */

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
    if (mistakes->unknown_ends != NULL) {
        import_mistakes_add(mistakes, line, "no %s %s%s", what, word, mistakes->unknown_ends);
    } else if (nearest->name != NULL) {
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

/* The cell of the row being read, "" where the file has no such column. */
static const char *cell_of(const struct import_rows *rows, enum import_column column)
{
    int cell = rows->columns.cells[column];
    return cell >= 0 ? csv_unguarded(rows->csv->cells[cell]) : "";
}

/* ---- values */

/* The plan of the machine's kind with that title; -1 none, or several. */
static int32_t titled_plan(const struct settings *settings, int32_t machine, const char *title)
{
    const struct settings_kind *kind = yard_kind(settings, machine);
    int32_t found = -1;
    size_t count = 0;
    for (size_t i = 0; i < kind->plan_count; i++) {
        if (strcasecmp(settings->plans[kind->plans[i]].title, title) == 0) {
            found = (int32_t)kind->plans[i];
            count++;
        }
    }
    return count == 1 ? found : -1;
}

/* What is none of the config's names is a mistake. */
static void read_machine(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct nearest nearest;
    row->machine = counter_machine(rows->settings, cell, &nearest);
    if (cell[0] == '\0') {
        import_mistakes_add(&rows->mistakes, row->line, "the machine is missing");
    } else if (row->machine < 0) {
        import_mistakes_add_name(&rows->mistakes, row->line, "machine", &nearest);
    }
}

/* Like no plan of the machine: which those are. */
static void add_no_plan(struct import_rows *rows, const char *cell, const struct import_row *row)
{
    const struct settings_machine *machine = &rows->settings->machines[row->machine];
    const struct settings_kind *kind = &rows->settings->kinds[machine->kind];
    struct import_shown shown;
    char names[SETTINGS_PLANS_MAX * (SETTINGS_NAME_OCTETS + 2)] = "none";
    size_t used = 0;
    for (size_t i = 0; i < kind->plan_count && used < sizeof names; i++) {
        used += (size_t)snprintf(names + used, sizeof names - used, "%s%s", i > 0 ? ", " : "",
                                 rows->settings->plans[kind->plans[i]].name);
    }
    import_mistakes_add(&rows->mistakes, row->line, "no plan %s; %s has: %s",
                        import_show(cell, &shown), machine->name, names);
}

static void read_plan(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct nearest nearest;
    if (row->machine < 0) {
        return;
    }
    row->plan = counter_plan(rows->settings, row->machine, cell, &nearest);
    if (row->plan < 0) {
        row->plan = titled_plan(rows->settings, row->machine, cell);
    }
    if (row->plan < 0 && nearest.name == NULL && rows->mistakes.unknown_ends == NULL) {
        add_no_plan(rows, cell, row);
    } else if (row->plan < 0) {
        import_mistakes_add_name(&rows->mistakes, row->line, "plan", &nearest);
    }
}

/* But for a person who is not said. */
static void read_person(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct nearest nearest;
    struct import_shown shown;
    if (cell[0] == '\0') {
        return;
    }
    row->person = counter_person(rows->settings, cell, &nearest);
    if (row->person < 0 && nearest.name == NULL && rows->mistakes.unknown_ends == NULL) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "no person %s in the config; for one who has left leave the cell empty",
                            import_show(cell, &shown));
    } else if (row->person < 0) {
        import_mistakes_add_name(&rows->mistakes, row->line, "person", &nearest);
    }
}

/* A meter's figure; what the row says of its machine must be read before. */
static void read_figure(struct import_rows *rows, const char *cell, const struct import_row *row,
                        int64_t *hundredths)
{
    struct hours_figure figure;
    struct import_shown shown;
    if (!cells_hours(cell, &figure)) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "hours \"%s\" are no figure such as 1340 or 1340.5",
                            import_show(cell, &shown));
        return;
    }
    if (figure.ambiguous) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "hours \"%s\" can be two figures; write them without a mark for "
                            "thousands, or with a decimal: 1340 or 1340.0",
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

/* As a spreadsheet numbers days, from 1900 on: 40000 is in 2009, 59999 in 2064. */
static bool is_day_number(const char *cell)
{
    return strspn(cell, "0123456789") == 5 && (cell[0] == '4' || cell[0] == '5') &&
           (cell[5] == '\0' || cell[5] == '.' || cell[5] == ',');
}

static void read_moment(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct import_shown shown;
    bool day_first = rows->settings->shop.date_order == SETTINGS_DATE_DMY;
    bool ordered = false;
    const char *clock = cell_of(rows, IMPORT_COLUMN_CLOCK);
    if (cell[0] == '\0') {
        import_mistakes_add(&rows->mistakes, row->line, "the day is missing");
    } else if (is_day_number(cell)) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "%s is a spreadsheet's own number of a day: show the column as dates "
                            "there, and save it again",
                            import_show(cell, &shown));
    } else if (!cells_moment(cell, clock, day_first, &row->at_s, &ordered)) {
        struct import_shown clock_shown;
        import_mistakes_add(
            &rows->mistakes, row->line,
            "\"%s%s%s\" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14, or with "
            "the %s first (shop.date_order) like %s",
            import_show(cell, &shown), clock[0] != '\0' ? " " : "",
            import_show(clock, &clock_shown), day_first ? "day" : "month",
            day_first ? "14/3/2027" : "3/14/2027");
    } else if (row->at_s > rows->now_s) {
        import_mistakes_add(&rows->mistakes, row->line, "%s%s is still to come",
                            import_show(cell, &shown),
                            !ordered    ? ""
                            : day_first ? ", the day first (shop.date_order),"
                                        : ", the month first (shop.date_order),");
    }
    rows->ordered_dates = rows->ordered_dates || ordered;
}

/* What stands in brackets in that column's heading: "l" of "Oil (l)"; *length 0 where nothing does. */
static const char *heading_unit(const struct import_rows *rows, enum import_column column,
                                size_t *length)
{
    int cell = rows->columns.cells[column];
    const char *heading = cell >= 0 ? rows->columns.headings[cell] : "";
    const char *bracket = strchr(heading, '(');
    *length = bracket != NULL ? strcspn(bracket + 1, ")") : 0;
    return bracket != NULL ? bracket + 1 : "";
}

/* The unit is said beside the figure, in its own column or over all of them; else it is the shop's. */
static void read_quantity(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct import_shown shown;
    const char *unit = cell_of(rows, IMPORT_COLUMN_UNIT), *behind = "";
    enum kit_unit known = rows->settings->shop.units;
    char over[8];
    size_t length;
    const char *heading = heading_unit(rows, IMPORT_COLUMN_QUANTITY, &length);
    row->unit = "";
    if (cell[0] == '\0') {
        return;
    }
    (void)snprintf(over, sizeof over, "%.*s", (int)length, heading);
    bool read = cells_quantity(cell, &row->quantity_thousandths, &behind);
    unit = unit[0] != '\0' ? unit : behind[0] != '\0' ? behind : over;
    if (!read || (behind[0] != '\0' && strcmp(behind, unit) != 0)) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "quantity \"%s\" is no figure such as 5 or 4.75",
                            import_show(cell, &shown));
        return;
    }
    if (unit[0] != '\0' && !cells_fluid_unit(unit, &known)) {
        import_mistakes_add(&rows->mistakes, row->line, "unit \"%s\" is neither qt nor l",
                            import_show(unit, &shown));
    }
    row->unit = kit_unit_name(known);
}

static void read_hours(struct import_rows *rows, const char *cell, struct import_row *row)
{
    read_figure(rows, cell, row, &row->hundredths);
}

static void read_new_hours(struct import_rows *rows, const char *cell, struct import_row *row)
{
    read_figure(rows, cell, row, &row->new_hundredths);
}

static void read_parking(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct import_shown shown;
    row->back = strcasecmp(cell, "back") == 0;
    if (!row->back && strcasecmp(cell, "parked") != 0) {
        import_mistakes_add(&rows->mistakes, row->line, "\"%s\" is neither parked nor back",
                            import_show(cell, &shown));
    }
}

static void read_remark(struct import_rows *rows, const char *cell, struct import_row *row)
{
    row->remark = cell;
    if (strlen(cell) >= READINGS_REMARK_OCTETS) {
        import_mistakes_add(&rows->mistakes, row->line, "the remark is longer than %d octets",
                            READINGS_REMARK_OCTETS - 1);
    }
}

/* What puts a cell into the row; NULL: it is looked at with another. */
static void (*const readers[IMPORT_COLUMN_COUNT])(struct import_rows *rows, const char *cell,
                                                  struct import_row *row) = {
    [IMPORT_COLUMN_MACHINE] = read_machine,     [IMPORT_COLUMN_HOURS] = read_hours,
    [IMPORT_COLUMN_NEW_HOURS] = read_new_hours, [IMPORT_COLUMN_AT] = read_moment,
    [IMPORT_COLUMN_PERSON] = read_person,       [IMPORT_COLUMN_REMARK] = read_remark,
    [IMPORT_COLUMN_PLAN] = read_plan,           [IMPORT_COLUMN_QUANTITY] = read_quantity,
    [IMPORT_COLUMN_PARKING] = read_parking,
};

/* Cells up to the last that holds something; those of people without what spreadsheets put around them. */
static size_t tidy_cells(const struct import_rows *rows, struct csv *csv)
{
    size_t count = 0;
    for (size_t i = 0; i < csv->cell_count; i++) {
        csv->cells[i] = rows->parcelled ? csv->cells[i] : cells_tidy(csv->cells[i]);
        count = csv->cells[i][0] != '\0' ? i + 1 : count;
    }
    return count;
}

/* False when memory is short. */
static bool read_row(struct import_rows *rows, struct csv *csv)
{
    const struct import_columns *columns = &rows->columns;
    struct import_row row = {.line = csv->line, .person = -1, .plan = -1, .unit = "", .remark = ""};
    size_t said = tidy_cells(rows, csv);
    if (said == 0) {
        return true; /* a blank row */
    }
    if (csv->cell_count < columns->count || said > columns->count) {
        import_mistakes_add(&rows->mistakes, csv->line, "%zu cells, where the first line has %zu",
                            csv->cell_count, columns->count);
        return true;
    }
    rows->csv = csv;
    if (columns->line >= 0) {
        row.line = strtoul(csv->cells[columns->line], NULL, 10);
    }
    if (cell_of(rows, IMPORT_COLUMN_STRUCK)[0] != '\0') {
        rows->struck++;
        return true;
    }
    for (size_t i = 0; i < rows->kind->columns.count; i++) {
        enum import_column column = (enum import_column)rows->kind->columns.list[i].import_as;
        if (readers[column] != NULL) {
            readers[column](rows, cell_of(rows, column), &row);
        }
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

/* The headings may stand below a title or two: the first row that has all that is needed. Of none the
 * first row is told what it lacks. False once a mistake was named. */
static bool find_headings(struct import_rows *rows, struct csv *csv, enum csv_result *result)
{
    struct csv first = {.line = 0};
    for (int i = 0; i < HEADINGS_WITHIN && *result == CSV_ROW; i++) {
        csv->cell_count = tidy_cells(rows, csv);
        if (import_columns_plain(rows, csv)) {
            return import_columns_read(rows, csv);
        }
        first = first.line == 0 && csv->cell_count > 0 ? *csv : first;
        *result = csv_next(csv);
    }
    if (*result == CSV_ROW || *result == CSV_END) {
        *result = CSV_ROW;
        return import_columns_read(rows, &first);
    }
    return false;
}

bool import_rows_read(struct import_rows *rows, struct csv *csv)
{
    struct import_mistakes *mistakes = &rows->mistakes;
    enum csv_result result = csv_next(csv);
    bool read = true;
    if (result == CSV_END) {
        import_mistakes_add(mistakes, 1, "the file is empty; its first line names the columns");
    } else if (result == CSV_ROW && find_headings(rows, csv, &result)) {
        while (read && (result = csv_next(csv)) == CSV_ROW) {
            read = read_row(rows, csv);
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

void import_rows_print(const struct import_rows *rows, FILE *out)
{
    for (size_t i = 0; i < rows->count && i < ROWS_SHOWN; i++) {
        const struct import_row *row = &rows->rows[i];
        char hours[HOURS_TEXT_OCTETS], at[ZONE_TEXT_OCTETS], quantity[QUANTITY_TEXT_OCTETS];
        bool measured = row->quantity_thousandths > 0;
        zone_write_minute(row->at_s, at, sizeof at);
        (void)fprintf(out, "  line %zu: %s %s%s%sh on %s", row->line,
                      rows->settings->machines[row->machine].name,
                      row->plan >= 0 ? rows->settings->plans[row->plan].name : "",
                      row->plan >= 0 ? " " : "", hours_or_blank(true, row->hundredths, hours), at);
        (void)fprintf(out, "%s%s%s%s\n", measured ? ", " : "",
                      measured ? quantity_write(row->quantity_thousandths, quantity) : "",
                      measured ? " " : "", row->unit);
    }
}

void import_rows_free(struct import_rows *rows)
{
    free(rows->rows);
    rows->rows = NULL;
    rows->count = rows->room = 0;
}
