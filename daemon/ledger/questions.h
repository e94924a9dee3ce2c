/* SPDX-License-Identifier: MIT
 * questions: one open question a person; closed ones stay as history. */
#ifndef METERPOST_DAEMON_LEDGER_QUESTIONS_H
#define METERPOST_DAEMON_LEDGER_QUESTIONS_H

#include "daemon/ledger/ledger.h"

enum question_kind {
    /* With an offer: YES takes it. With a plan in the row the figure is a service's too. */
    QUESTION_SLIP,
    QUESTION_OTHER_MACHINE,
    QUESTION_LAST_WRONG,
    QUESTION_ROLL_OVER,
    QUESTION_SWAP,
    QUESTION_FORCE, /* the figure however doubtful */
    QUESTION_SURE,  /* the figure as typed */
    QUESTION_PAST_SERVICE,
    QUESTION_QUANTITY,
    QUESTION_RECHECK, /* was the level looked at? */
    QUESTION_REPLACE, /* the figure instead of the sender's last one */
    QUESTION_METER,   /* does the meter show so little? YES goes on to the shop */
    QUESTION_BOOK,    /* is it booked for `days`, a civil day? */
    /* Without an offer: what is missing of a statement, which `completes` names. */
    QUESTION_WHICH_FIGURE,
    QUESTION_WHICH_OWN, /* of a bare figure: which of the sender's machines */
    QUESTION_WHICH_MACHINE,
    QUESTION_WHICH_PLAN,
    QUESTION_WHICH_TROUBLE /* of trouble that was told: which machine */
};

struct question_row {
    int64_t id;
    int64_t person_id;
    int64_t machine_id; /* the machine asked about, 0 unknown */
    enum question_kind kind;
    char completes
        [9];      /* the kind of statement that the answer completes, the desk's word; "" none */
    int32_t days; /* of such a statement, 0 unsaid */
    int64_t offer_machine_id;
    int64_t offer_hundredths;    /* what YES takes; -1 none */
    int64_t offer_to_hundredths; /* second figure (swap); -1 none */
    int64_t strikes_reading_id;  /* what YES strikes out, 0 none */
    int64_t typed_hundredths;    /* the doubtful figure as typed; -1 none */
    int64_t read_s;              /* the time the settled figure gets */
    char plan[17];
    int64_t quantity_thousandths;
    char unit[4];
    char remark[321];
    int64_t text_id; /* the text that raised it */
    int64_t asked_s;
    char says[321]; /* as it was put */
};

/* Replaces the person's open one (*replaced says so). id is filled in. */
enum ledger_result questions_ask(struct ledger *ledger, struct question_row *row, bool *replaced);
/* The open one, unless older than since_s. */
enum ledger_result questions_open(struct ledger *ledger, int64_t person_id, int64_t since_s,
                                  struct question_row *row);
/* The latest one about that machine (0 any) which the person has answered NO since that moment;
 * LEDGER_NONE. */
enum ledger_result questions_denied(struct ledger *ledger, int64_t person_id, int64_t machine_id,
                                    int64_t since_s, struct question_row *row);
/* LEDGER_ALREADY when it is closed. outcome: "yes", "no", "answered", "replaced", "settled", "lapsed". */
enum ledger_result questions_close(struct ledger *ledger, int64_t question_id, const char *outcome,
                                   int64_t text_id, int64_t at_s);
/* The same figure refused before from this person for this machine within the window, in another text
 * than that? Every refusal is noted with questions_note_refusal. */
enum ledger_result questions_note_refusal(struct ledger *ledger, int64_t person_id,
                                          int64_t machine_id, int64_t hundredths, int64_t text_id,
                                          int64_t at_s);
enum ledger_result questions_refused_since(struct ledger *ledger, int64_t person_id,
                                           int64_t machine_id, int64_t hundredths, int64_t text_id,
                                           int64_t since_s, int *count);

#endif
