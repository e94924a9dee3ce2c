/* SPDX-License-Identifier: MIT
 * drawing: hours against time, with the marks at which services come due, as a drawing (SVG) in a
 * page. */
#ifndef METERPOST_DAEMON_BOARD_DRAWING_H
#define METERPOST_DAEMON_BOARD_DRAWING_H

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

/* Points in order of time; fewer than two draw nothing. `says` tells those who cannot see it what it
 * shows. Levels far above the readings are left out. */
void drawing_hours(FILE *out, const struct drawing_point *points, size_t point_count,
                   const struct drawing_level *levels, size_t level_count, const char *says);

/* A bar that is so full: how much of an interval has run. 0 to 1000; more is drawn as full. */
void drawing_bar(FILE *out, int64_t thousandths);

#endif
