/* SPDX-License-Identifier: MIT
 * notices: what the shop is told without having asked. Alerts of several machines go as one text to
 * each person of the shop, in that person's language and in the shop's hours. */
#ifndef METERPOST_DAEMON_DESK_NOTICES_H
#define METERPOST_DAEMON_DESK_NOTICES_H

#include "daemon/desk/turn.h"

/* Queues one sentence to everybody of the shop but the sender. Its values must be the same in every
 * language. */
void notices_note(struct turn *turn, enum wording_key key, const struct wording_values *values);

/* Puts every alert that is not yet told, and what is to be reminded of, into one text to each person
 * of the shop; in the open transaction and in the shop's hours (the caller's to see). */
enum ledger_result notices_tell(struct desk *desk, bool remind, int64_t now_s);

#endif
