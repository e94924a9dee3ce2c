/* SPDX-License-Identifier: MIT
 * reachable: those of the shop who may be texted: on the roster, and not opted out. */
#ifndef METERPOST_DAEMON_DESK_REACHABLE_H
#define METERPOST_DAEMON_DESK_REACHABLE_H

#include "daemon/desk/desk.h"

/* Calls each for every person of the shop who may be texted; *count is how many there are. */
enum ledger_result reachable_each(struct desk *desk,
                                  enum ledger_result (*each)(void *ctx, int32_t person), void *ctx,
                                  int *count);

#endif
