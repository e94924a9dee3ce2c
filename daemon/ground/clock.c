/* SPDX-License-Identifier: MIT
 * clock: the kernel's clocks and poll(2). */
#include "daemon/ground/clock.h"

#include <limits.h>
#include <time.h>

static struct instant real_now(void *ctx)
{
    (void)ctx;
    struct timespec mono = {0}, wall = {0};
    /* Neither call can fail with these clocks and addresses (clock_gettime(2)). */
    (void)clock_gettime(CLOCK_MONOTONIC, &mono);
    (void)clock_gettime(CLOCK_REALTIME, &wall);
    return (struct instant){.mono_ms = (int64_t)mono.tv_sec * 1000 + mono.tv_nsec / 1000000,
                            .wall_s = (int64_t)wall.tv_sec};
}

static int real_wait(void *ctx, struct pollfd *fds, size_t count, int64_t deadline_ms)
{
    int timeout_ms = -1;
    if (deadline_ms != CLOCK_NEVER) {
        int64_t left_ms = clock_later(deadline_ms - real_now(ctx).mono_ms, 0);
        timeout_ms = (int)clock_earlier(left_ms, INT_MAX);
    }
    return poll(fds, (nfds_t)count, timeout_ms);
}

struct clock clock_real(void)
{
    return (struct clock){.now = real_now, .wait = real_wait, .ctx = NULL};
}
