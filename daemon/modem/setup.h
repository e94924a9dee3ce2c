/* SPDX-License-Identifier: MIT
 * setup: from an open line to a modem that takes and gives texts, as a table of steps. It asks
 * rather than assumes: a modem that lacks a command goes on without it, and each step says in the
 * log what it found. */
#ifndef METERPOST_DAEMON_MODEM_SETUP_H
#define METERPOST_DAEMON_MODEM_SETUP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/modem/indications.h"
#include "daemon/modem/link.h"
#include "daemon/modem/port.h"
#include "daemon/modem/slots.h"
#include "daemon/modem/speaker.h"

#define SETUP_MEMORIES_MAX 4

enum setup_state {
    SETUP_STATE_WAKING, /* no answer yet: silence means nothing */
    SETUP_STATE_GOING,
    SETUP_STATE_DONE,
    SETUP_STATE_DEAF,  /* nothing that speaks AT answered */
    SETUP_STATE_STUCK, /* what must be had was refused again and again */
    SETUP_STATE_FAULT  /* a person has to act */
};

/* What the set-up found out. */
struct setup_found {
    char memories[SETUP_MEMORIES_MAX][SLOTS_MEMORY_OCTETS]; /* the first is the one in use */
    size_t memory_count;                                    /* 0: there is no choice of memory */
    int32_t storage_used, storage_total;                    /* of the memory in use; -1 unknown */
    enum indications_way way;
    bool acknowledged; /* texts handed on directly are to be answered with +CNMA */
    bool echo_stays;   /* echo off was taken, yet commands come back */
    bool no_centre;    /* the SIM has no service centre number */
};

/* All of it the set-up's own, but found and says may be read. */
struct setup {
    const struct link_settings *settings;
    const struct port_line *line;
    struct link_health *health; /* maker, model and firmware are put there */
    enum setup_state state;
    char says[sizeof((struct link_health *)0)->says]; /* with STUCK and FAULT: what to do */
    struct setup_found found;
    struct instant now;
    size_t step;
    int32_t tries; /* of the step, before the one under way */
    int64_t not_before_ms;
    struct indications indications;
    char sim[24];     /* what +CPIN? said */
    int32_t function; /* what +CFUN? said; -1 unknown */
    uint8_t memory, memory_form;
};

void setup_init(struct setup *setup, const struct link_settings *settings,
                const struct port_line *line, struct link_health *health);

/* From the first step. */
void setup_start(struct setup *setup, struct instant now);

struct speaker setup_speaker(struct setup *setup);

#endif
