/* SPDX-License-Identifier: MIT
 * statements: what a text says, statement by statement, each done by its kind. */
#ifndef METERPOST_DAEMON_DESK_STATEMENTS_H
#define METERPOST_DAEMON_DESK_STATEMENTS_H

#include "daemon/desk/turn.h"

/* Reads the turn's body and does all it says. */
void statements_work(struct turn *turn);

/* One statement about a machine (index into settings.machines), understood as it stands. */
void statements_do(struct turn *turn, const struct crew_statement *statement, int32_t machine);

/* The same from the start: it may be what an open question wants, or not be understood. */
void statements_take(struct turn *turn, const struct crew_statement *said);

/* The word of a kind in JSON. */
const char *statements_word(enum crew_kind kind);

#endif
