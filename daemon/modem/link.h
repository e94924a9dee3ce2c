/* SPDX-License-Identifier: MIT
 * link: the one conversation with the modem: set-up, texts in, texts out, recovery. Hands texts
 * over through a small table of functions; knows neither ledger nor desk. */
#ifndef METERPOST_DAEMON_MODEM_LINK_H
#define METERPOST_DAEMON_MODEM_LINK_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/ground/clock.h"
#include "daemon/ground/part.h"
#include "daemon/ground/stepped_clock.h"
#include "parsers/tpdu.h"

/* A text as the modem gave it. hex is always there; tpdu only when error is TPDU_OK. */
struct link_arrival {
    const char *hex; /* NUL-terminated, as read */
    enum tpdu_error error;
    const struct tpdu *tpdu;
    struct instant received;
};

/* What the link asks of the house. */
struct link_host {
    /* Keep this text. True once it is on disk (or was there before): then the modem's copy goes.
     * False: it stays in the modem and is offered again later. */
    bool (*arrived)(void *ctx, const struct link_arrival *arrival);
    /* A delivery report came. True once kept. */
    bool (*reported)(void *ctx, const struct link_arrival *arrival);
    /* The next part to send now. False: nothing; *next_ms is when to ask again (CLOCK_NEVER: not
     * before link_wake). True: it is on disk as handed over and goes out at once. */
    bool (*outgoing)(void *ctx, struct instant now, struct part *part, int64_t *next_ms);
    void (*sent)(void *ctx, struct instant now, const struct part_result *result);
    /* The modem says what time it is: as the network told it, or, where the network has not, some
     * time of its own. May be NULL. */
    void (*timed)(void *ctx, struct instant now, int64_t network_s);
    void *ctx;
};

enum link_state {
    LINK_STATE_CLOSED, /* no port: tries again with back-off */
    LINK_STATE_SETUP,  /* steps of the set-up under way */
    LINK_STATE_READY,  /* idle or in a command, texts flow */
    LINK_STATE_FAULT   /* a person has to act (PIN, no SIM): asked again slowly */
};

#define LINK_SAYS_OCTETS 240

/* What is known now, for health and the modem verb. Unknown figures are -1, words "". */
struct link_health {
    enum link_state state;
    char says[LINK_SAYS_OCTETS]; /* what is wrong and what to do; "" when well */
    char maker[64], model[64], firmware[64], network[64];
    int32_t signal_dbm;   /* 0 when unknown */
    int32_t registration; /* <stat> of 27.007 7.2, best of CREG, CGREG and CEREG */
    int32_t storage_used, storage_total;
    bool no_centre;       /* the SIM has no service centre number, and none is known */
    char centre_seen[24]; /* the service centre by which the last text came; "" none */
    int32_t uncleared;    /* places that cannot be, though their texts are on disk */
    int32_t sends_failed; /* in a row, since a text last went out */
    int32_t sends_cause;  /* why the last of them did (cause.h) */
    int64_t last_heard_s; /* wall time of the last octet heard; 0 never */
};

struct link_settings {
    const char *name; /* by which the log tells it from others; "" where there is but one */
    const char *port;
    int32_t speed;
    const char *pin_file; /* "" none */
    const char *pin_mark; /* path of the mark that a PIN was tried; beside the ledger */
    const char *centre;   /* the service centre's number, E.164; "" for what the SIM has */
};

struct port_line;
struct link; /* one a modem; room inside is fixed */

/* Allocates once, opens nothing yet; NULL when out of memory. count is told what the line carries
 * (may be NULL). settings' strings must outlive the link or the next link_configure. Ends with
 * link_free. */
struct link *link_new(const struct link_settings *settings, const struct link_host *host,
                      struct line_count *count);
void link_free(struct link *link); /* parks an open prompt, closes the port */

/* New settings after a reload; the port is reopened only where it changed. */
void link_configure(struct link *link, const struct link_settings *settings);

/* There may be something to send: asks host->outgoing at the next turn. */
void link_wake(struct link *link);

/* The four functions of a loop source (daemon/ground/loop.h). */
int link_descriptor(void *link, short *events);
int64_t link_deadline_ms(void *link);
void link_ready(void *link, short revents, struct instant now);
void link_due(void *link, struct instant now);

const struct link_health *link_health(const struct link *link);

/* Whether texts may be left to it: it is ready, on a network as far as it says, and does not refuse to
 * send. For a minute after it has ceased to be that it is waited for, as for a restart, but not where
 * it went, or fell silent, while it sent. *until_ms is when time alone may make that otherwise; CLOCK_NEVER. */
bool link_works(const struct link *link, struct instant now, int64_t *until_ms);

/* As link_new, over a line that is handed in, for those who play the modem themselves. line is copied; what its ctx points to must outlive the link. */
struct link *link_new_over(const struct link_settings *settings, const struct link_host *host,
                           const struct port_line *line);

#endif
