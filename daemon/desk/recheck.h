/* SPDX-License-Identifier: MIT
 * recheck: after a service the oil level has to be looked at again once the machine has run. */
#ifndef METERPOST_DAEMON_DESK_RECHECK_H
#define METERPOST_DAEMON_DESK_RECHECK_H

#include "daemon/desk/standing.h"

/* Says how the machine stands after a figure of it; and once a service, with the first reading past
 * the plan's recheck_after, asks for a look at the level, to which the rest gives way. */
void recheck_say_standing(struct turn *turn, const struct standing *standing);

/* The crew says that it looked: kept, and not chased any more. */
void recheck_done(struct turn *turn, const struct question_row *row, int32_t machine);

#endif
