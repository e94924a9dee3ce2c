/* SPDX-License-Identifier: MIT
 * opening: what every verb that reads needs before it can say anything: the settings, the shop's
 * zone, the moment, the ledger. */
#ifndef METERPOST_DAEMON_COUNTER_OPENING_H
#define METERPOST_DAEMON_COUNTER_OPENING_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/counter/options.h"
#include "daemon/ledger/ledger.h"
#include "daemon/yard/yard.h"

struct opening {
    struct settings *settings;
    struct ledger *ledger; /* NULL until opening_ledger */
    int64_t now_s;
};

/* Settings, zone and moment. Returns 0, or an exit status (64, 78) after saying why on err. */
int opening_begin(struct opening *opening, const struct options *options, FILE *err);

/* The ledger as well. Returns 0, or 66 or 74 after saying why. */
int opening_ledger(struct opening *opening, enum ledger_mode mode, FILE *err);

/* The ledger to read, and how every machine stands, worst first. The caller frees *standings (NULL
 * on failure). Returns 0, or 66 or 74 after saying why. */
int opening_standings(struct opening *opening, struct yard_standing **standings, size_t *count,
                      FILE *err);

void opening_end(struct opening *opening);

#endif
