/* SPDX-License-Identifier: MIT
 * import_judge: whether the rows of a file fit what is on record and each other. Only reads: a trial
 * works beside a running daemon and where there is no ledger yet. */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_JUDGE_H
#define METERPOST_DAEMON_COUNTER_IMPORT_JUDGE_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/counter/import_rows.h"
#include "daemon/ledger/ledger.h"

/* What is known of a machine while its rows are judged, oldest first. */
struct import_machine {
    bool asked;  /* the ledger, for its number */
    int64_t id;  /* 0: not on record */
    bool passed; /* there was a row, and true_hundredths is its figure */
    int64_t true_hundredths;
    int64_t swapped_s;         /* the last swap of the file, INT64_MIN none */
    int64_t offset_hundredths; /* all swaps of the file together */
    bool parkings_known;
    int64_t parked_s; /* laid up since, 0 not */
};

struct import_judge {
    struct ledger *ledger; /* NULL: there is none yet */
    struct import_rows *rows;
    struct import_machine *machines; /* one for each of the settings */
    size_t added, already;           /* rows to add; rows that are on record */
    enum ledger_result result;       /* the first that was not OK */
};

/* False when memory is short. */
bool import_judge_begin(struct import_judge *judge, struct import_rows *rows,
                        struct ledger *ledger);
void import_judge_end(struct import_judge *judge);

/* Judges each row: accepted, on record already, or a mistake that is named. */
enum ledger_result import_judge_rows(struct import_judge *judge);

#endif
