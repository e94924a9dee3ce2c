/* SPDX-License-Identifier: MIT
 * reading: a figure of a machine on its way into the ledger, and the moment that it is of. */
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
 * False (the entry refused, the reply said) where the time does not do. */
bool figure_of(struct turn *turn, struct figure *figure);

/* "M12 2 flats": a doubtful figure that neither a slip nor a new meter explains, with a word that is no
 * unit after it, is no figure of the meter. */
bool figure_is_none(const struct crew_statement *statement, const struct figure *figure);

/* A figure that is to be confirmed before it is taken, however it is judged: by how it was written. */
bool figure_to_confirm(const struct crew_statement *statement);

/* Places it at that moment; where that is ahead of the turn's, the turn goes along. */
void figure_place(struct turn *turn, struct figure *figure, int64_t at_s);

/* Judges it anew against what is on record now. */
void figure_judge(struct turn *turn, struct figure *figure);

/* The same as if that reading had not been sent. */
void figure_judge_in_place(struct turn *turn, struct figure *figure, int64_t reading_id);

/* Puts it into the ledger, which closes the question that it answers by itself. Says nothing. */
void figure_save(struct turn *turn, const struct figure *figure);

/* Judged well: saved, the end of a machine's rest too, and said with how the machine stands now;
 * raises what that calls for. */
void figure_take(struct turn *turn, const struct figure *figure);

/* The statement of a reading. */
void reading_take(struct turn *turn);

#endif
