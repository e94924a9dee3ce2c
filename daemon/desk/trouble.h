/* SPDX-License-Identifier: MIT
 * trouble: what the yard says in words, kept and passed on to the shop: danger at any hour and past
 * whatever waits, trouble at once in the shop's hours, remarks within the hour. */
#ifndef METERPOST_DAEMON_DESK_TROUBLE_H
#define METERPOST_DAEMON_DESK_TROUBLE_H

#include "daemon/desk/turn.h"
#include "daemon/ledger/troubles.h"

/* The statements. */
void trouble_take(struct turn *turn);
void trouble_remark(struct turn *turn);
void trouble_solved(struct turn *turn);

/* Keeps words of that weight about the machine (index into settings.machines, -1 none); the shop is
 * told of them when the text is done. False where the same was said, and kept, before. */
bool trouble_keep(struct turn *turn, int32_t machine, enum trouble_weight weight,
                  const char *words);

/* The machine of what was reported without one, by the answer to the question which. */
void trouble_name(struct turn *turn, struct question_row *row, int32_t machine);

/* Tells the shop of all that is ripe, as one text to each person of it, in the open transaction. */
void trouble_tell(struct desk *desk, int64_t now_s);

/* Whether anything is ripe by now; *next_s: when the next is, where that is known; else 0. */
bool trouble_ripe(struct desk *desk, int64_t now_s, int64_t *next_s);

#endif
