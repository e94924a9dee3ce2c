/* SPDX-License-Identifier: MIT
 * erasure: takes what a person said out of the ledger, and the number, while hours and services stay. */
#ifndef METERPOST_DAEMON_LEDGER_ERASURE_H
#define METERPOST_DAEMON_LEDGER_ERASURE_H

#include "daemon/ledger/ledger.h"
#include "daemon/ledger/people.h"

struct erasure {
    int64_t texts_in, texts_out, remarks;
    char called[PEOPLE_NAME_OCTETS +
                8]; /* how the person is called from now on; "" for a number alone */
    bool wiped;     /* and the room that it had is overwritten */
};

/* Whose number it is today is not forgotten. */
typedef bool erasure_spares(void *ctx, const char *phone);

/* The person of that name (as the ledger has it), with the texts of the numbers that were his or hers and
 * are nobody's: texts in and out, parts that wait, remarks, marks, the name itself, also in texts to others.
 * Outside a transaction. LEDGER_NONE where the ledger knows no such person. */
enum ledger_result erasure_person(struct ledger *ledger, const char *name, erasure_spares *spares,
                                  void *ctx, struct erasure *forgotten);
/* The texts of a number that is nobody's. LEDGER_NONE where there are none. */
enum ledger_result erasure_number(struct ledger *ledger, const char *phone,
                                  struct erasure *forgotten);
/* Every text received or written before that moment, and who it was from and to. Inside a transaction or
 * out; what it had is not overwritten at once. */
enum ledger_result erasure_texts_before(struct ledger *ledger, int64_t before_s);

#endif
