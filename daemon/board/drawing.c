/* SPDX-License-Identifier: MIT
 * drawing: see drawing.h. Whole numbers in a box of 480 by 190, so that no locale's decimal comma gets
 * into it; the browser scales it. */
#include "daemon/board/drawing.h"

#include "daemon/board/board.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"

enum { WIDTH = 480, HEIGHT = 190, LEFT = 76, RIGHT = 474, TOP = 24, BOTTOM = 156 };
#define AHEAD_LEAST_S (42 * (int64_t)86400) /* so far a cone is drawn, however short the past */

/* What is shown: the time from left to right, the hours from bottom to top. */
struct scale {
    int64_t from_s, until_s;
    int64_t low, high; /* hundredths */
};

/* Where the line from the last point to the level at at_s passes that moment, no higher than the
 * level. */
static int64_t height_at(const struct drawing *drawing, int64_t at_s, int64_t moment_s)
{
    const struct drawing_point *last = &drawing->points[drawing->point_count - 1];
    int64_t rise = drawing->cone_hundredths - last->hundredths;
    return moment_s >= at_s
               ? drawing->cone_hundredths
               : last->hundredths + rise * (moment_s - last->at_s) / (at_s - last->at_s);
}

/* From the lowest to the highest reading or the cone's top, and up to the levels that are not too far
 * above. */
static struct scale scale_of(const struct drawing *drawing)
{
    const struct drawing_point *points = drawing->points;
    const struct drawing_point *last = &points[drawing->point_count - 1];
    struct scale scale = {points[0].at_s, last->at_s, points[0].hundredths, points[0].hundredths};
    for (size_t i = 0; i < drawing->point_count; i++) {
        int64_t hundredths = points[i].hundredths;
        scale.low = hundredths < scale.low ? hundredths : scale.low;
        scale.high = hundredths > scale.high ? hundredths : scale.high;
    }
    if (drawing->has_cone) {
        int64_t ahead_s = (last->at_s - points[0].at_s) / 2;
        int64_t most_s = last->at_s + (ahead_s > AHEAD_LEAST_S ? ahead_s : AHEAD_LEAST_S);
        scale.until_s = drawing->late_s < most_s ? drawing->late_s : most_s;
        scale.high = height_at(drawing, drawing->early_s, scale.until_s);
    }
    int64_t reach = scale.high + (scale.high - scale.low);
    for (size_t i = 0; i < drawing->level_count; i++) {
        int64_t hundredths = drawing->levels[i].hundredths;
        scale.high = hundredths <= reach && hundredths > scale.high ? hundredths : scale.high;
    }
    scale.until_s += scale.until_s == scale.from_s;
    scale.high += scale.high == scale.low;
    return scale;
}

static int x_of(const struct scale *scale, int64_t at_s)
{
    return LEFT + (int)((at_s - scale->from_s) * (RIGHT - LEFT) / (scale->until_s - scale->from_s));
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
    /* The top is rounded up, lest it stand below the highest figure, the bottom down. */
    (void)hours_write((scale->high + 99) / 100 * 100, figure, sizeof figure);
    write_text(out, LEFT - 8, TOP + 6, "end", figure);
    (void)hours_write(scale->low / 100 * 100, figure, sizeof figure);
    write_text(out, LEFT - 8, BOTTOM, "end", figure);
    zone_write_rfc3339(scale->from_s, day, sizeof day);
    day[10] = '\0';
    write_text(out, LEFT, HEIGHT - 10, "start", day);
    zone_write_rfc3339(scale->until_s, day, sizeof day);
    day[10] = '\0';
    write_text(out, RIGHT, HEIGHT - 10, "end", day);
}

/* Its edges end where they meet the level or the end of what is shown. */
static void write_cone(FILE *out, const struct drawing *drawing, const struct scale *scale)
{
    const struct drawing_point *last = &drawing->points[drawing->point_count - 1];
    const int64_t ends_s[] = {drawing->early_s, drawing->late_s, drawing->expected_s};
    int x[3], y[3], top = y_of(scale, height_at(drawing, drawing->early_s, scale->until_s));
    for (size_t i = 0; i < 3; i++) {
        int64_t end_s = ends_s[i] < scale->until_s ? ends_s[i] : scale->until_s;
        x[i] = x_of(scale, end_s);
        y[i] = y_of(scale, height_at(drawing, ends_s[i], end_s));
    }
    int from_x = x_of(scale, last->at_s), from_y = y_of(scale, last->hundredths);
    (void)fprintf(out,
                  "<path class=\"cone\" d=\"M%d %dL%d %dL%d %dL%d %dZ\"/>"
                  "<path class=\"expected\" d=\"M%d %dL%d %d\"/>",
                  from_x, from_y, x[0], y[0], x[1], top, x[1], y[1], from_x, from_y, x[2], y[2]);
}

static void write_readings(FILE *out, const struct drawing *drawing, const struct scale *scale)
{
    const struct drawing_point *last = &drawing->points[drawing->point_count - 1];
    (void)fputs("<polyline class=\"hours\" points=\"", out);
    for (size_t i = 0; i < drawing->point_count; i++) {
        (void)fprintf(out, "%s%d,%d", i > 0 ? " " : "", x_of(scale, drawing->points[i].at_s),
                      y_of(scale, drawing->points[i].hundredths));
    }
    (void)fprintf(out, "\"/><circle class=\"last\" cx=\"%d\" cy=\"%d\" r=\"5\"/>",
                  x_of(scale, last->at_s), y_of(scale, last->hundredths));
}

void drawing_hours(FILE *out, const struct drawing *drawing)
{
    if (drawing->point_count == 0 || (drawing->point_count == 1 && !drawing->has_cone)) {
        return;
    }
    struct scale scale = scale_of(drawing);
    (void)fprintf(out, "<svg class=\"plot\" viewBox=\"0 0 %d %d\" role=\"img\"><title>", WIDTH,
                  HEIGHT);
    html_text(out, drawing->says);
    (void)fputs("</title>", out);
    if (drawing->has_cone) {
        write_cone(out, drawing, &scale);
    }
    write_axes(out, &scale);
    for (size_t i = 0; i < drawing->level_count; i++) {
        int64_t hundredths = drawing->levels[i].hundredths;
        if (hundredths >= scale.low && hundredths <= scale.high) {
            int y = y_of(&scale, hundredths);
            (void)fprintf(out, "<path class=\"level\" d=\"M%d %dH%d\"/>", LEFT, y, RIGHT);
            /* Beside each other, lest two that lie close hide one another. */
            write_text(out, LEFT + 6 + (int)i % 3 * 130, y - 5, "start", drawing->levels[i].label);
        }
    }
    write_readings(out, drawing, &scale);
    (void)fputs("</svg>\n", out);
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

void drawing_column(FILE *out, int64_t dark, int64_t light)
{
    (void)fprintf(out,
                  "<svg class=\"column\" viewBox=\"0 0 100 1000\" preserveAspectRatio=\"none\" "
                  "aria-hidden=\"true\"><rect class=\"all\" width=\"100\" height=\"1000\"/>"
                  "<rect class=\"light\" y=\"%d\" width=\"100\" height=\"%d\"/>"
                  "<rect class=\"run\" y=\"%d\" width=\"100\" height=\"%d\"/></svg>",
                  (int)(1000 - dark - light), (int)light, (int)(1000 - dark), (int)dark);
}
