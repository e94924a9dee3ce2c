/* SPDX-License-Identifier: MIT
 *
 * forecast: when a machine will have run so many hours more. */
#include "daemon/upkeep/forecast.h"

struct forecast_weeks forecast_weeks_of(const struct usage_reading *readings, size_t count,
                                        const struct usage_spell *spells, size_t spell_count)
{
    (void)readings;
    (void)count;
    (void)spells;
    (void)spell_count;
    return (struct forecast_weeks){0};
}

struct forecast forecast_of(int64_t left_hundredths, double hours_a_day,
                            const struct forecast_weeks *weeks)
{
    (void)weeks;
    struct forecast forecast = {0};
    if (left_hundredths <= 0) {
        forecast.known = true;
        return forecast;
    }
    double left = (double)left_hundredths / 100;
    if (hours_a_day * FORECAST_DAYS_MAX < left) {
        return forecast;
    }
    forecast.known = true;
    forecast.days = left / hours_a_day;
    forecast.early_days = forecast.days * 0.7;
    forecast.late_days = forecast.days * 1.4;
    return forecast;
}
