/* SPDX-License-Identifier: MIT
 * stepped_clock: see the header for the protocol. Every wait looks at the conductor's socket
 * before it answers, so that octets never overtake the step that caused them. */
#include "daemon/ground/stepped_clock.h"

#include <errno.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <sys/socket.h>

#define STEPPED_FDS_MAX 32

/* Takes one "now" from the conductor; blocks while there is none. A conductor that is gone ends
 * the process it led: EPIPE. */
static int take_now(struct stepped_clock *stepped)
{
    char message[64];
    ssize_t length = recv(stepped->fd, message, sizeof message - 1, 0);
    if (length < 0) {
        return -1;
    }
    message[length] = '\0';
    int64_t mono_ms = 0, wall_s = 0;
    if (length == 0 || sscanf(message, "now %" SCNd64 " %" SCNd64, &mono_ms, &wall_s) != 2) {
        errno = length == 0 ? EPIPE : EPROTO;
        return -1;
    }
    stepped->now = (struct instant){.mono_ms = mono_ms, .wall_s = wall_s};
    stepped->told[0] = '\0'; /* every step is answered by a report, the same one included */
    return 0;
}

/* The line of that number and its counts, as a report tells them. */
static int write_line(const struct stepped_clock *stepped, size_t line, char *out, size_t size)
{
    static const struct line_count none = {.line = "-"};
    const struct line_count *count = line < stepped->lines ? &stepped->counts[line] : &none;
    return snprintf(out, size, " %s %" PRIu64 " %" PRIu64,
                    count->line[0] != '\0' ? count->line : "-", count->sent, count->received);
}

static int tell_idle(struct stepped_clock *stepped, int64_t deadline_ms)
{
    char report[sizeof stepped->told], line[112];
    (void)write_line(stepped, 0, line, sizeof line);
    int length = snprintf(report, sizeof report, "idle %" PRId64 " %" PRId64 "%s %" PRIu64,
                          stepped->now.mono_ms, deadline_ms == CLOCK_NEVER ? -1 : deadline_ms, line,
                          stepped->commands);
    for (size_t i = 1; i < stepped->lines && length > 0 && (size_t)length < sizeof report; i++) {
        length += write_line(stepped, i, report + length, sizeof report - (size_t)length);
    }
    if (length < 0 || (size_t)length >= sizeof report) {
        errno = EMSGSIZE;
        return -1;
    }
    if (strcmp(report, stepped->told) == 0) {
        return 0;
    }
    if (send(stepped->fd, report, (size_t)length, MSG_NOSIGNAL) < 0) {
        return -1;
    }
    memcpy(stepped->told, report, (size_t)length + 1);
    return 0;
}

/* One look at the conductor and all the descriptors. Returns poll's count without the conductor,
 * -1 with errno. */
static int look(struct stepped_clock *stepped, struct pollfd *all, size_t count, int timeout_ms)
{
    int ready = poll(all, (nfds_t)count + 1, timeout_ms);
    if (ready <= 0 || all[count].revents == 0) {
        return ready;
    }
    return take_now(stepped) == 0 ? ready - 1 : -1;
}

static int stepped_wait(void *ctx, struct pollfd *fds, size_t count, int64_t deadline_ms)
{
    struct stepped_clock *stepped = ctx;
    struct pollfd all[STEPPED_FDS_MAX + 1];
    if (count > STEPPED_FDS_MAX) {
        errno = EINVAL;
        return -1;
    }
    if (count > 0) {
        memcpy(all, fds, count * sizeof *fds);
    }
    all[count] = (struct pollfd){.fd = stepped->fd, .events = POLLIN};
    int ready = look(stepped, all, count, 0);
    while (ready == 0 && stepped->now.mono_ms < deadline_ms) {
        if (tell_idle(stepped, deadline_ms) < 0) {
            return -1;
        }
        ready = look(stepped, all, count, -1);
    }
    if (ready >= 0 && count > 0) {
        memcpy(fds, all, count * sizeof *fds);
    }
    return ready;
}

static struct instant stepped_now(void *ctx)
{
    const struct stepped_clock *stepped = ctx;
    return stepped->now;
}

int stepped_clock_open(struct stepped_clock *stepped, int fd, const struct line_count *counts,
                       size_t lines)
{
    *stepped = (struct stepped_clock){.fd = fd, .counts = counts, .lines = lines};
    return take_now(stepped);
}

struct clock stepped_clock_table(struct stepped_clock *stepped)
{
    return (struct clock){.now = stepped_now, .wait = stepped_wait, .ctx = stepped};
}
