/* SPDX-License-Identifier: MIT
 * resting: LATER, PARK and BACK, the shop's words about a machine that needs no reminding. */
#ifndef METERPOST_DAEMON_DESK_RESTING_H
#define METERPOST_DAEMON_DESK_RESTING_H

#include "daemon/desk/turn.h"

void resting_later(struct turn *turn, const struct crew_statement *statement, int32_t machine);
void resting_park(struct turn *turn, const struct crew_statement *statement, int32_t machine);
void resting_back(struct turn *turn, const struct crew_statement *statement, int32_t machine);

#endif
