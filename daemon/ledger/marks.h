/* SPDX-License-Identifier: MIT
 * marks: single facts by name ("last-round-day"), and the mark of a text under work: a small file
 * beside the ledger, written without a sync before the desk begins, so that a text which brings
 * the desk down is known after the crash. */
#ifndef METERPOST_DAEMON_LEDGER_MARKS_H
#define METERPOST_DAEMON_LEDGER_MARKS_H

#include "daemon/ledger/ledger.h"

/* The latest stamp of a text that was in order: the box's clock is no earlier. */
#define MARKS_WITNESSED "clock-witnessed"

enum ledger_result marks_get(struct ledger *ledger, const char *name, int64_t *value);
enum ledger_result marks_set(struct ledger *ledger, const char *name, int64_t value);

/* The mark of work is written now but not synced: it outlives a crash of the program, and where the
 * power goes the text is simply tried again. */

/* Before the desk works on a text: *tries is how often this one has brought it down before. */
enum ledger_result marks_work_begins(struct ledger *ledger, const char *fingerprint, int *tries);
void marks_work_ended(struct ledger *ledger);

#endif
