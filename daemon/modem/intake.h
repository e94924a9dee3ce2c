/* SPDX-License-Identifier: MIT
 * intake: texts in. What is announced, or found by a sweep of the modem's memory, is read, handed
 * to the house, and deleted from the modem only once the house has it. */
#ifndef METERPOST_DAEMON_MODEM_INTAKE_H
#define METERPOST_DAEMON_MODEM_INTAKE_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/modem/link.h"
#include "daemon/modem/setup.h"
#include "daemon/modem/slots.h"
#include "daemon/modem/speaker.h"
#include "daemon/modem/sweep.h"
#include "parsers/at_line.h"

enum intake_task {
    INTAKE_TASK_NONE,
    INTAKE_TASK_ACKNOWLEDGE,
    INTAKE_TASK_SELECT,
    INTAKE_TASK_READ,
    INTAKE_TASK_DELETE,
    INTAKE_TASK_LIST
};

/* What the link should know; it clears what it has heeded. */
struct intake_signs {
    bool text_mode;        /* the modem speaks in text mode: it has restarted */
    bool unannounced;      /* a sweep found a text that was never announced */
    bool indications_lost; /* a receipt failed: the modem stops handing texts on */
};

/* All of it the intake's own, but for signs. */
struct intake {
    const struct link_host *host;
    const struct setup_found *found;
    struct link_health *health; /* storage_used and storage_total are kept there */
    struct intake_signs signs;
    struct slots slots;
    struct sweep sweep;
    enum intake_task task;
    char memory[SLOTS_MEMORY_OCTETS]; /* the one in use */
    char wanted[SLOTS_MEMORY_OCTETS]; /* the one being selected */
    int64_t not_before_ms;            /* pause after a refusal */
    bool acknowledge;                 /* a text handed on directly waits for its receipt */
    /* the read under way */
    int32_t header_octets; /* <length> of the answer; -1: no header came */
    char hex[AT_LINE_OCTETS];
    struct tpdu tpdu;
};

void intake_init(struct intake *intake, const struct link_host *host,
                 const struct setup_found *found, struct link_health *health);

/* Before each set-up: a receipt that is still owed has lapsed. */
void intake_forget(struct intake *intake);

/* After each set-up: forgets what was pending and sweeps all memories. */
void intake_start(struct intake *intake, struct instant now);

/* +CMTI or +CDSI. */
void intake_announced(struct intake *intake, struct instant now, const char *text, size_t length);

/* +CMT or +CDS, and the line after it. */
void intake_direct(struct intake *intake, struct instant now, const char *text, size_t length,
                   const char *pdu);

/* Sweeps all memories as soon as the line is free. */
void intake_sweep(struct intake *intake, struct instant now);

/* The modem says that no place is free. */
void intake_full(struct intake *intake, struct instant now);

struct speaker intake_speaker(struct intake *intake);

#endif
