/* SPDX-License-Identifier: MIT
 * effects: what one text did, so that UNDO can take all of it back
 * (retraction.h). */
#ifndef METERPOST_DAEMON_LEDGER_EFFECTS_H
#define METERPOST_DAEMON_LEDGER_EFFECTS_H

#include "daemon/ledger/ledger.h"

/* The sender's last text since since_s that had an effect; LEDGER_NONE when there is none, or when
 * that one is undone already (one level). To have closed a question is no effect by itself. */
enum ledger_result effects_last(struct ledger *ledger, int64_t person_id, int64_t since_s,
                                int64_t *text_id);
/* Called by the ledger's own writers, wherever they are given a text_id; also by the desk for a text
 * that had another lasting effect (a word of its own; nothing is taken back for it). */
enum ledger_result effects_note(struct ledger *ledger, int64_t text_id, const char *what,
                                int64_t row_id);

#endif
