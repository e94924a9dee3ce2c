/* SPDX-License-Identifier: MIT
 * sweep: looking through the modem's memory for texts that lie there: at the start, after trouble,
 * and slowly all the time, so that a lost indication loses nothing. It lists places; reading them
 * is the intake's. The slow look is also what finds a modem mute. */
#ifndef METERPOST_DAEMON_MODEM_SWEEP_H
#define METERPOST_DAEMON_MODEM_SWEEP_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/modem/chat.h"
#include "daemon/modem/setup.h"
#include "daemon/modem/slots.h"

/* All of it the sweep's own, but left_behind and refused. */
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
    /* for the intake and the link */
    bool left_behind; /* a text stays in the modem, so what is found need not be new */
    bool refused;     /* the modem refuses to list, and did list before */
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
/* True where it is to be tried again after a pause. */
bool sweep_end(struct sweep *sweep, const char *memory, const struct chat_result *result);

/* The memory could not be selected: left out. */
void sweep_skip(struct sweep *sweep);

/* How much of the memory in use is taken. */
void sweep_storage(struct sweep *sweep, int32_t used, int32_t total);

#endif
