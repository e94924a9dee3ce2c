/* SPDX-License-Identifier: MIT
 * drawing: see drawing.h. Whole numbers in a box of 640 by 220, so that no locale's decimal comma gets
 * into it; the browser scales it. */
#include "daemon/board/drawing.h"

#include <stdbool.h>
#include <string.h>

#include "daemon/board/markup.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"

enum { WIDTH = 640, HEIGHT = 220, LEFT = 104, RIGHT = 630, TOP = 28, BOTTOM = 185 };

/* What is shown: the time from left to right, the hours from bottom to top. */
struct scale {
    int64_t from_s, until_s;
    int64_t low, high; /* hundredths */
};

/* From the lowest to the highest reading, and up to the levels that are not too far above. */
static struct scale scale_of(const struct drawing_point *points, size_t point_count,
                             const struct drawing_level *levels, size_t level_count)
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

/* How far along a moment lies, of so many steps. */
static int64_t along(const struct scale *scale, int64_t at_s, int64_t steps)
{
    return (at_s - scale->from_s) * steps / (scale->until_s - scale->from_s);
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

void drawing_hours(FILE *out, const struct drawing_point *points, size_t point_count,
                   const struct drawing_level *levels, size_t level_count, const char *says)
{
    if (point_count < 2) {
        return;
    }
    struct scale scale = scale_of(points, point_count, levels, level_count);
    const struct drawing_point *last = &points[point_count - 1];
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

void drawing_bar(FILE *out, int64_t thousandths)
{
    int64_t full = thousandths < 0 ? 0 : thousandths > 1000 ? 1000 : thousandths;
    (void)fprintf(out,
                  "<svg class=\"bar\" viewBox=\"0 0 1000 24\" preserveAspectRatio=\"none\" "
                  "aria-hidden=\"true\"><rect class=\"all\" width=\"1000\" height=\"24\"/>"
                  "<rect class=\"run\" width=\"%d\" height=\"24\"/></svg>\n",
                  (int)full);
}
