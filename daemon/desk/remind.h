/* SPDX-License-Identifier: MIT
 * remind: what is due and was told is told again, by the plan's interval, until it is done or put
 * off. */
#ifndef METERPOST_DAEMON_DESK_REMIND_H
#define METERPOST_DAEMON_DESK_REMIND_H

#include "daemon/desk/notices_list.h"

/* Adds every machine whose reminder is due. */
enum ledger_result remind_gather(struct desk *desk, struct notices_list *list, int64_t now_s);

/* Those of the list were told now: their next reminder is an interval away. */
enum ledger_result remind_mark(struct desk *desk, const struct notices_list *list, int64_t now_s);

#endif
