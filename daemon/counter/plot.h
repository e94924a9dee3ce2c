/* SPDX-License-Identifier: MIT
 * plot: hours against time, with the marks at which services come due: in plain characters. */
#ifndef METERPOST_DAEMON_COUNTER_PLOT_H
#define METERPOST_DAEMON_COUNTER_PLOT_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

struct plot_point {
    int64_t at_s;
    int64_t hundredths;
};
struct plot_level {
    const char *label; /* shown at the right end of its line */
    int64_t hundredths;
};

/* Points in order of time. Fewer than two print nothing. Levels beyond twice the points' range are
 * said below instead of drawn, so that the readings stay readable. width: columns of the whole
 * picture, which is never narrower than its labels and a date. */
void plot_print(const struct plot_point *points, size_t point_count,
                const struct plot_level *levels, size_t level_count, size_t width, FILE *out);

#endif
