/* SPDX-License-Identifier: MIT
 * loop: one poll loop. Wait for the nearest deadline or a ready descriptor, hand it on, run what is
 * due. Sources are few and fixed; each says what it waits for anew at every turn. */
#ifndef METERPOST_DAEMON_GROUND_LOOP_H
#define METERPOST_DAEMON_GROUND_LOOP_H

#include <stdbool.h>

#include "daemon/ground/clock.h"

#define LOOP_SOURCES_MAX 16

struct loop_source {
    /* The descriptor to watch and the poll events; -1 for none now. May be NULL. */
    int (*descriptor)(void *ctx, short *events);
    /* The next moment it wants to run, monotonic ms; CLOCK_NEVER for none. May be NULL. */
    int64_t (*deadline_ms)(void *ctx);
    void (*ready)(void *ctx, short revents, struct instant now);
    void (*due)(void *ctx, struct instant now);
    void *ctx;
};

struct loop {
    struct clock clock;
    struct loop_source sources[LOOP_SOURCES_MAX];
    size_t source_count;
    bool stop;
};

void loop_init(struct loop *loop, struct clock clock);
bool loop_add(struct loop *loop, struct loop_source source); /* false when full */
/* Until loop->stop. Returns 0, or -1 with errno when waiting failed. */
int loop_run(struct loop *loop);

#endif
