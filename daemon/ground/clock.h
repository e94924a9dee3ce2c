/* SPDX-License-Identifier: MIT
 * clock: the time and the one wait, as a small table handed in at start. The real one asks the
 * kernel; the stepped one (stepped_clock.h) is led by a test or the demo. */
#ifndef METERPOST_DAEMON_GROUND_CLOCK_H
#define METERPOST_DAEMON_GROUND_CLOCK_H

#include <poll.h>
#include <stddef.h>
#include <stdint.h>

#define CLOCK_NEVER INT64_MAX

/* One look at both clocks. mono_ms is for waits only, never beside wall_s. */
struct instant {
    int64_t mono_ms; /* monotonic milliseconds */
    int64_t wall_s;  /* Unix seconds, UTC */
};

static inline int64_t clock_earlier(int64_t a_ms, int64_t b_ms)
{
    return a_ms < b_ms ? a_ms : b_ms;
}

static inline int64_t clock_later(int64_t a_ms, int64_t b_ms)
{
    return a_ms > b_ms ? a_ms : b_ms;
}

struct clock {
    struct instant (*now)(void *ctx);
    /* Waits until a descriptor is ready, a signal comes, or mono_ms reaches deadline_ms
     * (CLOCK_NEVER: without end). Returns poll(2)'s count, 0 at the deadline, -1 with errno. */
    int (*wait)(void *ctx, struct pollfd *fds, size_t count, int64_t deadline_ms);
    void *ctx;
};

struct clock clock_real(void);

#endif
