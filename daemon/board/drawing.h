/* SPDX-License-Identifier: MIT
 * drawing: hours against time as a drawing (SVG) in a page: readings, the marks at which services come
 * due, and where the next one is expected, with its bounds. */
#ifndef METERPOST_DAEMON_BOARD_DRAWING_H
#define METERPOST_DAEMON_BOARD_DRAWING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

struct drawing_point {
    int64_t at_s;
    int64_t hundredths;
};
struct drawing_level {
    const char *label; /* above its line */
    int64_t hundredths;
};

struct drawing {
    const struct drawing_point *points; /* in order of time */
    size_t point_count;
    const struct drawing_level *levels;
    size_t level_count;
    /* Where the hours are expected to reach a level that is still ahead: a cone from the last point
     * to its bounds, early_s <= expected_s <= late_s. */
    bool has_cone;
    int64_t cone_hundredths, early_s, expected_s, late_s;
    const char *says; /* tells those who cannot see it what it shows */
};

/* Fewer than two points and no cone draw nothing. The cone is cut off at half as long again as the time
 * of the points, six weeks at least; levels far above all that are left out. */
void drawing_hours(FILE *out, const struct drawing *drawing);

/* A bar that is so full: how much of an interval has run. 0 to 1000; more is drawn as full. */
void drawing_bar(FILE *out, int64_t thousandths);

/* A column, filled from below: so much of the one, and so much of the other on top of it; thousandths,
 * together at most 1000. */
void drawing_column(FILE *out, int64_t dark, int64_t light);

#endif
