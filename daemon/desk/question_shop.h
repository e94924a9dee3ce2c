/* SPDX-License-Identifier: MIT
 * question_shop: a question put to the shop. */
#ifndef METERPOST_DAEMON_DESK_QUESTION_SHOP_H
#define METERPOST_DAEMON_DESK_QUESTION_SHOP_H

#include "daemon/desk/turn.h"

/* Puts a question to every person of the shop that may be texted, in the shop's hours, in the words
 * of `key`. False where there is nobody. */
bool question_to_shop(struct turn *turn, const struct question_row *row, enum wording_key key,
                      int64_t last_hundredths, int64_t last_read_s);

#endif
