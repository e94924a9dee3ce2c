/* SPDX-License-Identifier: MIT
 * slots: the places in the modem's memory that hold something to read or to delete, in the order
 * in which they became known. */
#ifndef METERPOST_DAEMON_MODEM_SLOTS_H
#define METERPOST_DAEMON_MODEM_SLOTS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define SLOTS_MAX 256
#define SLOTS_MEMORY_OCTETS 3 /* "SM", "ME", ... (TS 27.005 3.1 <mem>) */

struct slot {
    char memory[SLOTS_MEMORY_OCTETS]; /* "": the one in use */
    int32_t index;
    bool announced;    /* by the modem, or found where that could not be expected */
    bool kept;         /* on disk, or of no use: to be deleted */
    uint8_t reads;     /* tried in vain */
    uint8_t deletions; /* likewise */
    uint8_t same;      /* times running that the same nonsense was read */
    uint32_t damaged;  /* that nonsense, in short; 0 none */
};

struct slots {
    struct slot list[SLOTS_MAX];
    size_t count;
    bool overflowed; /* more lies there than there was room to note */
};

void slots_clear(struct slots *slots);

/* Notes a place once. One that is about to be deleted may be announced again: by then something new
 * lies there. */
void slots_add(struct slots *slots, const struct slot *slot);

void slots_drop_first(struct slots *slots);

/* Cuts a longer name. */
void slots_name_memory(char out[SLOTS_MEMORY_OCTETS], const char *name);

#endif
