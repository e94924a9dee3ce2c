/* SPDX-License-Identifier: MIT
 * bounds: between which figures a reading of one machine at one moment must lie, by its neighbours
 * in time and by the clock, and what the usage predicts. In hundredths of the meter that the
 * machine has at that moment. */
#ifndef METERPOST_DAEMON_YARD_BOUNDS_H
#define METERPOST_DAEMON_YARD_BOUNDS_H

#include "daemon/upkeep/doubt.h"
#include "daemon/yard/history.h"
#include "daemon/yard/yard.h"

struct bounds {
    struct history history; /* up to that moment */
    int64_t read_s;
    bool has_last;
    int64_t last;
    int64_t allowed; /* by the clock since the last reading */
    bool has_next;   /* there is a later reading: the figure is of the past */
    int64_t next;
    int64_t next_s;
    struct doubt_range range; /* what can be true */
    double hours_a_day;       /* usage up to that moment */
    int64_t predicted;        /* without a reading: the config's lower bound */
};

enum ledger_result bounds_find(struct yard *yard, int32_t machine, int64_t read_s,
                               struct bounds *bounds);

/* As if the last reading were not there. False where there is none before it. */
struct bounds_before_last {
    struct doubt_range range;
    int64_t predicted;         /* at the moment asked about */
    int64_t predicted_at_last; /* at the moment of the last reading */
};
bool bounds_before_last(const struct yard *yard, int32_t machine, const struct bounds *bounds,
                        struct bounds_before_last *before);

#endif
