/* SPDX-License-Identifier: MIT
 * plan: a service plan, and where one machine stands against it. Pure: facts and a civil day in, a
 * verdict out.
 *
 * All hours are true hours in hundredths, all days civil days since 1970-01-01 in the shop's zone.
 * The rules here are common practice, no source; the maker's manual says which of them holds for a
 * machine. */
#ifndef METERPOST_DAEMON_UPKEEP_PLAN_H
#define METERPOST_DAEMON_UPKEEP_PLAN_H

#include <stdbool.h>
#include <stdint.h>

enum plan_count {
    PLAN_COUNT_LAST_SERVICE, /* every `every` hours from the last service */
    PLAN_COUNT_ZERO          /* at `first`, then at the multiples of `every` */
};

struct plan {
    int64_t first_hundredths; /* > 0 */
    int64_t every_hundredths; /* > 0 */
    int32_t months;           /* calendar limit after the last service, see due_facts; 0: none */
    enum plan_count count_from;
    int64_t notice_hundredths; /* "coming up" from so far before */
    int32_t notice_days;       /* or when the forecast is so near */
    int64_t grace_hundredths;  /* "overdue" past so much after */
    int32_t grace_days;
    int32_t remind_days; /* repeat to the shop while due; 0: never */
    int64_t recheck_after_hundredths;
    int32_t minutes; /* time in the bay */
};

/* One service done, standing (not struck out). */
struct service {
    bool present;
    int64_t true_hundredths;
    int32_t day;     /* when done; only where day_known */
    bool day_unsaid; /* day is the earliest it can have been: counted from, and not told */
    bool day_known;  /* a config's last_done may have hours alone */
};

/* In the order of worry, the worst last: the greater stage is the worse one, wherever machines are
 * listed "worst first". */
enum due_stage {
    DUE_STAGE_PARKED,
    DUE_STAGE_UNREAD, /* no reading yet */
    DUE_STAGE_FINE,
    DUE_STAGE_COMING_UP,
    DUE_STAGE_NO_RECORD, /* beyond the first service when first heard of, none on record */
    DUE_STAGE_DUE,
    DUE_STAGE_OVERDUE
};
#define DUE_STAGE_COUNT (DUE_STAGE_OVERDUE + 1)

/* What is to be known of a stage: whoever tells stages apart asks here, and for a wording of his
 * own keeps a table in the order of the stages. */
struct due_stage_row {
    const char *word;  /* in JSON, CSV and the ledger: "coming-up" */
    const char *says;  /* in a table on the screen: "coming up" */
    const char *title; /* on a page, standing alone: "no reading yet" */
    bool rests;        /* nothing can come due: laid up, or no reading */
    bool tells;        /* raises an alert, is listed, and is told though nobody asked */
    bool needs_doing;  /* tells, and somebody has to act today: no record, due, overdue */
    bool reached;      /* the point is reached: due, overdue */
};

/* Static; never NULL. */
const struct due_stage_row *due_stage_row(enum due_stage stage);

/* The stage's word, see above. */
const char *due_stage_word(enum due_stage stage);

/* The stage with that word; false, and nothing set, where there is none. */
bool due_stage_find(const char *word, enum due_stage *stage);

/* What is known of the machine. */
struct due_facts {
    bool read; /* there is a reading: the two figures below are set */
    bool parked;
    int64_t true_hundredths;        /* the latest reading */
    int64_t first_heard_hundredths; /* the first figure known of it; only without a service */
    struct service last;            /* the last service that stands */
    /* The day from which the months count where no service says one: on which a machine never
     * serviced was put to work, or, as for a service of no known day, the first reading's. */
    bool begun;
    int32_t begun_day;
    bool reached;        /* readings show when the point was reached: */
    int32_t reached_day; /* the first day with a reading at or past it */
    int32_t today;
};

/* The point the machine runs towards. */
struct due_point {
    bool known; /* false where it is unread or has no record: the two below are not set */
    int64_t due_hundredths;
    int64_t left_hundredths; /* negative: past it */
    bool has_limit;          /* the calendar's limit, so many months after that day: */
    int32_t limit_from_day, limit_day;
};

/* Which of the two comes first. */
enum due_by { DUE_BY_HOURS, DUE_BY_DATE };

/* "hours" or "date". */
const char *due_by_word(enum due_by by);

/* Fills every field. facts->reached and reached_day are not looked at. */
struct due_point due_point_of(const struct plan *plan, const struct due_facts *facts);

/* The stage, given the point. forecast_day counts only where has_forecast: the day on which the
 * hours are expected to reach the point. At the point itself the service is due; overdue is
 * *more* than `grace` hours past the point, or more than `grace_days` past the day on which it was
 * reached, by hours or by calendar. */
enum due_stage due_stage_of(const struct plan *plan, const struct due_facts *facts,
                            const struct due_point *point, bool has_forecast, int32_t forecast_day);

/* Which cycle a machine is in: 0 up to its first service, else a number of the last service's own,
 * the same in whatever order services came to be known. */
int64_t due_cycle(const struct service *last);

#endif
