/* SPDX-License-Identifier: MIT
 * forecast: how much a machine is used, and how many days until it has run so many hours more, with
 * an early and a late bound. Pure.
 *
 * Usage is a robust slope through the recent readings, so that one odd reading does not move it.
 * Hours are a running sum, so the slope's own confidence interval (independent errors) is far too
 * narrow: the bounds come from how much the weekly totals vary, and from how the pace has wandered. */
#ifndef METERPOST_DAEMON_UPKEEP_FORECAST_H
#define METERPOST_DAEMON_UPKEEP_FORECAST_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/upkeep/usage.h"

#define FORECAST_DAYS_MAX 3650.0 /* nothing is said of what lies farther off */
#define FORECAST_WEEKS_MAX 26    /* weekly totals looked at */

/* What a forecast rests on: the usage of the last twenty weeks, drawn towards the average of the last
 * year as far as the difference of the two may be chance, and towards the kind's while the machine
 * is new; and what it grows by. Where the yard has a year on record and the machine's own hours went
 * along with it, all of this is reckoned in days of weight 1. Time laid up, and time in which the machine plainly stood, is left
 * out. A plain average is thus used where it is better, and not where a season or another crew has
 * changed the use (make bench-season). */
struct forecast_pace {
    double hours_a_day; /* now; never negative */
    double week_growth; /* hours a week more in each week, fading; never negative */
    int32_t rests_on;   /* readings; 0: the kind's typical figure alone */
    /* What weeks grow by and their totals may hide: hours a week more in each week, for the early bound
     * alone; never negative. lag_weeks is how long ago the middle of these weeks lies. */
    double hidden_growth, lag_weeks;
    double week_spread; /* standard deviation of one week's total, hours */
    int32_t
        total_count; /* totals it comes from, of half a week or more, of FORECAST_WEEKS_MAX weeks */
    double wander;   /* variance by which hours a week wander in a week, */
    double mean_weeks; /* and over how many weeks the pace is a mean */
    /* Stops, as it had them before: how many in a day of work, and the sum of their squares, days. */
    double stops, stop_squares;
    double since_days;  /* working days since the last reading */
    double silent_days; /* of these, beyond what is usual */
    double stood_share; /* how much of such days it is likely to stand, 0 to 1 */
    double since_hours; /* what it is likely to have run since the last reading */
    /* Where it follows its yard's year: hours_a_day is of the moment asked about, base_hours_a_day of
     * a day of weight 1, and the coming weeks have each its weight. */
    const struct almanac *almanac;
    double follows; /* the year's swing so many times; 0 not at all, and the rest is not set */
    double base_hours_a_day;
    int64_t last_s; /* the moment from which the days of a forecast count */
};

/* Up to now_s. Without a reading the kind's figure alone. */
struct forecast_pace forecast_pace_of(const struct usage_record *record, int64_t now_s);

/* Days from the last reading: early_days <= days <= late_days, and worked_days <= days. */
struct forecast {
    bool known; /* false: not used at all, or farther off than FORECAST_DAYS_MAX */
    double days, early_days, late_days;
    double worked_days; /* as though it had worked on while it was silent */
};

/* When left_hundredths more will have been run; at once where that is not positive. The bounds are
 * meant to hold in nine of ten cases. */
struct forecast forecast_of(int64_t left_hundredths, const struct forecast_pace *pace);

#endif
