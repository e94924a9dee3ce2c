/* SPDX-License-Identifier: MIT
 * question: the sender's open question. */
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

#endif
