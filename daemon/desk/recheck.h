/* SPDX-License-Identifier: MIT
 * recheck: the oil level, which has to be looked at, cold, once the machine has run after a service:
 * asked for, answered, and told to the shop where nobody answers. */
#ifndef METERPOST_DAEMON_DESK_RECHECK_H
#define METERPOST_DAEMON_DESK_RECHECK_H

#include "daemon/desk/notices.h"
#include "daemon/desk/reading.h"

/* The machine (index into settings.machines) of whose level the sender's open question is; -1 none. */
int32_t recheck_asked(const struct turn *turn);

/* "checked": settles the check of that machine (index into settings.machines), or, with -1, the one
 * that the sender was asked for last; the entry at work says which. False where none is open. */
bool recheck_checked(struct turn *turn, int32_t machine);

/* The crew says in answer to the question that it looked: kept, and not chased any more. */
void recheck_done(struct turn *turn, struct figure *figure, const struct question_row *row);

/* NO to the level, or other words in answer to it (body "" none): the shop is told at once. */
void recheck_denied(struct turn *turn, const struct question_row *row, int32_t machine,
                    const char *body);
void recheck_words(struct turn *turn, int32_t machine, const char *words);

/* A service of the past wants no look at the level any more: not asked for. */
void recheck_waive(struct turn *turn, int32_t machine, int32_t plan);

/* As days pass: asks the crew, again, and tells the shop, in the open transaction; once a day, in the
 * shop's hours. */
void recheck_chase(const struct round *round, const struct yard_standing *standing);

#endif
