/* SPDX-License-Identifier: MIT
 * plot: see plot.h. In characters a grid is filled, then printed with its axes. The drawing has whole
 * numbers in a box of 640 by 220, so that no locale's decimal comma gets into it; the browser scales
 * it. */
#include "daemon/counter/plot.h"

#include <stdbool.h>
#include <string.h>

#include "daemon/counter/output.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"

enum { ROWS = 12, COLUMNS_MAX = 120, AXIS = 10, DATE = 10 };
enum { WIDTH = 640, HEIGHT = 220, LEFT = 104, RIGHT = 630, TOP = 28, BOTTOM = 185 };

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

static int x_of(const struct scale *scale, int64_t at_s)
{
    return LEFT + (int)along(scale, at_s, RIGHT - LEFT);
}

static int y_of(const struct scale *scale, int64_t hundredths)
{
    return BOTTOM - (int)((hundredths - scale->low) * (BOTTOM - TOP) / (scale->high - scale->low));
}

static void write_text(FILE *out, int x, int y, const char *anchor, const char *text)
{
    (void)fprintf(out, "<text x=\"%d\" y=\"%d\" text-anchor=\"%s\">", x, y, anchor);
    html_text(out, text);
    (void)fputs("</text>", out);
}

static void write_axes(FILE *out, const struct scale *scale)
{
    char figure[HOURS_TEXT_OCTETS], day[ZONE_TEXT_OCTETS];
    (void)fprintf(out, "<path class=\"axis\" d=\"M%d %dV%dH%d\"/>", LEFT, TOP, BOTTOM, RIGHT);
    (void)hours_write(scale->high, figure, sizeof figure);
    write_text(out, LEFT - 8, TOP + 8, "end", figure);
    (void)hours_write(scale->low, figure, sizeof figure);
    write_text(out, LEFT - 8, BOTTOM, "end", figure);
    zone_write_rfc3339(scale->from_s, day, sizeof day);
    day[10] = '\0';
    write_text(out, LEFT, HEIGHT - 8, "start", day);
    zone_write_rfc3339(scale->until_s, day, sizeof day);
    day[10] = '\0';
    write_text(out, RIGHT, HEIGHT - 8, "end", day);
}

void plot_draw(FILE *out, const struct plot_point *points, size_t point_count,
               const struct plot_level *levels, size_t level_count, const char *says)
{
    if (point_count < 2) {
        return;
    }
    struct scale scale = scale_of(points, point_count, levels, level_count);
    const struct plot_point *last = &points[point_count - 1];
    (void)fprintf(out, "<svg class=\"plot\" viewBox=\"0 0 %d %d\" role=\"img\"><title>", WIDTH,
                  HEIGHT);
    html_text(out, says);
    (void)fputs("</title>", out);
    write_axes(out, &scale);
    for (size_t i = 0; i < level_count; i++) {
        if (shown(&scale, levels[i].hundredths)) {
            int y = y_of(&scale, levels[i].hundredths);
            (void)fprintf(out, "<path class=\"level\" d=\"M%d %dH%d\"/>", LEFT, y, RIGHT);
            write_text(out, LEFT + 6, y - 5, "start", levels[i].label);
        }
    }
    (void)fputs("<polyline class=\"hours\" points=\"", out);
    for (size_t i = 0; i < point_count; i++) {
        (void)fprintf(out, "%s%d,%d", i > 0 ? " " : "", x_of(&scale, points[i].at_s),
                      y_of(&scale, points[i].hundredths));
    }
    (void)fprintf(out, "\"/><circle class=\"last\" cx=\"%d\" cy=\"%d\" r=\"6\"/></svg>\n",
                  x_of(&scale, last->at_s), y_of(&scale, last->hundredths));
}

void plot_bar(FILE *out, int64_t thousandths)
{
    int64_t full = thousandths < 0 ? 0 : thousandths > 1000 ? 1000 : thousandths;
    (void)fprintf(out,
                  "<svg class=\"bar\" viewBox=\"0 0 1000 24\" preserveAspectRatio=\"none\" "
                  "aria-hidden=\"true\"><rect class=\"all\" width=\"1000\" height=\"24\"/>"
                  "<rect class=\"run\" width=\"%d\" height=\"24\"/></svg>\n",
                  (int)full);
}
