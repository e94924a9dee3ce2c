/* SPDX-License-Identifier: MIT
 * foresight: what settings would have the daemon tell the shop, were they in force: the alerts that
 * they call for and that do not stand in the ledger. So that a plan that is changed while machines are
 * under way brings no surprise. */
#ifndef METERPOST_DAEMON_COUNTER_FORESIGHT_H
#define METERPOST_DAEMON_COUNTER_FORESIGHT_H

#include <stddef.h>
#include <stdint.h>

#include "config/settings.h"
#include "daemon/ledger/ledger.h"
#include "daemon/yard/yard.h"

enum foresight_result {
    FORESIGHT_SEEN,
    FORESIGHT_NO_LEDGER, /* there is none yet, so nothing is under way */
    FORESIGHT_BLIND      /* the ledger cannot be read: `says` */
};

/* *standings, worst first, is what calls for an alert; allocated, the caller frees it (NULL unless
 * FORESIGHT_SEEN). The process's zone becomes the shop's. The ledger is only read. */
enum foresight_result foresight_see(const struct settings *settings, int64_t now_s,
                                    struct yard_standing **standings, size_t *count,
                                    char says[LEDGER_SAYS_OCTETS]);

#endif
