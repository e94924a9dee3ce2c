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
 * the same machine since same_since_s, as gravely, and it stands. */
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

/* The machine of what that text reported without one: it is to be told anew. LEDGER_NONE where there
 * is no such. */
enum ledger_result troubles_name(struct ledger *ledger, int64_t text_id, int64_t machine_id);

/* What the shop was not told yet, remarks too: as much of one person and weight as waits. */
struct trouble_group {
    int64_t person_id;
    enum trouble_weight weight;
    int64_t count, oldest_s;
};
/* The gravest first, then the oldest; at most `most`. */
enum ledger_result troubles_waiting(struct ledger *ledger, size_t most,
                                    struct trouble_group *groups, size_t *count);
/* The first of them, oldest first; at most `most`. */
enum ledger_result troubles_untold(struct ledger *ledger, const struct trouble_group *group,
                                   size_t most, struct trouble_row *rows, size_t *count);
/* All of them are told. */
enum ledger_result troubles_tell(struct ledger *ledger, const struct trouble_group *group,
                                 int64_t at_s);

/* When the shop was last told of something of that person at least as grave, and of how much at
 * once; both 0 where never. */
enum ledger_result troubles_last_told(struct ledger *ledger, int64_t person_id,
                                      enum trouble_weight weight, int64_t *told_s, int64_t *count);

/* The first of what that text said, and that stands; LEDGER_NONE. */
enum ledger_result troubles_of_text(struct ledger *ledger, int64_t text_id,
                                    struct trouble_row *row);

#endif
