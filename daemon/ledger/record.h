/* SPDX-License-Identifier: MIT
 * record: everything kept of one machine, in order of time: what the shop hands to a customer or a
 * warranty desk; and what each text did, so that UNDO can take all of it back. */
#ifndef METERPOST_DAEMON_LEDGER_RECORD_H
#define METERPOST_DAEMON_LEDGER_RECORD_H

#include "daemon/ledger/ledger.h"

/* Pointers live during the call only; "" and -1 where there is nothing to say. */
struct record_line {
    /* "reading", "service", "meter", "alert", "parked", "back", "later"; movements: "booked", "in",
     * "out", "gone", "returned"; what was said in words: "remark", "trouble", "danger", and "solved"
     * where the shop closed it. Level checks are alerts. */
    const char *kind;
    int64_t at_s;
    int64_t meter_hundredths; /* meter: the old one's last figure */
    int64_t true_hundredths;
    int64_t new_hundredths; /* meter: the new one's first figure */
    const char *plan;       /* service, alert */
    const char *stage;      /* alert */
    int64_t quantity_thousandths;
    const char *unit;
    const char *person; /* who said so */
    int64_t noted_s;    /* when it came on record; 0 where that is at_s */
    const char *remark;
    int64_t struck_s; /* when it was struck out or became void, 0 not */
    const char *struck_by, *struck_why;
    /* Until when; 0 open. later: no reminders before it, and at_s is the same where nobody knows when it
     * was said; parked: back; trouble and danger: solved. */
    int64_t until_s;
    int32_t day;   /* booked: the civil day; gone: the day it left where one was said; else 0 */
    int64_t cycle; /* alert: which service it leads up to, else -1 */
    bool undated;  /* service: no day was said, at_s is the earliest it can be */
};

/* machine_id 0: of every machine. *machine is its name. Oldest first. */
enum ledger_result record_each(struct ledger *ledger, int64_t machine_id,
                               void (*each)(void *ctx, const char *machine,
                                            const struct record_line *line),
                               void *ctx);

/* Strikes out a row that is never erased: who (person id, 0 nobody), when and why; the alerts that it
 * caused are void. text_id is the text in that does it, 0 none: UNDO of it lifts the strike again.
 * LEDGER_ALREADY where it is struck out. Lifted, the alerts stand again unless raised anew since. */
enum record_kind { RECORD_READING, RECORD_SERVICE };
enum ledger_result record_strike(struct ledger *ledger, enum record_kind kind, int64_t text_id,
                                 int64_t row_id, int64_t person_id, int64_t at_s, const char *why);
enum ledger_result record_unstrike(struct ledger *ledger, enum record_kind kind, int64_t row_id);

/* Puts a line of such a record back under that machine, as it was, struck out or not; lines in the order
 * in which record_each gives them, into a machine that has none. Who is named need not be on the
 * roster. Nothing is raised or told by it. LEDGER_REFUSED for a kind that there is not, or a line that
 * is none of its kind. */
enum ledger_result record_restore(struct ledger *ledger, const char *machine,
                                  const struct record_line *line);
/* Where lines of that kind stand among those of one moment; -1 where there is no such kind. */
int record_turn(const char *kind);

/* The sender's last text since since_s that had an effect; LEDGER_NONE when there is none, or when
 * that one is undone already (one level). To have closed a question is no effect by itself. */
enum ledger_result effects_last(struct ledger *ledger, int64_t person_id, int64_t since_s,
                                int64_t *text_id);
/* Called by the ledger's own writers, wherever they are given a text_id; also by the desk for a text
 * that had another lasting effect (a word of its own; nothing is taken back for it). */
enum ledger_result effects_note(struct ledger *ledger, int64_t text_id, const char *what,
                                int64_t row_id);

/* Takes back all that text did: readings, services, meter changes, parking, movements, LATER, strikes
 * and answers. Adds are struck out, strikes are lifted. *alerts_told is how many alerts that had gone
 * out are void by it. Questions that it closed are open again, those that it asked are closed. */
enum ledger_result retraction_of_text(struct ledger *ledger, int64_t text_id, int64_t person_id,
                                      int64_t at_s, int *alerts_told);

#endif
