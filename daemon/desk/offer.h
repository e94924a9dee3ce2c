/* SPDX-License-Identifier: MIT
 * offer: a figure that cannot stand as it is. One thing is offered in its place or it is refused, and
 * nothing is changed until the answer. What the crew cannot settle (a new meter; a figure refused
 * before) is put to the shop. */
#ifndef METERPOST_DAEMON_DESK_OFFER_H
#define METERPOST_DAEMON_DESK_OFFER_H

#include "daemon/desk/reading.h"

/* A question row for that figure, nothing offered yet. It may hold what else hangs on the answer
 * (plan, quantity); the others here fill in its figures. */
struct question_row offer_row(const struct figure *figure);

/* A doubtful figure of the statement at work: what it is likely to be instead, by the statement's own
 * words, by the text before it, or by the judgement. */
void offer_reading(struct turn *turn, const struct figure *figure);

/* figure->judgement is doubtful: what the judgement offers, else refused. */
void offer_judged(struct turn *turn, const struct figure *figure, struct question_row *row);

/* The figure as it stands, but to be confirmed first; what is judged, where it is doubtful. */
void offer_sure(struct turn *turn, const struct figure *figure, struct question_row *row);

/* The figure as it was typed, in a question of that kind. */
void offer_typed(struct turn *turn, const struct figure *figure, struct question_row *row,
                 enum question_kind kind, enum wording_key key,
                 const struct wording_values *values);

/* The shop is asked whether the meter is new; the crew's entry is refused and says so. */
void offer_new_meter(struct turn *turn, const struct figure *figure, struct question_row *row);

/* Refused without an offer: why, and what was expected. */
void offer_none(struct turn *turn, const struct figure *figure);

#endif
