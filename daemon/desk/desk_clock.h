/* SPDX-License-Identifier: MIT
 * desk_clock: the time the desk works by: the box's clock, or, where that is plainly wrong, the time
 * known from outside. It gathers what upkeep/clock_judge judges by, and carries each word of the
 * time on by the monotonic clock, which nobody sets. */
#ifndef METERPOST_DAEMON_DESK_DESK_CLOCK_H
#define METERPOST_DAEMON_DESK_DESK_CLOCK_H

#include "daemon/ground/clock.h"
#include "daemon/upkeep/clock_judge.h"

struct desk_clock {
    int64_t network_s, network_ms; /* the network's time, and when it was told; 0 never */
    int64_t witnessed_s;           /* kept in the ledger; 0 none */
    size_t count;
    struct {
        int64_t said_s, came_ms;
    } texts[CLOCK_STAMPS_MOST]; /* the latest to come first */
    enum clock_verdict told;    /* what the log has heard of */
};

/* The modem says what time it is. */
void desk_clock_network(struct desk_clock *clock, struct instant now, int64_t network_s);

/* A text of the roster has come with that stamp. The same stamp counts once. */
void desk_clock_text(struct desk_clock *clock, struct instant now, int64_t said_s);

struct clock_judgement desk_clock_judge(const struct desk_clock *clock, struct instant now);

/* Into the log, once for each change. */
void desk_clock_tell(struct desk_clock *clock, const struct clock_judgement *judgement);

#endif
