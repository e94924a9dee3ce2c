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
#define FORECAST_WEEKS_MAX 26    /* weekly totals looked at */

/* What a forecast rests on: the usage of the last six weeks, drawn towards the average of the last
 * year as far as the difference of the two may be chance. Time laid up, and time in which the
 * machine plainly stood, is left out. A plain average is thus used where it is better, and not where
 * a season or another crew has changed the use (make bench-season). */
struct forecast_pace {
    double hours_a_day; /* never negative */
    double week_spread; /* standard deviation of one week's total, hours */
    int32_t week_count; /* weekly totals it comes from, at most FORECAST_WEEKS_MAX */
    double silent_days; /* days since the last reading beyond what is usual: it is taken to stand */
};

/* Readings newest first, up to now_s; none: the kind's typical figure. `oldest` is the first one of
 * the last year, where that lies before all of them; else NULL. */
struct forecast_pace forecast_pace_of(const struct usage_reading *readings, size_t count,
                                      const struct usage_reading *oldest,
                                      const struct usage_spell *spells, size_t spell_count,
                                      int64_t now_s, double typical_hours_a_day);

/* Days from the last reading: early_days <= days <= late_days. */
struct forecast {
    bool known; /* false: not used at all, or farther off than FORECAST_DAYS_MAX */
    double days, early_days, late_days;
};

/* When left_hundredths more will have been run; at once where that is not positive. The bounds are
 * meant to hold in nine of ten cases four weeks ahead. */
struct forecast forecast_of(int64_t left_hundredths, const struct forecast_pace *pace);

#endif
