/* SPDX-License-Identifier: MIT
 * health: the verb that says what is wrong and what to do about it, in the exit status that
 * monitoring systems expect: 0 ok, 1 attention, 2 fault, 3 cannot tell. */
#ifndef METERPOST_DAEMON_COUNTER_HEALTH_H
#define METERPOST_DAEMON_COUNTER_HEALTH_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/counter/options.h"
#include "daemon/ledger/ledger.h"
#include "daemon/modem/link.h"
#include "daemon/upkeep/clock_judge.h"

enum health_status { HEALTH_OK, HEALTH_ATTENTION, HEALTH_FAULT, HEALTH_CANNOT_TELL };

/* Asks the running daemon at its door; where none runs, says so and what the ledger shows. */
int health_verb(const struct options *options, FILE *out, FILE *err);

/* What the checks look at. link is NULL where no daemon runs. */
struct health_facts {
    const struct settings *settings;
    struct ledger *ledger; /* NULL where it cannot be read: then ledger_says why */
    const char *ledger_says;
    const struct link_health *link;
    const struct clock_judgement *clock; /* NULL: judged by what the ledger shows */
    int64_t now_s;
};

/* Writes the report as a table or as JSON {"status", "checks": [{"name", "status", "says", "do"}]},
 * and returns the worst status of its checks. */
enum health_status health_report(const struct health_facts *facts, bool json, FILE *out);

#endif
