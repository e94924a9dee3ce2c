/* SPDX-License-Identifier: MIT
 * statements: what a text says, statement by statement, each done by its kind. */
#ifndef METERPOST_DAEMON_DESK_STATEMENTS_H
#define METERPOST_DAEMON_DESK_STATEMENTS_H

#include "daemon/desk/turn.h"

/* Reads the turn's body and does all it says. */
void statements_work(struct turn *turn);

#endif
