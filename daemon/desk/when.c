/* SPDX-License-Identifier: MIT
 * when: days of the shop's calendar, told from the day the text was sent. */
#include "daemon/desk/when.h"

#include "daemon/upkeep/civil.h"
#include "daemon/ground/zone.h"

#define YEARLESS_DAYS 60 /* a date without a year is not looked for further back */

bool when_said(const struct crew_when *when)
{
    return when->kind != CREW_WHEN_UNSAID || when->minute_of_day >= 0;
}

static enum when_result dated(const struct crew_when *when, int32_t today, int32_t *day)
{
    struct civil_date date = {.year = when->year, .month = when->month, .day = when->day};
    if (when->year > 0) {
        date.year += when->year < 100 ? 2000 : 0;
        if (!civil_valid(date)) {
            return WHEN_UNCLEAR;
        }
        *day = civil_day(date);
        return *day > today ? WHEN_FUTURE : WHEN_OK;
    }
    date.year = civil_date_of(today).year;
    if (!civil_valid(date) || civil_day(date) > today) {
        date.year--;
    }
    if (!civil_valid(date)) {
        return WHEN_UNCLEAR;
    }
    *day = civil_day(date);
    return today - *day > YEARLESS_DAYS ? WHEN_UNCLEAR : WHEN_OK;
}

static enum when_result find_day(const struct crew_when *when, int32_t today, int32_t *day)
{
    switch (when->kind) {
    case CREW_WHEN_UNSAID:
        *day = today;
        return WHEN_OK;
    case CREW_WHEN_DAYS_AGO:
        *day = today - when->days_ago;
        return when->days_ago < 0 ? WHEN_FUTURE : WHEN_OK;
    case CREW_WHEN_WEEKDAY:
        *day = today - (civil_weekday(today) - when->weekday + 7) % 7;
        return WHEN_OK;
    case CREW_WHEN_DATE:
        break;
    }
    return dated(when, today, day);
}

enum when_result when_resolve(const struct crew_when *when, int64_t sent_s, int64_t *at_s)
{
    *at_s = sent_s;
    if (!when_said(when)) {
        return WHEN_OK;
    }
    int32_t day = 0;
    enum when_result result = find_day(when, zone_civil(sent_s).day, &day);
    if (result != WHEN_OK) {
        return result;
    }
    if (when->minute_of_day >= 0) {
        *at_s = zone_unix(day, when->minute_of_day * 60);
        return *at_s > sent_s ? WHEN_FUTURE : WHEN_OK;
    }
    int64_t end_s = zone_unix(day + 1, 0) - 1;
    *at_s = end_s < sent_s ? end_s : sent_s;
    return WHEN_OK;
}
