/* SPDX-License-Identifier: MIT
 * bay: what the shop has to do, day by day: booked days as they are given, and a suggested day for
 * each plan that nears, as upkeep/workload lays them. Common practice, no source. */
#ifndef METERPOST_DAEMON_YARD_BAY_H
#define METERPOST_DAEMON_YARD_BAY_H

#include "daemon/yard/yard.h"

#define BAY_DAYS_MOST 400      /* no look ahead is longer */
#define BAY_AHEAD_DAYS (8 * 7) /* how far board and alerts look */

/* A workday of the shop that is no holiday; day is a civil day. */
bool bay_open_on(const struct settings_shop *shop, int32_t day);

struct bay_job {
    int32_t machine, plan; /* indexes into the settings */
    int32_t minutes;
    bool booked; /* or in the shop already; else suggested */
};

struct bay_day {
    int32_t day;
    int32_t minutes, free_minutes; /* free: below 0 where more is booked than there is room for */
    const struct bay_job *jobs;    /* booked ones first, then the most urgent */
    size_t job_count;
};

struct bay {
    struct bay_day *days; /* from today on, closed ones too */
    size_t day_count;
    struct bay_job *jobs; /* what the days point into */
};

/* From today up to and with until_day (BAY_DAYS_MOST days at most). A plan nears where it
 * is due, or its early bound lies no later than until_day; it is wanted by that bound, and not
 * before its parts can be there: each day as many of an item as are on hand, the rest after its lead
 * days. Parked, unread and gone machines and those with no record are left out. A booked machine comes on its day with
 * the plans that near by then, or with its worst one; one that is in the shop is there on the next
 * open day. A booked day that has passed is no booking any more. LEDGER_IO too when memory is short.
 * End with bay_free. */
enum ledger_result bay_reckon(struct yard *yard, int64_t now_s, int32_t until_day, struct bay *bay);
void bay_free(struct bay *bay);

/* The day suggested for that machine and plan. False where there is none: it does not near, has a
 * booking, or finds no room. */
bool bay_suggested(const struct bay *bay, int32_t machine, int32_t plan, int32_t *day);

#endif
