/* SPDX-License-Identifier: MIT
 * history: what the ledger has on one machine, loaded once and put into the plain facts that
 * upkeep reckons with. */
#ifndef METERPOST_DAEMON_YARD_HISTORY_H
#define METERPOST_DAEMON_YARD_HISTORY_H

#include "daemon/ledger/movements.h"
#include "daemon/ledger/readings.h"
#include "daemon/upkeep/forecast.h"
#include "daemon/upkeep/plan.h"
#include "daemon/yard/yard.h"

#define HISTORY_RECENT 10 /* readings looked at one by one; */
#define HISTORY_OLDER 5   /* older ones of the last year, a week apart and then more */

struct history {
    int64_t at_s;              /* the moment asked about */
    int64_t machine_id;        /* 0: the ledger has not heard of it */
    int64_t offset_hundredths; /* true hours minus meter at that moment */
    size_t reading_count;
    struct usage_reading readings[HISTORY_RECENT + HISTORY_OLDER]; /* newest first */
    size_t recent_count; /* the newest of them, none left out: the two below are theirs */
    int64_t reading_ids[HISTORY_RECENT];
    int64_t meters[HISTORY_RECENT]; /* hundredths, as read */
    size_t spell_count;
    struct usage_spell spells[USAGE_SPELLS_MAX]; /* the latest ones laid up */
    bool parked;                                 /* at that moment */
    bool moved;                                  /* at that moment: */
    struct movement movement;                    /* the latest; looked up with_older alone */
    bool in_year;                                /* the yard's almanac is of that moment */
    bool first_looked_up;                        /* the two below are set: */
    bool has_first;
    struct reading_row first; /* the very first reading */
};

/* The latest readings up to until_s, and where a forecast is wanted older ones and where the machine
 * is too. machine is an index into settings.machines. */
enum ledger_result history_load(struct yard *yard, int32_t machine, int64_t until_s,
                                bool with_older, struct history *history);

/* Where a machine begins, for a plan without a service or with one of no known day: the figure first
 * heard of (`started`, else the very first reading; true hundredths, only where there is a reading)
 * and the day from which the months count. facts->last must be set. */
enum ledger_result history_begin(struct yard *yard, int32_t machine, struct history *history,
                                 struct due_facts *facts);

/* The last service of a plan (index into settings.plans), id 0 where it is the config's seed. */
enum ledger_result history_last_service(struct yard *yard, int32_t machine, int32_t plan,
                                        struct history *history, struct service *service,
                                        int64_t *service_id);

/* The use that is on record from reading `from` on, 0 the newest. Points into *history. */
struct usage_record history_record(const struct yard *yard, int32_t machine,
                                   const struct history *history, size_t from);

#endif
