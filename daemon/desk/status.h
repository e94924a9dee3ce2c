/* SPDX-License-Identifier: MIT
 * status: how one machine stands, and what comes due. Nothing is changed. */
#ifndef METERPOST_DAEMON_DESK_STATUS_H
#define METERPOST_DAEMON_DESK_STATUS_H

#include "daemon/desk/turn.h"

void status_machine(struct turn *turn, int32_t machine);

/* A crew's own machines, all of them for the shop. */
void status_due(struct turn *turn);

#endif
