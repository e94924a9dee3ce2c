/* SPDX-License-Identifier: MIT
 * intake: texts in. What is announced, or found by a sweep of the modem's memory, is read, handed
 * to the house, and deleted from the modem only once the house has it. sweep.c looks through the memory. */
#ifndef METERPOST_DAEMON_MODEM_INTAKE_H
#define METERPOST_DAEMON_MODEM_INTAKE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/modem/chat.h"
#include "daemon/modem/link.h"
#include "daemon/modem/setup.h"
#include "parsers/at_line.h"

/* ---- the places in the modem's memory that hold something to read or to delete, in the order in
 * which they became known */

#define SLOTS_MAX 256

struct slot {
    char memory[SETUP_MEMORY_OCTETS]; /* "": the one in use */
    int32_t index;
    bool announced;    /* by the modem, or found where that could not be expected */
    bool kept;         /* on disk, or of no use: to be deleted */
    uint8_t reads;     /* tried in vain */
    uint8_t deletions; /* likewise */
    uint8_t same;      /* times running that the same nonsense was read */
    uint64_t damaged;  /* that nonsense, in short */
};

/* All zero: none. */
struct slots {
    struct slot list[SLOTS_MAX];
    size_t count;
    bool overflowed; /* more lies there than there was room to note */
};

/* Notes a place once. One that is about to be deleted may be announced again: by then something new
 * lies there. */
void slots_add(struct slots *slots, const struct slot *slot);

void slots_drop_first(struct slots *slots);

/* ---- the sweep: looking through the modem's memory for texts that lie there: at the start, after
 * trouble, and slowly all the time, so that a lost indication loses nothing. It lists places;
 * reading them is the intake's. The slow look is also what finds a modem mute. */

/* All of it the sweep's own, but left_behind. */
struct sweep {
    const struct setup_found *found;
    struct link_health *health; /* storage_used and storage_total are kept there */
    size_t next, end;           /* memories still to be listed */
    int32_t listed, listed_own; /* places taken, and those of them that we stored */
    uint8_t tries;              /* refused in a row */
    bool worked;                /* since the set-up */
    bool cannot_list;           /* the places are tried one by one instead */
    bool full;                  /* no place is free: what we stored goes too */
    bool settled;               /* all that was there is read: what is found now came after */
    int64_t one_ms;             /* the next look at the memory in use */
    int64_t all_ms;             /* the next at all of them */
    bool left_behind; /* for the intake: a text stays there, so what is found need not be new */
};

void sweep_init(struct sweep *sweep, const struct setup_found *found, struct link_health *health);

/* After each set-up: nothing is known, all memories are looked through. */
void sweep_start(struct sweep *sweep, struct instant now);

void sweep_all(struct sweep *sweep, struct instant now);
void sweep_one(struct sweep *sweep, struct instant now); /* the memory in use */

/* The modem says that no place is free: all are looked through, and what we stored goes. */
void sweep_full(struct sweep *sweep, struct instant now);

/* The name of the memory to list now; NULL for none. more: places were left out for lack of room. */
const char *sweep_wanted(struct sweep *sweep, struct instant now, bool more);

/* Everything found is read, and nothing is to be listed. */
void sweep_settle(struct sweep *sweep);

/* When it wants the word again. */
int64_t sweep_deadline_ms(const struct sweep *sweep);

/* Notes a place of that memory. announced: the modem told of it, or it is known why not. */
void sweep_note(const struct sweep *sweep, struct slots *slots, const char *memory, int32_t index,
                bool announced);

/* The command that lists, its lines, its end. memory is the one in use. */
void sweep_write(struct sweep *sweep, struct chat_command *command);
void sweep_line(struct sweep *sweep, struct slots *slots, const char *memory, const char *text,
                size_t length);
enum sweep_result {
    SWEEP_RESULT_GOOD,
    SWEEP_RESULT_AGAIN,  /* to be tried again after a pause */
    SWEEP_RESULT_REFUSED /* the modem refuses to list, and did list before */
};
enum sweep_result sweep_end(struct sweep *sweep, const char *memory,
                            const struct chat_result *result);

/* How much of the memory in use is taken. */
void sweep_storage(struct sweep *sweep, int32_t used, int32_t total);

/* ---- the intake */

enum intake_task {
    INTAKE_TASK_NONE,
    INTAKE_TASK_ACKNOWLEDGE,
    INTAKE_TASK_SELECT,
    INTAKE_TASK_READ,
    INTAKE_TASK_DELETE,
    INTAKE_TASK_LIST
};

/* All of it the intake's own, but for acknowledge, which lapses at each set-up. */
struct intake {
    const struct link_host *host;
    const struct setup_found *found;
    struct slots slots;
    struct sweep sweep;
    enum intake_task task;
    char memory[SETUP_MEMORY_OCTETS]; /* the one in use */
    char wanted[SETUP_MEMORY_OCTETS]; /* the one being selected */
    int64_t not_before_ms;            /* pause after a refusal */
    uint8_t damaged;                  /* direct deliveries running that came damaged */
    bool unkept;      /* the house could not keep the last one offered, and it was said */
    bool acknowledge; /* a text handed on directly waits for its receipt */
    /* the read under way */
    bool text_mode;        /* the modem answers in text mode */
    int32_t header_octets; /* <length> of the answer; -1: no header came */
    char hex[AT_LINE_OCTETS];
    struct tpdu tpdu;
};

void intake_init(struct intake *intake, const struct link_host *host,
                 const struct setup_found *found, struct link_health *health);

/* After each set-up: forgets what was pending and sweeps all memories. */
void intake_start(struct intake *intake, struct instant now);

/* +CMTI or +CDSI. */
void intake_announced(struct intake *intake, struct instant now, const char *text, size_t length);

/* +CMT or +CDS, and the line after it. */
enum finding intake_direct(struct intake *intake, struct instant now, const char *text,
                           size_t length, const char *pdu);

struct speaker intake_speaker(struct intake *intake);

#endif
