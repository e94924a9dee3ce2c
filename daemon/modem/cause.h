/* SPDX-License-Identifier: MIT
 * cause: why a text was not sent, by the number of +CMS ERROR (TS 27.005 3.2.5): what it means in
 * words, whom it concerns, and when it is worth trying again. */
#ifndef METERPOST_DAEMON_MODEM_CAUSE_H
#define METERPOST_DAEMON_MODEM_CAUSE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/modem/chat.h"

#define CAUSE_NONE (-1) /* an error without a number, or in words */

enum cause_scope {
    CAUSE_SCOPE_PASSING,  /* nothing but time: tried again as long as the text is worth it */
    CAUSE_SCOPE_CONTRACT, /* the operator refuses until somebody acts: tried again each hour */
    CAUSE_SCOPE_NUMBER,   /* this number: never again; others may be told */
    CAUSE_SCOPE_TEXT,     /* this text: never again */
    CAUSE_SCOPE_TAKEN     /* no failure: the network has it */
};

struct cause {
    int32_t first, last; /* the numbers it stands for */
    const char *says;    /* a few words that fit behind "not sent: " */
    enum cause_scope scope;
    int32_t pause_s; /* before the second try */
    bool all;        /* whatever is sent next may well fail for it too */
    enum finding finding;
};

/* Never NULL: a number that is not listed passes. */
const struct cause *cause_of(int32_t number);

/* The number of +CMS ERROR that means the same as that one of +CME ERROR (TS 27.007 9.2);
 * CAUSE_NONE where there is none. */
int32_t cause_of_equipment(int32_t number);

/* How long until it is tried again after so many tries before the one that failed: longer each
 * time. All waits between two tries of a text are made here. */
int64_t cause_pause_ms(const struct cause *cause, int32_t tries);

#define CAUSE_SAYS_OCTETS 96

/* "no network (331)"; the number is left out where there is none. Returns out. */
const char *cause_write(int32_t number, char out[CAUSE_SAYS_OCTETS]);

#endif
