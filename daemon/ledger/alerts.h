/* SPDX-License-Identifier: MIT
 * alerts: raised exactly once per machine, plan, cycle and stage among those that are not void. */
#ifndef METERPOST_DAEMON_LEDGER_ALERTS_H
#define METERPOST_DAEMON_LEDGER_ALERTS_H

#include "daemon/ledger/ledger.h"

#define ALERTS_WORD_OCTETS 17

/* The steps of a level's check that others look at: the crew was asked, and said that it looked. */
#define ALERTS_RECHECK "recheck"
#define ALERTS_RECHECKED "rechecked"

struct alert_row {
    int64_t id;
    int64_t machine_id;
    char plan[ALERTS_WORD_OCTETS];
    int64_t cycle;                  /* which service this leads up to (see upkeep/plan.h) */
    char stage[ALERTS_WORD_OCTETS]; /* a due_stage_word, or another kind: "recheck", "silent" */
    int64_t raised_s;
    int64_t cause_reading_id; /* 0: the calendar */
    int64_t cause_service_id; /* the service that began the cycle, 0 none */
    int64_t told_s;           /* when it was put into a text, 0 not yet */
};

/* LEDGER_ALREADY where one stands: that is the "exactly once". id is filled in. */
enum ledger_result alerts_raise(struct ledger *ledger, struct alert_row *row);
/* Alerts standing and not yet told, oldest first, at most `most`. */
enum ledger_result alerts_untold(struct ledger *ledger, size_t most, struct alert_row *rows,
                                 size_t *count);
enum ledger_result alerts_told(struct ledger *ledger, int64_t alert_id, int64_t text_id,
                               int64_t at_s);
/* The latest standing alert of a machine and plan in that cycle, of the stages that a service goes
 * through: not of the level's checks. */
enum ledger_result alerts_last(struct ledger *ledger, int64_t machine_id, const char *plan,
                               int64_t cycle, struct alert_row *row);
/* Void by hand. */
enum ledger_result alerts_void(struct ledger *ledger, int64_t alert_id, int64_t at_s);
enum ledger_result alerts_each(struct ledger *ledger, int64_t machine_id,
                               void (*each)(void *ctx, const struct alert_row *row, bool is_void),
                               void *ctx);

#endif
