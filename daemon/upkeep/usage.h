/* SPDX-License-Identifier: MIT
 * usage: hours a day from the recent readings, by a robust slope, so that one odd reading does not
 * move it. Pure. */
#ifndef METERPOST_DAEMON_UPKEEP_USAGE_H
#define METERPOST_DAEMON_UPKEEP_USAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define USAGE_READINGS_MAX 40 /* the most recent ones; more are not looked at */
#define USAGE_READINGS_MIN 4  /* fewer: the kind's typical figure */
#define USAGE_SPELLS_MAX 16   /* the latest spells laid up */

/* One reading: any clock that counts seconds, as long as all are of the same one. */
struct usage_reading {
    int64_t at_s;
    int64_t true_hundredths;
};

/* A spell laid up: from_s <= t < until_s. An open one ends at INT64_MAX. */
struct usage_spell {
    int64_t from_s;
    int64_t until_s;
};

/* Seconds from one moment to a later one, spells laid up left out. */
int64_t usage_working_s(int64_t from_s, int64_t until_s, const struct usage_spell *spells,
                        size_t spell_count);

/* The slope of Theil and Sen in hours a day: the median of the slopes of all pairs that lie apart
 * in time (the mean of the middle two where their number is even). False, and nothing set, where
 * there is no such pair. Readings in any order; at most USAGE_READINGS_MAX are used. */
bool usage_slope(const struct usage_reading *readings, size_t count,
                 const struct usage_spell *spells, size_t spell_count, double *hours_a_day);

struct usage {
    double hours_a_day; /* never negative */
    int32_t rests_on;   /* readings; 0: the typical figure handed in */
};

/* The slope where there are USAGE_READINGS_MIN readings that span more than two working days; else
 * the typical figure. */
struct usage usage_of(const struct usage_reading *readings, size_t count,
                      const struct usage_spell *spells, size_t spell_count,
                      double typical_hours_a_day);

#endif
