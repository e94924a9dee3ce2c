/* SPDX-License-Identifier: MIT
 * when: days as texts say them, of the past and to come. */
#include "daemon/desk/when.h"

#include "daemon/ground/zone.h"
#include "daemon/upkeep/civil.h"

#define YEARLESS_DAYS 60 /* a date without a year is not looked for further back */

bool when_said(const struct crew_when *when)
{
    return when->kind != CREW_WHEN_UNSAID || when->minute_of_day >= 0;
}

/* The date with the year that it says, or with that of today. */
static struct civil_date date_of(const struct crew_when *when, int32_t today)
{
    struct civil_date date = {.year = when->year, .month = when->month, .day = when->day};
    if (when->year <= 0) {
        date.year = civil_date_of(today).year;
    } else if (when->year < 100) {
        date.year += 2000;
    }
    return date;
}

/* ---- of the past */

static enum when_result past_date(const struct crew_when *when, int32_t today, int32_t *day)
{
    struct civil_date date = date_of(when, today);
    bool has_year = when->year > 0;
    if (!has_year && (!civil_valid(date) || civil_day(date) > today)) {
        date.year--;
    }
    if (!civil_valid(date)) {
        return WHEN_UNCLEAR;
    }
    *day = civil_day(date);
    if (*day > today) {
        return WHEN_FUTURE;
    }
    return !has_year && today - *day > YEARLESS_DAYS ? WHEN_UNCLEAR : WHEN_OK;
}

static enum when_result past_day(const struct crew_when *when, int32_t today, int32_t *day)
{
    if (when->ahead) {
        return WHEN_FUTURE;
    }
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
    case CREW_WHEN_DAY_OF_MONTH:
    case CREW_WHEN_AHEAD:
        break;
    }
    return past_date(when, today, day);
}

enum when_result when_resolve(const struct crew_when *when, int64_t sent_s, int64_t *at_s)
{
    *at_s = sent_s;
    if (!when_said(when)) {
        return WHEN_OK;
    }
    int32_t day = 0;
    enum when_result result = past_day(when, zone_civil(sent_s).day, &day);
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

/* ---- to come */

static int32_t next_of_month(int32_t today, int32_t day_of_month)
{
    struct civil_date date = civil_date_of(today);
    for (int i = 0; i < 3; i++) { /* no two months in a row lack a day */
        struct civil_date then = {.year = date.year, .month = date.month, .day = day_of_month};
        if (civil_valid(then) && civil_day(then) >= today) {
            return civil_day(then);
        }
        date.year += date.month == 12;
        date.month = date.month % 12 + 1;
    }
    return today - 1;
}

/* The next day of that date. Without a year, one just now is a slip and not next year's. */
static bool next_of_date(const struct crew_when *when, int32_t today, int32_t *day)
{
    struct civil_date date = date_of(when, today);
    if (when->year <= 0 && (!civil_valid(date) || civil_day(date) < today - YEARLESS_DAYS)) {
        date.year++;
    }
    *day = civil_valid(date) ? civil_day(date) : 0;
    return civil_valid(date);
}

bool when_to_come(const struct crew_when *when, int32_t today, int32_t *day)
{
    switch (when->kind) {
    case CREW_WHEN_DAYS_AGO:
        *day = today - when->days_ago;
        return true;
    case CREW_WHEN_WEEKDAY:
        *day = today + 1 + (when->weekday - civil_weekday(today + 1) + 7) % 7;
        return true;
    case CREW_WHEN_DAY_OF_MONTH:
        *day = next_of_month(today, when->day);
        return true;
    case CREW_WHEN_DATE:
        return next_of_date(when, today, day);
    case CREW_WHEN_AHEAD:
    case CREW_WHEN_UNSAID:
        break;
    }
    return false;
}
