/* SPDX-License-Identifier: MIT
 * troubles: what the yard says in words. Trouble and danger are open on a machine until the shop says
 * that they are solved; a remark is only passed on. Never erased: solved, or struck out by UNDO. */
#ifndef METERPOST_DAEMON_LEDGER_TROUBLES_H
#define METERPOST_DAEMON_LEDGER_TROUBLES_H

#include "daemon/ledger/ledger.h"

#define TROUBLES_WORDS_OCTETS 321

enum trouble_weight { TROUBLE_REMARK, TROUBLE_FAULT, TROUBLE_DANGER };

struct trouble_row {
    int64_t id;
    int64_t machine_id; /* 0: none was named */
    enum trouble_weight weight;
    int64_t since_s;
    int64_t person_id; /* who said so */
    int64_t text_id;
    char words[TROUBLES_WORDS_OCTETS]; /* as they were said */
    int64_t told_s;                    /* when the shop was told; 0 not yet */
};

/* id is filled in. LEDGER_ALREADY, and nothing is added, where the same person has said the same of
 * the same machine since same_since_s and it stands. */
enum ledger_result troubles_add(struct ledger *ledger, struct trouble_row *row,
                                int64_t same_since_s);

/* Trouble and danger that are open: of that machine (0 of all, and of none), by machine, oldest
 * first. *row lives during the call only. */
enum ledger_result troubles_open(struct ledger *ledger, int64_t machine_id,
                                 void (*each)(void *ctx, const struct trouble_row *row), void *ctx);

/* Closes all that is open on the machine, for that text; words "" none. LEDGER_NONE where nothing
 * is. */
enum ledger_result troubles_solve(struct ledger *ledger, int64_t machine_id, int64_t person_id,
                                  int64_t text_id, const char *words, int64_t at_s);

/* What the shop was not told yet, remarks too: the gravest first, then the oldest; at most `most`. */
enum ledger_result troubles_untold(struct ledger *ledger, size_t most, struct trouble_row *rows,
                                   size_t *count);
enum ledger_result troubles_told(struct ledger *ledger, int64_t trouble_id, int64_t at_s);

/* When the shop was last told of something of that person at least as grave, and of how much at
 * once; both 0 where never. */
enum ledger_result troubles_last_told(struct ledger *ledger, int64_t person_id,
                                      enum trouble_weight weight, int64_t *told_s, int64_t *count);

/* How much of what that text said, and that stands, the shop was told. */
enum ledger_result troubles_told_of_text(struct ledger *ledger, int64_t text_id, int *count);

#endif
