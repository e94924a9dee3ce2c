/* SPDX-License-Identifier: MIT
 * table: see table.h. */
#include "daemon/counter/table.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "daemon/log.h"

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

/* Columns on the screen, by code points: names are checked to be of the GSM alphabet. */
static size_t shown_width(const char *text)
{
    size_t width = 0;
    for (size_t i = 0; text[i] != '\0'; i++) {
        width += ((unsigned char)text[i] & 0xC0) != 0x80;
    }
    return width;
}

static const char *safe(const char *cell, char room[TABLE_SHOWN_OCTETS])
{
    return log_text(cell, strlen(cell), room, TABLE_SHOWN_OCTETS);
}

/* Blanks are kept back until something follows them: no line ends in one. */
static void print_padded(FILE *out, const char *text, size_t width, enum table_align align,
                         size_t *blanks)
{
    size_t shown = shown_width(text);
    size_t pad = width > shown ? width - shown : 0;
    *blanks += align == TABLE_RIGHT ? pad : 0;
    if (shown > 0) {
        (void)fprintf(out, "%*s%s", (int)*blanks, "", text);
        *blanks = 0;
    }
    *blanks += (align == TABLE_RIGHT ? 0 : pad) + COLUMN_GAP;
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

static size_t column_width(const struct table *table, size_t column)
{
    char room[TABLE_SHOWN_OCTETS];
    size_t width = shown_width(table->columns[column].title);
    for (size_t i = 0; i < table->line_count; i++) {
        if (column < table->lines[i].cell_count) {
            size_t shown = shown_width(safe(table->lines[i].cells[column], room));
            width = shown > width ? shown : width;
        }
    }
    return width;
}

void table_print(const struct table *table, FILE *out, bool colour)
{
    char room[TABLE_SHOWN_OCTETS];
    size_t widths[TABLE_COLUMNS_MAX];
    size_t blanks = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        widths[i] = column_width(table, i);
        print_padded(out, table->columns[i].title, widths[i], table->columns[i].align, &blanks);
    }
    (void)fputc('\n', out);
    for (size_t i = 0; i < table->line_count; i++) {
        const struct table_line *line = &table->lines[i];
        const char *tint = colour ? tint_begins(line->tint) : "";
        blanks = 0;
        (void)fputs(tint, out);
        for (size_t j = 0; j < line->cell_count; j++) {
            print_padded(out, safe(line->cells[j], room), widths[j], table->columns[j].align,
                         &blanks);
        }
        (void)fputs(tint[0] != '\0' ? "\033[0m\n" : "\n", out);
    }
}

/* A telephone number and a negative figure begin with a sign too but are what they look like. */
static bool looks_like_formula(const char *cell)
{
    return cell[0] != '\0' && strchr("=+-@\t\r", cell[0]) != NULL &&
           cell[1 + strspn(&cell[1], "0123456789.")] != '\0';
}

static void print_csv_cell(FILE *out, const char *cell)
{
    if (looks_like_formula(cell)) {
        (void)fprintf(out, "\"'");
    } else if (strpbrk(cell, ",\"\r\n") == NULL) {
        (void)fputs(cell, out);
        return;
    } else {
        (void)fputc('"', out);
    }
    for (size_t i = 0; cell[i] != '\0'; i++) {
        if (cell[i] == '"') {
            (void)fputc('"', out);
        }
        (void)fputc(cell[i], out);
    }
    (void)fputc('"', out);
}

void table_print_csv(const struct table *table, FILE *out)
{
    for (size_t i = 0; i < table->column_count; i++) {
        print_csv_cell(out, table->columns[i].title);
        (void)fputs(i + 1 == table->column_count ? "\r\n" : ",", out);
    }
    for (size_t i = 0; i < table->line_count; i++) {
        const struct table_line *line = &table->lines[i];
        for (size_t j = 0; j < line->cell_count; j++) {
            print_csv_cell(out, line->cells[j]);
            (void)fputs(j + 1 == line->cell_count ? "\r\n" : ",", out);
        }
    }
}

bool table_colour_wanted(FILE *out)
{
    const char *no_colour = getenv("NO_COLOR");
    return isatty(fileno(out)) == 1 && (no_colour == NULL || no_colour[0] == '\0');
}
