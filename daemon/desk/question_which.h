/* SPDX-License-Identifier: MIT
 * question_which: questions without an offer: which machine, which figure, which plan. */
#ifndef METERPOST_DAEMON_DESK_QUESTION_WHICH_H
#define METERPOST_DAEMON_DESK_QUESTION_WHICH_H

#include "daemon/desk/turn.h"

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

#endif
