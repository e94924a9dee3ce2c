/* SPDX-License-Identifier: MIT
 * port: the serial line as a small table of functions, so that a test can hand in its own. Two
 * transports stand behind it: libserialport for real ports, plain termios for a pseudo-terminal,
 * which that library refuses. */
#ifndef METERPOST_DAEMON_MODEM_PORT_H
#define METERPOST_DAEMON_MODEM_PORT_H

#include <limits.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/types.h>

#include "daemon/ground/stepped_clock.h"

struct port_line {
    /* Opens the port by its name or a link to it, 8N1, no flow control. False: says holds what is
     * wrong and what to do about it. */
    bool (*open)(void *ctx, const char *name, int32_t speed, char *says, size_t size);
    /* Takes another speed; without effect on what has none. False: this one cannot be had. */
    bool (*set_speed)(void *ctx, int32_t speed);
    void (*close)(void *ctx);
    /* Octets got or taken; 0 for none at the moment; -1 when the port is gone. */
    ssize_t (*read)(void *ctx, uint8_t *out, size_t size);
    ssize_t (*write)(void *ctx, const uint8_t *octets, size_t count);
    int (*descriptor)(void *ctx); /* for poll; -1 while closed */
    void *ctx;
};

struct sp_port;

/* All of it the port's own; count may be NULL. */
struct port {
    int fd;
    struct sp_port *serial; /* NULL on a pseudo-terminal */
    struct line_count *count;
    char opened[sizeof((struct line_count *)0)->line]; /* the name last opened */
};

void port_init(struct port *port, struct line_count *count);
struct port_line port_line(struct port *port);

#endif
