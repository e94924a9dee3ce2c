/* SPDX-License-Identifier: MIT
 * board_plot: hours against time as a drawing (SVG) in a page: the readings, and the marks at which
 * services come due. Colours come from the page's style. */
#ifndef METERPOST_DAEMON_COUNTER_BOARD_PLOT_H
#define METERPOST_DAEMON_COUNTER_BOARD_PLOT_H

#include "daemon/counter/plot.h"

/* Points in order of time; fewer than two draw nothing. `says` tells those who cannot see it what it
 * shows. Levels far above the readings are left out. */
void board_plot(FILE *out, const struct plot_point *points, size_t point_count,
                const struct plot_level *levels, size_t level_count, const char *says);

/* A bar that is so full: how much of an interval has run. 0 to 1000; more is drawn as full. */
void board_bar(FILE *out, int64_t thousandths);

#endif
