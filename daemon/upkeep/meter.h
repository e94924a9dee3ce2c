/* SPDX-License-Identifier: MIT
 * meter: what an hour meter can show, and how true hours go on when it rolls over or is changed.
 * Figures in hundredths of an hour. Pure. */
#ifndef METERPOST_DAEMON_UPKEEP_METER_H
#define METERPOST_DAEMON_UPKEEP_METER_H

#include <stdbool.h>
#include <stdint.h>

/* Digits before the point, leading zeros aside; 1 for a figure below one hour. */
int32_t meter_whole_digits(int64_t hundredths);

/* What a meter whose last figure is `limit` has run when it shows nothing again: 9999.9 -> 10000.0,
 * 9999 -> 10000. */
int64_t meter_period(int64_t limit_hundredths);

/* True where the last figure lies within 2 % of the limit and the new one can be what the meter
 * shows after it, given the hours that the clock allows between the two. */
bool meter_rolled_over(int64_t limit_hundredths, int64_t last_hundredths, int64_t hundredths,
                       int64_t allowed_hundredths);

/* True where the figure can be that of a new meter: less than a tenth of the last one, and within
 * what the clock allows past zero. */
bool meter_swapped(int64_t last_hundredths, int64_t hundredths, int64_t allowed_hundredths);

#endif
