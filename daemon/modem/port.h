/* SPDX-License-Identifier: MIT
 * port: the serial line as a small table of functions, so that a test can hand in its own. Two
 * transports stand behind it: libserialport finds, names and sets real ports; plain termios serves
 * a pseudo-terminal, which that library refuses, and reads and writes on both. */
#ifndef METERPOST_DAEMON_MODEM_PORT_H
#define METERPOST_DAEMON_MODEM_PORT_H

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

/* All of it the port's own; not to be moved. */
struct port {
    int fd;
    struct sp_port *serial; /* NULL on a pseudo-terminal */
    struct line_count *count, own_count;
    char opened[sizeof((struct line_count *)0)->line]; /* the name last opened */
};

/* count may be NULL. */
void port_init(struct port *port, struct line_count *count);
struct port_line port_line(struct port *port);

/* Which program has a file open, so that "the port is busy" can name it. */
struct port_holder {
    pid_t pid;
    char name[32];
};

/* Looks through /proc for another process that has the real path open. False when none is found;
 * only root sees those of other users. */
bool port_holder_find(const char *real_path, struct port_holder *holder);

#define PORT_LIST_MAX 32
#define PORT_LIST_OCTETS 160

/* A serial port of this box, and what it is. */
struct port_found {
    char name[PORT_LIST_OCTETS];   /* /dev/ttyUSB2 */
    char stable[PORT_LIST_OCTETS]; /* its link under /dev/serial/by-id, "" none */
    char place[PORT_LIST_OCTETS];  /* likewise under by-path: where it is plugged in */
    char is[PORT_LIST_OCTETS];     /* maker and product as the system knows them, "" unknown */
    /* By which a rule finds it again; of USB alone: vendor -1, and the texts "", where it is none. */
    int32_t vendor, product;
    char serial[64], interface[8];
};

/* Fills found; returns how many there are. Nothing is opened. */
size_t port_list(struct port_found found[PORT_LIST_MAX]);

#endif
