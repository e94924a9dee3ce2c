/* SPDX-License-Identifier: MIT
 * doubt: a figure that cannot stand as it is: one short question, or a refusal that says what was
 * expected. Nothing is changed until the answer. */
#ifndef METERPOST_DAEMON_DESK_DOUBT_H
#define METERPOST_DAEMON_DESK_DOUBT_H

#include "daemon/desk/reading.h"

/* figure->judgement is doubtful. *row holds what else hangs on the answer (plan, quantity); its
 * figures are filled in here. */
void doubt_figure(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                  struct question_row *row);

/* The figure as it stands, but to be confirmed first. */
void doubt_sure(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                struct question_row *row);

/* Refused without an offer: why, and what was expected. */
void doubt_refuse(struct turn *turn, struct desk_statement *entry, const struct figure *figure);

/* A question row for that figure, nothing offered yet. */
struct question_row doubt_row(const struct figure *figure);

#endif
