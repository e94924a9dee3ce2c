/* SPDX-License-Identifier: MIT
 * workload: jobs laid into days that have only so many minutes. Pure.
 *
 * Common practice, no source: nothing before its parts can be there, nothing later than it must
 * where there is room before, and no sooner than that either, so that a machine works off its
 * hours; what is late comes as soon as there is room, the most urgent first. */
#ifndef METERPOST_DAEMON_UPKEEP_WORKLOAD_H
#define METERPOST_DAEMON_UPKEEP_WORKLOAD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct workload_day {
    int32_t minutes; /* 0: the shop is closed */
    int32_t
        free_minutes; /* begins as minutes; below 0 where more is booked than there is room for */
};

/* Days are counted from the first one looked at, 0. */
struct workload_job {
    int32_t machine;
    int32_t minutes; /* 0 or more */
    int32_t from;    /* not before: its parts; 0 or later */
    int32_t by;      /* not after, where that can be; may lie before `from` */
    bool booked;     /* on `day`, whether there is room or not */
    int32_t day;     /* where it is laid, or WORKLOAD_NONE: there is no room. Given where booked */
    /* Set by workload_lay: the place of the job that it is done together with, often its own, and
     * what that visit takes in all. */
    size_t visit;
    int32_t visit_from, visit_minutes;
};

#define WORKLOAD_NONE (-1)
/* A machine's jobs wanted within so many days of each other are done in one visit. */
#define WORKLOAD_TOGETHER_DAYS 14

/* Sets `day` of every job that is not booked. Jobs come the most urgent first, by `by`; the later
 * ones of a machine join an earlier one that is not booked where they are wanted soon after it and
 * their parts do not make it late. A job begins on an open day; one longer than a day goes on on the
 * next open ones. Where any way keeps all jobs of the same length within a day in time, this one
 * does. */
void workload_lay(struct workload_day *days, size_t day_count, struct workload_job *jobs,
                  size_t job_count);

#endif
