/* SPDX-License-Identifier: MIT
 *
 * csv: the input as a file of comma-separated values. -max_len=400 */
#include <stdbool.h>
#include <string.h>

#include "daemon/counter/csv.h"
#include "tests/fuzz/fuzz.h"

#define INPUT_MAX 8192
/* A quote becomes two; each cell has its quotes and a comma or an end of line. */
#define WRITTEN_MAX (INPUT_MAX * 5)

/* Two readings of one file: what was read is written out with every cell in quotes, and read again. */
static char first[INPUT_MAX + 1];
static char written[WRITTEN_MAX + 1];
static char second[WRITTEN_MAX + 1];

/* Cells lie in the text, one after another, and end in it. */
static void lie_in_the_text(const struct csv *csv)
{
    const char *from = csv->text;
    PROPERTY(csv->cell_count >= 1 && csv->cell_count <= CSV_CELLS_MAX);
    for (size_t i = 0; i < csv->cell_count; i++) {
        PROPERTY(csv->cells[i] >= from);
        from = csv->cells[i] + strlen(csv->cells[i]) + 1;
        PROPERTY(from <= &csv->text[csv->length] + 1);
    }
}

static size_t write_row(const struct csv *csv, size_t at)
{
    for (size_t i = 0; i < csv->cell_count; i++) {
        written[at++] = '"';
        for (size_t j = 0; csv->cells[i][j] != '\0'; j++) {
            if (csv->cells[i][j] == '"') {
                written[at++] = '"';
            }
            written[at++] = csv->cells[i][j];
        }
        written[at++] = '"';
        written[at++] = i + 1 < csv->cell_count ? ',' : '\n';
    }
    return at;
}

static void same_row(const struct csv *one, const struct csv *other)
{
    PROPERTY(one->cell_count == other->cell_count);
    for (size_t i = 0; i < one->cell_count; i++) {
        PROPERTY(strcmp(one->cells[i], other->cells[i]) == 0);
    }
}

/* Rows begin on ever later lines, and a fault is no line before them. */
static size_t read_and_write(const char *input, size_t len, enum csv_result *result)
{
    struct csv csv;
    size_t line = 0, at = 0;
    memcpy(first, input, len);
    csv_begin(&csv, first, len);
    while ((*result = csv_next(&csv)) == CSV_ROW) {
        PROPERTY(csv.line > line && csv.at <= len);
        line = csv.line;
        lie_in_the_text(&csv);
        at = write_row(&csv, at);
    }
    PROPERTY(*result == CSV_END || csv.line >= line);
    return at;
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    struct csv one, other;
    enum csv_result result;
    if (len > INPUT_MAX) {
        return 0;
    }
    size_t length = read_and_write((const char *)input, len, &result);
    PROPERTY(strlen(csv_says(result)) > 0);
    memcpy(first, input, len);
    memcpy(second, written, length);
    csv_begin(&one, first, len);
    csv_begin(&other, second, length);
    while (csv_next(&one) == CSV_ROW) {
        PROPERTY(csv_next(&other) == CSV_ROW);
        same_row(&one, &other);
    }
    PROPERTY(csv_next(&other) == CSV_END);
    return 0;
}
