/* SPDX-License-Identifier: MIT
 * stepped_clock: time that jumps to the next deadline once everybody is idle, led from outside by
 * a conductor (a test or the demo) over an inherited socket. Only `run --stepped-clock FD` uses
 * it; nothing in a text or on the modem's line reaches it.
 *
 * Messages, one datagram of SOCK_SEQPACKET each, text:
 *   to the conductor    "idle NOW_MS DEADLINE_MS LINE SENT RECEIVED COMMANDS [LINE SENT RECEIVED ...]"
 *   from the conductor  "now MONO_MS WALL_S"
 * NOW_MS is the time it was idle at, so that a report which crosses a step is not taken for its
 * answer; DEADLINE_MS is -1 for never. LINE is the real path of the open serial line or "-"; SENT
 * and RECEIVED count its octets since the process first opened a line of that name, closed and
 * opened again in between or not, and are told of each line that the process may have; COMMANDS counts lines of script taken (the daemon: 0). The
 * conductor steps only when both ends are idle and every octet sent has been received, so nothing
 * is in flight. So that the counts agree, octets that nobody wants are read and dropped, never
 * flushed away unread. Every "now" is answered by a report, at the latest once what it made due is
 * done. A report that would repeat the last one is left out. The end of the socket ends the wait
 * with EPIPE. */
#ifndef METERPOST_DAEMON_GROUND_STEPPED_CLOCK_H
#define METERPOST_DAEMON_GROUND_STEPPED_CLOCK_H

#include "daemon/ground/clock.h"

#define STEPPED_LINES_MAX 4

/* What the serial line has carried: kept by the port, read by the stepped clock. */
struct line_count {
    char line[64]; /* real path of the open line, "-" when closed */
    uint64_t sent, received;
};

struct stepped_clock {
    int fd;
    struct instant now;
    const struct line_count *counts; /* one a line */
    size_t lines;                    /* 0: nothing to count */
    uint64_t commands;
    char told[512]; /* the last report, so that it is not told again for nothing */
};

/* Takes the conductor's first "now" from fd (waits for it). Returns 0, or -1 with errno. */
int stepped_clock_open(struct stepped_clock *stepped, int fd, const struct line_count *counts,
                       size_t lines);
struct clock stepped_clock_table(struct stepped_clock *stepped);

#endif
