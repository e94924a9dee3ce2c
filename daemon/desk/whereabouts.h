/* SPDX-License-Identifier: MIT
 * whereabouts: where a machine is, in the shop's words: booked, in the shop and out of it, laid up,
 * back at work, gone; and LATER, no reminders for a while. */
#ifndef METERPOST_DAEMON_DESK_WHEREABOUTS_H
#define METERPOST_DAEMON_DESK_WHEREABOUTS_H

#include "daemon/desk/reading.h"

/* The statements. */
void whereabouts_book(struct turn *turn);
void whereabouts_in(struct turn *turn);
void whereabouts_out(struct turn *turn);
void whereabouts_gone(struct turn *turn);
void whereabouts_park(struct turn *turn);
void whereabouts_back(struct turn *turn);
void whereabouts_later(struct turn *turn);

/* YES: booked for a day on which the shop is closed. */
void whereabouts_book_asked(struct turn *turn, struct figure *figure,
                            const struct question_row *row);

/* Whether the machine of the statement at work is gone: then that is said (the entry is refused), and
 * the shop is told once that somebody still texts about it. */
bool whereabouts_refuse(struct turn *turn);

/* The machine (index into settings.machines) of a booking that this text has made or dropped; -1 none.
 * Then, once the text is taken back, its crew hears what has become of it. */
int32_t whereabouts_of_text(struct turn *turn, int64_t text_id);
void whereabouts_taken_back(struct turn *turn, int32_t machine);

#endif
