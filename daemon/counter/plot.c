/* SPDX-License-Identifier: MIT
 * plot: see plot.h. A grid of characters is filled, then printed with its axes. */
#include "daemon/counter/plot.h"

#include <stdbool.h>
#include <string.h>

#include "daemon/counter/width.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"

enum { ROWS = 12, COLUMNS_MAX = 120, AXIS = 10, DATE = 10 };

struct grid {
    size_t columns;
    int64_t from_s, until_s;
    int64_t low, high; /* hundredths at the lowest and the highest row */
    char cells[ROWS][COLUMNS_MAX + 1];
};

static size_t row_of(const struct grid *grid, int64_t hundredths)
{
    int64_t range = grid->high - grid->low;
    int64_t up = (2 * (hundredths - grid->low) * (ROWS - 1) + range) / (2 * range); /* nearest */
    return (size_t)(ROWS - 1 - up);
}

static size_t column_of(const struct grid *grid, int64_t at_s)
{
    int64_t range = grid->until_s - grid->from_s;
    return (size_t)((at_s - grid->from_s) * (int64_t)(grid->columns - 1) / range);
}

static bool shown(const struct grid *grid, int64_t hundredths)
{
    return hundredths >= grid->low && hundredths <= grid->high;
}

/* From the lowest to the highest reading, and up to the levels that are not too far above. */
static void scale(struct grid *grid, const struct plot_point *points, size_t point_count,
                  const struct plot_level *levels, size_t level_count)
{
    grid->from_s = points[0].at_s;
    grid->until_s = points[point_count - 1].at_s;
    grid->low = grid->high = points[0].hundredths;
    for (size_t i = 0; i < point_count; i++) {
        grid->low = points[i].hundredths < grid->low ? points[i].hundredths : grid->low;
        grid->high = points[i].hundredths > grid->high ? points[i].hundredths : grid->high;
    }
    int64_t reach = grid->high + (grid->high - grid->low);
    for (size_t i = 0; i < level_count; i++) {
        if (levels[i].hundredths <= reach && levels[i].hundredths > grid->high) {
            grid->high = levels[i].hundredths;
        }
    }
    grid->until_s += grid->until_s == grid->from_s;
    grid->high += grid->high == grid->low;
}

/* In steps so large that no two rows say the same; the top is rounded up, lest it stand below the
 * highest reading, all others down. */
static int64_t row_hundredths(const struct grid *grid, size_t row)
{
    int64_t range = grid->high - grid->low, step = range < 2000 ? 10 : 100;
    int64_t hundredths = grid->low + range * (int64_t)(ROWS - 1 - row) / (ROWS - 1);
    return (hundredths + (row == 0 ? step - 1 : 0)) / step * step;
}

static void print_row(const struct grid *grid, size_t row, const struct plot_level *levels,
                      size_t level_count, FILE *out)
{
    char figure[HOURS_TEXT_OCTETS] = "";
    const char *label = "";
    if (row % 3 == 0 || row == ROWS - 1) {
        (void)hours_write(row_hundredths(grid, row), figure, sizeof figure);
    }
    for (size_t i = 0; i < level_count; i++) {
        if (shown(grid, levels[i].hundredths) && row_of(grid, levels[i].hundredths) == row) {
            label = levels[i].label;
        }
    }
    (void)fprintf(out, "%*s |%s%s%s\n", AXIS - 2, figure, grid->cells[row],
                  label[0] != '\0' ? " " : "", label);
}

/* The levels that are too far above to be drawn are said below. */
static void print_far(const struct grid *grid, const struct plot_level *levels, size_t level_count,
                      FILE *out)
{
    const char *before = "above: ";
    for (size_t i = 0; i < level_count; i++) {
        char figure[HOURS_TEXT_OCTETS];
        if (levels[i].hundredths > grid->high) {
            (void)hours_write(levels[i].hundredths, figure, sizeof figure);
            (void)fprintf(out, "%*s%s%s at %s", before[0] == 'a' ? AXIS : 0, "", before,
                          levels[i].label, figure);
            before = ", ";
        }
    }
    (void)fputs(before[0] == 'a' ? "" : "\n", out);
}

/* Room for the labels at the right. */
static size_t label_columns(const struct plot_level *levels, size_t level_count)
{
    size_t most = 0;
    for (size_t i = 0; i < level_count; i++) {
        size_t columns = width_of(levels[i].label) + 1;
        most = columns > most ? columns : most;
    }
    return most;
}

void plot_print(const struct plot_point *points, size_t point_count,
                const struct plot_level *levels, size_t level_count, size_t width, FILE *out)
{
    struct grid grid = {0};
    char first[ZONE_TEXT_OCTETS], last[ZONE_TEXT_OCTETS];
    if (point_count < 2) {
        return;
    }
    size_t taken = AXIS + label_columns(levels, level_count);
    grid.columns = width > taken + DATE ? width - taken : DATE + 1;
    grid.columns = grid.columns > COLUMNS_MAX ? COLUMNS_MAX : grid.columns;
    scale(&grid, points, point_count, levels, level_count);
    for (size_t i = 0; i < ROWS; i++) {
        memset(grid.cells[i], ' ', grid.columns);
    }
    for (size_t i = 0; i < level_count; i++) {
        if (shown(&grid, levels[i].hundredths)) {
            memset(grid.cells[row_of(&grid, levels[i].hundredths)], '-', grid.columns);
        }
    }
    for (size_t i = 0; i < point_count; i++) {
        grid.cells[row_of(&grid, points[i].hundredths)][column_of(&grid, points[i].at_s)] = 'o';
    }
    for (size_t i = 0; i < ROWS; i++) {
        print_row(&grid, i, levels, level_count, out);
    }
    zone_write_rfc3339(points[0].at_s, first, sizeof first);
    zone_write_rfc3339(points[point_count - 1].at_s, last, sizeof last);
    if (grid.columns > 2 * DATE) {
        (void)fprintf(out, "%*s +%.10s%*.10s\n", AXIS - 2, "", first, (int)grid.columns - DATE,
                      last);
    } else {
        (void)fprintf(out, "%*s +%*.10s\n", AXIS - 2, "", (int)grid.columns, last);
    }
    print_far(&grid, levels, level_count, out);
}
