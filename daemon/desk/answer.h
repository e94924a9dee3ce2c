/* SPDX-License-Identifier: MIT
 * answer: what YES and NO do. */
#ifndef METERPOST_DAEMON_DESK_ANSWER_H
#define METERPOST_DAEMON_DESK_ANSWER_H

#include "daemon/desk/turn.h"

/* With a question open or not. */
void answer_yes(struct turn *turn);
void answer_no(struct turn *turn);

#endif
