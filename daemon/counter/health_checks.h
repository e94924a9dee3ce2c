/* SPDX-License-Identifier: MIT
 * health_checks: one function a thing that can be wrong; each says what it found and what to do. */
#ifndef METERPOST_DAEMON_COUNTER_HEALTH_CHECKS_H
#define METERPOST_DAEMON_COUNTER_HEALTH_CHECKS_H

#include "daemon/counter/health.h"

#define HEALTH_SAYS_OCTETS 384 /* a sentence of the ledger fits */

struct health_check {
    const char *name;
    enum health_status status;
    char says[HEALTH_SAYS_OCTETS];
    char advice[HEALTH_SAYS_OCTETS]; /* "" when there is nothing to do */
};

enum { HEALTH_CHECKS_MAX = 16 };

/* Runs them all in their order; returns how many there are. */
size_t health_checks_run(const struct health_facts *facts,
                         struct health_check checks[HEALTH_CHECKS_MAX]);

#endif
