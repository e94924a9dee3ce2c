/* SPDX-License-Identifier: MIT
 * watch: is the modem on a network, which, how well does it hear it, and what time is it there.
 * Asked slowly while all is well, and once a minute while not. */
#ifndef METERPOST_DAEMON_MODEM_WATCH_H
#define METERPOST_DAEMON_MODEM_WATCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/modem/chat.h"
#include "daemon/modem/link.h"

enum watch_domain { WATCH_DOMAIN_CS, WATCH_DOMAIN_PS, WATCH_DOMAIN_LTE, WATCH_DOMAINS };
#define WATCH_SIM 6 /* the question that is asked by itself */

/* What <stat> of +CREG and its kin means (TS 27.007 7.2). */
struct watch_registration {
    bool texts;         /* they may flow */
    const char *says;   /* a few words */
    const char *advice; /* "" where there is nothing to do */
};
/* stat -1: the modem has not said. Never NULL. */
const struct watch_registration *watch_registration(int32_t stat);

/* The one of the two <stat> that is worth more for texts. */
int32_t watch_better(int32_t one, int32_t other);

/* <rssi> of +CSQ in dBm; 0 where it is not known. */
int32_t watch_dbm(int32_t rssi);

struct watch {
    const struct link_host *host; /* is told the time */
    struct link_health *health;   /* network, signal_dbm and registration are put there */
    int32_t stat[WATCH_DOMAINS];  /* <stat> by +CREG, +CGREG, +CEREG; -1 unknown */
    uint32_t lacking;             /* questions, a bit each, that the modem does not know */
    size_t question;              /* the one to ask next; past the end: the round is over */
    int64_t round_ms;             /* the next round */
    bool answered;
    int64_t network_s; /* the time that the modem has just said; 0 none */
    int64_t sim_ms;    /* when to look for the SIM, since a send failed; CLOCK_NEVER */
    bool sim_open;
    char says[LINK_SAYS_OCTETS];
    int64_t trial_ms; /* when to try a send all the same; CLOCK_NEVER while registered */
};

void watch_init(struct watch *watch, const struct link_host *host, struct link_health *health);
void watch_start(struct watch *watch, struct instant now); /* after each set-up: a round, soon */
void watch_hurry(struct watch *watch, struct instant now); /* a round, now */

/* +CREG: and its kin as news. */
void watch_news(struct watch *watch, struct instant now, const char *text, size_t length);

/* When a text may be sent, 0 for now: at once where the modem is registered or its registration is
 * not known. Elsewhere a trial is made rarely, since some modems never say that they are. */
int64_t watch_send_ms(const struct watch *watch);

/* A send was tried, and health has how it fared. */
void watch_tried(struct watch *watch, struct instant now);

/* What is wrong and what to do; "" when well. */
const char *watch_says(struct watch *watch);

struct speaker watch_speaker(struct watch *watch);

/* Reads +CCLK: "yy/MM/dd,hh:mm:ss+zz" (zz quarters of an hour). False where it is ill-formed, lacks
 * its zone, or is what a modem shows before the network has told it the time (years before 2020 or
 * from 2070 on). */
bool watch_read_clock(const char *text, size_t length, int64_t *unix_s);

#endif
