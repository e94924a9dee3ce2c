/* SPDX-License-Identifier: MIT
 * plot: see plot.h. A grid is filled, then printed with its axes. */
#include "daemon/counter/plot.h"

#include <stdbool.h>
#include <string.h>

#include "daemon/counter/output.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"

enum { ROWS = 12, COLUMNS_MAX = 120, AXIS = 10, DATE = 10 };

/* What is shown: the time from left to right, the hours from bottom to top. */
struct scale {
    int64_t from_s, until_s;
    int64_t low, high; /* hundredths */
};

struct grid {
    struct scale scale;
    size_t columns;
    char cells[ROWS][COLUMNS_MAX + 1];
};

/* From the lowest to the highest reading, and up to the levels that are not too far above. */
static struct scale scale_of(const struct plot_point *points, size_t point_count,
                             const struct plot_level *levels, size_t level_count)
{
    struct scale scale = {points[0].at_s, points[point_count - 1].at_s, points[0].hundredths,
                          points[0].hundredths};
    for (size_t i = 0; i < point_count; i++) {
        int64_t hundredths = points[i].hundredths;
        scale.low = hundredths < scale.low ? hundredths : scale.low;
        scale.high = hundredths > scale.high ? hundredths : scale.high;
    }
    int64_t reach = scale.high + (scale.high - scale.low);
    for (size_t i = 0; i < level_count; i++) {
        int64_t hundredths = levels[i].hundredths;
        scale.high = hundredths <= reach && hundredths > scale.high ? hundredths : scale.high;
    }
    scale.until_s += scale.until_s == scale.from_s;
    scale.high += scale.high == scale.low;
    return scale;
}

static bool shown(const struct scale *scale, int64_t hundredths)
{
    return hundredths >= scale->low && hundredths <= scale->high;
}

static size_t row_of(const struct scale *scale, int64_t hundredths)
{
    int64_t range = scale->high - scale->low;
    int64_t up = (2 * (hundredths - scale->low) * (ROWS - 1) + range) / (2 * range); /* nearest */
    return (size_t)(ROWS - 1 - up);
}

/* How far along a moment lies, of so many steps. */
static int64_t along(const struct scale *scale, int64_t at_s, int64_t steps)
{
    return (at_s - scale->from_s) * steps / (scale->until_s - scale->from_s);
}

static void print_row(const struct grid *grid, size_t row, const struct plot_level *levels,
                      size_t level_count, FILE *out)
{
    char figure[HOURS_TEXT_OCTETS] = "";
    const char *label = "";
    if (row % 3 == 0 || row == ROWS - 1) {
        /* In steps so large that no two rows say the same; the top is rounded up, lest it stand
         * below the highest reading, all others down. */
        int64_t range = grid->scale.high - grid->scale.low, step = range < 2000 ? 10 : 100;
        int64_t at = grid->scale.low + range * (int64_t)(ROWS - 1 - row) / (ROWS - 1);
        (void)hours_write((at + (row == 0 ? step - 1 : 0)) / step * step, figure, sizeof figure);
    }
    for (size_t i = 0; i < level_count; i++) {
        if (shown(&grid->scale, levels[i].hundredths) &&
            row_of(&grid->scale, levels[i].hundredths) == row) {
            label = levels[i].label;
        }
    }
    (void)fprintf(out, "%*s |%s%s%s\n", AXIS - 2, figure, grid->cells[row],
                  label[0] != '\0' ? " " : "", label);
}

/* The levels that are too far above to be drawn are said below. */
static void print_far(const struct scale *scale, const struct plot_level *levels,
                      size_t level_count, FILE *out)
{
    const char *before = "above: ";
    for (size_t i = 0; i < level_count; i++) {
        char figure[HOURS_TEXT_OCTETS];
        if (levels[i].hundredths > scale->high) {
            (void)hours_write(levels[i].hundredths, figure, sizeof figure);
            (void)fprintf(out, "%*s%s%s at %s", before[0] == 'a' ? AXIS : 0, "", before,
                          levels[i].label, figure);
            before = ", ";
        }
    }
    (void)fputs(before[0] == 'a' ? "" : "\n", out);
}

void plot_print(const struct plot_point *points, size_t point_count,
                const struct plot_level *levels, size_t level_count, size_t width, FILE *out)
{
    struct grid grid = {0};
    char first[ZONE_TEXT_OCTETS], last[ZONE_TEXT_OCTETS];
    if (point_count < 2) {
        return;
    }
    size_t taken = AXIS; /* and the labels at the right */
    for (size_t i = 0; i < level_count; i++) {
        size_t columns = AXIS + width_of(levels[i].label) + 1;
        taken = columns > taken ? columns : taken;
    }
    grid.columns = width > taken + DATE ? width - taken : DATE + 1;
    grid.columns = grid.columns > COLUMNS_MAX ? COLUMNS_MAX : grid.columns;
    grid.scale = scale_of(points, point_count, levels, level_count);
    for (size_t i = 0; i < ROWS; i++) {
        memset(grid.cells[i], ' ', grid.columns);
    }
    for (size_t i = 0; i < level_count; i++) {
        if (shown(&grid.scale, levels[i].hundredths)) {
            memset(grid.cells[row_of(&grid.scale, levels[i].hundredths)], '-', grid.columns);
        }
    }
    for (size_t i = 0; i < point_count; i++) {
        grid.cells[row_of(&grid.scale, points[i].hundredths)]
                  [along(&grid.scale, points[i].at_s, (int64_t)grid.columns - 1)] = 'o';
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
    print_far(&grid.scale, levels, level_count, out);
}
