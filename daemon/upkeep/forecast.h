/* SPDX-License-Identifier: MIT
 * forecast: how many days until a machine has run so many hours more, with an early and a late
 * bound. Pure.
 *
 * Hours are a running sum, so the slope's own confidence interval (independent errors) is far too
 * narrow: the bounds come from how much the weekly totals vary. */
#ifndef METERPOST_DAEMON_UPKEEP_FORECAST_H
#define METERPOST_DAEMON_UPKEEP_FORECAST_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/upkeep/usage.h"

#define FORECAST_DAYS_MAX 3650.0 /* nothing is said of what lies farther off */

/* Weekly totals seen. */
struct forecast_weeks {
    int32_t count;
    double mean_hours;
    double spread_hours; /* standard deviation of one week's total */
};

/* Whole working weeks back from the newest reading, totals read off the straight lines between the
 * readings. Readings newest first. */
struct forecast_weeks forecast_weeks_of(const struct usage_reading *readings, size_t count,
                                        const struct usage_spell *spells, size_t spell_count);

/* Days from the last reading. */
struct forecast {
    bool known; /* false: not used at all, or farther off than FORECAST_DAYS_MAX */
    double days, early_days, late_days;
};

/* When left_hundredths more will have been run at that usage; for left <= 0 at once. */
struct forecast forecast_of(int64_t left_hundredths, double hours_a_day,
                            const struct forecast_weeks *weeks);

#endif
