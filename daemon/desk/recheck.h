/* SPDX-License-Identifier: MIT
 * recheck: after a service the oil level has to be looked at again once the machine has run. */
#ifndef METERPOST_DAEMON_DESK_RECHECK_H
#define METERPOST_DAEMON_DESK_RECHECK_H

#include "daemon/desk/standing.h"

/* Asks for it once a service, with the first reading past the plan's recheck_after. */
void recheck_ask(struct turn *turn, const struct standing *standing);

#endif
