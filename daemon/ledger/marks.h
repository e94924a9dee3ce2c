/* SPDX-License-Identifier: MIT
 * marks: single facts by name ("last-round-day"), and the mark of a text under work: a small file
 * beside the ledger, written without a sync before the desk begins, so that a text which brings
 * the desk down is known after the crash; and what a clock that ran ahead has dated, put right. */
#ifndef METERPOST_DAEMON_LEDGER_MARKS_H
#define METERPOST_DAEMON_LEDGER_MARKS_H

#include "daemon/ledger/ledger.h"

/* The latest stamp of a text that was in order: the box's clock is no earlier. */
#define MARKS_WITNESSED "clock-witnessed"
/* The day on which the daemon looked at every machine last. */
#define MARKS_ROUND_DAY "round-day"
/* A number by chance that the ledger was made with: whose identifiers these are, among all yards. */
#define MARKS_YARD "yard"

enum ledger_result marks_get(struct ledger *ledger, const char *name, int64_t *value);
enum ledger_result marks_set(struct ledger *ledger, const char *name, int64_t value);

/* The mark of work is written now but not synced: it outlives a crash of the program, and where the
 * power goes the text is simply tried again. */

/* Before the desk works on a text: *tries is how often this one has brought it down before. */
enum ledger_result marks_work_begins(struct ledger *ledger, const char *fingerprint, int *tries);
void marks_work_ended(struct ledger *ledger);

/* dates: puts right what a clock that ran ahead has dated, once the clock is known to be right: else
 * a reading of the future would not count, a text wait and a cap hold until that day. */

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
