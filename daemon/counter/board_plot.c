/* SPDX-License-Identifier: MIT
 * board_plot: see board_plot.h. Whole numbers in a box of 640 by 220, so that no locale's decimal
 * comma gets into the drawing; the browser scales it. */
#include "daemon/counter/board_plot.h"

#include <stdbool.h>

#include "daemon/counter/html.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"

enum { WIDTH = 640, HEIGHT = 220, LEFT = 104, RIGHT = 630, TOP = 28, BOTTOM = 185 };

struct drawing {
    int64_t from_s, until_s;
    int64_t low, high; /* hundredths at the bottom and the top */
};

static int x_of(const struct drawing *drawing, int64_t at_s)
{
    return LEFT +
           (int)((at_s - drawing->from_s) * (RIGHT - LEFT) / (drawing->until_s - drawing->from_s));
}

static int y_of(const struct drawing *drawing, int64_t hundredths)
{
    return BOTTOM -
           (int)((hundredths - drawing->low) * (BOTTOM - TOP) / (drawing->high - drawing->low));
}

/* As far up as twice the range of the readings, where a level stands there. */
static struct drawing scale(const struct plot_point *points, size_t point_count,
                            const struct plot_level *levels, size_t level_count)
{
    struct drawing drawing = {points[0].at_s, points[point_count - 1].at_s, points[0].hundredths,
                              points[0].hundredths};
    for (size_t i = 0; i < point_count; i++) {
        int64_t hundredths = points[i].hundredths;
        drawing.low = hundredths < drawing.low ? hundredths : drawing.low;
        drawing.high = hundredths > drawing.high ? hundredths : drawing.high;
    }
    int64_t reach = drawing.high + (drawing.high - drawing.low);
    for (size_t i = 0; i < level_count; i++) {
        int64_t hundredths = levels[i].hundredths;
        drawing.high = hundredths <= reach && hundredths > drawing.high ? hundredths : drawing.high;
    }
    drawing.until_s += drawing.until_s == drawing.from_s;
    drawing.high += drawing.high == drawing.low;
    return drawing;
}

static void write_text(FILE *out, int x, int y, const char *anchor, const char *text)
{
    (void)fprintf(out, "<text x=\"%d\" y=\"%d\" text-anchor=\"%s\">", x, y, anchor);
    html_text(out, text);
    (void)fputs("</text>", out);
}

static void write_axes(FILE *out, const struct drawing *drawing)
{
    char figure[HOURS_TEXT_OCTETS], day[ZONE_TEXT_OCTETS];
    (void)fprintf(out, "<path class=\"axis\" d=\"M%d %dV%dH%d\"/>", LEFT, TOP, BOTTOM, RIGHT);
    (void)hours_write(drawing->high, figure, sizeof figure);
    write_text(out, LEFT - 8, TOP + 8, "end", figure);
    (void)hours_write(drawing->low, figure, sizeof figure);
    write_text(out, LEFT - 8, BOTTOM, "end", figure);
    zone_write_rfc3339(drawing->from_s, day, sizeof day);
    day[10] = '\0';
    write_text(out, LEFT, HEIGHT - 8, "start", day);
    zone_write_rfc3339(drawing->until_s, day, sizeof day);
    day[10] = '\0';
    write_text(out, RIGHT, HEIGHT - 8, "end", day);
}

static void write_levels(FILE *out, const struct drawing *drawing, const struct plot_level *levels,
                         size_t level_count)
{
    for (size_t i = 0; i < level_count; i++) {
        if (levels[i].hundredths >= drawing->low && levels[i].hundredths <= drawing->high) {
            int y = y_of(drawing, levels[i].hundredths);
            (void)fprintf(out, "<path class=\"level\" d=\"M%d %dH%d\"/>", LEFT, y, RIGHT);
            write_text(out, LEFT + 6, y - 5, "start", levels[i].label);
        }
    }
}

void board_plot(FILE *out, const struct plot_point *points, size_t point_count,
                const struct plot_level *levels, size_t level_count, const char *says)
{
    if (point_count < 2) {
        return;
    }
    struct drawing drawing = scale(points, point_count, levels, level_count);
    const struct plot_point *last = &points[point_count - 1];
    (void)fprintf(out, "<svg class=\"plot\" viewBox=\"0 0 %d %d\" role=\"img\"><title>", WIDTH,
                  HEIGHT);
    html_text(out, says);
    (void)fputs("</title>", out);
    write_axes(out, &drawing);
    write_levels(out, &drawing, levels, level_count);
    (void)fputs("<polyline class=\"hours\" points=\"", out);
    for (size_t i = 0; i < point_count; i++) {
        (void)fprintf(out, "%s%d,%d", i > 0 ? " " : "", x_of(&drawing, points[i].at_s),
                      y_of(&drawing, points[i].hundredths));
    }
    (void)fprintf(out, "\"/><circle class=\"last\" cx=\"%d\" cy=\"%d\" r=\"6\"/></svg>\n",
                  x_of(&drawing, last->at_s), y_of(&drawing, last->hundredths));
}

void board_bar(FILE *out, int64_t thousandths)
{
    int64_t full = thousandths < 0 ? 0 : thousandths > 1000 ? 1000 : thousandths;
    (void)fprintf(out,
                  "<svg class=\"bar\" viewBox=\"0 0 1000 24\" preserveAspectRatio=\"none\" "
                  "aria-hidden=\"true\"><rect class=\"all\" width=\"1000\" height=\"24\"/>"
                  "<rect class=\"run\" width=\"%d\" height=\"24\"/></svg>\n",
                  (int)full);
}
