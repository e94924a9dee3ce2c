/* SPDX-License-Identifier: MIT
 * deed: what one statement about a machine asks for, done. */
#ifndef METERPOST_DAEMON_DESK_DEED_H
#define METERPOST_DAEMON_DESK_DEED_H

#include "daemon/desk/turn.h"

/* One statement about a machine (index into settings.machines), understood as it stands. */
void deed_do(struct turn *turn, const struct crew_statement *statement, int32_t machine);

/* The JSON word of a kind. */
const char *deed_word(enum crew_kind kind);

#endif
