/* SPDX-License-Identifier: MIT
 * chase: crews are asked again, and then the shop is told: about a machine that has sent no reading
 * for long, or that has come near its service meanwhile, and about the oil level, which has to be
 * looked at, cold, once the machine has run after a service. */
#ifndef METERPOST_DAEMON_DESK_CHASE_H
#define METERPOST_DAEMON_DESK_CHASE_H

#include "daemon/desk/notices.h"
#include "daemon/desk/reading.h"

/* Looks at every machine, in the open transaction; once a day, in the shop's hours. */
void chase_all(const struct round *round);

/* "checked": settles the check of that machine (index into settings.machines), or, with -1, the one
 * that the sender was asked for last; the entry at work says which. False where none is open. */
bool recheck_checked(struct turn *turn, int32_t machine);

/* A service of the past wants no look at the level any more: not asked for. */
void recheck_waive(struct turn *turn, int32_t machine, int32_t plan);

/* NO to the level, or other words in answer to it (body "" none): the shop is told at once. */
void recheck_denied(struct turn *turn, const struct question_row *row, int32_t machine,
                    const char *body);
void recheck_words(struct turn *turn, int32_t machine, const char *words);

/* The crew says that it looked: kept, and not chased any more. */
void recheck_done(struct turn *turn, struct figure *figure, const struct question_row *row);

#endif
