/* SPDX-License-Identifier: MIT
 * question_ask: questions without an offer (which machine, which figure, which plan), and those put
 * to the shop. */
#ifndef METERPOST_DAEMON_DESK_QUESTION_ASK_H
#define METERPOST_DAEMON_DESK_QUESTION_ASK_H

#include "daemon/desk/turn.h"

/* Whether it asks which one is meant; then YES is no answer. */
bool question_asks_which(const struct question_row *row);

/* Says the open question once more; the entry is asked. */
void question_repeat(struct turn *turn, struct desk_statement *entry);

/* A bare figure, plan or machine; false where no open question wants one. */
bool question_takes_figure(struct turn *turn, const struct crew_statement *statement);
bool question_takes_plan(struct turn *turn, const struct crew_statement *statement);
bool question_takes_machine(struct turn *turn, const struct crew_statement *statement,
                            int32_t machine);

/* Asks which machine was meant; the answer completes the statement. */
void question_which_machine(struct turn *turn, const struct crew_statement *statement);

/* Puts a question to every person of the shop that may be texted, in the shop's hours, in the words
 * of `key`. False where there is nobody. */
bool question_to_shop(struct turn *turn, const struct question_row *row, enum wording_key key,
                      int64_t last_hundredths, int64_t last_read_s);

#endif
