/* SPDX-License-Identifier: MIT
 * table: see output.h. Rows are kept in the words of their columns until all are there; then they are set
 * out for people, for spreadsheets or for programs. */
#include "daemon/counter/output.h"

#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/board/board.h"
#include "daemon/counter/csv.h"
#include "daemon/ground/log.h"

#define COLUMN_GAP 2

/* ---- rows */

struct table_line {
    enum table_tint tint;
    char *cells[TABLE_COLUMNS_MAX];
};

struct table {
    const struct columns *all;
    enum table_form form;
    const struct settings *settings;
    const char *shop; /* whose the rows are; NULL: there is one alone */
    const struct column *columns[TABLE_COLUMNS_MAX]; /* those of the form */
    size_t column_count;
    struct table_line *lines; /* on a screen and in CSV */
    size_t line_count, room;
    struct json_object *array;
    bool short_of_memory;
};

/* Stands before the others in rows of several shops, and lies in the table. */
static const struct column shop_column = {"SHOP", "shop", COLUMN_TEXT, .at = 0};

struct table *table_new(const struct columns *columns, enum table_form form,
                        const struct settings *settings)
{
    struct table *table = calloc(1, sizeof *table);
    if (table == NULL) {
        return NULL;
    }
    table->all = columns;
    table->form = form;
    table->settings = settings;
    for (size_t i = 0; i < columns->count && table->column_count < TABLE_COLUMNS_MAX; i++) {
        if (column_is_shown(&columns->list[i], form)) {
            table->columns[table->column_count++] = &columns->list[i];
        }
    }
    if (form == TABLE_JSON) {
        table->array = json_object_new_array();
        table->short_of_memory = table->array == NULL;
    }
    return table;
}

void table_turn_to(struct table *table, const struct settings *settings, const char *shop)
{
    if (table == NULL) {
        return;
    }
    if (table->shop == NULL && table->column_count < TABLE_COLUMNS_MAX) {
        memmove(&table->columns[1], &table->columns[0],
                table->column_count++ * sizeof table->columns[0]);
        table->columns[0] = &shop_column;
    }
    table->settings = settings;
    table->shop = shop;
}

void table_free(struct table *table)
{
    if (table == NULL) {
        return;
    }
    for (size_t i = 0; i < table->line_count; i++) {
        for (size_t j = 0; j < table->column_count; j++) {
            free(table->lines[i].cells[j]);
        }
    }
    free(table->lines);
    (void)json_object_put(table->array);
    free(table);
}

static bool add_line(struct table *table, const void *row, enum table_tint tint)
{
    char room[TABLE_SHOWN_OCTETS];
    bool whole = true;
    if (table->line_count == table->room) {
        size_t lines_room = table->room == 0 ? 16 : table->room * 2;
        struct table_line *lines = realloc(table->lines, lines_room * sizeof *lines);
        if (lines == NULL) {
            return false;
        }
        table->lines = lines;
        table->room = lines_room;
    }
    struct table_line *line = &table->lines[table->line_count++];
    line->tint = tint;
    for (size_t i = 0; i < table->column_count; i++) {
        const struct column *column = table->columns[i];
        const void *from = column == &shop_column ? (const void *)&table->shop : row;
        line->cells[i] = strdup(column_says(column, table->form, table->settings, from, room));
        whole = whole && line->cells[i] != NULL;
    }
    return whole;
}

void table_add(struct table *table, const void *row, enum table_tint tint)
{
    if (table == NULL || table->short_of_memory) {
        return;
    }
    if (table->form != TABLE_JSON) {
        table->short_of_memory = !add_line(table, row, tint);
        return;
    }
    struct json_object *object = columns_json(table->all, table->settings, row);
    json_add_text(object, "shop", table->shop);
    object = json_settled(object);
    if (object == NULL || json_object_array_add(table->array, object) != 0) {
        (void)json_object_put(object);
        table->short_of_memory = true;
    }
}

size_t table_rows(const struct table *table)
{
    return table != NULL ? table->line_count : 0;
}

void table_drop(struct table *table, const char *title)
{
    size_t at = 0;
    if (table == NULL || table->form != TABLE_SCREEN) {
        return; /* titles are the screen's alone */
    }
    while (at < table->column_count && strcmp(table->columns[at]->title, title) != 0) {
        at++;
    }
    if (at == table->column_count) {
        return;
    }
    size_t behind = --table->column_count - at;
    memmove(&table->columns[at], &table->columns[at + 1], behind * sizeof table->columns[0]);
    for (size_t i = 0; i < table->line_count; i++) {
        char **cells = table->lines[i].cells;
        free(cells[at]);
        memmove(&cells[at], &cells[at + 1], behind * sizeof cells[0]);
    }
}

struct json_object *table_json(const struct table *table)
{
    return table != NULL && !table->short_of_memory ? json_object_get(table->array) : NULL;
}

/* ---- on a screen */

static const char *safe(const char *cell, char room[TABLE_SHOWN_OCTETS])
{
    return log_text(cell, strlen(cell), room, TABLE_SHOWN_OCTETS);
}

static const char *const tint_begins[] = {[TABLE_PLAIN] = "",
                                          [TABLE_BAD] = "\033[1;31m",
                                          [TABLE_WARN] = "\033[33m",
                                          [TABLE_FAINT] = "\033[2m"};
#define TINT_ENDS "\033[0m"

/* A column's wish and what it can be folded to. */
struct column_width {
    size_t columns, least;
};

static size_t larger(size_t one, size_t other)
{
    return one > other ? one : other;
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
        bool right = column_is_figure(table->columns[i]);
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
        rests[i].text = table->columns[i]->title;
    }
    (void)print_screen_line(table, widths, rests, table->column_count, out);
    (void)fputc('\n', out);
    for (size_t i = 0; i < table->line_count; i++) {
        const struct table_line *line = &table->lines[i];
        const char *tint = colour ? tint_begins[line->tint] : "";
        for (size_t j = 0; j < table->column_count; j++) {
            rests[j].text = safe(line->cells[j], rests[j].room);
        }
        (void)fputs(tint, out);
        while (print_screen_line(table, widths, rests, table->column_count, out)) {
            (void)fputc('\n', out);
        }
        (void)fputs(tint[0] != '\0' ? TINT_ENDS "\n" : "\n", out);
    }
}

/* Too narrow for columns: a line a cell, its title in front, empty ones left out. */
static void print_upright(const struct table *table, const struct screen *screen, FILE *out)
{
    char room[TABLE_SHOWN_OCTETS];
    size_t margin = 0, next = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        margin = larger(margin, width_of(table->columns[i]->title) + COLUMN_GAP);
    }
    size_t columns = screen->columns > margin ? screen->columns - margin : 1;
    for (size_t i = 0; i < table->line_count; i++) {
        const struct table_line *line = &table->lines[i];
        const char *tint = screen->colour ? tint_begins[line->tint] : "";
        (void)fprintf(out, "%s%s", i > 0 ? "\n" : "", tint);
        for (size_t j = 0; j < table->column_count; j++) {
            const char *title = table->columns[j]->title;
            for (const char *cell = safe(line->cells[j], room); cell[0] != '\0';
                 cell = &cell[next], title = "") {
                size_t octets = width_break(cell, columns, &next);
                (void)fprintf(out, "%-*s%.*s\n", (int)margin, title, (int)octets, cell);
            }
        }
        (void)fputs(tint[0] != '\0' ? TINT_ENDS : "", out);
    }
}

/* ---- to out */

int table_print_last(const struct table *table, const struct screen *screen, size_t most, FILE *out)
{
    struct column_width widths[TABLE_COLUMNS_MAX];
    char room[TABLE_SHOWN_OCTETS];
    if (table == NULL || table->short_of_memory) {
        return EX_OSERR;
    }
    struct table shown = *table;
    size_t left_out = table->line_count > most ? table->line_count - most : 0;
    shown.lines = table->line_count > 0 ? &table->lines[left_out] : NULL;
    shown.line_count -= left_out;
    for (size_t i = 0; i < shown.column_count; i++) {
        size_t title = width_of(shown.columns[i]->title);
        widths[i] = (struct column_width){title, title};
        for (size_t j = 0; j < shown.line_count; j++) {
            const char *cell = safe(shown.lines[j].cells[i], room);
            widths[i].columns = larger(widths[i].columns, width_of(cell));
            widths[i].least = larger(widths[i].least, width_of_longest_word(cell));
        }
        widths[i].least = column_is_figure(shown.columns[i]) ? widths[i].columns : widths[i].least;
    }
    if (screen->columns == 0 || fit(widths, shown.column_count, screen->columns)) {
        print_aligned(&shown, widths, out, screen->colour);
    } else {
        print_upright(&shown, screen, out);
    }
    return EX_OK;
}

void table_print_page(const struct table *table, FILE *out)
{
    if (table == NULL || table->short_of_memory) {
        return;
    }
    (void)fputs("<table>\n<thead><tr>", out);
    for (size_t i = 0; i < table->column_count; i++) {
        (void)fputs(column_is_figure(table->columns[i]) ? "<th class=\"figure\">" : "<th>", out);
        html_text(out, table->columns[i]->title);
        (void)fputs("</th>", out);
    }
    (void)fputs("</tr></thead>\n<tbody>\n", out);
    for (size_t i = 0; i < table->line_count; i++) {
        (void)fputs("<tr>", out);
        for (size_t j = 0; j < table->column_count; j++) {
            (void)fputs(column_is_figure(table->columns[j]) ? "<td class=\"figure\">" : "<td>",
                        out);
            html_text(out, table->lines[i].cells[j]);
            (void)fputs("</td>", out);
        }
        (void)fputs("</tr>\n", out);
    }
    (void)fputs("</tbody>\n</table>\n", out);
}

int table_print(const struct table *table, FILE *out)
{
    if (table == NULL || table->short_of_memory) {
        return EX_OSERR;
    }
    if (table->form == TABLE_SCREEN) {
        struct screen screen = screen_of(out);
        return table_print_last(table, &screen, SIZE_MAX, out);
    }
    for (size_t i = 0; i < table->column_count; i++) {
        csv_print_cell(out, table->columns[i]->name);
        (void)fputs(i + 1 == table->column_count ? "\r\n" : ",", out);
    }
    for (size_t i = 0; i < table->line_count; i++) {
        for (size_t j = 0; j < table->column_count; j++) {
            csv_print_cell(out, table->lines[i].cells[j]);
            (void)fputs(j + 1 == table->column_count ? "\r\n" : ",", out);
        }
    }
    return EX_OK;
}
