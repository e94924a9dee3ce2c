/* SPDX-License-Identifier: MIT
 * plan: the plain facts of a service plan and of one service done. Hours are hundredths of true
 * hours; days are civil days since 1970-01-01 in the shop's zone. */
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
    int32_t months;           /* calendar limit after the last service; 0: none */
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
    int32_t day;    /* when done; only where day_known */
    bool day_known; /* a config's last_done may have hours alone */
};

#endif
