/* SPDX-License-Identifier: MIT
 * reading: a figure of a machine, taken, asked about or refused; and the moment that it is of. */
#ifndef METERPOST_DAEMON_DESK_READING_H
#define METERPOST_DAEMON_DESK_READING_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/desk/status.h"
#include "daemon/ledger/readings.h"
#include "parsers/crew_text.h"

/* One figure on its way into the ledger. */
struct figure {
    int32_t machine; /* index into settings.machines */
    int64_t machine_id;
    int64_t hundredths;
    int32_t decimal_digits; /* as typed */
    int64_t read_s;
    bool dated; /* the text says when */
    char remark[READINGS_REMARK_OCTETS];
    struct yard_judgement judgement;
};

/* The moment that the statement is of. False (the entry refused, the reply said) where that does not
 * do. */
bool reading_when(struct turn *turn, const struct crew_statement *statement, int64_t *read_s);

/* The figure of the statement at work, placed in time and judged, and the entry filled with it.
 * False (the entry refused, the reply said) where the time does not do, or on a fault. */
bool figure_of(struct turn *turn, struct figure *figure);

/* "M12 2 flats": a doubtful figure that no slip explains, with a word that is no unit after it, is no
 * figure of the meter. */
bool figure_is_none(const struct crew_statement *statement, const struct figure *figure);

/* Judges it anew against what is on record now. */
bool figure_judge(struct turn *turn, struct figure *figure);

/* Puts it into the ledger, which closes the question that it answers by itself. Says nothing. */
void figure_save(struct turn *turn, const struct figure *figure);

/* Says how the machine stands after it; raises what that calls for. */
void figure_stand(struct turn *turn, const struct figure *figure);

/* Judged well: saved, the end of a machine's rest too, and said with how the machine stands now;
 * raises what that calls for. */
void figure_take(struct turn *turn, const struct figure *figure);

/* The statement of a reading. */
void reading_take(struct turn *turn);

/* ---- a figure that cannot stand as it is: asked about or refused, nothing is changed until the
 * answer */

/* figure->judgement is doubtful. *row holds what else hangs on the answer (plan, quantity); its
 * figures are filled in here. */
void doubt_figure(struct turn *turn, const struct figure *figure, struct question_row *row);

/* The figure as it stands, but to be confirmed first. */
void doubt_sure(struct turn *turn, const struct figure *figure, struct question_row *row);

/* Refused without an offer: why, and what was expected. */
void doubt_refuse(struct turn *turn, const struct figure *figure);

/* Asks whether the figure is to be taken as it was typed, in a question of that kind. */
void doubt_ask_typed(struct turn *turn, const struct figure *figure, struct question_row *row,
                     enum question_kind kind, enum wording_key key,
                     const struct wording_values *values);

/* The shop is asked whether the meter is new; the crew's entry is refused and says so. */
void doubt_new_meter(struct turn *turn, const struct figure *figure, struct question_row *row);

/* A question row for that figure, nothing offered yet. */
struct question_row doubt_row(const struct figure *figure);

/* ---- the moment that a day or an hour in a text stands for */

enum when_result {
    WHEN_OK,
    WHEN_UNCLEAR, /* no such day, or without a year and more than 60 days past */
    WHEN_FUTURE
};

/* sent_s: when the text was sent, which "today" is told from, and which a moment unsaid stands for.
 * A day without an hour stands for its end, never later than sent_s. By the process's zone. */
enum when_result when_resolve(const struct crew_when *when, int64_t sent_s, int64_t *at_s);

/* Whether the text says any moment. */
bool when_said(const struct crew_when *when);

#endif
