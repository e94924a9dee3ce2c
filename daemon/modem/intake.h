/* SPDX-License-Identifier: MIT
 * intake: texts in. What is announced, or found by a sweep of the modem's memory, is read, handed
 * to the house, and deleted from the modem only once the house has it. */
#ifndef METERPOST_DAEMON_MODEM_INTAKE_H
#define METERPOST_DAEMON_MODEM_INTAKE_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/modem/link.h"
#include "daemon/modem/setup.h"
#include "daemon/modem/speaker.h"
#include "parsers/at_line.h"

#define INTAKE_SLOTS_MAX 256

/* A place in the modem's memory that holds something to read. */
struct intake_slot {
    char memory[SETUP_MEMORY_OCTETS]; /* "": the one in use */
    int32_t index;
    uint8_t tries;
    bool announced;
    bool kept; /* on disk: to be deleted */
};

enum intake_task {
    INTAKE_TASK_NONE,
    INTAKE_TASK_ACKNOWLEDGE,
    INTAKE_TASK_SELECT,
    INTAKE_TASK_READ,
    INTAKE_TASK_DELETE,
    INTAKE_TASK_LIST
};

/* All of it the intake's own, but the flags at the end are the link's to read and clear. */
struct intake {
    const struct link_host *host;
    const struct setup_found *found;
    struct link_health *health;                 /* storage_used and storage_total are kept there */
    struct intake_slot slots[INTAKE_SLOTS_MAX]; /* first come, first read */
    size_t slot_count;
    bool overflowed; /* more lies there than slots */
    enum intake_task task;
    char memory[SETUP_MEMORY_OCTETS]; /* the one in use */
    char wanted[SETUP_MEMORY_OCTETS]; /* the one being selected */
    size_t list_next, list_end;       /* memories still to be listed */
    int64_t sweep_ms;                 /* the next one of the memory in use */
    int64_t sweep_all_ms;             /* the next one of all */
    int64_t not_before_ms;            /* pause after a refusal */
    bool acknowledge;                 /* a direct text waits for its receipt */
    int32_t header_octets;            /* <length> of the answer; -1: no header came */
    char hex[AT_LINE_OCTETS];
    struct tpdu tpdu;
    /* for the link */
    bool text_mode;        /* the modem answers in text mode: it has restarted */
    bool list_refused;     /* it refuses to list its texts */
    uint32_t unannounced;  /* texts that a sweep had to find */
    bool indications_lost; /* a receipt failed: the modem has stopped to hand texts on */
};

void intake_init(struct intake *intake, const struct link_host *host,
                 const struct setup_found *found, struct link_health *health);

/* After each set-up: forgets what was pending and sweeps all memories. */
void intake_start(struct intake *intake, struct instant now);

/* +CMTI or +CDSI. */
void intake_announced(struct intake *intake, const char *text, size_t length);

/* +CMT or +CDS with the line after it. */
void intake_direct(struct intake *intake, struct instant now, const char *pdu);

/* Sweeps all memories as soon as the line is free. */
void intake_sweep(struct intake *intake, struct instant now);

struct speaker intake_speaker(struct intake *intake);

#endif
