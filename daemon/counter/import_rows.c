/* SPDX-License-Identifier: MIT
 * import_rows: see import.h. What can be imported, which columns its files have, each value checked
 * against the config, and what is wrong with its line. */
#include "daemon/counter/import.h"

#include <ctype.h>
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
#define ROWS_SHOWN 3 /* as they were read */

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

/* The words that people write over a column, blanks and marks left out, in small letters: common
 * practice, no source. The names of our own files come before them. */
static const struct {
    enum import_column column;
    const char *words; /* each between blanks */
} headings[] = {
    {IMPORT_COLUMN_MACHINE, " machine machines unit unitno unitnumber unitid equipment equipmentid "
                            "asset assetid vehicle fleetno machineid equipo maquina m\xC3\xA1quina "
                            "unidad "},
    {IMPORT_COLUMN_HOURS, " hours hour hrs hourmeter hourmeterreading meter meterreading reading "
                          "currenthours enginehours smu horas horometro hor\xC3\xB3metro medidor "
                          "lectura "},
    {IMPORT_COLUMN_AT,
     " date day when time timestamp datetime dateread readingdate readdate datedone "
     "servicedate doneon fecha dia d\xC3\xAD"
     "a fechahora "},
    {IMPORT_COLUMN_PERSON,
     " person operator driver by readby doneby technician tech mechanic operador "
     "persona mecanico mec\xC3\xA1nico "},
    {IMPORT_COLUMN_REMARK, " remark remarks note notes comment comments description nota notas "
                           "comentario comentarios observaciones "},
    {IMPORT_COLUMN_PLAN, " plan service servicetype task job servicio trabajo "},
    {IMPORT_COLUMN_QUANTITY, " quantity qty amount oil oilqty fluid cantidad aceite "},
    {IMPORT_COLUMN_NEW_HOURS, " newmeter newreading newhours nuevo "},
    {IMPORT_COLUMN_PARKING, " state status event estado "},
};

#define HEADING_OCTETS 64

/* "Hour meter (h)" as " hourmeter ": what is in brackets is a unit. "" where it is too long. */
static const char *plain_heading(const char *cell, char room[HEADING_OCTETS])
{
    size_t used = 1;
    room[0] = ' ';
    for (size_t i = 0; cell[i] != '\0' && cell[i] != '('; i++) {
        unsigned char octet = (unsigned char)cell[i];
        bool letter = octet >= 0x80 || isalnum(octet) != 0;
        if (letter && used + 2 >= HEADING_OCTETS) {
            return "";
        }
        room[used] = (char)(octet < 0x80 ? tolower(octet) : octet);
        used += letter;
    }
    room[used] = ' ';
    room[used + 1] = '\0';
    return used > 1 ? room : "";
}

/* Whether a heading can be a column: by its name in our own files, or by a word that people use, unless
 * it is the name of another column. */
static bool heading_fits(const char *heading, const struct column *column,
                         const struct columns *known)
{
    char room[HEADING_OCTETS];
    const char *plain = plain_heading(heading, room);
    for (size_t i = 0; i < known->count; i++) {
        if (strcasecmp(heading, known->list[i].name) == 0) {
            return &known->list[i] == column;
        }
    }
    for (size_t i = 0; i < sizeof headings / sizeof headings[0]; i++) {
        if (headings[i].column == (enum import_column)column->import_as && plain[0] != '\0' &&
            strstr(headings[i].words, plain) != NULL) {
            return true;
        }
    }
    return false;
}

/* The heading that --columns gives a column, into room; false where it gives none. */
static bool named_heading(const char *named, const char *name, char room[HEADING_OCTETS])
{
    size_t length = strlen(name);
    for (const char *at = named; at != NULL && at[0] != '\0';) {
        size_t octets = strcspn(at, ",");
        if (strncasecmp(at, name, length) == 0 && at[length] == '=') {
            (void)snprintf(room, HEADING_OCTETS, "%.*s", (int)(octets - length - 1),
                           &at[length + 1]);
            return true;
        }
        at = &at[octets + (at[octets] == ',')];
    }
    return false;
}

/* Finds one column among the headings; what could be two is asked for. */
static void find_column(struct import_rows *rows, const struct column *column)
{
    struct import_columns *columns = &rows->columns;
    char named[HEADING_OCTETS];
    struct import_shown one, other;
    bool is_named = named_heading(rows->named, column->name, named);
    int *at = &columns->cells[column->import_as];
    for (size_t i = 0; i < columns->count; i++) {
        const char *heading = columns->headings[i];
        bool fits = is_named ? strcasecmp(heading, named) == 0
                             : heading_fits(heading, column, &rows->kind->columns);
        if (fits && !columns->taken[i] && *at < 0) {
            *at = (int)i;
        } else if (fits && !columns->taken[i] && strcasecmp(heading, columns->headings[*at]) == 0) {
            import_mistakes_add(&rows->mistakes, 1, "the column %s is there twice",
                                import_show(heading, &one));
            return;
        } else if (fits && !columns->taken[i]) {
            import_mistakes_add(&rows->mistakes, 1,
                                "both \"%s\" and \"%s\" could be %s; say which: --columns "
                                "\"%s=%s\"",
                                import_show(columns->headings[*at], &one),
                                import_show(heading, &other), column->name, column->name,
                                import_show(heading, &other));
            return;
        }
    }
    if (*at >= 0) {
        columns->taken[*at] = true;
    } else if (is_named) {
        import_mistakes_add(&rows->mistakes, 1, "--columns names a column \"%s\" that is not there",
                            import_show(named, &one));
    } else if (column->needed) {
        struct nearest nearest;
        nearest_begin(&nearest, column->name);
        for (size_t i = 0; i < columns->count; i++) {
            nearest_offer(&nearest, columns->headings[i]);
        }
        import_mistakes_add(&rows->mistakes, 1,
                            "no column is plainly %s; say which: --columns \"%s=%s\"; our own "
                            "go like: %s",
                            column->name, column->name,
                            nearest.name != NULL ? import_show(nearest.name, &one) : "HEADING",
                            rows->kind->first_line);
    }
}

/* Reads the first line: columns go by their names, or by words that people use, in any order; what is
 * none of them is passed over. False once a mistake was named. */
static bool read_columns(struct import_rows *rows, const struct csv *csv)
{
    struct import_columns *columns = &rows->columns;
    const struct columns *known = &rows->kind->columns;
    *columns = (struct import_columns){.count = csv->cell_count};
    for (size_t i = 0; i < IMPORT_COLUMN_COUNT; i++) {
        columns->cells[i] = -1;
    }
    for (size_t i = 0; i < csv->cell_count; i++) {
        columns->headings[i] = csv->cells[i];
        for (size_t j = 0; j < known->count; j++) { /* those that the ledger reckons for itself */
            columns->taken[i] =
                columns->taken[i] || (known->list[j].import_as == IMPORT_COLUMN_PASSED_OVER &&
                                      strcasecmp(known->list[j].name, csv->cells[i]) == 0);
        }
    }
    for (size_t i = 0; i < known->count; i++) {
        if (known->list[i].import_as != IMPORT_COLUMN_PASSED_OVER) {
            find_column(rows, &known->list[i]);
        }
    }
    return rows->mistakes.count == 0;
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
    size_t length = strcspn(cell, " hH"); /* "1340.5 h", "1340hrs", "1340 horas" */
    const char *unit = &cell[length + strspn(&cell[length], " ")];
    static const char *const units[] = {"", "h", "hr", "hrs", "hour", "hours", "hora", "horas"};
    bool known = false;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        known = known || strcasecmp(unit, units[i]) == 0;
    }
    if (!known || hours_read(cell, length, &figure) != HOURS_OK || figure.clock) {
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

/* "3/14/2027", "14.3.27", "2027-03-14 07:05", "3/14/2027 7:05 PM": day and month in the shop's order; a
 * day without an hour is its midnight. */
static bool read_date(struct import_rows *rows, const char *cell, int64_t *at_s)
{
    int parts[3], hour = 0, minute = 0, second = 0, end = 0;
    char marks[2];
    if (sscanf(cell, "%4d%c%2d%c%4d%n", &parts[0], &marks[0], &parts[1], &marks[1], &parts[2],
               &end) != 5 ||
        marks[0] != marks[1] || strchr("-/.", marks[0]) == NULL) {
        return false;
    }
    bool year_first = parts[0] > 31;
    bool day_first = rows->settings->shop.date_order == SETTINGS_DATE_DMY;
    struct civil_date date = {.year = year_first       ? parts[0]
                                      : parts[2] < 100 ? 2000 + parts[2]
                                                       : parts[2],
                              .month = year_first || day_first ? parts[1] : parts[0],
                              .day = year_first  ? parts[2]
                                     : day_first ? parts[0]
                                                 : parts[1]};
    const char *clock = &cell[end + (int)strspn(&cell[end], " T,")];
    if (clock[0] != '\0') {
        int used = 0;
        if (sscanf(clock, "%2d:%2d%n:%2d%n", &hour, &minute, &used, &second, &used) < 2) {
            return false;
        }
        const char *half = &clock[used + (int)strspn(&clock[used], " ")];
        bool morning = strcasecmp(half, "am") == 0, evening = strcasecmp(half, "pm") == 0;
        if ((half[0] != '\0' || hour > 23) && (!(morning || evening) || hour < 1 || hour > 12)) {
            return false;
        }
        hour = morning || evening ? hour % 12 + (evening ? 12 : 0) : hour;
    }
    if (!civil_valid(date) || hour < 0 || minute < 0 || minute > 59 || second < 0 || second > 59) {
        return false;
    }
    rows->ordered_dates = rows->ordered_dates || !year_first;
    *at_s = zone_unix(civil_day(date), hour * 3600 + minute * 60 + second);
    return true;
}

static void read_moment(struct import_rows *rows, const char *cell, struct import_row *row)
{
    struct import_shown shown;
    if (!zone_read_rfc3339(cell, &row->at_s) && !read_date(rows, cell, &row->at_s)) {
        import_mistakes_add(
            &rows->mistakes, row->line,
            "\"%s\" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14, or with the "
            "%s first (shop.date_order) like %s",
            import_show(cell, &shown),
            rows->settings->shop.date_order == SETTINGS_DATE_DMY ? "day" : "month",
            rows->settings->shop.date_order == SETTINGS_DATE_DMY ? "14/3/2027" : "3/14/2027");
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
    char figure[16];
    size_t length = strspn(cell, "0123456789."); /* "5 qt" has its unit with it */
    const char *behind = &cell[length + strspn(&cell[length], " ")];
    row->unit = "";
    if (cell[0] == '\0') {
        return;
    }
    unit = unit[0] == '\0' ? behind : unit;
    (void)snprintf(figure, sizeof figure, "%.*s", (int)length, cell);
    if (length >= sizeof figure || !quantity_read(figure, &row->quantity_thousandths) ||
        (behind[0] != '\0' && strcmp(behind, unit) != 0)) {
        import_mistakes_add(&rows->mistakes, row->line,
                            "quantity \"%s\" is no figure such as 5 or 4.75",
                            import_show(cell, &shown));
    }
    row->unit = unit[0] == '\0' ? kit_unit_name(known) : unit;
    if (!kit_unit_find(row->unit, &known) || !kit_unit_row(known)->fluid) {
        import_mistakes_add(&rows->mistakes, row->line, "unit \"%s\" is neither qt nor l",
                            import_show(unit, &shown));
    }
    row->unit = kit_unit_name(known);
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

/* Cells up to the last that holds something. */
static size_t cells_said(const struct csv *csv)
{
    size_t count = csv->cell_count;
    while (count > 0 && csv->cells[count - 1][strspn(csv->cells[count - 1], " ")] == '\0') {
        count--;
    }
    return count;
}

/* False when memory is short. */
static bool read_row(struct import_rows *rows, const struct csv *csv)
{
    const struct import_columns *columns = &rows->columns;
    struct import_row row = {.line = csv->line, .person = -1, .plan = -1, .unit = "", .remark = ""};
    size_t said = cells_said(csv);
    if (said == 0) {
        return true; /* a blank row */
    }
    if (csv->cell_count < columns->count || said > columns->count) {
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
    struct import_mistakes *mistakes = &rows->mistakes;
    enum csv_result result = csv_next(csv);
    bool read = true;
    if (result == CSV_END) {
        import_mistakes_add(mistakes, 1, "the file is empty; its first line names the columns");
    } else if (result == CSV_ROW && read_columns(rows, csv)) {
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
    const struct import_columns *columns = &rows->columns;
    const struct columns *known = &rows->kind->columns;
    struct import_shown shown;
    const char *before = "passed over: ";
    (void)fprintf(out, "Understood\n");
    for (size_t i = 0; i < known->count; i++) {
        int cell = columns->cells[known->list[i].import_as];
        if (known->list[i].import_as != IMPORT_COLUMN_PASSED_OVER && cell >= 0) {
            (void)fprintf(out, "  %-10s from \"%s\"%s\n", known->list[i].name,
                          import_show(columns->headings[cell], &shown),
                          known->list[i].import_as != IMPORT_COLUMN_AT || !rows->ordered_dates ? ""
                          : rows->settings->shop.date_order == SETTINGS_DATE_DMY
                              ? ", the day before the month"
                              : ", the month before the day");
        }
    }
    for (size_t i = 0; i < columns->count; i++) {
        if (!columns->taken[i] && columns->headings[i][0] != '\0') {
            (void)fprintf(out, "  %s\"%s\"\n", before, import_show(columns->headings[i], &shown));
        }
    }
    for (size_t i = 0; i < rows->count && i < ROWS_SHOWN; i++) {
        const struct import_row *row = &rows->rows[i];
        char hours[HOURS_TEXT_OCTETS], at[ZONE_TEXT_OCTETS], quantity[QUANTITY_TEXT_OCTETS];
        bool dated = row->quantity_thousandths > 0;
        zone_write_minute(row->at_s, at, sizeof at);
        (void)fprintf(out, "  line %zu: %s %s%s%sh on %s", row->line,
                      rows->settings->machines[row->machine].name,
                      row->plan >= 0 ? rows->settings->plans[row->plan].name : "",
                      row->plan >= 0 ? " " : "", hours_or_blank(true, row->hundredths, hours), at);
        (void)fprintf(out, "%s%s%s%s\n", dated ? ", " : "",
                      dated ? quantity_write(row->quantity_thousandths, quantity) : "",
                      dated ? " " : "", row->unit);
    }
}

void import_rows_free(struct import_rows *rows)
{
    free(rows->rows);
    rows->rows = NULL;
    rows->count = rows->room = 0;
}
