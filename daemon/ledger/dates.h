/* SPDX-License-Identifier: MIT
 * dates: puts right what a clock that ran ahead has dated, once the clock is known to be right:
 * else a reading of the future would not count, a text wait and a cap hold until that day. */
#ifndef METERPOST_DAEMON_LEDGER_DATES_H
#define METERPOST_DAEMON_LEDGER_DATES_H

#include "daemon/ledger/ledger.h"

/* The latest moment at which a text came or was written; 0 none. */
enum ledger_result dates_latest(struct ledger *ledger, int64_t *latest_s);

/* Inside the open transaction: whatever is dated beyond limit_s is moved back by back_s, in one
 * piece, so that order and distances stay; alerts that the calendar called for then are void, and
 * may be raised again. What lies ahead on purpose (a hold until the shop opens) must lie before
 * limit_s. */
enum ledger_result dates_move_back(struct ledger *ledger, int64_t limit_s, int64_t back_s);

/* Inside the open transaction: texts whose stamp was not believed, being more than ahead_s ahead of
 * when they came, and which lies in the past by now, are dated by it, and with them what they say. */
enum ledger_result dates_by_stamps(struct ledger *ledger, int64_t ahead_s, int64_t now_s);

#endif
