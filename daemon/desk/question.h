/* SPDX-License-Identifier: MIT
 * question: the sender's open question: what it is about, how it is asked, and what answers it. */
#ifndef METERPOST_DAEMON_DESK_QUESTION_H
#define METERPOST_DAEMON_DESK_QUESTION_H

#include "daemon/desk/turn.h"

#define QUESTION_LAPSES_S (24 * 3600)

/* Kinds of questions with an offer: YES takes it. With a plan in the row the figure is a service's
 * too. */
#define QUESTION_SLIP "slip"
#define QUESTION_OTHER_MACHINE "other-machine"
#define QUESTION_LAST_WRONG "last-wrong"
#define QUESTION_ROLL_OVER "roll-over"
#define QUESTION_SWAP "swap"
#define QUESTION_FORCE "force" /* the shop's: the figure however doubtful */
#define QUESTION_SURE "sure"   /* the figure as typed */
#define QUESTION_PAST "past-service"
#define QUESTION_QUANTITY "quantity"
#define QUESTION_RECHECK "recheck" /* was the level looked at? */
/* Kinds without an offer: what is missing, and the statement that it completes. */
#define QUESTION_WHICH_FIGURE "figure-"
#define QUESTION_WHICH_MACHINE "machine-"
#define QUESTION_WHICH_OWN "machine-own" /* of a bare figure: which of the sender's */
#define QUESTION_WHICH_PLAN "plan-"

/* Loads the sender's open question into the turn. */
void question_load(struct turn *turn);

/* Closes the sender's open question; outcome as questions_close has it. */
void question_close(struct turn *turn, const char *outcome);

/* A good reading of that machine closes the question about it. */
void question_answered_by(struct turn *turn, int64_t machine_id);

/* Whether the row is of that kind. */
bool question_is(const struct question_row *row, const char *kind);
bool question_begins(const struct question_row *row,
                     const char *kind); /* the kinds that end in "-" */

/* Whether it asks which one is meant; then YES is no answer. */
bool question_asks_which(const struct question_row *row);

/* The machine of a ledger's number in the settings; -1 where it is there no more. */
int32_t question_machine(struct turn *turn, int64_t machine_id);

/* Puts a question to every person of the shop that may be texted, in the shop's hours, in the words
 * of `key`. False where there is nobody. */
bool question_to_shop(struct turn *turn, const struct question_row *row, enum wording_key key,
                      int64_t last_hundredths, int64_t last_read_s);

/* ---- without an offer: which machine, which figure, which plan */

/* Says the open question once more; the entry is asked. */
void question_repeat(struct turn *turn, struct desk_statement *entry);

/* A bare figure, plan or machine; false where no open question wants one. */
bool question_takes_figure(struct turn *turn, const struct crew_statement *statement);
bool question_takes_plan(struct turn *turn, const struct crew_statement *statement);
bool question_takes_machine(struct turn *turn, const struct crew_statement *statement,
                            int32_t machine);

/* Asks which of the sender's machines a bare figure is of, or asks that once more; false where the
 * sender looks after fewer than two, or another question is open. */
bool question_which_own(struct turn *turn, const struct crew_statement *statement);

/* Asks which machine was meant; the answer completes the statement. */
void question_which_machine(struct turn *turn, const struct crew_statement *statement);

/* ---- YES and NO */

/* With a question open or not. */
void answer_yes(struct turn *turn);
void answer_no(struct turn *turn);

#endif
