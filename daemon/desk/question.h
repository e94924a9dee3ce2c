/* SPDX-License-Identifier: MIT
 * question: the sender's open question: what it is about, how it is asked, and what answers it. */
#ifndef METERPOST_DAEMON_DESK_QUESTION_H
#define METERPOST_DAEMON_DESK_QUESTION_H

#include "daemon/desk/turn.h"

#define QUESTION_LAPSES_S (24 * 3600)

/* A row of that kind, nothing offered yet. */
struct question_row question_row(enum question_kind kind, int64_t machine_id, int64_t read_s);

/* Loads the sender's open question into the turn. */
void question_load(struct turn *turn);

/* Closes the sender's open question; outcome as questions_close has it. */
void question_close(struct turn *turn, const char *outcome);

/* A good reading of that machine closes the question about it. */
void question_answered_by(struct turn *turn, int64_t machine_id);

/* Whether it asks which one is meant; then YES is no answer. */
bool question_asks_which(const struct question_row *row);

/* Puts a question to every person of the shop that may be texted, in the shop's hours, in the words
 * of `key`. False where there is nobody. */
bool question_to_shop(struct turn *turn, const struct question_row *row, enum wording_key key,
                      int64_t last_hundredths, int64_t last_read_s);

/* ---- without an offer: which machine, which figure, which plan */

/* A bare figure, plan or machine; false where no open question wants one. A figure may also make it
 * ask which of the sender's machines it is of, where he looks after several and no other question is
 * open. */
bool question_takes_figure(struct turn *turn, const struct crew_statement *statement);
bool question_takes_plan(struct turn *turn, const struct crew_statement *statement);
bool question_takes_machine(struct turn *turn, const struct crew_statement *statement);

/* Asks which machine was meant; the answer completes the statement. */
void question_which_machine(struct turn *turn, const struct crew_statement *statement);

/* Says the open question once more; the entry is asked. */
void question_repeat(struct turn *turn);

/* ---- YES and NO */

/* With a question open or not. */
void answer_yes(struct turn *turn);
void answer_no(struct turn *turn);

#endif
