/* SPDX-License-Identifier: MIT
 * doubt: what was meant by a figure that cannot be true: a slip of the hand, or a meter that rolled
 * over or was changed. Pure.
 *
 * Every single slip of a hand is tried; what comes of it counts where it can be true itself, and is
 * ranked by how near it lands to what the usage predicts. Figures in hundredths of an hour. */
#ifndef METERPOST_DAEMON_UPKEEP_DOUBT_H
#define METERPOST_DAEMON_UPKEEP_DOUBT_H

#include <stdbool.h>
#include <stdint.h>

enum doubt_slip {
    DOUBT_SLIP_POINT_LOST,
    DOUBT_SLIP_EXCHANGED, /* two neighbours */
    DOUBT_SLIP_WRONG,     /* one digit */
    DOUBT_SLIP_MISSING,
    DOUBT_SLIP_EXTRA, /* doubled, or any other */
    DOUBT_SLIP_MACHINE
};

/* What can be true: least <= figure <= most. */
struct doubt_range {
    int64_t least, most;
};

struct doubt_candidate {
    enum doubt_slip slip;
    int32_t machine; /* the caller's number for it */
    int64_t hundredths;
    int64_t away_hundredths; /* from what the usage predicts */
};

/* The best candidate so far and the next best that differs from it. Begins zeroed. */
struct doubt_search {
    int32_t found; /* 0, 1, or 2 for more */
    struct doubt_candidate best, next;
};

/* Adds one candidate; the same figure of the same machine counts once. */
void doubt_consider(struct doubt_search *search, const struct doubt_candidate *candidate);

/* Adds every slip of a figure of that machine that lies in the range. decimal_digits: as typed, 0
 * to 2. Digits are not exchanged across the point, and none is added or taken after it. */
void doubt_add_slips(struct doubt_search *search, int32_t machine, int64_t hundredths,
                     int32_t decimal_digits, const struct doubt_range *range,
                     int64_t predicted_hundredths);

/* True where the best is the only one, or at least four times nearer than the next. */
bool doubt_clearly_best(const struct doubt_search *search);

/* A distance at least four times nearer than another, where one under an hour counts as an hour. */
bool doubt_much_nearer(int64_t away_hundredths, int64_t other_away_hundredths);

/* A distance, never negative. */
int64_t doubt_away(int64_t hundredths, int64_t predicted_hundredths);

/* The figure with a point before its last digit. */
int64_t doubt_point_before_last(int64_t hundredths);

/* A figure typed without a point, with more digits than the last reading has before its point, on a
 * machine that was read with tenths: it has lost its point. */
bool doubt_lost_point(int64_t hundredths, int32_t decimal_digits, int64_t last_hundredths,
                      bool read_with_tenths);

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
