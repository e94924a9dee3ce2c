/* SPDX-License-Identifier: MIT
 * reading: a figure of a machine, taken, asked about or refused. */
#ifndef METERPOST_DAEMON_DESK_READING_H
#define METERPOST_DAEMON_DESK_READING_H

#include "daemon/desk/standing.h"
#include "daemon/ledger/readings.h"

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

/* The statement's figure, placed in time and judged, and the entry's fields filled with it. False
 * (the entry refused, the reply said) where the time does not do, or on a fault. */
bool figure_of(struct turn *turn, struct desk_statement *entry,
               const struct crew_statement *statement, int32_t machine, struct figure *figure);

/* "M12 2 flats": a doubtful figure that no slip explains, with a word that is no unit after it, is no
 * figure of the meter. */
bool figure_is_none(const struct crew_statement *statement, const struct figure *figure);

/* Judges it anew against what is on record now. */
bool figure_judge(struct turn *turn, struct figure *figure);

/* Puts it into the ledger: the reading, the end of a machine's rest, and the question it answers by
 * itself. Says nothing. */
void figure_save(struct turn *turn, const struct figure *figure);

/* Says that it is noted and how the machine stands now; raises what that calls for. */
void figure_tell(struct turn *turn, struct desk_statement *entry, const struct figure *figure);

/* The statement of a reading. */
void reading_take(struct turn *turn, const struct crew_statement *statement, int32_t machine);

/* Raises what the machine's plans call for; fills *standing. Says nothing. */
void reading_restand(struct turn *turn, int32_t machine, struct standing *standing);

#endif
