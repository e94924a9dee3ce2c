/* SPDX-License-Identifier: MIT
 * loop: see loop.h. What is ready comes before what is due: an answer that came in time counts, however
 * long it took to serve another. But what is due waits for no endless stream. */
#include "daemon/ground/loop.h"

#include <errno.h>

#define READY_TURNS_MAX 8

void loop_init(struct loop *loop, struct clock clock)
{
    *loop = (struct loop){.clock = clock};
}

bool loop_add(struct loop *loop, struct loop_source source)
{
    if (loop->source_count == LOOP_SOURCES_MAX) {
        return false;
    }
    loop->sources[loop->source_count] = source;
    loop->source_count++;
    return true;
}

static void run_due(struct loop *loop)
{
    struct instant now = loop->clock.now(loop->clock.ctx);
    for (size_t i = 0; i < loop->source_count; i++) {
        struct loop_source *source = &loop->sources[i];
        if (source->deadline_ms != NULL && source->deadline_ms(source->ctx) <= now.mono_ms) {
            source->due(source->ctx, now);
        }
    }
}

static int64_t nearest_deadline_ms(const struct loop *loop)
{
    int64_t nearest_ms = CLOCK_NEVER;
    for (size_t i = 0; i < loop->source_count; i++) {
        const struct loop_source *source = &loop->sources[i];
        if (source->deadline_ms != NULL) {
            nearest_ms = clock_earlier(nearest_ms, source->deadline_ms(source->ctx));
        }
    }
    return nearest_ms;
}

static size_t watched(const struct loop *loop, struct pollfd *fds, size_t *owners)
{
    size_t count = 0;
    for (size_t i = 0; i < loop->source_count; i++) {
        const struct loop_source *source = &loop->sources[i];
        short events = POLLIN;
        int fd = source->descriptor != NULL ? source->descriptor(source->ctx, &events) : -1;
        if (fd >= 0) {
            fds[count] = (struct pollfd){.fd = fd, .events = events};
            owners[count] = i;
            count++;
        }
    }
    return count;
}

static void hand_on(struct loop *loop, const struct pollfd *fds, const size_t *owners, size_t count)
{
    struct instant now = loop->clock.now(loop->clock.ctx);
    for (size_t i = 0; i < count; i++) {
        if (fds[i].revents != 0) {
            struct loop_source *source = &loop->sources[owners[i]];
            source->ready(source->ctx, fds[i].revents, now);
        }
    }
}

int loop_run(struct loop *loop)
{
    int turns = 0; /* in which nothing was run that was due */
    while (!loop->stop) {
        struct pollfd fds[LOOP_SOURCES_MAX];
        size_t owners[LOOP_SOURCES_MAX];
        size_t count = watched(loop, fds, owners);
        int ready = loop->clock.wait(loop->clock.ctx, fds, count, nearest_deadline_ms(loop));
        if (ready < 0 && errno != EINTR) {
            return -1;
        }
        if (ready > 0) {
            hand_on(loop, fds, owners, count);
            turns++;
        }
        if (!loop->stop && (ready <= 0 || turns == READY_TURNS_MAX)) {
            run_due(loop);
            turns = 0;
        }
    }
    return 0;
}
