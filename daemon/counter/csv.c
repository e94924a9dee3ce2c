/* SPDX-License-Identifier: MIT
 * csv: see csv.h. */
#include "daemon/counter/csv.h"

#include <stdbool.h>
#include <string.h>
#include <strings.h>

#include "daemon/ground/neutral.h"
#include "parsers/utf8.h"

#define MARK "\xEF\xBB\xBF"
#define TITLES_MAX 12 /* lines above the headings that are looked at */

static bool ends_line(const struct csv *csv, size_t at)
{
    return at >= csv->length || csv->text[at] == '\n' ||
           (csv->text[at] == '\r' && csv->text[at + 1] == '\n');
}

/* Of comma, semicolon and tab the one that the line at *at has most of, quoted cells aside; the comma where
 * none has more. *at is behind that line then. Returns how many. */
static size_t separators_in(const struct csv *csv, size_t *at, char *separator)
{
    static const char marks[] = {',', ';', '\t'};
    size_t found[sizeof marks] = {0}, most = 0;
    bool quoted = false;
    while (*at < csv->length && strchr("\r\n", csv->text[*at]) != NULL) {
        ++*at;
    }
    for (; *at < csv->length && (quoted || !ends_line(csv, *at)); ++*at) {
        quoted = quoted != (csv->text[*at] == '"');
        for (size_t i = 0; i < sizeof marks; i++) {
            found[i] += !quoted && csv->text[*at] == marks[i];
        }
    }
    for (size_t i = 1; i < sizeof marks; i++) {
        most = found[i] > found[most] ? i : most;
    }
    *separator = marks[most];
    return found[most];
}

/* What stands between cells: as the first line tells that has some, since a title above has none. */
static char separator_of(const struct csv *csv)
{
    char separator = ',';
    size_t at = csv->at;
    for (int i = 0; i < TITLES_MAX && at < csv->length; i++) {
        if (separators_in(csv, &at, &separator) >= 2) {
            return separator;
        }
    }
    at = csv->at;
    (void)separators_in(csv, &at, &separator);
    return separator;
}

/* Passes over the end of a line, if the text does not end here. */
static void pass_line_end(struct csv *csv)
{
    if (csv->at < csv->length) {
        csv->at += csv->text[csv->at] == '\r' ? 2 : 1;
        csv->next_line++;
    }
}

void csv_begin(struct csv *csv, char *text, size_t length)
{
    *csv = (struct csv){.text = text, .length = length, .next_line = 1, .line = 1};
    text[length] = '\0';
    csv->at = strncmp(text, MARK, strlen(MARK)) == 0 ? strlen(MARK) : 0;
    const char *said = &text[csv->at];
    if (strncasecmp(said, "sep=", 4) == 0 && ends_line(csv, csv->at + 5) && said[4] != '\0') {
        csv->separator = said[4]; /* a line for spreadsheets, and none of the table */
        csv->at += 5;
        pass_line_end(csv);
    } else {
        csv->separator = separator_of(csv);
    }
}

/* One character of a cell to where it belongs, which is never behind where it stands. */
static enum csv_result copy_character(struct csv *csv, size_t *to)
{
    uint32_t character;
    size_t octets = utf8_read(csv->text, csv->length, csv->at, &character);
    if (octets == 0) {
        return CSV_NOT_UTF8;
    }
    if (character == 0) {
        return CSV_CONTROL;
    }
    csv->next_line += character == '\n';
    memmove(&csv->text[*to], &csv->text[csv->at], octets);
    *to += octets;
    csv->at += octets;
    return CSV_ROW;
}

/* The inside of a quoted cell, up to and with its closing quote. */
static enum csv_result read_quoted(struct csv *csv, size_t *to)
{
    size_t opened = csv->next_line;
    enum csv_result result = CSV_ROW;
    csv->at++;
    while (csv->at < csv->length && result == CSV_ROW) {
        if (csv->text[csv->at] == '"') {
            csv->at++;
            if (csv->text[csv->at] != '"' || csv->at >= csv->length) {
                return CSV_ROW;
            }
        }
        result = copy_character(csv, to);
    }
    csv->line = result == CSV_ROW ? opened : csv->next_line;
    return result == CSV_ROW ? CSV_QUOTE_OPEN : result;
}

static enum csv_result read_plain(struct csv *csv, size_t *to)
{
    enum csv_result result = CSV_ROW;
    while (result == CSV_ROW && !ends_line(csv, csv->at) && csv->text[csv->at] != csv->separator) {
        if (csv->text[csv->at] == '"') {
            return CSV_QUOTE_STRAY;
        }
        if (csv->text[csv->at] == '\r') {
            return CSV_CONTROL;
        }
        result = copy_character(csv, to);
    }
    return result;
}

/* One cell; *more where a comma follows it. */
static enum csv_result read_cell(struct csv *csv, bool *more)
{
    size_t start = csv->at, to = csv->at;
    if (csv->cell_count == CSV_CELLS_MAX) {
        return CSV_TOO_WIDE;
    }
    bool quoted = csv->at < csv->length && csv->text[csv->at] == '"';
    enum csv_result result = quoted ? read_quoted(csv, &to) : read_plain(csv, &to);
    if (result != CSV_ROW) {
        return result;
    }
    *more = csv->at < csv->length && csv->text[csv->at] == csv->separator;
    if (!*more && !ends_line(csv, csv->at)) {
        return CSV_QUOTE_STRAY;
    }
    if (*more) {
        csv->at++;
    } else {
        pass_line_end(csv);
    }
    csv->text[to] = '\0';
    csv->cells[csv->cell_count] = &csv->text[start];
    csv->cell_count++;
    return result;
}

/* Either of its two marks. */
static bool is_utf16(const struct csv *csv)
{
    return strncmp(csv->text, "\xFF\xFE", 2) == 0 || strncmp(csv->text, "\xFE\xFF", 2) == 0;
}

enum csv_result csv_next(struct csv *csv)
{
    csv->cell_count = 0;
    if (csv->at == 0 && is_utf16(csv)) {
        return CSV_UTF16;
    }
    while (csv->at < csv->length && ends_line(csv, csv->at)) {
        pass_line_end(csv);
    }
    csv->line = csv->next_line;
    if (csv->at >= csv->length) {
        return CSV_END;
    }
    bool more = true;
    while (more) {
        enum csv_result result = read_cell(csv, &more);
        if (result != CSV_ROW) {
            return result;
        }
    }
    return CSV_ROW;
}

/* What a spreadsheet takes for the beginning of a formula (common practice, no source); some pass over
 * line breaks and blanks before it. */
static bool begins_formula(const char *cell)
{
    char first = cell[strspn(cell, " \n\r\t")];
    return cell[0] == '\t' || cell[0] == '\r' || (first != '\0' && strchr("=+-@", first) != NULL);
}

static bool is_guarded(const char *cell)
{
    return cell[0] == '\'' && (begins_formula(&cell[1]) || cell[1] == '\'');
}

/* A telephone number and a negative figure begin with a sign too but are what they look like. */
static bool needs_guard(const char *cell)
{
    bool number =
        (cell[0] == '+' || cell[0] == '-') && cell[1 + strspn(&cell[1], "0123456789.")] == '\0';
    return (begins_formula(cell) && !number) || is_guarded(cell);
}

void csv_print_cell(FILE *out, const char *cell)
{
    char one[NEUTRAL_TEXT_OCTETS];
    size_t length = strlen(cell);
    bool guarded = needs_guard(cell);
    bool quoted =
        guarded || strpbrk(cell, ",;\t\"\r\n") != NULL || strncmp(cell, MARK, strlen(MARK)) == 0;
    (void)fputs(guarded ? "\"'" : quoted ? "\"" : "", out);
    for (size_t at = 0; at < length;) {
        bool line_end = cell[at] == '\r' && cell[at + 1] == '\n'; /* as it came */
        size_t octets = neutral_next(cell, length, at, NEUTRAL_REPLACED, one);
        (void)fputs(line_end ? "\r" : cell[at] == '"' ? "\"\"" : one, out);
        at += octets;
    }
    (void)fputs(quoted ? "\"" : "", out);
}

void csv_print_exactly(FILE *out, const char *cell)
{
    (void)fputs(is_guarded(cell) ? "\"'" : "\"", out);
    for (; *cell != '\0'; cell++) {
        (void)fputs(*cell == '"' ? "\"" : "", out);
        (void)fputc(*cell, out);
    }
    (void)fputc('"', out);
}

const char *csv_unguarded(const char *cell)
{
    return is_guarded(cell) ? &cell[1] : cell;
}

const char *csv_says(enum csv_result result)
{
    static const char *const says[] = {
        [CSV_ROW] = "all is well",
        [CSV_END] = "all is well",
        [CSV_QUOTE_OPEN] = "the quote that opens here is never closed",
        [CSV_QUOTE_STRAY] =
            "a quote stands inside a cell; quote the whole cell and double the quotes in it",
        [CSV_TOO_WIDE] = "there are too many cells",
        [CSV_CONTROL] = "there is a control character that CSV has no place for (a carriage return "
                        "alone, or NUL); save it as CSV again",
        [CSV_UTF16] = "this is UTF-16 (\"Unicode text\"); save it as CSV (UTF-8), or convert it: "
                      "iconv -f UTF-16 -t UTF-8 OLD > NEW",
        [CSV_NOT_UTF8] = "there is text that is not UTF-8; save it as UTF-8, or convert it: "
                         "iconv -f WINDOWS-1252 -t UTF-8 OLD > NEW",
    };
    return says[result];
}
