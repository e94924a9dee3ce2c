/* SPDX-License-Identifier: MIT
 * table: see output.h. Rows for people, for spreadsheets and for programs. */
#include "daemon/counter/output.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/counter/csv.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/upkeep/civil.h"
#include "parsers/hours.h"

const char *quantity_write(int64_t thousandths, char room[QUANTITY_TEXT_OCTETS])
{
    int64_t whole = thousandths / 1000, rest = thousandths % 1000;
    int length =
        snprintf(room, QUANTITY_TEXT_OCTETS, "%s%" PRId64 ".%03" PRId64, thousandths < 0 ? "-" : "",
                 whole < 0 ? -whole : whole, rest < 0 ? -rest : rest);
    while (length > 0 && room[length - 1] == '0') {
        room[--length] = '\0';
    }
    if (length > 0 && room[length - 1] == '.') {
        room[length - 1] = '\0';
    }
    return room;
}

bool quantity_read(const char *text, int64_t *thousandths)
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

/* json-c takes over `value`; where it could not be made the key is left out, never null. */
static void add(struct json_object *object, const char *key, struct json_object *value)
{
    if (value != NULL && json_object_object_add(object, key, value) != 0) {
        (void)json_object_put(value);
    }
}

void json_add_text(struct json_object *object, const char *key, const char *value)
{
    if (value != NULL) {
        add(object, key, json_object_new_string(value));
    }
}

void json_add_bool(struct json_object *object, const char *key, bool value)
{
    add(object, key, json_object_new_boolean(value));
}

void json_add_whole(struct json_object *object, const char *key, int64_t value)
{
    add(object, key, json_object_new_int64(value));
}

/* The digits are written by us, so that 1340.1 is never 1340.0999. */
void json_add_hours(struct json_object *object, const char *key, int64_t hundredths)
{
    char digits[HOURS_TEXT_OCTETS];
    (void)hours_write(hundredths, digits, sizeof digits);
    add(object, key, json_object_new_double_s((double)hundredths / 100.0, digits));
}

void json_add_decimal(struct json_object *object, const char *key, double value)
{
    json_add_hours(object, key, (int64_t)(value * 100.0 + (value < 0 ? -0.5 : 0.5)));
}

void json_add_thousandths(struct json_object *object, const char *key, int64_t thousandths)
{
    char digits[QUANTITY_TEXT_OCTETS];
    add(object, key,
        json_object_new_double_s((double)thousandths / 1000.0,
                                 quantity_write(thousandths, digits)));
}

void json_add_time(struct json_object *object, const char *key, int64_t unix_s)
{
    char text[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(unix_s, text, sizeof text);
    json_add_text(object, key, text);
}

void json_add_day(struct json_object *object, const char *key, int32_t day)
{
    char text[CIVIL_TEXT_OCTETS];
    civil_write(day, text, sizeof text);
    json_add_text(object, key, text);
}

bool json_write(struct json_object *object, FILE *out)
{
    const char *text = json_object_to_json_string_ext(object, JSON_C_TO_STRING_SPACED |
                                                                  JSON_C_TO_STRING_NOSLASHESCAPE);
    bool written = text != NULL && fprintf(out, "%s\n", text) > 0;
    (void)json_object_put(object);
    return written;
}

#define COLUMN_GAP 2

struct table_line {
    enum table_tint tint;
    size_t cell_count;
    char *cells[TABLE_COLUMNS_MAX];
};

struct table {
    const struct table_column *columns;
    size_t column_count;
    struct table_line *lines;
    size_t line_count, room;
};

struct table *table_new(const struct table_column *columns, size_t column_count)
{
    struct table *table = calloc(1, sizeof *table);
    if (table != NULL) {
        table->columns = columns;
        table->column_count = column_count < TABLE_COLUMNS_MAX ? column_count : TABLE_COLUMNS_MAX;
    }
    return table;
}

void table_free(struct table *table)
{
    if (table == NULL) {
        return;
    }
    for (size_t i = 0; i < table->line_count; i++) {
        for (size_t j = 0; j < table->lines[i].cell_count; j++) {
            free(table->lines[i].cells[j]);
        }
    }
    free(table->lines);
    free(table);
}

bool table_row(struct table *table, enum table_tint tint)
{
    if (table->line_count == table->room) {
        size_t room = table->room == 0 ? 16 : table->room * 2;
        struct table_line *lines = realloc(table->lines, room * sizeof *lines);
        if (lines == NULL) {
            return false;
        }
        table->lines = lines;
        table->room = room;
    }
    table->lines[table->line_count] = (struct table_line){.tint = tint};
    table->line_count++;
    return true;
}

bool table_cell(struct table *table, const char *format, ...)
{
    char *cell = NULL;
    va_list arguments;
    va_start(arguments, format);
    int length = vasprintf(&cell, format, arguments);
    va_end(arguments);
    if (length < 0) {
        return false;
    }
    struct table_line *line = table->line_count > 0 ? &table->lines[table->line_count - 1] : NULL;
    if (line == NULL || line->cell_count == table->column_count) {
        free(cell);
        return line != NULL;
    }
    line->cells[line->cell_count] = cell;
    line->cell_count++;
    return true;
}

static const char *safe(const char *cell, char room[TABLE_SHOWN_OCTETS])
{
    return log_text(cell, strlen(cell), room, TABLE_SHOWN_OCTETS);
}

static const char *tint_begins(enum table_tint tint)
{
    switch (tint) {
    case TABLE_BAD:
        return "\033[1;31m";
    case TABLE_WARN:
        return "\033[33m";
    case TABLE_FAINT:
        return "\033[2m";
    case TABLE_PLAIN:
        break;
    }
    return "";
}

/* A column's wish and what it can be folded to. */
struct column_width {
    size_t columns, least;
};

static size_t larger(size_t one, size_t other)
{
    return one > other ? one : other;
}

static struct column_width width_of_column(const struct table *table, size_t column)
{
    char room[TABLE_SHOWN_OCTETS];
    size_t title = width_of(table->columns[column].title);
    struct column_width width = {title, title};
    for (size_t i = 0; i < table->line_count; i++) {
        if (column < table->lines[i].cell_count) {
            const char *cell = safe(table->lines[i].cells[column], room);
            width.columns = larger(width.columns, width_of(cell));
            width.least = larger(width.least, width_of_longest_word(cell));
        }
    }
    if (table->columns[column].align == TABLE_RIGHT) {
        width.least = width.columns;
    }
    return width;
}

/* Takes columns from the widest that can be folded until all fit; false where they never do. */
static bool fit(struct column_width *widths, size_t count, size_t columns)
{
    size_t total = (count - 1) * COLUMN_GAP;
    for (size_t i = 0; i < count; i++) {
        total += widths[i].columns;
    }
    while (total > columns) {
        struct column_width *widest = NULL;
        for (size_t i = 0; i < count; i++) {
            if (widths[i].columns > widths[i].least &&
                (widest == NULL || widths[i].columns > widest->columns)) {
                widest = &widths[i];
            }
        }
        if (widest == NULL) {
            return false;
        }
        widest->columns--;
        total--;
    }
    return true;
}

/* What is left to print of a row's cells, made safe. */
struct rest {
    char room[TABLE_SHOWN_OCTETS];
    const char *text;
};

/* One line on the screen: of each cell what fits. Blanks are kept back until something follows
 * them: no line ends in one. False once nothing was left. */
static bool print_screen_line(const struct table *table, const struct column_width *widths,
                              struct rest *rests, size_t count, FILE *out)
{
    size_t blanks = 0, begun = 0;
    for (size_t i = 0; i < count; i++) {
        size_t next = 0, octets = width_break(rests[i].text, widths[i].columns, &next);
        char part[TABLE_SHOWN_OCTETS];
        (void)snprintf(part, sizeof part, "%.*s", (int)octets, rests[i].text);
        size_t shown = width_of(part), wished = widths[i].columns;
        size_t pad = wished > shown ? wished - shown : 0;
        bool right = table->columns[i].align == TABLE_RIGHT;
        blanks += right ? pad : 0;
        if (octets > 0) {
            (void)fprintf(out, "%*s%s", (int)blanks, "", part);
            blanks = 0;
        }
        blanks += (right ? 0 : pad) + COLUMN_GAP;
        rests[i].text = &rests[i].text[next];
        begun += rests[i].text[0] != '\0';
    }
    return begun > 0;
}

static void print_aligned(const struct table *table, const struct column_width *widths, FILE *out,
                          bool colour)
{
    static struct rest rests[TABLE_COLUMNS_MAX];
    for (size_t i = 0; i < table->column_count; i++) {
        rests[i].text = table->columns[i].title;
    }
    (void)print_screen_line(table, widths, rests, table->column_count, out);
    (void)fputc('\n', out);
    for (size_t i = 0; i < table->line_count; i++) {
        const struct table_line *line = &table->lines[i];
        const char *tint = colour ? tint_begins(line->tint) : "";
        for (size_t j = 0; j < line->cell_count; j++) {
            rests[j].text = safe(line->cells[j], rests[j].room);
        }
        (void)fputs(tint, out);
        while (print_screen_line(table, widths, rests, line->cell_count, out)) {
            (void)fputc('\n', out);
        }
        (void)fputs(tint[0] != '\0' ? "\033[0m\n" : "\n", out);
    }
}

static void print_titled(const char *title, size_t titles, const char *cell,
                         const struct screen *screen, FILE *out)
{
    size_t margin = titles + COLUMN_GAP, next = 0;
    size_t columns = screen->columns > margin ? screen->columns - margin : 1;
    for (; cell[0] != '\0'; cell = &cell[next], title = "") {
        size_t octets = width_break(cell, columns, &next);
        (void)fprintf(out, "%-*s%.*s\n", (int)margin, title, (int)octets, cell);
    }
}

/* Too narrow for columns: a line a cell, its title in front, empty ones left out. */
static void print_upright(const struct table *table, const struct screen *screen, FILE *out)
{
    char room[TABLE_SHOWN_OCTETS];
    size_t titles = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        titles = larger(titles, width_of(table->columns[i].title));
    }
    for (size_t i = 0; i < table->line_count; i++) {
        (void)fputs(i > 0 ? "\n" : "", out);
        const char *tint = screen->colour ? tint_begins(table->lines[i].tint) : "";
        (void)fputs(tint, out);
        for (size_t j = 0; j < table->lines[i].cell_count; j++) {
            print_titled(table->columns[j].title, titles, safe(table->lines[i].cells[j], room),
                         screen, out);
        }
        (void)fputs(tint[0] != '\0' ? "\033[0m" : "", out);
    }
}

void table_print(const struct table *table, const struct screen *screen, FILE *out)
{
    struct column_width widths[TABLE_COLUMNS_MAX];
    for (size_t i = 0; i < table->column_count; i++) {
        widths[i] = width_of_column(table, i);
    }
    if (screen->columns == 0 || fit(widths, table->column_count, screen->columns)) {
        print_aligned(table, widths, out, screen->colour);
    } else {
        print_upright(table, screen, out);
    }
}

void table_print_csv(const struct table *table, FILE *out)
{
    for (size_t i = 0; i < table->column_count; i++) {
        csv_print_cell(out, table->columns[i].title);
        (void)fputs(i + 1 == table->column_count ? "\r\n" : ",", out);
    }
    for (size_t i = 0; i < table->line_count; i++) {
        const struct table_line *line = &table->lines[i];
        for (size_t j = 0; j < line->cell_count; j++) {
            csv_print_cell(out, line->cells[j]);
            (void)fputs(j + 1 == line->cell_count ? "\r\n" : ",", out);
        }
    }
}

static struct json_object *cell_json(enum table_align align, const char *cell)
{
    return align == TABLE_RIGHT ? json_object_new_double_s(strtod(cell, NULL), cell)
                                : json_object_new_string(cell);
}

struct json_object *table_json(const struct table *table)
{
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < table->line_count && array != NULL; i++) {
        const struct table_line *line = &table->lines[i];
        struct json_object *object = json_object_new_object();
        for (size_t j = 0; j < line->cell_count; j++) {
            if (line->cells[j][0] != '\0') {
                (void)json_object_object_add(object, table->columns[j].title,
                                             cell_json(table->columns[j].align, line->cells[j]));
            }
        }
        (void)json_object_array_add(array, object);
    }
    return array;
}
